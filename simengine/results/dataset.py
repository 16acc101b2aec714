"""The hours of a run as one labelled dataset that explains itself."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from simengine.nomenclature import QUANTITIES
from simengine.results.record import Record

if TYPE_CHECKING:
    import xarray as xr

CONVENTIONS = "CF-1.11"
_DIMENSIONS = {1: ("time",), 2: ("house", "time")}


def hours(record: Record) -> "xr.Dataset":
    """Return the interval means with units, names and provenance.

    Parameters
    ----------
    record : what the run handed on

    Returns
    -------
    Dataset with the dimensions `house` and `time` (naive UTC starts of the intervals). Every
    variable has `units`, `long_name` and `cell_methods` from the nomenclature.
    """
    import xarray as xr  # heavy, and not needed before there are hours

    variables = {name: _variable(name, values) for name, values in record.hourly.items()}
    coordinates = {
        "time": ("time", record.times.astype("datetime64[ns]"), _time_attributes(record)),
        "house": ("house", list(record.houses), {"long_name": "name of the house"}),
    }
    return xr.Dataset(variables, coordinates, _global_attributes(record))


def encoding(dataset: "xr.Dataset") -> dict[str, dict[str, Any]]:
    """Return how each variable goes to disk: full precision, lightly compressed, whole seconds."""
    packed: dict[str, dict[str, Any]] = {
        str(name): {
            "compression": "gzip",
            "compression_opts": 1,
            "shuffle": True,
            "chunksizes": variable.shape,
            "_FillValue": np.nan,
        }
        for name, variable in dataset.data_vars.items()
    }
    seconds = {"units": "seconds since 1970-01-01", "calendar": "proleptic_gregorian"}
    return {**packed, "time": {**seconds, "dtype": "int64"}}


def _variable(name: str, values: Any) -> tuple[tuple[str, ...], Any, Mapping[str, str]]:
    array = np.asarray(values, dtype=np.float64)
    return _DIMENSIONS[array.ndim], array, QUANTITIES[name].attributes()


def _time_attributes(record: Record) -> dict[str, Any]:
    return {
        "standard_name": "time",
        "long_name": "start of the interval, UTC",
        "interval_s": float(record.step),
        "utc_offset_h": float(record.utc_offset),
    }


def _global_attributes(record: Record) -> dict[str, Any]:
    origin = record.provenance
    return {
        "Conventions": CONVENTIONS,
        "title": record.title,
        "source": f"simengine {origin.program_version}",
        "program_version": origin.program_version,
        "program_sha256": origin.program_sha256,
        "scenario_sha256": origin.scenario_sha256,
        "weather_sha256": origin.weather_sha256,
        "station": str(record.weather.get("station", "")),
        "utc_offset_h": float(record.utc_offset),
        "aperture_m2": float(record.aperture),
        "comment": "Interval means; local standard time is time + utc_offset_h.",
    }
