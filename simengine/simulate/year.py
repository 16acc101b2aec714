"""A year of one scenario: every house with the collector and without it, over the same weather."""

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from simengine.collector.network import Forcing
from simengine.engine.ledger import COLUMNS, Column
from simengine.engine.march import march
from simengine.engine.state import Member, new_scratch, new_state
from simengine.errors import RunEnded
from simengine.results import Result
from simengine.results.record import Record
from simengine.results.weather_years import over_the_years
from simengine.scenario.schema.choices import INTAKES
from simengine.simulate.bill import calibrated
from simengine.simulate.comfort import held_back
from simengine.simulate.design_point import limits
from simengine.simulate.drive import Drive, drive_of
from simengine.simulate.fan_drive import drive as fan_drive
from simengine.simulate.forcing import Place, demand_rows, zone_rows
from simengine.simulate.houses_alone import march_houses, warm_up
from simengine.simulate.lanes import collector_lanes, passive_rows, rule_rows
from simengine.simulate.money import money_blocks
from simengine.simulate.notes import cautions, collector_facts, of_the_air, weather_facts, wet_cover
from simengine.simulate.opening import house_with, lost_sun, opening_loss, without_window
from simengine.simulate.resolve import Resolved, resolve

if TYPE_CHECKING:
    from simengine.scenario import Scenario
    from simengine.simulate.climate import Weather

Array = NDArray[np.float64]
Counts = NDArray[np.int64]

MEANS = {
    "incident": Column.INCIDENT,
    "absorbed": Column.ABSORBED,
    "cover_convection_loss": Column.COVER_CONVECTION,
    "cover_longwave_loss": Column.COVER_LONGWAVE,
    "back_loss": Column.BACK_LOSS,
    "edge_loss": Column.EDGE_LOSS,
    "wall_heat": Column.WALL_HEAT,
    "duct_loss": Column.DUCT_LOSS,
    "leak_loss": Column.LEAK_LOSS,
    "collected": Column.COLLECTED,
    "fan_heat": Column.FAN_HEAT,
    "fan_power": Column.FAN_POWER,
    "delivered": Column.DELIVERED,
    "night_loss": Column.NIGHT_LOSS,
    "stored": Column.STORED,
    "heating_with": Column.HEATING,
    "vented": Column.VENTED,
    "house_gain": Column.HOUSE_GAIN,
    "house_loss": Column.HOUSE_LOSS,
    "house_stored": Column.HOUSE_STORED,
    "fan_on": Column.FAN_ON,
    "passive_on": Column.DRIFT_ON,
    "mass_flow": Column.AIR_MASS,
    "room_temperature": Column.ROOM,
    "absorber_temperature": Column.ABSORBER,
    "cover_temperature": Column.COVER,
    "outlet_temperature": Column.OUTLET,
    "supply_temperature": Column.SUPPLY,
    "carried": Column.CARRIED,
    "fresh_air": Column.FRESH_AIR,
    "ventilation_replaced": Column.VENTILATION_REPLACED,
}
"""Hourly quantities that are the ledger's columns, divided by the length of the interval."""


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
    hours = march_year(member_of(whole, drive), drive, first_temperature(whole))
    return finished(whole, drive, hours)


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
    _require_finite(resolved, with_it)
    here, forcing = drive.here, drive.forcing
    hourly = _hourly(resolved, here, with_it, march_houses(resolved, here, drive.plan))
    hourly["plane_irradiance"] = drive.plane.total
    index = resolved.series.data.index
    offset = np.timedelta64(round(resolved.series.utc_offset * 3600.0), "s")
    record = Record(
        title=resolved.scenario.title,
        houses=tuple(house.name for house in resolved.houses),
        times=np.asarray(index.to_numpy().astype("datetime64[s]") - offset, dtype="datetime64[s]"),
        step=float(resolved.series.step),
        utc_offset=resolved.series.utc_offset,
        hourly=hourly,
        aperture=resolved.parts.collector.aperture,
        provenance=resolved.provenance,
        weather=weather_facts(resolved.series),
        collector=collector_facts(resolved, hourly),
        closure=_closure(with_it),
        limits=limits(resolved, forcing),
        cautions=[*wet_cover(resolved, hourly), *of_the_air(resolved, hourly), *cautions(resolved)],
        money=money_blocks(resolved, here, hourly),
        about=resolved.scenario.about,
        inputs=resolved.inputs,
    )
    return Result.of(record)


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
    network, table = collector_lanes(resolved, lanes)
    control = resolved.parts.control
    runs = fan_drive(control, drive.here, resolved, lanes)
    gone = lost_sun(drive.here, resolved.parts.window_panel)
    demand = without_window(demand_rows(drive.here, houses), houses, gone)
    rule, passive = rule_rows(control, lanes), passive_rows(resolved, lanes)
    ways = resolved.parts.spaces
    places = {"taken": INTAKES.index(ways.intake), "given": INTAKES.index(ways.supply)}
    return Member(network, table, forcing, rule, runs, passive, zone_rows(houses), demand, **places)


def march_year(member: Member, drive: Drive, start: float) -> Array:
    """Return the ledger of the year [interval, column, lane], in J.

    Parameters
    ----------
    member : what is fixed, any number of lanes
    drive : weather and steps
    start : temperature of everything before the warm-up [K]
    """
    plan, forcing, month = drive.plan, member.forcing, drive.here.month
    seconds, lanes = float(drive.here.series.step), member.zone.shape[1]
    panes, segments = member.network.panes, member.network.path.shape[1]
    state = new_state(panes, segments, lanes, start)
    work = new_scratch(panes, segments, lanes)
    last = warm_up(plan.size, seconds)
    early = Forcing(forcing.weather[-last:], forcing.absorbed[-last:])
    before = member._replace(forcing=early, drive=member.drive[-last:], demand=member.demand[-last:])
    none = np.zeros((0, COLUMNS, lanes))
    march(before, plan[-last:], month[-last:], seconds, state, work, none, np.zeros((12, COLUMNS, lanes)))
    hours = np.zeros((plan.size, COLUMNS, lanes))
    march(member, plan, month, seconds, state, work, hours, np.zeros((12, COLUMNS, lanes)))
    return hours


def _require_finite(resolved: Resolved, hours: Array) -> None:
    broken = ~np.isfinite(hours).all(axis=(1, 2))
    if broken.any():
        when = resolved.series.data.index[int(np.argmax(broken))]
        raise RunEnded(f"the march found no finite state in the interval that starts {when:%m-%d %H:%M}")


def _hourly(resolved: Resolved, here: Place, with_it: Array, without: Array) -> dict[str, Array]:
    """Return the interval means of the run by name [house, time]."""
    seconds = float(resolved.series.step)
    hourly = {name: with_it[:, column, :].T / seconds for name, column in MEANS.items()}
    hourly["reflected"] = hourly["incident"] - hourly["absorbed"]
    hourly["fan_starts"] = with_it[:, Column.FAN_STARTS, :].T.copy()
    peak = with_it[:, Column.PEAK_SUPPLY, :].T
    hourly["peak_supply_temperature"] = np.where(peak > 0.0, peak, np.nan)
    hourly["heating_without"] = without[:, 0, :].T / seconds
    hourly["vented_without"] = without[:, 1, :].T / seconds
    hourly["room_temperature_without"] = without[:, 2, :].T / seconds
    if resolved.parts.spaces.second is not None:
        hourly["second_space_temperature"] = with_it[:, Column.SECOND_SPACE, :].T / seconds
        hourly["second_space_temperature_without"] = without[:, 3, :].T / seconds
    hourly["ambient_temperature"] = here.ambient
    hourly["sky_temperature"] = here.sky
    hourly["opening_loss"] = opening_loss(resolved, here, hourly["wall_heat"], hourly["room_temperature"])
    ways = resolved.parts.spaces
    reads = "room_temperature" if ways.supply == "room" else "second_space_temperature"
    seen = {
        "control_temperature": hourly[reads],
        "fan_on": hourly["fan_on"],
        "delivered": hourly["delivered"],
    }
    warmer = hourly[reads] - here.ambient
    hourly["held_back"] = held_back(resolved.parts.control, here.month, hourly["absorbed"], warmer, seen)
    return hourly


def _closure(with_it: Array) -> dict[str, float]:
    """Return the year's residual over the sum of the terms' sizes, and the worst of a step."""
    from simengine.engine.ledger import BOX_TERMS, HOUSE_TERMS

    year = with_it.sum(axis=0)
    found = {}
    for name, terms in (("collector", BOX_TERMS), ("house", HOUSE_TERMS)):
        signed = np.array([sign * year[column] for column, sign in terms])
        found[name] = float(np.max(np.abs(signed.sum(axis=0)) / np.abs(signed).sum(axis=0)))
    found["worst_step_collector"] = float(with_it[:, Column.RESIDUAL].max())
    found["worst_step_house"] = float(with_it[:, Column.HOUSE_RESIDUAL].max())
    return found
