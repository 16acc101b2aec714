"""The gas of a still gap as a few numbers for the march: conductivity and Rayleigh number."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from simengine.air.gases import FillGas
from simengine.compiled import kernel
from simengine.constants import GRAVITY

Row = NDArray[np.float64] | tuple[float, float, float, float, float, float, float]
"""Coefficients of a fit, as an array [7] or as seven floats."""

_REFERENCE = 300.0  # [K]
_PER_REFERENCE = 1.0 / _REFERENCE
_DEGREE = 6
COLDEST, HOTTEST = 220.0, 430.0
"""Range of the fit [K]."""


@lru_cache(maxsize=64)
def gas_fit(gas: FillGas, pressure: float) -> NDArray[np.float64]:
    """Fit what a gap needs to know of its gas.

    Parameters
    ----------
    gas : Gas or DryAir
        The gas.
    pressure : float
        Pressure of the gas [Pa].

    Returns
    -------
    array, shape (2, 7)
        Row 0 for `gas_conductivity`, row 1 for `gas_rayleigh_root`. Relative error below 1e-4, and 5e-5,
        over 220 to 430 K.

    Notes
    -----
    Least squares of the relative error at Chebyshev points, polynomials in T. The Rayleigh number falls as
    about T ** -4.5, its fourth root nearly as 1/T.

    Examples
    --------
    >>> from simengine.air.gases import gas_named
    >>> round(gas_conductivity(gas_fit(gas_named("air"), 101325.0)[0], 300.0), 4)
    0.0263
    """
    angles = np.pi * (np.arange(41) + 0.5) / 41.0
    temperatures = 0.5 * (COLDEST + HOTTEST) + 0.5 * (HOTTEST - COLDEST) * np.cos(angles)
    conductivity = np.array([gas.thermal_conductivity(float(t)) for t in temperatures])
    viscosity = np.array([gas.dynamic_viscosity(float(t)) for t in temperatures])
    density = np.array([gas.density(float(t), pressure) for t in temperatures])
    factor = GRAVITY * density**2 * gas.specific_heat / (temperatures * viscosity * conductivity)
    fit = np.array(
        [
            _relative_fit(temperatures / _REFERENCE, conductivity),
            _relative_fit(temperatures / _REFERENCE, factor**0.25),
        ]
    )
    fit.flags.writeable = False  # whoever asks next is given the same one
    return fit


def _relative_fit(x: NDArray[np.float64], y: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return polynomial coefficients, lowest power first, that fit y with even relative error."""
    powers = np.vander(x, _DEGREE + 1, increasing=True) / y[:, None]
    return np.asarray(np.linalg.lstsq(powers, np.ones_like(y), rcond=None)[0], dtype=np.float64)


@kernel
def _horner(row: Row, x: float) -> float:
    value: float = row[4] + x * (row[5] + x * row[6])
    value = row[0] + x * (row[1] + x * (row[2] + x * (row[3] + x * value)))
    return value


@kernel
def gas_conductivity(row: Row, temperature: float) -> float:
    """Return the conductivity of the gas of a gap.

    Parameters
    ----------
    row : array, shape (7,)
        Row 0 of `gas_fit`.
    temperature : float
        Mean gas temperature [K], 220 to 430.

    Returns
    -------
    float
        Conductivity [W/mK].

    Examples
    --------
    >>> gas_conductivity(np.array([0.01, 0.02, 0.0, 0.0, 0.0, 0.0, 0.0]), 300.0)
    0.03
    """
    return _horner(row, temperature * _PER_REFERENCE)


@kernel
def gas_rayleigh_root(row: Row, temperature: float) -> float:
    """Return the fourth root of the Rayleigh number of a gap per kelvin of difference and cube of its depth.

    Parameters
    ----------
    row : array, shape (7,)
        Row 1 of `gas_fit`.
    temperature : float
        Mean gas temperature [K], 220 to 430.

    Returns
    -------
    float
        (Ra / (dT L^3)) ** (1/4) = (g rho^2 c_p / (T mu k)) ** (1/4) [(1/K m3) ** (1/4)].

    Examples
    --------
    >>> from simengine.air.gases import gas_named
    >>> row = gas_fit(gas_named("air"), 101325.0)[1]
    >>> round(gas_rayleigh_root(row, 333.15) ** 4 * 40.0 * 0.025**3, -2)
    36100.0
    """
    return _horner(row, temperature * _PER_REFERENCE)
