"""What the way into the house changes: the wall behind the collector, the window that a panel closes."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from simengine.house.gains import solar_gain
from simengine.house.network import network, split_gains
from simengine.house.spec import House
from simengine.scenario.assembly import Assembly, WindowPanel
from simengine.simulate.forcing import Place, window_sun
from simengine.simulate.resolve import LEAST_CONDUCTANCE, Resolved, house_behind, wall_conductance

Array = NDArray[np.float64]

BESIDE = 50.0
"""How far from the panel's bearing a window of a house still looks the same way [deg]."""


def house_with(house: House, parts: Assembly) -> House:
    """Return the house as the march with the collector sees it.

    Parameters
    ----------
    house : without the collector
    parts : of the scenario

    Returns
    -------
    House, less the wall that the collector stands on, with the panel in the window's place
    """
    behind, panel = house_behind(house, parts.collector), parts.window_panel
    if panel is None:
        return behind
    windows = behind.window_conductance + change_of_conductance(panel)
    return replace(behind, window_conductance=max(windows, LEAST_CONDUCTANCE))


def change_of_conductance(panel: WindowPanel) -> float:
    """Return what the opening conducts more with the panel than with the window [W/K].

    >>> from simengine.house.spec import Window
    >>> foam = WindowPanel(0.5, 0.815, 2.8, Window(180.0, 0.5, 0.75))  # 0.5 (0.815 - 2.8)
    >>> round(change_of_conductance(foam), 4)
    -0.9925
    """
    return panel.area * (panel.u_value - panel.window_u_value)


def lost_sun(here: Place, panel: WindowPanel | None) -> Array:
    """Return the sun that no longer comes through the window [interval] [W]."""
    if panel is None:
        return np.zeros(here.ambient.size)
    window = panel.window
    return solar_gain([window], window_sun(here, window.tilt, window.azimuth)[None, :])


def without_window(demand: Array, houses: tuple[House, ...], lost: Array) -> Array:
    """Return the demand of houses that get less sun.

    Parameters
    ----------
    demand : [interval, Demand, lane]; its first three columns are the gains of air, surface and mass
    houses : with the panel
    lost : sun that no longer comes in [interval] [W]
    """
    if not lost.any():
        return demand
    less = demand.copy()
    for lane, house in enumerate(houses):
        for column, part in enumerate(split_gains(network(house), 0.0, lost)):  # type: ignore[arg-type]
            less[:, column, lane] -= part
    return less


def opening_loss(resolved: Resolved, here: Place, wall_heat: Array, room: Array) -> Array:
    """Return what the house loses more, and gains less, where the collector meets it [house, interval] [W].

    Parameters
    ----------
    resolved : the scenario
    here : sun and air of the place
    wall_heat : from the collector through the wall behind it into the room [house, interval] [W]
    room : temperature of the house with the collector [house, interval] [K]

    Source: what the piece of wall loses now less what it lost before; the panel's conductance less the
    window's, and the sun that the window let in.
    """
    parts, panel = resolved.parts, resolved.parts.window_panel
    above = room - here.ambient
    walled = parts.collector.back.wall_resistance is not None
    found = -wall_heat - wall_conductance(parts.collector) * above if walled else np.zeros_like(above)
    if panel is None:
        return found
    return np.asarray(found + change_of_conductance(panel) * above + lost_sun(here, panel))


def panel_cautions(resolved: Resolved) -> list[str]:
    """Return what to know about a panel in a window."""
    panel = resolved.parts.window_panel
    if panel is None:
        return []
    found = [
        "The panel closes a window: keep every way of escape and every opening that a room needs for air and "
        "light by local code, and keep the panel from falling, burning and sweating."
    ]
    for house in resolved.houses:
        beside = [w.area for w in house.windows if _turn(w.azimuth - panel.window.azimuth) <= BESIDE]
        if sum(beside) < panel.area:
            found.append(
                f"The {house.name.replace('_', '-')} house has less window on that side than the panel "
                "covers: the sun taken from it is more than it had."
            )
    return found


def _turn(degrees: float) -> float:
    return abs((degrees + 180.0) % 360.0 - 180.0)
