"""The user's own house, scaled until a year in this weather burns what its fuel bill says."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from simengine.house.calibrate import calibrate
from simengine.house.spec import House
from simengine.simulate.forcing import Place
from simengine.simulate.houses_alone import march_houses
from simengine.simulate.resolve import Resolved

Counts = NDArray[np.int64]

JOULE_PER_KWH = 3.6e6
SECONDS_PER_YEAR = 365 * 86400

TOLERANCE = 1e-4
"""How closely the simulated need meets the bill [-]."""

CONDUCTANCES = ("opaque_conductance", "window_conductance", "ventilation_conductance")


def calibrated(resolved: Resolved, here: Place, plan: Counts) -> Resolved:
    """Return the parts of a run with the own house scaled to its bill; as they were where there is none.

    Parameters
    ----------
    resolved : the run's parts, the user's own house first
    here : its weather
    plan : number of steps in each interval

    Returns
    -------
    Resolved, with what was taken for granted

    Raises
    ------
    InputError if no factor gives the bill.
    """
    bill = resolved.parts.bill
    if bill is None or resolved.calibration is not None:
        return resolved
    years = max(1, round(here.ambient.size * resolved.series.step / SECONDS_PER_YEAR))

    def need(house: House) -> float:
        alone = march_houses(replace(resolved, houses=(house,)), here, plan)
        return float(alone[:, 0, 0].sum()) / JOULE_PER_KWH / years

    found = calibrate(resolved.houses[0], bill, need, TOLERANCE)
    return replace(resolved, houses=(found.house, *resolved.houses[1:]), calibration=found)


def calibration_block(resolved: Resolved, name: str) -> dict[str, object]:
    """Return what the summary says of a house that was scaled to a bill; empty for any other house.

    Parameters
    ----------
    resolved : the run's parts, after `calibrated`
    name : of the house
    """
    found, bill = resolved.calibration, resolved.parts.bill
    if found is None or bill is None or name != found.house.name:
        return {}
    block: dict[str, object] = {
        "factor": found.factor,
        "fuel_heat_kwh": bill.fuel_heat,
        "burner_efficiency": bill.efficiency,
        "hot_water_share": bill.hot_water_share,
        "space_heat_kwh": found.target,
        "simulated_need_kwh": found.need,
        "years_simulated": found.runs,
    }
    for key in CONDUCTANCES:
        after = getattr(found.house, key)
        block[f"{key}_w_k"] = after
        block[f"{key}_before_w_k"] = after / found.factor
    return {"calibration": {**block, "assumptions": list(found.assumptions)}}
