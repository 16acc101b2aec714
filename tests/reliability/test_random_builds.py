"""Whatever valid build is drawn: the run ends, energy closes, and nothing leaves its physical bounds."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pytest

from simengine.collector.absorbed import absorbed_sun
from simengine.collector.build import build_network
from simengine.collector.flow_table import build_flow_table
from simengine.collector.network import Weather
from simengine.collector.steady import steady_point
from simengine.errors import InputError, RunEnded
from simengine.results import Result
from simengine.simulate.drive import Shared
from simengine.simulate.lanes import air_loop
from simengine.simulate.resolve import Resolved
from simengine.simulate.together import run_together
from simengine.simulate.year import finished
from simengine.weather import builtin
from tests.reliability.checking import Hung, limited, told
from tests.reliability.random_scenarios import random_scenario

FEW, ALL = 40, 2000
FIRST_DAYS, DAYS = (14, 100, 195, 285), 7
"""A week of each season: day of the year from 0, and how many."""

LONGEST_RUN = 60.0
"""Time that the four weeks of one build may take [s]."""
CLOSED, CLOSED_STEP = 1e-9, 1e-6
"""Largest residual over the sum of all terms: of the run, of a step [-]."""
KELVIN = 0.5
"""Room for rounding, and for means over an interval whose ends lie outside of it [K]."""
EMPTY_AT_TIMES = ("peak_supply_temperature",)
"""What is not a number where no air moves."""


@pytest.fixture(scope="module")
def shared() -> Shared:
    """Keep the weeks, so that every build that names the built-in year gets them."""
    year = builtin("greensboro")
    rows = [
        day * 24 + hour for first in FIRST_DAYS for day in range(first, first + DAYS) for hour in range(24)
    ]
    weeks = (replace(year, data=year.data.iloc[rows]),)
    kept = Shared()
    for name in ("builtin:greensboro", "greensboro"):
        kept.weathers.once((name,), lambda: weeks)
    return kept


@dataclass(frozen=True)
class Bounds:
    """Temperatures that no part of a collector can pass [K]."""

    low: float
    high: float


def bounds_of(resolved: Resolved, shared: Shared, hours: Any) -> Bounds:
    """Return the coldest thing around, and stagnation in all that is worst at once, never met together."""
    drive, collector = shared.drive(resolved), resolved.parts.collector
    weather, absorbed = drive.forcing.weather, drive.forcing.absorbed
    inside = [name for name in hours if name.startswith(("room_temperature", "second_space_temperature"))]
    rooms = [float(hours[name].max()) for name in inside], [float(hours[name].min()) for name in inside]
    network = build_network(collector, resolved.pressure)
    table = build_flow_table(collector, air_loop(resolved), resolved.pressure)
    ambient, warmest = float(weather[:, 0].max()), max(float(weather[:, 0].max()), *rooms[0])
    worst = Weather(
        max(ambient, warmest),
        float(weather[:, 1].max()),
        float(weather[:, 2].min()),
        float(weather[:, 3].max()),
    )
    hot = steady_point(network, table, worst, absorbed.max(axis=0), warmest, speed=0.0).nodes.max()
    return Bounds(
        min(float(weather[:, :2].min()), *rooms[1], resolved.houses[0].setpoint[0]) - KELVIN,
        max(float(hot), warmest) + KELVIN,
    )


def require_sound(resolved: Resolved, shared: Shared, result: Result) -> None:
    """Assert what holds of every run."""
    hours = {name: result.hours[name].to_numpy() for name in result.hours}
    for name, values in hours.items():
        if name not in EMPTY_AT_TIMES and values.dtype.kind == "f":
            assert np.isfinite(values).all(), f"{name} is not finite"
    for key, value in leaves(result.summary):
        assert not isinstance(value, float) or np.isfinite(value), f"{key} = {value}"
    closure = result.summary["closure"]
    for name in ("collector", "house"):
        assert closure[name] < CLOSED, f"closure of the {name}: {closure[name]:.2e}"
        assert closure[f"worst_step_{name}"] < CLOSED_STEP, (
            f"step of the {name}: {closure[f'worst_step_{name}']:.2e}"
        )
    require_optics(resolved, hours)
    bounds = bounds_of(resolved, shared, hours)
    for name in ("absorber_temperature", "cover_temperature", "outlet_temperature"):
        low, high = float(hours[name].min()), float(hours[name].max())
        assert low >= bounds.low, f"{name} falls to {low:.2f} K, below {bounds.low:.2f} K"
        assert high <= bounds.high, f"{name} rises to {high:.2f} K, above {bounds.high:.2f} K"


def require_optics(resolved: Resolved, hours: dict[str, Any]) -> None:
    """Assert that no more is taken up than falls in, nor more won than that and what outdoors gives."""
    limit = optical_limit(resolved)
    absorbed, incident = hours["absorbed"], hours["incident"]
    assert 0.0 < limit < 1.0 + 1e-2
    assert (incident >= 0.0).all() and (absorbed >= 0.0).all()
    assert (absorbed <= limit * incident + 1e-6).all(), f"more than {limit:.3f} of the sun is absorbed"
    losses = sum(
        hours[f"{name}_loss"] for name in ("cover_convection", "cover_longwave", "back", "edge", "leak")
    )
    drawn_in = np.maximum(-losses, 0.0) + np.maximum(-hours["wall_heat"], 0.0)
    released = np.maximum(-hours["stored"].sum(axis=1), 0.0)
    won, most = hours["collected"].sum(axis=1), limit * incident.sum(axis=1) + drawn_in.sum(axis=1) + released
    assert (won <= most * (1.0 + 1e-9) + 1e-3).all(), f"{won} won of at most {most}"


def optical_limit(resolved: Resolved) -> float:
    """Return the largest share of the sun that the clean cover and absorber take up at any angle."""
    collector = resolved.parts.collector
    angles = np.linspace(0.0, 89.9, 400)
    beam, none = np.ones(angles.size), np.zeros(angles.size)
    turns = (beam, none, none), (none, beam, none), (none, none, beam)
    taken = [absorbed_sun(collector, angles, *turn) for turn in turns]
    return max(float((one.pane.sum(axis=0) + one.absorber).max()) for one in taken) + 1e-3


def leaves(value: Any, name: str = "") -> Iterator[tuple[str, Any]]:
    """Yield every value of a summary."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, item in items:
        if isinstance(item, dict | list):
            yield from leaves(item, f"{name}.{key}")
        else:
            yield f"{name}.{key}", item


def attack(numbers: range, shared: Shared) -> tuple[Counter[str], list[str]]:
    """Return what came of the builds, and every defect with the number of its build."""
    found: Counter[str] = Counter()
    defects: list[str] = []
    for number in numbers:
        try:
            scenario = random_scenario(number)
            with limited(LONGEST_RUN):
                resolved = shared.resolve(scenario)
                (came,) = run_together([resolved], finished, shared)
            found["ended early for a reason" if isinstance(came, str) else "completed"] += 1
            if isinstance(came, str):
                assert " " in came and came.isprintable(), came
                found[" ".join(came.split()[:6])] += 1
            else:
                require_sound(resolved, shared, came)
        except (InputError, RunEnded) as error:
            found[f"refused: {str(error)[:60]}"] += 1
        except (Exception, Hung) as defect:  # any at all is a defect; all are told at once
            defects.append(f"{number}: {type(defect).__name__}: {str(defect)[:300]}")
    return found, defects


def test_some_random_builds(shared: Shared) -> None:
    found, defects = attack(range(FEW), shared)
    assert not defects, "\n".join(defects)
    assert found["completed"] > 0.9 * FEW, told(found)


@pytest.mark.slow
def test_all_random_builds(shared: Shared, capsys: pytest.CaptureFixture[str]) -> None:
    found, defects = attack(range(ALL), shared)
    with capsys.disabled():
        print(f"\n{ALL} builds: {told(found)}, {len(defects)} defects")
    assert not defects, "\n".join(defects[:200])
    assert found["completed"] > 0.9 * ALL, told(found)
