"""What a switch-off costs: heat that the room limit or the season kept out of the house."""

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from simengine.control.spec import ControlRule

Array = NDArray[np.float64]

LEAST_HOURS = 24
"""Hours with the fan on from which a line may be drawn."""

RUNNING = 0.05
"""Share of an interval from which it counts as one with the fan on [-]; cycling hours count as well."""


def held_back(
    rule: "ControlRule", month: NDArray[np.int64], absorbed: Array, warmer: Array, hourly: dict[str, Array]
) -> Array:
    """Return the heat that the air would have brought, had the fan been let run.

    Parameters
    ----------
    rule : room limit and months of the control
    month : 0 to 11 of each interval
    absorbed : sun taken up in the collector [W], array [house, interval]
    warmer : room less outdoor air [K], array [house, interval]
    hourly : fan_on [-], delivered [W] and control_temperature [K], arrays [house, interval]

    Returns
    -------
    power [W], array [house, interval]; zero where less sun is there than in any hour with the fan on,
    and where there are too few of those to tell

    Source: an estimate, within a tenth of a march without limit and season. The line
    a S - b (T_room - T_ambient) through the hours with the fan on, of the same house, is read in the
    hours out of season and in those in which the room stands at its limit.
    """
    let = np.isin(month + 1, rule.months)
    found = np.zeros_like(absorbed)
    for lane in range(absorbed.shape[0]):
        on, delivered = hourly["fan_on"][lane], hourly["delivered"][lane]
        runs = on >= RUNNING
        if runs.sum() < LEAST_HOURS:
            continue
        sun, above = absorbed[lane], warmer[lane]
        line, *_ = np.linalg.lstsq(np.stack([sun[runs], above[runs]], axis=1), delivered[runs], rcond=None)
        could = np.maximum(line[0] * sun + line[1] * above, 0.0)
        full = hourly["control_temperature"][lane] > rule.room_limit - rule.room_limit_band
        held = (sun >= sun[runs].min()) & (full | ~let)
        found[lane] = np.where(held, (1.0 - on) * could, 0.0)
    return found
