"""What a practitioner wants to hear about the flow: noise in ducts, and enough air over the collector."""

from collections.abc import Iterable

from simengine.airflow.circuit import PartLoss
from simengine.constants import STANDARD_AIR_DENSITY

NOISY_VELOCITY = 5.0
"""Velocity in a duct from which it may be heard in a living room [m/s] (common practice)."""

USUAL_AIR = (2.0, 4.0)
"""Usual air flow of a collector [cfm/ft2] (common practice)."""

CFM_PER_SQUARE_FOOT = 0.3048 / 60.0
"""One cfm per square foot of collector [m/s]."""


def flow_hints(losses: Iterable[PartLoss], mass_flow: float, aperture: float) -> tuple[str, ...]:
    """Return sentences about a loop that runs outside common practice.

    Parameters
    ----------
    losses : iterable of PartLoss
        The loop's parts at this flow.
    mass_flow : float
        Mass flow [kg/s].
    aperture : float
        Aperture of the collector [m2].

    Returns
    -------
    tuple of str
        Nothing where all is usual.

    Examples
    --------
    >>> flow_hints([PartLoss("supply duct", 30.0, 6.2, 6.0e4)], 0.05, 2.9)[0]
    'supply duct: 6.2 m/s; above about 5 m/s air may be heard (common practice)'
    """
    hints = [
        f"{loss.name}: {loss.velocity:.1f} m/s; above about {NOISY_VELOCITY:g} m/s air may be heard "
        "(common practice)"
        for loss in losses
        if loss.velocity > NOISY_VELOCITY
    ]
    hints += [f"{loss.name}: {loss.note}" for loss in losses if loss.note]
    specific = mass_flow / (STANDARD_AIR_DENSITY * aperture * CFM_PER_SQUARE_FOOT)
    if not USUAL_AIR[0] <= specific <= USUAL_AIR[1]:
        side = "little" if specific < USUAL_AIR[0] else "much"
        hints.append(
            f"collector: {specific:.1f} standard cfm per ft2 is {side} air; {USUAL_AIR[0]:g} to "
            f"{USUAL_AIR[1]:g} is usual (common practice)"
        )
    return tuple(hints)
