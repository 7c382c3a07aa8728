"""Which fluids are tabulated, under which names, and over which range."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Entry:
    """One fluid. Temperatures in degrees Celsius, pressures in bar absolute."""

    name: str
    call: str
    title: str
    lowest: float
    hottest: float
    highest_pressure: float
    coldest_gas: float = -60.0
    aliases: tuple = ()
    near_critical: float = 0.97
    remark: str = ""


# Found in validation/second_library and validation/published_fluid_states.
ESTIMATED = "viscosity estimated from the components: 8 % on average, 18 % at worst on like blends"
GENERAL = "viscosity by a general correlation"

CATALOGUE = (
    Entry("water", "Water", "water", 0.01, 200, 200, 40, ("R718",), 0.80),
    Entry("air", "Air", "dry air", -60, 150, 200, -60, (), 0.0),
    Entry("nitrogen", "Nitrogen", "nitrogen", -60, 150, 200, -60, ("N2", "R728"), 0.0),
    Entry("R744", "CO2", "carbon dioxide", -50, 160, 160, -55, ("CO2", "carbon dioxide"), 0.985),
    Entry("R717", "Ammonia", "ammonia", -60, 170, 100, -60, ("ammonia", "NH3"), remark="liquid viscosity 2 to 4 % above a newer correlation"),
    Entry("R290", "Propane", "propane", -60, 140, 80, -60, ("propane",)),
    Entry("R600a", "IsoButane", "isobutane", -60, 140, 80, -60, ("isobutane",)),
    Entry("R134a", "R134a", "R134a", -60, 140, 80, -60),
    Entry("R32", "R32", "R32", -60, 150, 100, -60, remark=f"{GENERAL}: within 7 % of others"),
    Entry("R22", "R22", "R22", -60, 140, 80, -60, remark=f"{GENERAL}: the liquid is 16 to 23 % less viscous than in printed tables, the gas 10 % more"),
    Entry("R1234yf", "R1234yf", "R1234yf", -45, 130, 80, -45, remark=f"{GENERAL}: liquid within 6 %, cold gas up to 17 % above others"),
    Entry("R1234ze(E)", "R1234ze(E)", "R1234ze(E)", -50, 140, 80, -50, ("R1234ze",), remark=f"{GENERAL}: liquid within 3 %, cold gas up to 16 % above others"),
    Entry("R410A", "R410A", "R32/R125 50/50 % by mass", -60, 140, 80, -60),
    Entry("R407C", "R407C", "R32/R125/R134a 23/25/52 % by mass", -60, 140, 80, -60),
    Entry("R404A", "R404A", "R125/R143a/R134a 44/52/4 % by mass", -60, 130, 80, -60),
    Entry("R507A", "R507A", "R125/R143a 50/50 % by mass", -60, 130, 80, -60),
    Entry("R448A", "R448A.mix", "R32/R125/R1234yf/R134a/R1234ze(E) 26/26/20/21/7 % by mass", -50, 130, 80, -50, (), 0.96, remark=ESTIMATED),
    Entry("R449A", "R449A.mix", "R32/R125/R1234yf/R134a 24.3/24.7/25.3/25.7 % by mass", -50, 130, 80, -50, (), 0.96, remark=ESTIMATED),
    Entry("R454B", "R454B.mix", "R32/R1234yf 68.9/31.1 % by mass", -50, 140, 80, -50, (), 0.96, remark=f"{ESTIMATED}; pressure up to 1 % above a printed chart"),
    Entry("R513A", "R513A.mix", "R1234yf/R134a 56/44 % by mass", -50, 130, 80, -50, (), 0.96, remark=ESTIMATED),
)
