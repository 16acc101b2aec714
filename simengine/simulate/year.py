"""A year of one scenario: every house with the collector and without it, over the same weather."""

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from simengine.collector.network import Forcing
from simengine.economics.money import money_ledger
from simengine.economics.spec import HeatSaved, HourlyHeat
from simengine.engine.ledger import COLUMNS, Column
from simengine.engine.march import march, march_house
from simengine.engine.state import Member, new_scratch, new_state
from simengine.errors import RunEnded
from simengine.results import Result
from simengine.results.record import Record
from simengine.scenario.schema.choices import INTAKES
from simengine.simulate.comfort import held_back
from simengine.simulate.design_point import limits
from simengine.simulate.drive import Drive, drive_of
from simengine.simulate.forcing import Place, demand_rows, zone_rows
from simengine.simulate.lanes import collector_lanes, rule_rows
from simengine.simulate.notes import cautions, collector_facts, weather_facts, wet_cover
from simengine.simulate.resolve import Resolved, house_behind, resolve, wall_conductance

if TYPE_CHECKING:
    from simengine.scenario import Scenario
    from simengine.weather import WeatherSeries

Array = NDArray[np.float64]
Counts = NDArray[np.int64]

WARM_UP_DAYS = 30
"""Days at the end of the year that are marched beforehand, so that houses start with warm walls."""

JOULE_PER_KWH = 3.6e6
SECONDS_PER_YEAR = 365 * 86400

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
    "fan_on": Column.FAN_ON,
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


def run(scenario: "Scenario", series: "WeatherSeries | None" = None) -> Result:
    """Return the year of a scenario.

    Parameters
    ----------
    scenario : the checked scenario
    series : weather to take instead of the one the scenario names

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
    drive = drive_of(resolved)
    hours = march_year(member_of(resolved, drive), drive, first_temperature(resolved))
    return finished(resolved, drive, hours)


def finished(resolved: Resolved, drive: Drive, with_it: Array) -> Result:
    """Return the result of a year whose march is done.

    Parameters
    ----------
    resolved : the scenario
    drive : what drove the march
    with_it : ledger of the houses with the collector [interval, column, house], J

    Raises
    ------
    RunEnded if the march came to no finite result.
    """
    _require_finite(resolved, with_it)
    here, forcing = drive.here, drive.forcing
    hourly = _hourly(resolved, here, with_it, _march_houses(resolved, here, drive.plan))
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
        cautions=[*wet_cover(resolved, hourly), *cautions(resolved)],
        money=_money(resolved, here, hourly),
        about=resolved.scenario.about,
        inputs=resolved.inputs,
    )
    return Result.of(record)


def _warm_up(count: int, interval: float) -> int:
    return min(count, round(WARM_UP_DAYS * 86400.0 / interval))


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
    houses = tuple(house_behind(house, resolved.parts.collector) for house in resolved.houses)
    if not (np.isfinite(forcing.weather).all() and np.isfinite(forcing.absorbed).all()):
        raise RunEnded("the weather on the collector holds a value that is not a finite number")
    network, table = collector_lanes(resolved, len(houses))
    rule, months = rule_rows(resolved.parts.control, len(houses))
    demand = demand_rows(drive.here, houses)
    ways = resolved.parts.spaces
    places = {"taken": INTAKES.index(ways.intake), "given": INTAKES.index(ways.supply)}
    return Member(network, table, forcing, rule, months, zone_rows(houses), demand, **places)


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
    last = _warm_up(plan.size, seconds)
    early = Forcing(forcing.weather[-last:], forcing.absorbed[-last:])
    before = member._replace(forcing=early, demand=member.demand[-last:])
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


def _march_houses(resolved: Resolved, here: Place, plan: Counts) -> Array:
    """Return the year of the houses without the collector [interval, 4, house]: J, J, K s, K s."""
    seconds = float(resolved.series.step)
    zones, demand = zone_rows(resolved.houses), demand_rows(here, resolved.houses)
    lanes = zones.shape[1]
    state = np.full((4, lanes), resolved.houses[0].setpoint[0])
    last = _warm_up(plan.size, seconds)
    march_house(
        zones, demand[-last:], here.ambient[-last:], plan[-last:], seconds, state, np.zeros((last, 4, lanes))
    )
    hours = np.zeros((plan.size, 4, lanes))
    march_house(zones, demand, here.ambient, plan, seconds, state, hours)
    return hours


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
    # what the piece of wall loses now, less what it lost before the collector stood on it
    before = wall_conductance(resolved.parts.collector) * (hourly["room_temperature"] - here.ambient)
    walled = resolved.parts.collector.back.wall_resistance is not None
    hourly["opening_loss"] = -hourly.pop("wall_heat") - before if walled else np.zeros_like(before)
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


def _money(resolved: Resolved, here: Place, hourly: dict[str, Array]) -> dict[str, dict[str, object]]:
    """Return the money blocks of every house."""
    inputs = resolved.parts.money
    # money is told by the year, also where the weather holds several of them
    years = max(1, round(here.ambient.size * resolved.series.step / SECONDS_PER_YEAR))
    to_kwh = resolved.series.step / JOULE_PER_KWH / years
    aperture = resolved.parts.collector.aperture
    uses = [] if inputs.heating is None else [inputs.heating]
    ledgers: dict[str, dict[str, object]] = {}
    for lane, house in enumerate(resolved.houses):
        kwh = {key: hourly[key][lane] * to_kwh for key in ("heating_without", "heating_with", "fan_power")}
        by_hour = HourlyHeat(
            kwh["heating_without"],
            kwh["heating_with"],
            kwh["fan_power"],
            here.ambient,
            here.hour,
            float(resolved.series.step),
        )
        offset = float((kwh["heating_without"] - kwh["heating_with"]).sum())
        saved = HeatSaved(offset, float(kwh["fan_power"].sum()), by_hour)
        per_area: dict[str, object] = {
            "floor_area_m2": house.floor_area,
            "delivered_kwh_m2": float(hourly["delivered"][lane].sum()) * to_kwh / aperture,
            "heating_without_kwh_m2": float(kwh["heating_without"].sum()) / house.floor_area,
        }
        ledgers[house.name] = per_area | money_ledger(saved, uses, inputs.electricity, inputs.economics)
    return ledgers
