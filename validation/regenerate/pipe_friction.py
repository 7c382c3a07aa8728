"""Steady pressure loss of a straight pipe through the general-purpose library fluids: 64/Re below, Colebrook's factor above.

`friction_factor` is what a scenario would state: the library's turbulent factor, or in laminar flow one that must not matter.
"""

from fluids.friction import friction_factor, one_phase_dP

from table import Column, Table

BELOW = "0.03"
# Density, kg/m3; viscosity, Pa s; bore, m; length, m; velocity, m/s; roughness, m.
GIVEN = (
    ("1031", "0.0058", "0.026", "20", "0.1", "1.5e-6"),
    ("1031", "0.0058", "0.026", "20", "0.3", "1.5e-6"),
    ("998.2", "0.001002", "0.016", "20", "0.05", "1.5e-6"),
    ("1031", "0.0058", "0.026", "20", "1.4", "1.5e-6"),
    ("998.2", "0.001002", "0.016", "20", "0.5", "1.5e-6"),
    ("998.2", "0.001002", "0.016", "20", "2", "1.5e-6"),
    ("1010", "0.000107", "0.008", "15", "1.5", "1.5e-6"),
    ("595.6", "0.0001257", "0.01387", "30", "1.5", "45e-6"),
    ("1.2", "0.0000181", "0.016", "6", "12", "1.5e-6"),
)


def tables():
    rows = []
    for given in GIVEN:
        density, viscosity, bore, length, velocity, roughness = map(float, given)
        reynolds = density * velocity * bore / viscosity
        stated = BELOW if reynolds < 2040 else friction_factor(Re=reynolds, eD=roughness / bore)
        flow = density * velocity * 0.25 * 3.141592653589793 * bore**2
        loss = one_phase_dP(m=flow, rho=density, mu=viscosity, D=bore, roughness=roughness, L=length)
        rows.append([*given[:5], stated, loss])
    yield Table(
        "pipe friction", "loss.csv",
        ["Computed with fluids 1.3.1 (`one_phase_dP`, `friction_factor`): steady loss of a straight pipe.",
         "friction_factor: turbulent, that of the library; laminar, one that a scenario might state and that must not count."],
        [Column("density_kg_m3"), Column("viscosity_pa_s"), Column("bore_m"), Column("length_m"), Column("velocity_m_s"),
         Column("friction_factor", 12), Column("loss_pa", 10)],
        rows)
