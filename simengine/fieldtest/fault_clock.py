"""A clock that disagrees with the sun."""

from collections.abc import Iterator

import numpy as np

from simengine.fieldtest.faults import Fault
from simengine.fieldtest.log import Array
from simengine.fieldtest.prepare import Trial
from simengine.fieldtest.sunlight import clear_sky, sky_path

SHIFTS = np.arange(-2.5, 2.51, 0.25)
"""Clock errors that are tried [h]."""


def clock(trial: Trial) -> Iterator[Fault]:
    """Yield a fault where the sun of the log comes earlier or later than the sky's."""
    if trial.given.irradiance is None:
        return
    read = np.nan_to_num(trial.log["irradiance"])
    if trial.given.irradiance.plane == "horizontal":
        read = np.nan_to_num(np.maximum(trial.log.raw["irradiance"], 0.0))
    if (read > 150.0).sum() * trial.log.step < 4.0 * 3600.0:
        return
    misses = np.array([_misfit(trial, read, float(hours)) for hours in SHIFTS])
    best = int(np.argmin(misses))
    shift, none = float(SHIFTS[best]), float(misses[np.argmin(np.abs(SHIFTS))])
    if abs(shift) >= 0.5 and misses[best] < 0.6 * none:
        way = "behind" if shift > 0.0 else "ahead"
        yield Fault(
            "clock",
            True,
            f"the sun on the plane fits the sky best with the clock {abs(shift):.2g} h {way} of the declared "
            "one: summer time, or a wrong utc_offset? set it right by clock_offset or utc_offset",
        )


def _misfit(trial: Trial, read: Array, hours: float) -> float:
    """Return how far the bright part of the readings is from a clear sky of a shifted clock [-]."""
    path = sky_path(trial.log, trial.site, trial.plane, 3600.0 * hours)
    if trial.given.irradiance is not None and trial.given.irradiance.plane == "horizontal":
        clear = np.maximum(910.0 * path.cosine - 30.0, 0.0)
    else:
        clear = clear_sky(path, trial.plane).total
    high = (clear > 100.0) & (read > 20.0)
    if high.sum() < 30:
        return np.inf
    ratio = read[high] / clear[high]
    level = float(np.quantile(ratio, 0.7))
    bright = ratio > 0.75 * level
    outside = float(np.sum(read[~high & (read > 20.0)])) / max(float(read.sum()), 1.0)
    return float(np.std(ratio[bright]) / level) + outside
