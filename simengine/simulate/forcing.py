"""From weather and place to the arrays that drive the march."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, cast

import numpy as np
from numpy.typing import NDArray

from simengine import sun
from simengine.collector.absorbed import AbsorbedSun, absorbed_sun
from simengine.collector.network import Forcing, Weather
from simengine.constants import ZERO_CELSIUS
from simengine.heat_transfer.wind import WIND_RELATIONS
from simengine.house.gains import house_gains
from simengine.house.network import network, split_gains
from simengine.house.second_space import second_zone
from simengine.house.spec import House
from simengine.house.zone import Zone
from simengine.scenario.assembly import Site
from simengine.simulate.house_rows import NO_SPACE, any_second, blown_in, second_wishes
from simengine.simulate.kept import Kept
from simengine.simulate.resolve import Resolved
from simengine.simulate.shade import shade

if TYPE_CHECKING:
    from simengine.weather import WeatherSeries

Array = NDArray[np.float64]
Counts = NDArray[np.int64]

DIM = 60.0
"""Sun on the collector's plane [W/m2] below which it does not get warm enough for its fan to start: about
50 W/m2 in an absorber."""

INCIDENT = Weather._fields.index("incident")
"""Column of the weather on the collector that holds the sun on its plane."""

QUIET_STEPS = 3
"""How many times longer the steps are while it is that dim, or while no air may move."""

STILL_STEPS = 6
"""How many times longer they are where both hold."""

PASSIVE_STEPS = 0.4
"""How many times as long they are where air can move by itself: its flow follows the temperatures, so that it
is never steady within a step."""

MOST_KEPT = 64
"""Arrays that a place keeps; each takes 0.1 to 1 MB."""


@dataclass(frozen=True)
class Place:
    """Sun and sky of one weather series, worked out once for every plane that looks at them."""

    series: "WeatherSeries"
    position: sun.SunPosition
    ambient: Array  # [interval] K
    sky: Array  # [interval] K
    ground: Array  # [interval] reflectance, -
    month: Counts  # [interval] 0 to 11
    hour: Counts  # [interval] hour of the day, local standard time
    times: NDArray[np.datetime64]  # [interval] naive UTC starts
    kept: Kept = field(default_factory=lambda: Kept(MOST_KEPT))  # what hangs on the weather and little else


def place(series: "WeatherSeries", site: Site, clear_sky: str) -> Place:
    """Return what does not hang on any plane.

    Parameters
    ----------
    series : the weather
    site : what the scenario says of the place
    clear_sky : key of the sky relation
    """
    position = sun.solar_position(series)
    ground = sun.monthly_ground(series, site.ground_reflectance)
    if site.snow:
        ground = sun.snow_ground(series, ground)
    index: Any = series.data.index
    offset = np.timedelta64(round(series.utc_offset * 3600.0), "s")
    return Place(
        series,
        position,
        series.data["temp_air"].to_numpy() + ZERO_CELSIUS,
        sun.sky_temperature(series, position, clear_sky),
        ground,
        np.asarray(index.month, dtype=np.int64) - 1,
        np.asarray(index.hour, dtype=np.int64),
        np.asarray(index.to_numpy().astype("datetime64[s]") - offset, dtype="datetime64[s]"),
    )


def on_plane(here: Place, resolved: Resolved) -> sun.PlaneIrradiance:
    """Return the sun on the collector's plane, shaded."""
    collector, site = resolved.parts.collector, resolved.parts.site
    return sun.plane_irradiance(
        here.series,
        here.position,
        collector.tilt,
        collector.azimuth,
        horizon=shade(site, collector),
        model=resolved.parts.run.sky,
        ground_reflectance=here.ground,
    )


def collector_forcing(here: Place, resolved: Resolved, plane: sun.PlaneIrradiance) -> Forcing:
    """Return what the weather does to the collector in every interval.

    Parameters
    ----------
    here : sun and sky of the place
    resolved : scenario with weather and houses
    plane : irradiance on the collector
    """
    collector, site = resolved.parts.collector, resolved.parts.site
    beam = plane.beam + plane.circumsolar
    absorbed = absorbed_sun(collector, plane.incidence_angle, beam, plane.sky_diffuse, plane.ground_reflected)
    exposure = (site.collector_height, site.terrain, site.wind_shelter)
    film = (collector.wind_relation, collector.length)
    coefficient = here.kept.once(("film", exposure, film), lambda: wind_film(here, exposure, *film))
    weather = np.stack([here.ambient, here.sky, coefficient, plane.total], axis=1)
    return Forcing(np.ascontiguousarray(weather), absorbed_rows(absorbed))


def wind_film(here: Place, exposure: tuple[float, str, float], relation: str, length: float) -> Array:
    """Return the coefficient from the cover to the wind in every interval [W/m2K].

    Parameters
    ----------
    here : the place
    exposure : height of the collector [m], terrain, share of the wind that shelter leaves [-]
    relation : name of the wind relation
    length : of the collector [m]
    """
    film = WIND_RELATIONS[relation]
    # files give the wind in steps of a tenth or so: a few hundred speeds make a year
    speeds, which = np.unique(sun.collector_wind(here.series, *exposure), return_inverse=True)
    return np.array([film(speed, length) for speed in speeds.tolist()])[which]


def absorbed_rows(absorbed: AbsorbedSun) -> Array:
    """Return what each node takes up [interval, pane + 1]; a bare absorber has an idle outer face."""
    panes = absorbed.pane if len(absorbed.pane) else np.zeros((1, absorbed.absorber.size))
    return np.ascontiguousarray(np.vstack([panes, absorbed.absorber]).T)


def zone_rows(houses: tuple[House, ...]) -> Array:
    """Return the houses as rows [Zone, lane]; where one has a second space [Zone + SecondZone, lane]."""
    second = any_second(houses)
    rows = []
    for house in houses:
        net = network(house)
        zone = Zone(
            ventilation=net.ventilation,
            surface=net.surface,
            window=net.window,
            inner=net.inner,
            outer=net.outer,
            air_capacity=net.air_capacity,
            mass_capacity=net.mass_capacity,
            heater=house.heating_capacity,
            recovered=house.recovered_conductance,
        )
        space = NO_SPACE if house.second_space is None else second_zone(house.second_space)
        rows.append((*zone, *space) if second else tuple(zone))
    return np.ascontiguousarray(np.array(rows).T)


def demand_rows(here: Place, houses: tuple[House, ...]) -> Array:
    """Return gains and wishes of the houses [interval, Demand, lane], with `SecondDemand` where needed."""
    return here.kept.once(("demand", houses), lambda: _demand_rows(here, houses))  # type: ignore[no-any-return]


def _demand_rows(here: Place, houses: tuple[House, ...]) -> Array:
    rows: list[Array] = []
    second = any_second(houses)
    for house in houses:
        irradiance = [window_sun(here, w.tilt, w.azimuth) for w in house.windows]
        gains = house_gains(house, here.hour, np.array(irradiance).reshape(len(irradiance), here.hour.size))
        split: Any = split_gains(network(house), cast(Any, gains.internal), cast(Any, gains.solar))
        setpoint = np.asarray(house.setpoint)[here.hour]
        limit = np.full(here.hour.size, house.vent_limit)
        blown = blown_in(here, house, setpoint)
        heated = np.isin(here.month + 1, house.heating_months)
        wanted = np.where(heated, setpoint, 0.0)
        fields = [split.air, split.surface, split.mass, wanted, limit, blown]  # of Demand, in its order
        if second:
            fields += second_wishes(here, house.second_space, heated)
        rows.append(np.stack(fields, axis=1))
    return np.ascontiguousarray(np.stack(rows, axis=2))


def window_sun(here: Place, tilt: float, azimuth: float) -> Array:
    """Return the sun on an unshaded plane of the place [W/m2], array [interval].

    Parameters
    ----------
    here : sun and sky of the place
    tilt : from horizontal [deg]
    azimuth : clockwise from north [deg]
    """

    def total() -> Array:
        plane = sun.plane_irradiance(
            here.series, here.position, tilt, azimuth, ground_reflectance=here.ground
        )
        return plane.total

    return here.kept.once(("window", tilt, azimuth), total)  # type: ignore[no-any-return]


def step_plan(
    forcing: Forcing,
    interval: float,
    step: float,
    shut: NDArray[np.bool_] | None = None,
    *,
    passive: bool = False,
) -> Counts:
    """Return the number of steps in each interval: a function of the sun on the plane, and of the season.

    Cover and absorber play no part in it, so that collectors of any optics can march side by side.

    Parameters
    ----------
    forcing : what the weather does to the collector
    interval : its length [s]
    step : mean step while the sun can drive the collector and a damper is shut at rest [s]
    shut : [interval] whether the fan may not run and no air moves by itself; None if that is never so
    passive : whether air can move by itself; steps are `PASSIVE_STEPS` times as long then

    Returns
    -------
    counts [interval]; below `DIM`, or where nothing moves, the steps are `QUIET_STEPS` times as long, where
    both hold `STILL_STEPS` times; they grow within an interval (`engine.grading`)
    """
    bright = forcing.weather[:, INCIDENT] > DIM
    moves = np.ones(bright.size, dtype=bool) if shut is None else ~shut
    usual = step * PASSIVE_STEPS if passive else step
    lit, quiet, still = (
        max(1, round(interval / min(usual * longer, interval))) for longer in (1, QUIET_STEPS, STILL_STEPS)
    )
    return np.where(bright & moves, lit, np.where(bright | moves, quiet, still)).astype(np.int64)
