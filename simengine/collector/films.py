"""The conductance of a still air space at the temperatures of the moment."""

import math

from simengine.collector.network import Network
from simengine.compiled import kernel
from simengine.heat_transfer.gap_curve import LARGEST_ROOT
from simengine.heat_transfer.gas_fit import gas_conductivity, gas_rayleigh_root
from simengine.vector import where


@kernel
def still_conductance(
    network: Network, space: int, segment: int, lane: int, outer: float, inner: float
) -> float:
    """Return the conductance of still gas between two walls by conduction and natural convection.

    Parameters
    ----------
    network : the collector
    space, segment, lane : which air space [-]
    outer, inner : wall temperatures, nearer to the sun and the other [K]

    Returns
    -------
    conductance [W/m2K]

    Source: the space's own Nusselt curve; gas properties at the mean temperature.
    """
    mean = 0.5 * (outer + inner)
    difference = inner - outer
    conductivity = gas_conductivity(_fit(network, space, 0, lane), mean)
    per_difference = gas_rayleigh_root(_fit(network, space, 1, lane), mean)
    root = math.sqrt(math.sqrt(abs(difference))) * per_difference * network.gap[space, 1, segment, lane]
    signed_root = where(difference < 0.0, -root, root)
    per_depth = network.gap[space, 0, segment, lane]
    conductance: float = _nusselt(network, space, lane, signed_root) * conductivity * per_depth
    return conductance


@kernel
def _fit(network: Network, space: int, row: int, lane: int) -> tuple[float, ...]:
    gas = network.gas
    return (
        gas[space, row, 0, lane],
        gas[space, row, 1, lane],
        gas[space, row, 2, lane],
        gas[space, row, 3, lane],
        gas[space, row, 4, lane],
        gas[space, row, 5, lane],
        gas[space, row, 6, lane],
    )


@kernel
def _nusselt(network: Network, space: int, lane: int, x: float) -> float:
    # as gap_curve.interpolate_nusselt, on the stacked tables: a view of one row would take memory
    table = network.nusselt
    last = table.shape[2] - 1
    place = min(max((x + LARGEST_ROOT) * (0.5 * last / LARGEST_ROOT), 0.0), float(last))
    index = int(min(place, last - 1.0))
    low: float = table[space, lane, index]
    high: float = table[space, lane, index + 1]
    nusselt: float = low + (place - index) * (high - low)
    return nusselt
