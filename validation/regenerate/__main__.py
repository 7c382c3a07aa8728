"""Compute the tables of reference numbers of `validation/` again, without the program they are there to check.

    python validation/regenerate            write every table
    python validation/regenerate --check    write nothing; report how far the committed tables are from fresh numbers
    python validation/regenerate --only relief  only the modules with that in their name

Every table below `validation/` is covered but the published states of fluids (`iapws_water`, `published_fluid_states`,
`refrigerant_saturation`, `measured_sound_speed`) and the measured records, which are quoted, and `fluid_tables`, which `src/fluid/tables/regenerate` writes.
Quoted, not computed, are else only inputs, molar masses and the published values of the stiff problems (written as published; what
is computed here is compared with them).

Exit code of --check: 0 if every number agrees within the digits it is written with, 1 if not.
"""

import argparse
import importlib
import sys
import time

MODULES = [
    "plain_line",
    "allievi",
    "closing_grid",
    "laminar_line",
    "wall_shear",
    "elastic_wall",
    "nozzle",
    "chamber",
    "servo_stage",
    "magnet",
    "bounces",
    "quarter_wave",
    "relief_valve_hopf",
    "relief_valve_cycles",
    "relief_valve_impacts",
    "stiff_problems",
    "real_gas",
    "valve_sizing",
    "pipe_friction",
    "closed_forms",
    "second_library",
]


def check(table):
    """Print one table's comparison; is all of it within its digits?"""
    name = f"{table.path.parent.name}/{table.file}"
    if not table.path.exists():
        print(f"{name}: not committed")
        return False
    columns, only_here, only_there = table.compare()
    worst = max(columns, key=lambda c: c.share)
    fine = worst.share <= 1.0 and only_here == 0 and only_there == 0
    rows = "" if only_here == only_there == 0 else f"; rows only fresh {only_here}, only committed {only_there}"
    print(f"{'ok ' if fine else 'BAD'} {name}: {len(table.rows)} rows, largest deviation "
          f"{max(c.deviation for c in columns):.1e} (relative){rows}")
    for column in columns:
        if column.share > 1.0:
            print(f"    {column.column}: {column.deviation:.2e}, {column.share:.3g} x allowed, at {column.place}")
    return fine


def main():
    parser = argparse.ArgumentParser(prog="regenerate", description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="compare, write nothing")
    parser.add_argument("--only", default="", metavar="TEXT", help="only modules with this in their name")
    options = parser.parse_args()
    all_fine = True
    for module in (name for name in MODULES if options.only in name):
        start = time.perf_counter()
        for table in importlib.import_module(module).tables():
            if options.check:
                all_fine = check(table) and all_fine
            else:
                table.write()
                print(f"{table.path.parent.name}/{table.file}: {len(table.rows)} rows")
        print(f"  ({module}: {time.perf_counter() - start:.1f} s)", flush=True)
    sys.exit(0 if all_fine else 1)


main()
