"""What fills a sealed gap: a pure gas, or one thinned with the air that filling leaves behind."""

from simengine.air.gases import FillGas, Gas, gas_named
from simengine.collector.spec import SealedGap
from simengine.errors import RangeError

STANDARD_AIR = Gas("air", 1.232, 1.761e-5, 5.0e-8, 2.496e-2, 8.0e-5, 1008.0)
"""Air as the glazing standard tabulates it, slopes from -10 to 20 degC (EN 673:2011, from memory)."""


def filling(gap: SealedGap) -> FillGas:
    """Return the gas of a sealed gap, every property weighed by volume.

    Parameters
    ----------
    gap : with its gas and the share of the gap that it fills [-]

    Returns
    -------
    properties as linear relations of temperature

    Raises InputError for an unknown gas, RangeError for a share outside 0 to 1.
    Source: EN 673:2011, gas mixtures (from memory).

    >>> argon = filling(SealedGap(0.016, "argon", fill_share=0.9))  # 0.9 x 0.01684 + 0.1 x 0.02496
    >>> round(argon.thermal_conductivity(283.15), 5)
    0.01765
    """
    if not 0.0 <= gap.fill_share <= 1.0:
        raise RangeError(f"sealed gap: fill share {gap.fill_share:g} is not a share; 0 to 1 is accepted")
    pure = gas_named(gap.gas)
    if not isinstance(pure, Gas):
        return pure  # air needs no thinning, and has relations of its own

    def mixed(of_gas: float, of_air: float) -> float:
        return gap.fill_share * of_gas + (1.0 - gap.fill_share) * of_air

    return Gas(
        pure.name,
        mixed(pure.density_at_reference, STANDARD_AIR.density_at_reference),
        mixed(pure.viscosity_at_reference, STANDARD_AIR.viscosity_at_reference),
        mixed(pure.viscosity_slope, STANDARD_AIR.viscosity_slope),
        mixed(pure.conductivity_at_reference, STANDARD_AIR.conductivity_at_reference),
        mixed(pure.conductivity_slope, STANDARD_AIR.conductivity_slope),
        mixed(pure.specific_heat, STANDARD_AIR.specific_heat),
    )
