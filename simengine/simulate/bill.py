"""The user's own house, scaled until a year in this weather burns what its fuel bill says."""

import os
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from simengine.constants import ZERO_CELSIUS
from simengine.errors import InputError
from simengine.house.calibrate import calibrate
from simengine.house.envelope import degree_day_loss
from simengine.house.spec import House
from simengine.results.aggregate import heating_degree_days
from simengine.simulate.drive import drive_of
from simengine.simulate.forcing import Place
from simengine.simulate.houses_alone import march_houses
from simengine.simulate.resolve import Resolved

if TYPE_CHECKING:
    from simengine.scenario import Scenario

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


def calibrated_alone(resolved: Resolved) -> tuple[Resolved, dict[str, object]]:
    """Return the same without a run, and what there is to tell about it.

    Parameters
    ----------
    resolved : the run's parts

    Returns
    -------
    the parts with the scaled house, and a dict of plain numbers and words

    Raises
    ------
    InputError if the scenario has no bill, or no factor gives it.
    """
    if resolved.parts.bill is None:
        raise InputError(
            "house.bill: is missing, so there is nothing to scale a house to; accepted: a [house] with "
            '[house.bill] amount = "620 gal"'
        )
    drive = drive_of(resolved)
    here = drive.here
    done = calibrated(resolved, here, drive.plan)
    house = done.houses[0]
    days = heating_degree_days(here.ambient - ZERO_CELSIUS, float(resolved.series.step))
    losses = sum(getattr(house, key) for key in CONDUCTANCES)
    told = {
        "house": house.name,
        "weather": resolved.series.station,
        "hdd18_kd": days,
        "degree_day_loss_kwh": degree_day_loss(losses, days),
        "heat_loss_factor": done.scenario.inputs.house.heat_loss_factor * done.calibration.factor,  # type: ignore[union-attr]
    }
    return done, {**told, **calibration_block(done, house.name)}


def calibrated_scenario(done: Resolved, folder: Path) -> "Scenario":
    """Return the scenario with the scaled house in the place of the bill.

    Parameters
    ----------
    done : the parts, after `calibrated`
    folder : where its file shall stand; the path of the weather file follows

    Returns
    -------
    Scenario
    """
    scenario, house = done.scenario, done.scenario.inputs.house
    if done.calibration is None or house is None:
        return scenario
    gone = {f"house.{key}": None for key in ("bill", "yearly_fuel", "hot_water_share")}
    changes: dict[str, object] = {
        **gone,
        "house.heat_loss_factor": house.heat_loss_factor * done.calibration.factor,
    }
    if isinstance(scenario.weather, Path):
        changes["site.weather"] = _from(folder, scenario.weather)
    return scenario.changed(changes)


def _from(folder: Path, file: Path) -> str:
    try:
        return Path(os.path.relpath(file, folder)).as_posix()
    except ValueError:  # another drive
        return file.resolve().as_posix()


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
