"""What a finished run hands on: arrays, names and facts, before anything is labelled or summed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from simengine.results.aggregate import Months

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Provenance:
    """Where a result comes from, so that the same question is recognised when it is asked again."""

    program_version: str
    program_sha256: str  # of every source file of the package
    scenario_sha256: str  # of the scenario with its overrides
    weather_sha256: str  # of the bytes of the weather file


UNTOLD = Provenance("", "", "", "")
"""Of numbers that are not kept as a result of their own."""


@dataclass(frozen=True, slots=True)
class Record:
    """A year of interval means for every house, with the facts that belong to it.

    `hourly` maps a quantity of the nomenclature to its interval means [house, time]; what is the
    same for every house may come as [time]. Powers are in W, temperatures in K, irradiance in
    W/m2, `fan_on` is a share 0..1 of the interval and `fan_starts` a count.
    `weather` holds the facts of the summary's block of the same name (all but `sha256` and
    `hdd18_kd`, which are worked out here). `money` maps a house to its blocks `fuel`,
    `economics` and `co2_saved_kg`. A number that cannot be had is None, with the reason under
    the same name and `_reason`.
    """

    title: str
    houses: tuple[str, ...]
    times: NDArray[np.datetime64]  # [time] naive UTC starts of the intervals
    step: float  # [s] length of an interval
    utc_offset: float  # [h] local standard time minus UTC
    hourly: Mapping[str, Array]
    aperture: float  # [m2]
    provenance: Provenance
    end_reason: str = "completed"
    weather: Mapping[str, Any] = field(default_factory=dict)
    collector: Mapping[str, Any] = field(default_factory=dict)
    closure: Mapping[str, float] = field(default_factory=dict)
    limits: Sequence[Mapping[str, Any]] = ()
    cautions: Sequence[str] = ()  # of this case; the usual ones are added
    money: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    about: Mapping[str, str] = field(default_factory=dict)  # client, author, date, notes: as they were given
    months: Months | None = None  # of the intervals by local standard time; None: to be worked out
    inputs: Sequence[Mapping[str, str]] = ()  # rows of group, name, si, us: what went in, as text

    def of_house(self, name: str, house: int) -> Array:
        """Return one quantity [time] of the house with this number."""
        values = np.asarray(self.hourly[name], dtype=np.float64)
        return values if values.ndim == 1 else values[house]
