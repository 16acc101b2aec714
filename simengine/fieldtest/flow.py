"""From what a flow meter shows to the mass of air that passes it."""

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Protocol

import numpy as np

from simengine.constants import GAS_CONSTANT_DRY_AIR, STANDARD_AIR_DENSITY
from simengine.fieldtest.log import Array
from simengine.units import KINDS

if TYPE_CHECKING:
    from simengine.scenario.schema.field_test import LogFlow

KINDS_OF_FLOW = ("volume_flow", "mass_flow", "speed", "pressure")


class Meter(Protocol):
    """A reading at air of some density [kg/m3] turned into a mass flow [kg/s]."""

    def __call__(self, reading: Array, density: Array, given: "LogFlow") -> Array:
        """Return the mass flow [kg/s]."""
        ...


def volume_flow(reading: Array, density: Array, given: "LogFlow") -> Array:
    """Return the mass flow of a volume flow [m3/s] at the meter's own air.

    Parameters
    ----------
    reading : [m3/s]
    density : of the air at the meter [kg/m3]
    given : what the scenario says of the meter

    >>> from types import SimpleNamespace
    >>> round(float(volume_flow(np.array([0.05]), np.array([1.2]), SimpleNamespace())[0]), 3)
    0.06
    """
    return reading * density


def mass_flow(reading: Array, density: Array, given: "LogFlow") -> Array:
    """Return a mass flow [kg/s] as it is.

    Parameters
    ----------
    reading : [kg/s]
    density : of the air [kg/m3]
    given : what the scenario says of the meter
    """
    return reading


def speed(reading: Array, density: Array, given: "LogFlow") -> Array:
    """Return the mass flow of air at a speed [m/s] in a duct: speed x profile factor x area x density.

    Parameters
    ----------
    reading : [m/s]
    density : of the air in the duct [kg/m3]
    given : what the scenario says of duct and profile

    >>> from types import SimpleNamespace
    >>> duct = SimpleNamespace(diameter=0.1524, width=None, height=None, profile_factor=0.85)
    >>> round(float(speed(np.array([3.0]), np.array([1.2]), duct)[0]), 4)  # 3 x 0.85 x 0.01824 x 1.2
    0.0558
    """
    if given.diameter is not None:
        area = 0.25 * math.pi * given.diameter**2
    else:
        area = (given.width or 0.0) * (given.height or 0.0)
    return reading * given.profile_factor * area * density


def pressure(reading: Array, density: Array, given: "LogFlow") -> Array:
    """Return the mass flow of a fan against a pressure [Pa], off its curve at standard air.

    A fan moves the same volume at any density, against a pressure in proportion to it (fan laws). Outside of
    the curve there is no answer: NaN.

    Parameters
    ----------
    reading : [Pa]
    density : of the air at the fan [kg/m3]
    given : what the scenario says of the fan

    >>> from types import SimpleNamespace
    >>> fan = SimpleNamespace(curve=((0.0, 0.06), (100.0, 0.0)))
    >>> round(float(pressure(np.array([50.0]), np.array([1.2014]), fan)[0]), 4)  # 0.03 m3/s
    0.036
    """
    rises, flows = zip(*given.curve, strict=True)
    at_standard = reading * STANDARD_AIR_DENSITY / density
    volume = np.interp(at_standard, rises, flows, left=np.nan, right=np.nan)
    return np.asarray(volume * density)


METERS: Mapping[str, Meter] = {meter.__name__: meter for meter in (volume_flow, mass_flow, speed, pressure)}
"""Kinds of reading by name."""


def meter_flow(given: "LogFlow", readings: list[Array], temperature: Array, site_pressure: float) -> Array:
    """Return the mass flow at a meter.

    Parameters
    ----------
    given : what the scenario says of the meter
    readings : its column, or several of a traverse, as written [row]
    temperature : of the air at the meter [K], [row]
    site_pressure : of the air [Pa]

    Returns
    -------
    mass flow [kg/s], [row]; NaN without a reading

    Source: ideal gas at the meter's own temperature; "scfm" is a mass flow already.
    """
    kind = next(name for name in KINDS_OF_FLOW if KINDS[name].find(given.unit) is not None)
    unit = KINDS[kind].find(given.unit)
    assert unit is not None
    mean = np.mean(readings, axis=0) * unit.factor + unit.offset
    density = site_pressure / (GAS_CONSTANT_DRY_AIR * temperature)
    return METERS[kind](mean, density, given)
