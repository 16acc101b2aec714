"""How tight the box is, from the flows at both of its ends."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from simengine.fieldtest.log import Array, TestLog
from simengine.fieldtest.sensors import Sensors, unsure


@dataclass(frozen=True)
class Tightness:
    """Share of the larger flow that leaks, and which way."""

    share: Any  # [-] with its uncertainty; below zero where the flows say the opposite of the fan's place
    draws_in: bool  # outdoor air enters the box: the outlet's flow is the larger


def leak_share(inlet_flow: Any, outlet_flow: Any, draws_in: bool) -> Any:
    """Return the leaking share of the larger flow [-].

    Parameters
    ----------
    inlet_flow, outlet_flow : [kg/s], plain or with their uncertainty
    draws_in : whether outdoor air is drawn in (the fan stands behind the box)

    Source: mass balance.

    >>> leak_share(0.045, 0.05, draws_in=True)
    0.1
    """
    small, large = (inlet_flow, outlet_flow) if draws_in else (outlet_flow, inlet_flow)
    share = 1.0 - small / large
    return round(share, 12) if isinstance(share, float) else share


def tightness(
    log: TestLog, sensors: Sensors, ends: tuple[str, str], draws_in: bool, running: Array
) -> Tightness:
    """Return the tightness of the box.

    Parameters
    ----------
    log : with flow and second_flow
    sensors : their uncertainties
    ends : where each of the two is measured, "inlet" or "outlet"
    draws_in : as for `leak_share`
    running : [row] 1 where the fan runs
    """
    rows = (running > 0.5) & np.isfinite(log["flow"]) & np.isfinite(log["second_flow"])
    flows = {}
    for role, end in zip(("flow", "second_flow"), ends, strict=True):
        mean, count = float(log[role][rows].mean()), int(rows.sum())
        flows[end] = unsure(mean, mean * sensors.noise[role] / np.sqrt(count)) * sensors.scale[role]
    return Tightness(leak_share(flows["inlet"], flows["outlet"], draws_in), draws_in)
