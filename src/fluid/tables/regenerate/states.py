"""Random states of the library: how far the tables are from it, and what the tests compare with."""

from pathlib import Path

import CoolProp.CoolProp as CP
import numpy as np

from library import choked

FOLDER = Path(__file__).resolve().parents[4] / "validation" / "fluid_tables"
DENSE, KEPT, SEED = 2000, 25, 1


def write_states(built, check):
    """The three tables; names of those that differ from the files."""
    generator = np.random.default_rng(SEED)
    errors = ["fluid,patch,states,density_error,sound_speed_error,viscosity_error,enthalpy_error_J_kg,flow_factor_error"]
    kept = ["fluid,phase,temperature_K,pressure_Pa,density_kg_m3,sound_speed_m_s,viscosity_Pa_s,enthalpy_J_kg,"
            "critical_ratio,flow_factor"]
    saturated = ["fluid,temperature_K,bubble_pressure_Pa,dew_pressure_Pa,bubble_error,dew_error"]
    for entry, fluid in built:
        for patch in fluid.patches:
            errors.append(_measure(entry.name, patch, generator))
            kept += _states(entry.name, patch, generator)
        if fluid.curves:
            saturated += _saturated(entry.name, fluid, generator)
    changed = []
    for name, lines in (("errors.csv", errors), ("random_states.csv", kept), ("saturation.csv", saturated)):
        text = "\n".join(lines) + "\n"
        path = FOLDER / name
        if not path.exists() or path.read_text() != text:
            changed.append(name)
        if not check:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text)
    return changed


def _place(patch, generator):
    low, high = patch.coordinate.low, patch.coordinate.high
    temperature = low + (high - low) * generator.random()
    share = generator.random()
    return temperature, share, patch.density(temperature, share)


def _table_pressure(patch, temperature, share, density):
    if patch.liquid:
        return patch.value("pressure", temperature, share)
    return patch.value("compressibility", temperature, share) * density * patch.library.gas_constant * temperature


def _measure(name, patch, generator):
    """Largest deviations over a dense set; of the density at a given pressure and temperature."""
    worst = np.zeros(5)
    for number in range(DENSE):
        temperature, share, density = _place(patch, generator)
        state = patch.library.at(temperature, density, patch.liquid)
        pressure, speed, enthalpy = state.p(), state.speed_sound(), state.hmass()
        stiffness = density * state.first_partial_deriv(CP.iP, CP.iDmass, CP.iT)
        found = [
            (_table_pressure(patch, temperature, share, density) - pressure) / stiffness,
            patch.value("sound_speed", temperature, share) / speed - 1,
            patch.value("viscosity", temperature, share) / patch.library.viscosity(temperature, density, patch.liquid) - 1,
            patch.value("enthalpy", temperature, share) - enthalpy,
            0.0,
        ]
        if not patch.liquid and number % 20 == 0:
            found[4] = patch.value("flow_factor", temperature, share) / choked(patch.library, temperature, density)[1] - 1
        worst = np.maximum(worst, np.abs(found))
    where = f"{patch.coordinate.low - 273.15:.0f} to {patch.coordinate.high - 273.15:.0f} degC"
    return ",".join([name, f"{patch.word} {where}", str(DENSE)] + [f"{value:.1e}" for value in worst])


def _states(name, patch, generator):
    rows = []
    for _ in range(KEPT):
        temperature, _, density = _place(patch, generator)
        state = patch.library.at(temperature, density, patch.liquid)
        values = [temperature, state.p(), density, state.speed_sound()]
        enthalpy = state.hmass()
        values += [patch.library.viscosity(temperature, density, patch.liquid), enthalpy]
        text = [f"{value:.10g}" for value in values]
        if patch.liquid:
            text += ["", ""]
        else:
            text += [f"{value:.8g}" for value in choked(patch.library, temperature, density)]
        rows.append(",".join([name, patch.word] + text))
    return rows


def _saturated(name, fluid, generator):
    """Saturation pressures where both curves are tabulated, with the tables' relative errors."""
    bubble, dew = fluid.curves
    low, high = max(bubble.coordinate.low, dew.coordinate.low), bubble.coordinate.high
    rows = []
    for temperature in np.sort(low + (high - low) * generator.random(KEPT)):
        exact = [fluid.library.saturation(temperature, vapour)[0] for vapour in (0, 1)]
        error = [curve.at(temperature) / value - 1 for curve, value in zip((bubble, dew), exact)]
        rows.append(",".join([name, f"{temperature:.10g}"] + [f"{p:.10g}" for p in exact] + [f"{e:.1e}" for e in error]))
    return rows
