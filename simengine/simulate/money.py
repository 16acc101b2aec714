"""What the year's heat means in fuel and money, house by house."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from simengine.economics.money import money_ledger
from simengine.economics.spec import HeatSaved, HourlyHeat
from simengine.results import aggregate
from simengine.simulate.bill import calibration_block
from simengine.simulate.forcing import Place
from simengine.simulate.resolve import Resolved
from simengine.units.factors import KWH

Array = NDArray[np.float64]


def money_blocks(
    resolved: Resolved, here: Place, hourly: Mapping[str, Array], table: bool = True
) -> dict[str, dict[str, object]]:
    """Return the money blocks of every house.

    Parameters
    ----------
    resolved : the run's parts
    here : its weather
    hourly : interval means of the run by name [W], each [house, time]
    table : whether payback is told for other prices and first costs as well
    """
    inputs = resolved.parts.money
    # money is told by the year, also where the weather holds several of them
    years = aggregate.years(here.ambient.size, resolved.series.step)
    to_kwh = resolved.series.step / KWH / years
    aperture = resolved.parts.collector.aperture
    steady = all(use is None or use.steady for use in (*inputs.heating, inputs.electricity))
    ledgers: dict[str, dict[str, object]] = {}
    for lane, house in enumerate(resolved.houses):
        kwh = {key: hourly[key][lane] * to_kwh for key in ("heating_without", "heating_with", "fan_power")}
        if resolved.parts.control.module is not None:  # what the module gives costs nothing
            kwh["fan_power"] = np.zeros_like(kwh["fan_power"])
        by_hour = None if steady else _by_hour(kwh, years, resolved, here)
        offset = float((kwh["heating_without"] - kwh["heating_with"]).sum())
        saved = HeatSaved(offset, float(kwh["fan_power"].sum()), by_hour, years)
        per_area: dict[str, object] = {
            "floor_area_m2": house.floor_area,
            "delivered_kwh_m2": float(hourly["delivered"][lane].sum()) * to_kwh / aperture,
            "heating_without_kwh_m2": float(kwh["heating_without"].sum()) / house.floor_area,
        }
        ledger = money_ledger(saved, inputs.heating, inputs.electricity, inputs.economics, table)
        ledgers[house.name] = per_area | calibration_block(resolved, house.name) | ledger
    return ledgers


def _by_hour(kwh: Mapping[str, Array], years: int, resolved: Resolved, here: Place) -> HourlyHeat:
    """Return the heat hour by hour, for prices and efficiencies that hang on the hour."""
    return HourlyHeat(
        kwh["heating_without"] * years,
        kwh["heating_with"] * years,
        kwh["fan_power"] * years,
        here.ambient,
        here.hour,
        float(resolved.series.step),
        here.month,
    )
