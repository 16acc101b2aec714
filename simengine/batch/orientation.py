"""The best tilt and azimuth of a collector for the heating it saves, and how flat the hill is around it."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from simengine.errors import InputError, RunEnded
from simengine.simulate import Resolved, resolve, run_resolved
from simengine.simulate.drive import Shared
from simengine.simulate.together import run_together
from simengine.simulate.year import finished_in_brief

if TYPE_CHECKING:
    from simengine.scenario import Scenario
    from simengine.weather import WeatherSeries

STEEPEST = 90.0  # [deg]
LARGEST_TURN = 90.0
"""How far from the equator the collector may look [deg]."""

STARTS = ((30.0, 0.0), (60.0, 0.0), (85.0, 0.0), (60.0, -40.0), (60.0, 40.0))
"""Tilt and turn from the equator where the hill is looked at first [deg]."""

FIRST_STEP = (8.0, 12.0)  # [deg] of the search in tilt and turn
CLOSE = 0.5  # [deg] at which the search ends
FLAT = 2e-4  # [-] of the heat, at which it ends too
MOST_RUNS = 60
TILTS = (-40.0, -30.0, -20.0, -10.0, -5.0, 0.0, 5.0, 10.0, 20.0, 30.0, 40.0)
TURNS = (-60.0, -45.0, -30.0, -15.0, 0.0, 15.0, 30.0, 45.0, 60.0)
"""Steps of the two curves, off the best [deg]."""

NEAR = 0.98
"""Share of the best that counts as just as good [-]."""

Point = tuple[float, float]


def best_orientation(
    scenario: "Scenario", series: "WeatherSeries | None" = None, house: str | None = None
) -> dict[str, Any]:
    """Return the tilt and azimuth that save most heating in a house, with the curves through that point.

    The whole year is run at each point; the search is a bounded simplex (Nelder and Mead 1965) from the
    best of five starts. Shade goes along as it is given; a strip on the collector turns with it.

    Parameters
    ----------
    scenario : a checked scenario; what stands on a wall is turned as if it stood free, which is told
    series : weather to take instead of the one the scenario names
    house : name of the house; the first one if None

    Returns
    -------
    Ready for strict JSON: `best`, `as_it_stands`, `tilt_curve`, `azimuth_curve`, `near` (what comes within
    2 %), `runs` and `notes`.

    Raises
    ------
    InputError if there is no such house, or nothing is saved anywhere.
    """
    from scipy.optimize import minimize

    base = resolve(scenario, series)
    name = _house(base, house)
    base = replace(base, houses=tuple(one for one in base.houses if one.name == name), others=())
    here = run_resolved(base).summary["houses"][name]  # what is wrong with the scenario shows here
    saved = _Saved(scenario, base, name)
    saved.look_at(STARTS)
    starts = sorted(STARTS, key=saved)[::-1]
    if not saved(starts[0]) > 0.0:
        raise InputError(
            f"no heating is saved in {name} whichever way the collector looks; nothing to search for"
        )
    top = np.array(starts[0])
    tilted = FIRST_STEP[0] if top[0] + FIRST_STEP[0] <= STEEPEST else -FIRST_STEP[0]
    found = minimize(
        lambda x: -saved((float(x[0]), float(x[1]))),
        top,
        method="Nelder-Mead",
        bounds=[(0.0, STEEPEST), (-LARGEST_TURN, LARGEST_TURN)],
        options={
            "initial_simplex": np.array([top, top + [tilted, 0.0], top + [0.0, FIRST_STEP[1]]]),  # noqa: RUF005
            "xatol": CLOSE,
            "fatol": FLAT * saved(starts[0]),
            "maxfev": MOST_RUNS - len(STARTS),
        },  # type: ignore[call-overload]
    )
    tilt, turn = round(float(found.x[0])), round(float(found.x[1]))
    return _told(saved, here, (float(tilt), float(turn)))


def _house(base: Resolved, asked: str | None) -> str:
    names = [house.name for house in base.houses]
    if asked is None:
        return names[0]
    if asked not in names:
        raise InputError(f"--house {asked!r:.80}: no such house; accepted: {', '.join(names)}")
    return asked


class _Saved:
    """Years of one house by tilt and turn from the equator, each point run once."""

    def __init__(self, scenario: "Scenario", base: Resolved, house: str) -> None:
        self.scenario = scenario
        self.base = base
        self.house = house
        self.equator = 180.0 if base.series.latitude >= 0.0 else 0.0
        self.shared = Shared()
        self.known: dict[Point, dict[str, Any]] = {}

    def __call__(self, point: Point) -> float:
        """Return the heating that is saved [kWh]."""
        return float(self.year(point)["offset_kwh"])

    def year(self, point: Point) -> dict[str, Any]:
        """Return the year of the house with the collector turned."""
        self.look_at([point])
        return self.known[point]

    def look_at(self, points: Sequence[Point]) -> None:
        """Run the points that are not known yet, side by side."""
        new = [point for point in dict.fromkeys(points) if point not in self.known]
        turned = [self._turned(point) for point in new]
        for point, result in zip(new, run_together(turned, finished_in_brief, self.shared), strict=True):
            if isinstance(result, str):
                raise RunEnded(result)
            self.known[point] = result["houses"][self.house]

    def azimuth(self, turn: float) -> float:
        """Return the azimuth [deg] of a turn from the equator, positive to the west."""
        west = 1.0 if self.equator == 180.0 else -1.0
        return (self.equator + west * turn) % 360.0

    def _turned(self, point: Point) -> Resolved:
        changes = {
            "collector.tilt": f"{point[0]!r} deg",
            "collector.azimuth": f"{self.azimuth(point[1])!r} deg",
        }
        resolved = resolve(self.scenario.changed(changes), self.base.series)
        mine = tuple(house for house in resolved.houses if house.name == self.house)
        return replace(resolved, houses=mine, others=())


def _told(saved: _Saved, here: dict[str, Any], best: Point) -> dict[str, Any]:
    given = saved.scenario.inputs.collector
    tilts = [(best[0] + off, best[1]) for off in TILTS if 0.0 <= best[0] + off <= STEEPEST]
    turns = [(best[0], best[1] + off) for off in TURNS if abs(best[1] + off) <= LARGEST_TURN]
    saved.look_at([best, *tilts, *turns])
    over_tilt, over_turn = _curve(saved, tilts), _curve(saved, turns)
    notes = []
    if given.mounting != "open":
        notes.append(
            f"the scenario mounts the collector on a {given.mounting}: "
            "the search turns it as if its back stayed there"
        )
    return {
        "house": saved.house,
        "best": _figures(saved, best),
        "as_it_stands": {
            "tilt_deg": given.tilt,
            "azimuth_deg": given.azimuth,
            "offset_kwh": here["offset_kwh"],
            "incident_kwh": here["incident_kwh"],
        },
        "tilt_curve": over_tilt,
        "azimuth_curve": over_turn,
        "near": {
            "share": NEAR,
            "tilt_deg": _span(over_tilt, "tilt_deg", best[0], lambda point: point),
            "azimuth_deg": _span(over_turn, "turn_deg", best[1], saved.azimuth),
        },
        "runs": len(saved.known) + 1,
        "notes": notes,
    }


def _figures(saved: _Saved, point: Point) -> dict[str, Any]:
    year = saved.year(point)
    return {
        "tilt_deg": point[0],
        "azimuth_deg": saved.azimuth(point[1]),
        "offset_kwh": year["offset_kwh"],
        "incident_kwh": year["incident_kwh"],
    }


def _curve(saved: _Saved, points: list[Point]) -> list[dict[str, float]]:
    return [
        {
            "tilt_deg": point[0],
            "azimuth_deg": saved.azimuth(point[1]),
            "turn_deg": point[1],
            "offset_kwh": saved(point),
        }
        for point in points
    ]


def _span(
    curve: list[dict[str, float]], key: str, best: float, shown: Callable[[float], float]
) -> tuple[float, float]:
    """Return how far one can go from the best with 2 % less, straight between the curve's points."""
    place: NDArray[np.float64] = np.array([point[key] for point in curve])
    kwh = np.array([point["offset_kwh"] for point in curve])
    least = NEAR * float(kwh[np.argmin(np.abs(place - best))])
    fine = np.linspace(place[0], place[-1], 1001)
    good = fine[np.interp(fine, place, kwh) >= least]
    below, above = good[good <= best], good[good >= best]
    low = _last_without_gap(below[::-1], fine[1] - fine[0], best)
    high = _last_without_gap(above, fine[1] - fine[0], best)
    return shown(round(low)), shown(round(high))


def _last_without_gap(places: NDArray[np.float64], step: float, start: float) -> float:
    """Return the end of the run of places that begins at a start."""
    end = start
    for place in places:
        if abs(place - end) > 1.5 * step:
            break
        end = float(place)
    return end
