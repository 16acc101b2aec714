"""Fans: pressure over flow, the laws of speed and density, and where a fan meets its loop."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from simengine.airflow.monotone_curve import curve_value, monotone_slopes
from simengine.constants import STANDARD_AIR_DENSITY
from simengine.errors import InputError, RangeError

_BISECTIONS = 200
_SCAN = 160


@dataclass(frozen=True, slots=True)
class FanCurve:
    """A fan at one speed and one air density."""

    flow: tuple[float, ...]  # [m3/s] rising, from the shut-off end
    pressure: tuple[float, ...]  # [Pa]
    power: tuple[float, ...] | None = None  # [W] electric, at the same flows
    efficiency: float | None = None  # [-] electric to air, where there is no power curve
    density: float = STANDARD_AIR_DENSITY  # [kg/m3] at which the curve holds
    parabolic: bool = False  # pressure falls as p0 (1 - (Q/Q0)^2) between the two points

    def __post_init__(self) -> None:
        """Refuse points that are no fan curve."""
        problems = []
        if len(self.flow) != len(self.pressure) or len(self.flow) < 2:
            problems.append("fan curve: flows and pressures must be as many; accepted: two points or more")
        elif any(b <= a for a, b in zip(self.flow, self.flow[1:], strict=False)) or self.flow[0] < 0.0:
            problems.append("fan curve: the flows must rise from point to point, none below 0")
        if any(not math.isfinite(p) or p < 0.0 for p in self.pressure):
            problems.append("fan curve: a pressure is below 0; accepted: 0 Pa or more")
        if self.power is not None and len(self.power) != len(self.flow):
            problems.append("fan curve: give one power for every flow, or none")
        if self.efficiency is not None and not 0.0 < self.efficiency <= 1.0:
            problems.append("fan curve: the efficiency must lie above 0 and not above 1")
        if problems:
            raise InputError(*problems)

    def pressure_at(self, flow: float) -> float:
        """Return the pressure [Pa] at a flow [m3/s] within the curve."""
        if self.parabolic:
            return self.pressure[0] * (1.0 - (flow / self.flow[1]) ** 2)
        return _interpolate(flow, self.flow, self.pressure)

    def electric_power(self, flow: float) -> float | None:
        """Return the electric power [W] at a flow [m3/s]; None where nothing is known of it."""
        if self.power is not None:
            return _interpolate(flow, self.flow, self.power)
        if self.efficiency is not None:
            return flow * self.pressure_at(flow) / self.efficiency
        return None

    @property
    def peak_flow(self) -> float:
        """Flow of the highest pressure [m3/s]; left of it the fan may stall."""
        if self.parabolic:
            return 0.0
        flows = np.linspace(self.flow[0], self.flow[-1], _SCAN + 1)
        return float(flows[int(np.argmax([self.pressure_at(float(q)) for q in flows]))])


@dataclass(frozen=True, slots=True)
class OperatingPoint:
    """Where a fan meets its loop."""

    volume_flow: float  # [m3/s] at the fan
    mass_flow: float  # [kg/s]
    pressure: float  # [Pa]
    electric_power: float | None  # [W]
    notes: tuple[str, ...] = ()  # what the user should know of it


def shut_off_curve(
    shut_off_pressure: float,
    free_flow: float,
    efficiency: float | None = None,
    density: float = STANDARD_AIR_DENSITY,
) -> FanCurve:
    """Return the parabola through a fan's shut-off pressure and its free flow.

    Parameters
    ----------
    shut_off_pressure : float
        Pressure without flow [Pa].
    free_flow : float
        Flow without pressure [m3/s].
    efficiency : float, optional
        Electric to air [-].
    density : float
        Air density of the two figures [kg/m3].

    Returns
    -------
    FanCurve
        p0 (1 - (Q/Q0)^2).

    Examples
    --------
    >>> shut_off_curve(200.0, 0.1).pressure_at(0.05)
    150.0
    """
    return FanCurve((0.0, free_flow), (shut_off_pressure, 0.0), None, efficiency, density, parabolic=True)


def at_speed(fan: FanCurve, ratio: float) -> FanCurve:
    """Return the same fan at another speed: flow by the ratio, pressure by its square, power by its cube.

    Parameters
    ----------
    fan : FanCurve
        The fan.
    ratio : float
        New speed over old [-], above 0.

    Returns
    -------
    FanCurve
        The curve at the new speed.

    Notes
    -----
    Fan laws, geometry and density unchanged (common practice; exact for similar flow).

    Examples
    --------
    >>> round(at_speed(shut_off_curve(200.0, 0.1), 1.1).pressure[0], 6)
    242.0
    """
    if not ratio > 0.0:
        raise InputError(f"fan speed: {ratio} is not a speed; accepted: above 0")
    return FanCurve(
        tuple(q * ratio for q in fan.flow),
        tuple(p * ratio**2 for p in fan.pressure),
        None if fan.power is None else tuple(w * ratio**3 for w in fan.power),
        fan.efficiency,
        fan.density,
        fan.parabolic,
    )


def at_density(fan: FanCurve, density: float) -> FanCurve:
    """Return the same fan in other air: volume flow stays, pressure and power go with the density.

    Parameters
    ----------
    fan : FanCurve
        The fan.
    density : float
        Air density at the fan [kg/m3], above 0.

    Returns
    -------
    FanCurve
        The curve in that air.

    Examples
    --------
    >>> round(at_density(shut_off_curve(200.0, 0.1, density=1.2), 0.9).pressure[0], 6)
    150.0
    """
    ratio = density / fan.density
    return FanCurve(
        fan.flow,
        tuple(p * ratio for p in fan.pressure),
        None if fan.power is None else tuple(w * ratio for w in fan.power),
        fan.efficiency,
        density,
        fan.parabolic,
    )


def operating_point(fan: FanCurve, system: Callable[[float], float], density: float) -> OperatingPoint:
    """Return where a fan meets the pressure of its loop.

    Parameters
    ----------
    fan : FanCurve
        The fan at its speed; it is taken to the density given here.
    system : callable
        Mass flow [kg/s] -> pressure loss of the loop [Pa], rising.
    density : float
        Air density at the fan's inlet [kg/m3].

    Returns
    -------
    OperatingPoint
        The crossing at the largest flow, with a note if it lies where the fan may stall or if the two
        curves cross more than once.

    Raises
    ------
    RangeError
        The two do not meet within the curve: the loop asks for more flow than its last point, or for more
        pressure than the fan has.

    Examples
    --------
    >>> point = operating_point(shut_off_curve(200.0, 0.1, density=1.2), lambda m: 41666.7 * m * m, 1.2)
    >>> round(point.volume_flow, 4)
    0.05
    """
    local = at_density(fan, density)

    def surplus(flow: float) -> float:
        return local.pressure_at(flow) - system(density * flow)

    flows = [float(q) for q in np.linspace(local.flow[0], local.flow[-1], _SCAN + 1)]
    values = [surplus(flow) for flow in flows]
    if values[-1] > 0.0:
        raise RangeError(
            f"fan: the loop costs only {system(density * flows[-1]):.3g} Pa at the last point of the curve, "
            f"{flows[-1]:.3g} m3/s, where the fan has {local.pressure[-1]:.3g} Pa; accepted: a curve that "
            "goes on to the flow at which they meet"
        )
    crossings = [i for i in range(_SCAN) if values[i] > 0.0 >= values[i + 1]]
    if not crossings:
        raise RangeError(
            f"fan: the loop asks for more pressure than the fan has anywhere on its curve, at most "
            f"{max(local.pressure):.3g} Pa; accepted: a stronger fan or wider ducts"
        )
    flow = _bisect(surplus, flows[crossings[-1]], flows[crossings[-1] + 1])
    notes = []
    if flow < local.peak_flow:
        notes.append("the fan works left of its highest pressure, where it may stall and hunt")
    if len(crossings) > 1:
        notes.append("fan and loop meet more than once; the largest flow is given")
    return OperatingPoint(
        flow, density * flow, local.pressure_at(flow), local.electric_power(flow), tuple(notes)
    )


def _bisect(function: Callable[[float], float], low: float, high: float) -> float:
    """Return where a function that is positive at low and not at high crosses zero."""
    for _ in range(_BISECTIONS):
        middle = 0.5 * (low + high)
        if not low < middle < high:
            break
        if function(middle) > 0.0:
            low = middle
        else:
            high = middle
    return high


def _interpolate(at: float, places: tuple[float, ...], values: tuple[float, ...]) -> float:
    return curve_value(min(max(at, places[0]), places[-1]), *_curve(places, values))


@lru_cache(maxsize=32)
def _curve(
    places: tuple[float, ...], values: tuple[float, ...]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    x, y = np.array(places), np.array(values)
    return x, y, monotone_slopes(x, y)
