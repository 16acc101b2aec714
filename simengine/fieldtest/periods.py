"""Steady periods of a log, by the limits of the test standards."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from simengine.fieldtest.log import Array, TestLog

if TYPE_CHECKING:
    from simengine.scenario.schema.field_test import Steady

STANDARD = {"irradiance": 50.0, "ambient": 1.5, "inlet": 0.5, "flow": 0.02}
"""Usual limits: W/m2, K, K, share (ISO 9806, ASHRAE 93; from memory)."""
NEEDED = ("ambient", "inlet", "outlet", "flow", "irradiance")


@dataclass(frozen=True, slots=True)
class Period:
    """One steady stretch of rows."""

    first: int
    end: int  # one past the last row

    @property
    def rows(self) -> slice:
        """Its rows."""
        return slice(self.first, self.end)


def steady_periods(log: TestLog, steady: "Steady") -> list[Period]:
    """Return the steady periods of a log, each as long as the least length, one after the other.

    Parameters
    ----------
    log : with ambient, inlet, outlet, flow and irradiance
    steady : limits, length and the time before

    Returns
    -------
    periods; every row of a period and of the time before it is within the limits of the mean of both, and
    none is missing

    Source: ISO 9806 and ASHRAE 93, as limits on deviations from the mean (from memory).
    """
    length = max(2, round(steady.length / log.step))
    before = round(steady.before / log.step)
    found: list[Period] = []
    start = 0
    while start + before + length <= len(log):
        if _is_steady(log, slice(start, start + before + length), steady):
            found.append(Period(start + before, start + before + length))
            start += length
        else:
            start += max(1, length // 5)
    return found


def _is_steady(log: TestLog, rows: slice, steady: "Steady") -> bool:
    values = {name: log[name][rows] for name in NEEDED}
    if not all(np.isfinite(column).all() for column in values.values()):
        return False
    flow = float(values["flow"].mean())
    if flow <= 0.0 or float(values["irradiance"].mean()) < steady.least_irradiance:
        return False
    return bool(
        _strays(values["irradiance"]) <= steady.irradiance
        and _strays(values["ambient"]) <= steady.ambient
        and _strays(values["inlet"]) <= steady.inlet
        and _strays(values["flow"]) <= steady.flow * flow
    )


def _strays(values: Array) -> float:
    """Return the widest deviation from the mean, a single scattered reading in forty aside."""
    return float(np.quantile(np.abs(values - values.mean()), 0.975))


def relaxed(steady: "Steady") -> list[str]:
    """Return which limits are wider than the standards', in words."""
    shown = {"irradiance": "W/m2", "ambient": "K", "inlet": "K", "flow": ""}
    found = []
    for name, usual in STANDARD.items():
        given = getattr(steady, name)
        if given > usual * (1.0 + 1.0e-9):
            unit = f" {shown[name]}" if shown[name] else ""
            found.append(f"{name} {given:g}{unit} where the standards have {usual:g}{unit}")
    return found
