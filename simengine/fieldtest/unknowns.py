"""What a fit may turn: the collector's factors, and what the sensors and the weather may be off by."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from simengine.simulate.measured import Bench, Factors

if TYPE_CHECKING:
    from simengine.fieldtest.log import TestLog
    from simengine.scenario.schema.field_test import FieldTest

BOUNDS = {
    "cover_transmittance": (0.3, 1.5),
    "back_loss": (0.05, 10.0),
    "effectiveness": (0.1, 8.0),
    "leakage": (-0.3, 0.5),
    "duct_loss": (0.05, 15.0),
}
"""Where a factor is looked for [-]."""

ASSUMED = {
    "cover_transmittance": 0.05,
    "back_loss": 0.3,
    "effectiveness": 0.15,
    "leakage": 0.02,
    "duct_loss": 0.3,
}
"""Standard uncertainty of a figure of the scenario that the log does not tell [-] (a judgement; stated)."""

WIND_UNLOGGED = 0.3
"""Of the wind coefficient where the wind was not logged [-] (a judgement)."""
SKY = 5.0
"""Of the sky temperature [K] (a judgement)."""
CLEAR_SKY = 0.15
"""Of a clear-sky estimate in the place of a sun meter [-]."""
TWO_SPEEDS = 1.3
"""Flows in this ratio tell the exchange from the sun taken up [-]."""


@dataclass(frozen=True, slots=True)
class Unknown:
    """One quantity of the fit."""

    name: str
    start: float
    low: float
    high: float
    deviation: float | None  # standard uncertainty of what is known beforehand; None: nothing is
    group: str  # "factor" or "sensor"


def unknowns(log: "TestLog", given: "FieldTest", bench: Bench, held: frozenset[str]) -> list[Unknown]:
    """Return the unknowns of a fit.

    Parameters
    ----------
    log : its columns decide what can be asked
    given : the scenario's [field_test], with the sensors' uncertainties
    bench : the collector; its leak is where the search starts
    held : factors that keep the scenario's figure, with the uncertainty assumed for it
    """
    start = bench.factors()
    found = []
    for name in askable(log):
        free = name not in held and name in candidates(log, bench)
        low, high = BOUNDS[name]
        found.append(
            Unknown(name, getattr(start, name), low, high, None if free else ASSUMED[name], "factor")
        )
    for role in ("ambient", "inlet", "outlet", "supply", "absorber"):
        section = getattr(given, role)
        if section is not None and section.systematic > 0.0:
            found.append(_sensor(role, 0.0, section.systematic))
    for role in ("flow", "second_flow"):
        section = getattr(given, role)
        if section is not None and section.systematic > 0.0:
            found.append(_sensor(role, 1.0, section.systematic))
    sun = CLEAR_SKY if given.irradiance is None else given.irradiance.systematic
    wind = WIND_UNLOGGED if given.wind is None else given.wind.systematic
    found += [_sensor("irradiance", 1.0, sun)] if sun > 0.0 else []
    found += [_sensor("wind", 1.0, wind)] if wind > 0.0 else []
    return [*found, _sensor("sky", 0.0, SKY)]


def _sensor(name: str, start: float, deviation: float) -> Unknown:
    return Unknown(name, start, start - 8.0 * deviation, start + 8.0 * deviation, deviation, "sensor")


def askable(log: "TestLog") -> list[str]:
    """Return the factors that anything in the log hangs on."""
    names = [name for name in Factors._fields if name != "duct_loss" or log.has("supply")]
    return names


def candidates(log: "TestLog", bench: Bench) -> list[str]:
    """Return the factors that a log with these columns can tell at all."""
    found = ["cover_transmittance", "back_loss"]
    flow = log["flow"][log["flow"] > 0.0]
    speeds = flow.size > 10 and _ratio(flow.tolist()) > TWO_SPEEDS
    if log.has("absorber") or speeds:
        found.append("effectiveness")
    if log.has("second_flow"):
        found.append("leakage")
    ducts = bench.resolved.parts.supply_ducts
    if log.has("supply") and any(duct.surroundings != "inside" for duct in ducts):
        found.append("duct_loss")
    return found


def _ratio(flow: list[float]) -> float:
    ordered = sorted(flow)
    running = [value for value in ordered if value > 0.2 * ordered[-1]]
    return running[int(0.9 * (len(running) - 1))] / running[int(0.1 * (len(running) - 1))]
