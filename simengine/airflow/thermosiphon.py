"""Air that moves by buoyancy alone: by day through a heated collector, by night backwards."""

import math
from dataclasses import dataclass

from simengine.compiled import kernel
from simengine.constants import GAS_CONSTANT_DRY_AIR, GRAVITY, SPECIFIC_HEAT_AIR, STANDARD_PRESSURE

_TINY = 1e-12


@kernel
def mean_inverse_temperature(inlet: float, asymptote: float, transfer_units: float) -> float:
    """Return the mean of 1/T along a stream that tends exponentially to a temperature.

    Parameters
    ----------
    inlet : float
        Temperature at the inlet [K].
    asymptote : float
        Temperature that the stream tends to [K].
    transfer_units : float
        U A / (m' c_p) over the length [-], above 0.

    Returns
    -------
    float
        Mean of 1/T [1/K]; times p / R it is the mean density of the column.

    Notes
    -----
    Closed form of the integral of 1 / (T_a + (T_i - T_a) exp(-N z)) for z from 0 to 1.

    Examples
    --------
    >>> round(1.0 / mean_inverse_temperature(293.15, 263.15, 1.2346), 2)
    280.25
    """
    units = max(transfer_units, 1e-9)
    # ln((T_a e^N + D) / (T_a + D)) / (N T_a), written so that a large N cannot overflow
    end = asymptote + (inlet - asymptote) * math.exp(-units)
    return (1.0 + math.log(end / inlet) / units) / asymptote


@kernel
def buoyancy_pressure(height: float, mean_density_cold: float, mean_density_hot: float) -> float:
    """Return the pressure that drives a loop of a cold and a hot column.

    Parameters
    ----------
    height : float
        Height of the columns [m].
    mean_density_cold : float
        Mean density of the column that sinks [kg/m3].
    mean_density_hot : float
        Mean density of the column that rises [kg/m3].

    Returns
    -------
    float
        Pressure [Pa]; negative where the loop would run the other way.

    Examples
    --------
    >>> round(buoyancy_pressure(2.0, 1.2, 1.1), 3)
    1.961
    """
    return GRAVITY * height * (mean_density_cold - mean_density_hot)


def heated_column_flow(
    heat: float, height: float, area: float, loss_coefficient: float, density: float, temperature: float
) -> float:
    """Return the flow through a collector that warms evenly along its height, in closed form.

    Parameters
    ----------
    heat : float
        Heat into the air [W], not negative.
    height : float
        Height of the collector, with a return column at room temperature [m].
    area : float
        Area that the loss coefficient counts on [m2].
    loss_coefficient : float
        Sum of the loss coefficients of the loop [-].
    density : float
        Air density [kg/m3].
    temperature : float
        Air temperature [K].

    Returns
    -------
    float
        Mass flow (rho^2 A^2 g H Q / (K T c_p)) ** (1/3) [kg/s].

    Notes
    -----
    Boussinesq; the mean excess of the column is half the rise. m'^3 is proportional to the heat.

    Examples
    --------
    >>> round(heated_column_flow(1000.0, 2.0, 0.093, 10.0, 1.2, 295.0), 4)
    0.0435
    """
    drive = density**2 * area**2 * GRAVITY * height * heat
    return math.cbrt(drive / (loss_coefficient * temperature * SPECIFIC_HEAT_AIR))


def stack_velocity(height: float, difference: float, temperature: float, discharge: float = 0.65) -> float:
    """Return the velocity in the openings of a warm shaft.

    Parameters
    ----------
    height : float
        Height between the openings [m].
    difference : float
        Air in the shaft minus air outside [K], not negative.
    temperature : float
        Mean air temperature [K].
    discharge : float
        Discharge coefficient [-].

    Returns
    -------
    float
        C sqrt(2 g H dT / T) [m/s].

    Examples
    --------
    >>> round(stack_velocity(2.0, 10.0, 300.0), 3)
    0.743
    """
    return discharge * math.sqrt(2.0 * GRAVITY * height * difference / temperature)


@dataclass(frozen=True, slots=True)
class NightFlow:
    """A loop that runs backwards at night."""

    mass_flow: float  # [kg/s] down through the collector
    heat: float  # [W] taken out of the room
    return_temperature: float  # [K] of the air that comes back into the room


def reverse_night_flow(
    room: float,
    outside: float,
    height: float,
    area: float,
    loss_coefficient: float,
    conductance: float,
    pressure: float = STANDARD_PRESSURE,
) -> NightFlow:
    """Return the flow, and the heat it takes, through a collector without a backdraft damper.

    Parameters
    ----------
    room : float
        Room temperature [K].
    outside : float
        Temperature that cools the collector [K].
    height : float
        Height between the two ports [m].
    area : float
        Area of a port [m2].
    loss_coefficient : float
        Sum of the loss coefficients of the loop on that area [-].
    conductance : float
        Loss of the collector, air to outside, over its whole height [W/K].
    pressure : float
        Air pressure [Pa].

    Returns
    -------
    NightFlow
        Nothing moves where it is not colder outside.

    Notes
    -----
    The air cools exponentially on its way down; the density is integrated along that profile in closed
    form, and the loss counts on the room's density.

    Examples
    --------
    >>> night = reverse_night_flow(293.15, 263.15, 1.5, 0.018241, 10.0, 10.0)
    >>> round(night.heat), round(night.return_temperature - 273.15, 1)
    (173, -1.2)
    """
    if outside >= room:
        return NightFlow(0.0, 0.0, room)
    density = pressure / (GAS_CONSTANT_DRY_AIR * room)

    def surplus(flow: float) -> float:
        units = conductance / (flow * SPECIFIC_HEAT_AIR)
        cold = pressure / GAS_CONSTANT_DRY_AIR * mean_inverse_temperature(room, outside, units)
        lost = loss_coefficient * flow * flow / (2.0 * density * area * area)
        return buoyancy_pressure(height, cold, density) - lost

    # The coldest column there can be, all at outside temperature, bounds the flow from above.
    strongest = buoyancy_pressure(height, density * room / outside, density)
    high = area * math.sqrt(2.0 * density * strongest / loss_coefficient)
    low = _TINY
    for _ in range(100):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if surplus(middle) > 0.0 else (low, middle)
    capacity = high * SPECIFIC_HEAT_AIR
    back = outside + (room - outside) * math.exp(-conductance / capacity)
    return NightFlow(high, capacity * (room - back), back)
