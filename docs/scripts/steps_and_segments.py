"""Makes the tables of docs/steps_and_segments.md: the year's heat over segments and over steps.

    python docs/scripts/steps_and_segments.py

takes some minutes on one core.
"""

import time
from dataclasses import dataclass
from functools import cache

from pages import markdown, put

from simengine.data_files import data_path
from simengine.scenario import Scenario, load
from simengine.simulate import run

SEGMENTS = (1, 2, 3, 4, 6, 10, 20, 50)
STEPS = (1200, 900, 720, 600, 450, 360, 240, 120, 60, 30, 10)  # [s] means of an hour's steps
USUAL = 600  # [s] the default step
FINE_STEP, FINE_SEGMENTS = 30, 20
HOUSES = ("standard", "low_energy")

CASES: dict[str, tuple[str, dict[str, object]]] = {
    "demo: behind, snap switch": ("demo.toml", {}),
    "demo in two passes": (
        "demo.toml",
        {"collector.arrangement": "two_pass", "collector.front_gap.depth": "1.25 in"},
    ),
    "demo_metric: through a screen, differential": ("demo_metric.toml", {}),
}


@dataclass(frozen=True)
class Year:
    """What one run gave."""

    delivered: tuple[float, ...]  # [kWh] by house
    offset: tuple[float, ...]
    starts: tuple[int, ...]
    seconds: float


@cache
def scenario(case: str) -> Scenario:
    """Return the scenario of a case."""
    name, changes = CASES[case]
    return load(data_path("scenarios", name)).changed(changes)


@cache
def year(case: str, segments: int, step: int) -> Year:
    """Return the year of a case."""
    changed = scenario(case).changed({"collector.segments": segments, "run.step": f"{step} s"})
    began = time.perf_counter()
    houses = run(changed).summary["houses"]
    spent = time.perf_counter() - began
    return Year(
        tuple(houses[name]["delivered_kwh"] for name in HOUSES),
        tuple(houses[name]["offset_kwh"] for name in HOUSES),
        tuple(houses[name]["fan_starts"] for name in HOUSES),
        spent,
    )


def against(found: Year, fine: Year) -> list[str]:
    """Return the change of delivered heat and of offset against the fine solution, by house."""
    cells = []
    for ours, best in ((found.delivered, fine.delivered), (found.offset, fine.offset)):
        cells += [f"{100.0 * (a / b - 1.0):+.2f} %" for a, b in zip(ours, best, strict=True)]
    return cells


HEAD = ["delivered, standard", "delivered, low-energy", "offset, standard", "offset, low-energy"]


def over_segments(case: str) -> str:
    """Return the table over segments at the fine step."""
    fine = year(case, SEGMENTS[-1], FINE_STEP)
    rows = [["segments", *HEAD, "time of the run"]]
    for segments in SEGMENTS:
        found = year(case, segments, FINE_STEP)
        rows.append([str(segments), *against(found, fine), f"{found.seconds:.1f} s"])
    return markdown(rows)


def over_steps(case: str, segments: int) -> str:
    """Return the table over the length of a step."""
    fine = year(case, segments, STEPS[-1])
    rows = [["step", *HEAD, "fan starts, standard", "time of the run"]]
    for step in STEPS:
        found = year(case, segments, step)
        rows.append([f"{step} s", *against(found, fine), str(found.starts[0]), f"{found.seconds:.1f} s"])
    return markdown(rows)


def together() -> str:
    """Return the table of the defaults against the finest of both."""
    rows = [["case", *HEAD]]
    for case in CASES:
        fine = year(case, FINE_SEGMENTS, STEPS[-1])
        rows.append([case, *against(year(case, 3, USUAL), fine)])
    return markdown(rows)


if __name__ == "__main__":
    year(next(iter(CASES)), 3, 600)  # compiles
    year.cache_clear()
    for number, name in enumerate(CASES, start=1):
        put("steps_and_segments.md", f"segments {number}", over_segments(name))
        put("steps_and_segments.md", f"steps {number}", over_steps(name, 3))
    put("steps_and_segments.md", "defaults", together())
