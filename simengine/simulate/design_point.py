"""Temperatures with the fan off: the year's worst hours and a design point, for every part."""

from hashlib import sha256
from typing import Any

import numpy as np

from simengine.collector.absorbed import absorbed_sun
from simengine.collector.network import Array, FlowTable, Forcing, Network, Weather
from simengine.collector.steady import steady_point
from simengine.constants import ZERO_CELSIUS
from simengine.heat_transfer.wind import WIND_RELATIONS
from simengine.simulate.forcing import absorbed_rows
from simengine.simulate.hottest import hottest_parts
from simengine.simulate.kept import Kept
from simengine.simulate.lanes import TWO_SPEEDS, network_of
from simengine.simulate.resolve import Resolved

DESIGN_SUN = 1000.0
"""Sun at normal incidence at the design point of the temperature check [W/m2]."""
DESIGN_AMBIENT = ZERO_CELSIUS + 30.0
DESIGN_SKY = ZERO_CELSIUS + 20.0
"""A humid summer sky, 10 K below the air [K] (common practice)."""
DESIGN_WIND = 0.5
"""[m/s]"""
WORST_HOURS = 12
"""How many of the sunniest and of the hottest hours are tried with the fan off."""


def limits(resolved: Resolved, forcing: Forcing, kept: Kept | None = None) -> list[dict[str, Any]]:
    """Return every part at its hottest with the fan off: the year's worst hour and a design point.

    Parameters
    ----------
    resolved : the scenario
    forcing : what the year's weather does to the collector
    kept : what was found before of collectors with the same forcing

    Returns
    -------
    rows of part, hottest_c, limit_c, exceeded, hour ("design point" or the interval's number), sentence

    Source: steady state of the march's own equations without flow; it errs on the hot side for a
    heavy box.
    """
    known = Kept(2) if kept is None else kept
    network, table = network_of(resolved, known), _at_rest(resolved.flow_table)
    hangs_on = sha256(b"".join(np.asarray(array).tobytes() for array in (*network, *table))).digest()
    cases, nodes = known.once(hangs_on, lambda: _hottest(resolved, forcing, network, table))
    return hottest_parts(resolved.parts, nodes, cases)


def _hottest(
    resolved: Resolved, forcing: Forcing, network: Network, table: FlowTable
) -> tuple[list[str], Array]:
    """Return the names of all cases, and the hottest temperature of each node in each [case, node] [K]."""
    cases: list[tuple[str, Weather, Array]] = [("design point", *_design(resolved, forcing))]
    for i in _worst_hours(forcing):
        cases.append((str(i), Weather(*(float(v) for v in forcing.weather[i])), forcing.absorbed[i]))
    found = [
        steady_point(network, table, weather, absorbed, weather.ambient, speed=0.0).nodes.max(axis=1)
        for _, weather, absorbed in cases
    ]
    return [name for name, _, _ in cases], np.array(found)


def _at_rest(table: FlowTable) -> FlowTable:
    """Return the table of a fan that never runs; that of the real fan says no more of air at rest."""
    return FlowTable(*(np.ascontiguousarray(np.repeat(rows[:1], TWO_SPEEDS, axis=0)) for rows in table))


def _worst_hours(forcing: Forcing) -> list[int]:
    sun = forcing.absorbed.sum(axis=1)
    hottest = sun + 8.0 * (forcing.weather[:, 0] - ZERO_CELSIUS)  # about 8 W/m2 a kelvin
    last = -min(WORST_HOURS, sun.size)
    return sorted({int(i) for score in (sun, hottest) for i in np.argpartition(score, last)[last:]})


def _design(resolved: Resolved, forcing: Forcing) -> tuple[Weather, Array]:
    collector = resolved.parts.collector
    sun = max(DESIGN_SUN, float(forcing.weather[:, 3].max()))
    one, none = np.array([sun]), np.zeros(1)
    absorbed = absorbed_sun(collector, none, one, none, none)
    film = WIND_RELATIONS[collector.wind_relation](DESIGN_WIND, collector.length)
    weather = Weather(DESIGN_AMBIENT, DESIGN_SKY, film, sun)
    return weather, absorbed_rows(absorbed)[0]
