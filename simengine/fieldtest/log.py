"""A test log in SI: one uniform grid of readings, with holes where the file has none."""

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Times = NDArray[np.datetime64]


@dataclass(frozen=True)
class TestLog:
    """Readings of a test; every column is [row], NaN where there is no reading.

    Temperatures [K], irradiance [W/m2], wind [m/s], flows [kg/s].
    """

    __test__ = False  # no test class of pytest

    name: str
    times: Times  # [row] instant of a reading, or middle of a mean, on the logger's clock set right
    step: float  # [s]
    utc_offset: float  # [h] what that clock is ahead of UTC
    columns: dict[str, Array]
    notes: tuple[str, ...] = ()
    raw: dict[str, Array] = field(default_factory=dict, repr=False)  # as written, by role

    def __len__(self) -> int:
        """Return the number of rows."""
        return int(self.times.size)

    def has(self, name: str) -> bool:
        """Whether there is a column with a reading in it."""
        return name in self.columns and bool(np.isfinite(self.columns[name]).any())

    def __getitem__(self, name: str) -> Array:
        """Return a column."""
        return self.columns[name]

    def with_columns(self, **columns: Array) -> "TestLog":
        """Return the log with some columns set anew."""
        return replace(self, columns={**self.columns, **columns})

    @property
    def unix_seconds(self) -> Array:
        """Instants in UTC, seconds since 1970 [row]."""
        local = (self.times - np.datetime64("1970-01-01T00:00:00")) / np.timedelta64(1, "s")
        return np.asarray(local - 3600.0 * self.utc_offset, dtype=np.float64)

    @property
    def date(self) -> str:
        """Day of the first reading, "2026-02-14"."""
        return str(self.times[0].astype("datetime64[D]"))

    @property
    def hours(self) -> float:
        """From first to last reading [h]."""
        return len(self) * self.step / 3600.0


PAUSE = 3.0 * 3600.0
"""A longer hole is a pause of the test, such as a night, and no fault [s]."""


def gaps(log: TestLog, needed: tuple[str, ...]) -> tuple[float, float]:
    """Return the share of rows that lack a needed reading [-], and the longest hole [s]; pauses do not
    count."""
    bad = np.zeros(len(log), dtype=bool)
    for name in needed:
        bad |= ~np.isfinite(log[name])
    edges = np.flatnonzero(np.diff(np.concatenate([[False], bad, [False]]).astype(np.int8)))
    lengths = edges[1::2] - edges[::2]
    pauses = lengths * log.step > PAUSE
    holes, rows = lengths[~pauses], len(log) - int(lengths[pauses].sum())
    return float(holes.sum()) / max(rows, 1), float(holes.max(initial=0)) * log.step
