"""Properties of the gases that fill a sealed gap between two panes, as plain numbers.

The numbers are those of EN 673 at 10 degC with the slopes of its table from -10 to 20 degC (from
memory). Outside the table the straight lines go on: argon's conductivity and viscosity stay within
2 % of a reference equation of state from 230 to 430 K.
"""

from dataclasses import dataclass

from simengine.air import properties
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.errors import InputError

REFERENCE_TEMPERATURE = 283.15
"""Temperature at which the gases' numbers hold [K]."""

REFERENCE_PRESSURE = 100_000.0
"""Pressure at which the gases' densities hold [Pa]: the table is one of 1 bar, by the gas law."""


@dataclass(frozen=True, slots=True)
class Gas:
    """A fill gas: values at 10 degC and 1 bar, and their slopes with temperature."""

    name: str
    density_at_reference: float  # [kg/m3]
    viscosity_at_reference: float  # [Pa s]
    viscosity_slope: float  # [Pa s/K]
    conductivity_at_reference: float  # [W/mK]
    conductivity_slope: float  # [W/mK2]
    specific_heat: float  # [J/kgK]

    def density(self, temperature: float, pressure: float) -> float:
        """Return the density [kg/m3] at a temperature [K] and a pressure [Pa] (ideal gas)."""
        expansion = REFERENCE_TEMPERATURE / temperature
        return self.density_at_reference * expansion * (pressure / REFERENCE_PRESSURE)

    def dynamic_viscosity(self, temperature: float) -> float:
        """Return the dynamic viscosity [Pa s] at a temperature [K]."""
        return self.viscosity_at_reference + self.viscosity_slope * (temperature - REFERENCE_TEMPERATURE)

    def thermal_conductivity(self, temperature: float) -> float:
        """Return the thermal conductivity [W/mK] at a temperature [K]."""
        return self.conductivity_at_reference + self.conductivity_slope * (
            temperature - REFERENCE_TEMPERATURE
        )


@dataclass(frozen=True, slots=True)
class DryAir:
    """Air as a fill gas: the same interface, the same relations as everywhere else."""

    name: str = "air"
    specific_heat: float = SPECIFIC_HEAT_AIR  # [J/kgK]

    def density(self, temperature: float, pressure: float) -> float:
        """Return the density [kg/m3] at a temperature [K] and a pressure [Pa]."""
        return properties.density(temperature, pressure)

    def dynamic_viscosity(self, temperature: float) -> float:
        """Return the dynamic viscosity [Pa s] at a temperature [K]."""
        return properties.dynamic_viscosity(temperature)

    def thermal_conductivity(self, temperature: float) -> float:
        """Return the thermal conductivity [W/mK] at a temperature [K]."""
        return properties.thermal_conductivity(temperature)


FillGas = Gas | DryAir

_LIST: tuple[FillGas, ...] = (
    DryAir(),
    Gas("argon", 1.699, 2.164e-5, 6.33e-8, 1.684e-2, 5.0e-5, 519.0),
    Gas("krypton", 3.560, 2.400e-5, 7.0e-8, 0.900e-2, 2.8e-5, 245.0),
)

GASES: dict[str, FillGas] = {gas.name: gas for gas in _LIST}
"""Every fill gas by its name."""


def gas_named(name: str) -> FillGas:
    """Return a fill gas by its name.

    Parameters
    ----------
    name : str
        One of the keys of `GASES`.

    Returns
    -------
    Gas or DryAir
        The gas.

    Raises
    ------
    InputError
        The name is not known.

    Examples
    --------
    >>> gas_named("argon").specific_heat
    519.0
    """
    if name not in GASES:
        raise InputError(f"fill gas: '{name}' is not known; accepted: {', '.join(GASES)}")
    return GASES[name]
