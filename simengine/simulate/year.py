"""A year of one scenario: every house with the collector and without it, over the same weather."""

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from simengine.engine.ledger import Column
from simengine.engine.state import Member
from simengine.errors import RunEnded
from simengine.results import Result
from simengine.results.aggregate import Months
from simengine.results.record import UNTOLD, Record
from simengine.results.summary import BRIEF, ENERGIES, brief
from simengine.results.weather_years import over_the_years
from simengine.scenario.schema.choices import INTAKES
from simengine.simulate.bill import calibrated
from simengine.simulate.blocks import Ride, march_again, march_year
from simengine.simulate.design_point import limits
from simengine.simulate.drive import Drive, drive_of
from simengine.simulate.fan_drive import drive as fan_drive
from simengine.simulate.forcing import demand_rows, zone_rows
from simengine.simulate.hours import Hours
from simengine.simulate.houses_alone import march_houses
from simengine.simulate.lanes import collector_lanes, passive_rows, rule_rows
from simengine.simulate.money import money_blocks
from simengine.simulate.notes import cautions, collector_facts, of_the_air, weather_facts, wet_cover
from simengine.simulate.opening import house_with, lost_sun, without_window
from simengine.simulate.resolve import Resolved, resolve
from simengine.simulate.shorter import settled, shorter_steps, what_broke

if TYPE_CHECKING:
    from simengine.scenario import Scenario
    from simengine.simulate.climate import Weather

Array = NDArray[np.float64]


def run(scenario: "Scenario", series: "Weather | None" = None) -> Result:
    """Return the year of a scenario.

    Parameters
    ----------
    scenario : the checked scenario
    series : weather to take instead of the one the scenario names; of several the first is told in full, and
        the spread over all of them besides

    Returns
    -------
    Result with its hours and its summary

    Raises
    ------
    InputError if weather or parts cannot be used; RunEnded if the march came to no finite result.
    """
    return run_resolved(resolve(scenario, series))


def run_resolved(resolved: Resolved) -> Result:
    """Return the year of a scenario whose weather and houses are at hand."""
    others = (replace(resolve(resolved.scenario, other), houses=resolved.houses) for other in resolved.others)
    return over_the_years([_with_one_weather(each) for each in (resolved, *others)])


def _with_one_weather(resolved: Resolved) -> Result:
    drive = drive_of(resolved)
    whole = calibrated(resolved, drive.here, drive.plan)
    ride = Ride(member_of(whole, drive), drive, first_temperature(whole))
    (hours,) = march_year([ride])
    hours, driven = settled(hours, drive, partial(march_again, ride))
    return finished(whole, driven, hours)


def finished(resolved: Resolved, drive: Drive, with_it: Array) -> Result:
    """Return the result of a year whose march is done.

    Parameters
    ----------
    resolved : the scenario, its houses scaled to their bill
    drive : what drove the march
    with_it : ledger of the houses with the collector [interval, column, house], J

    Raises
    ------
    RunEnded if the march came to no finite result.
    """
    _require_finite(drive, with_it)
    short = record(resolved, drive, with_it)
    hourly = short.hourly
    return Result.of(
        replace(
            short,
            provenance=resolved.provenance,
            weather=weather_facts(resolved.series),
            collector=collector_facts(resolved, hourly),
            closure=_closure(with_it),
            cautions=[
                *shorter_steps(drive),
                *wet_cover(resolved, hourly),
                *of_the_air(resolved, hourly),
                *cautions(resolved),
            ],
            money=money_blocks(resolved, drive.here, hourly),
            about=resolved.scenario.about,
            inputs=resolved.inputs,
        )
    )


def finished_in_brief(resolved: Resolved, drive: Drive, with_it: Array) -> dict[str, Any]:
    """Return those numbers of the same result that a sweep keeps, without all that nobody would read.

    Parameters, errors : as `finished`

    Returns
    -------
    `houses` and `limits` as in the summary, with fewer rows
    """
    short = record(resolved, drive, with_it)
    read = {part for key in BRIEF for part in ENERGIES[key]}
    finite = all(np.isfinite(short.hourly[name].sum()) for name in read)
    if not (finite and np.isfinite(with_it[-1]).all()):  # a state that breaks stays broken to the end
        _require_finite(drive, with_it)
    return brief(replace(short, money=money_blocks(resolved, drive.here, short.hourly, table=False)))


def record(resolved: Resolved, drive: Drive, with_it: Array) -> Record:
    """Return what every result holds; parameters as `finished`."""
    hourly = Hours(resolved, drive, with_it, march_houses(resolved, drive.here, drive.plan))
    return Record(
        title=resolved.scenario.title,
        houses=tuple(house.name for house in resolved.houses),
        times=drive.here.times,
        step=float(resolved.series.step),
        utc_offset=resolved.series.utc_offset,
        hourly=hourly,
        aperture=resolved.parts.collector.aperture,
        provenance=UNTOLD,
        limits=limits(resolved, drive.forcing, drive.kept),
        months=drive.here.kept.once("months", lambda: Months(drive.here.month)),
    )


def first_temperature(resolved: Resolved) -> float:
    """Return the temperature that everything has before the march warms up [K]."""
    return resolved.houses[0].setpoint[0]


def member_of(resolved: Resolved, drive: Drive) -> Member:
    """Return what is fixed in the march of a scenario, a lane for each house.

    Raises
    ------
    RunEnded if the weather on the collector is not finite.
    """
    forcing = drive.forcing
    houses = tuple(house_with(house, resolved.parts) for house in resolved.houses)
    if not (np.isfinite(forcing.weather).all() and np.isfinite(forcing.absorbed).all()):
        raise RunEnded("the weather on the collector holds a value that is not a finite number")
    lanes = len(houses)
    network, table = collector_lanes(resolved, lanes, drive.kept)
    control = resolved.parts.control
    runs = fan_drive(control, drive.here, resolved, lanes)
    gone = lost_sun(drive.here, resolved.parts.window_panel)
    demand = without_window(demand_rows(drive.here, houses), houses, gone)
    rule, passive = rule_rows(control, lanes), passive_rows(resolved, lanes)
    ways = resolved.parts.spaces
    places = {"taken": INTAKES.index(ways.intake), "given": INTAKES.index(ways.supply)}
    return Member(network, table, forcing, rule, runs, passive, zone_rows(houses), demand, **places)


def _require_finite(drive: Drive, hours: Array) -> None:
    if not np.isfinite(hours).all():
        raise RunEnded(what_broke(hours, drive))


def _closure(with_it: Array) -> dict[str, float]:
    """Return the year's residual over the sum of the terms' sizes, and the worst of a step."""
    from simengine.engine.ledger import BOX_TERMS, HOUSE_TERMS

    year = np.ascontiguousarray(with_it).sum(axis=0)  # so that the order of adding up hangs on nothing
    found = {}
    for name, terms in (("collector", BOX_TERMS), ("house", HOUSE_TERMS)):
        signed = np.array([sign * year[column] for column, sign in terms])
        found[name] = float(np.max(np.abs(signed.sum(axis=0)) / np.abs(signed).sum(axis=0)))
    found["worst_step_collector"] = float(with_it[:, Column.RESIDUAL].max())
    found["worst_step_house"] = float(with_it[:, Column.HOUSE_RESIDUAL].max())
    return found
