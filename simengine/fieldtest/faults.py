"""What a fault of a log is, and what the checks have in common."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from simengine.constants import SPECIFIC_HEAT_AIR, ZERO_CELSIUS
from simengine.fieldtest.prepare import Trial

SUNNY = 250.0
"""Sun on the plane from which a collector with a running fan must warm its air [W/m2]."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault."""

    name: str
    grave: bool  # nothing can be taken from the log
    sentence: str


def running(trial: Trial) -> np.ndarray:
    """Return in which rows the fan runs."""
    flow = trial.log["flow"]
    most = float(np.nanmax(flow, initial=0.0))
    return np.asarray(np.isfinite(flow) & (flow > max(0.2 * most, 1.0e-3)))


def sunny(trial: Trial) -> np.ndarray:
    """Return in which rows there is sun enough to warm the air."""
    return np.asarray(np.nan_to_num(trial.log["irradiance"]) > SUNNY)


def most_rise(trial: Trial, rows: np.ndarray) -> float:
    """Return the rise that all of the sun would make [K], with some room for the absorber."""
    sun = trial.log["irradiance"][rows] * trial.bench.resolved.parts.collector.aperture
    return float(np.median(sun / (trial.log["flow"][rows] * SPECIFIC_HEAT_AIR))) + 5.0


def season(trial: Trial) -> tuple[float, float]:
    """Return the coldest and the warmest that the weather file has in these weeks, and 5 K beyond [K]."""
    data = trial.bench.resolved.series.data
    index: Any = data.index
    months = np.asarray(index.month)
    month = int(trial.log.times[0].astype("datetime64[M]").astype(np.int64)) % 12
    near = np.isin(months, [month + 1, (month + 1) % 12 + 1, (month - 1) % 12 + 1])
    air = data["temp_air"].to_numpy()[near] + ZERO_CELSIUS
    return float(air.min()) - 5.0, float(air.max()) + 5.0
