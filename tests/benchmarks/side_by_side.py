"""Measures every row of docs/performance.md as a ratio within one run, and writes it there.

python -m tests.benchmarks.side_by_side                     all of it
python -m tests.benchmarks.side_by_side --only warm first   some rows
python -m tests.benchmarks.side_by_side --members 200       smaller sweeps, if time is short
"""

import argparse
from collections.abc import Callable

from tests.benchmarks import rows_command, rows_march, rows_numpy, rows_sweep
from tests.benchmarks.found import Found, Options, load, stamp, word, write

ROWS: dict[str, tuple[str, str, Callable[[Options], Found]]] = {
    "solver": (
        "Collector-year with full lanes against scipy's LSODA, heat within 0.2 %, one core",
        "1,000 times",
        rows_march.against_the_solver,
    ),
    "rate": (
        "Scenario-years a second, two cores, perforated absorber, 2,000 members",
        "100",
        rows_sweep.two_cores,
    ),
    "cores": ("Two cores against one", "1.8 times", rows_sweep.one_core),
    "dask": ("Two loopback workers of dask against the local mode", "0.9", rows_sweep.dask),
    "scale": ("Time of a member among 10,000 against 1,000", "within 5 %", rows_sweep.scale),
    "memory": ("Memory of a sweep of 100,000 members", "under 1.5 GB, flat", rows_sweep.memory),
    "warm": ("A scenario from the command line, warm", "2.5 s, march 0.25 s", rows_command.warm),
    "first": ("The very first run, compiling included", "30 s", rows_command.first),
    "overhead": ("Progress, checkpoints and storage", "under 5 %", rows_sweep.overhead),
    "numpy": ("Plain numpy, members side by side, same equations", "10 times", rows_numpy.plain),
    "limit": ("Share of what the processor's arithmetic allows", "told", rows_march.arithmetic),
}


def main() -> None:
    """Measure what is asked for."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--only", nargs="+", choices=ROWS, default=list(ROWS), help="rows to measure")
    for name, value in vars(Options()).items() if hasattr(Options(), "__dict__") else ():
        parser.add_argument(f"--{name}", type=int, default=value)
    parser.add_argument("--dry", action="store_true", help="print only, write nothing")
    given = vars(parser.parse_args())
    only, dry = given.pop("only"), given.pop("dry")
    options = Options(**given)
    for name in only:
        measure, asked, row = ROWS[name]
        before = load()
        found = row(options)
        print(
            f"== {measure}: {found.figure} (asked: {asked}; {word(found.reached)})\n{found.detail}\n",
            flush=True,
        )
        if not dry:
            write(name, measure, asked, found, stamp(before))


if __name__ == "__main__":
    main()
