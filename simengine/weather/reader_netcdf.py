"""Reader of netCDF files with CF names: times in UTC, intervals by their bounds, units by attributes."""

import io
import math
import re
from typing import TYPE_CHECKING, Any, Final, Literal

import numpy as np

from simengine.errors import InputError, WeatherError
from simengine.weather import table
from simengine.weather.calendar import turn_to_site
from simengine.weather.content import Content
from simengine.weather.layout import to_canonical
from simengine.weather.plain_hdf5 import require_plain
from simengine.weather.record import Floats, Record, Times
from simengine.weather.series import COLUMNS, Finding

if TYPE_CHECKING:
    import xarray as xr

STANDARD_NAMES: Final = {
    "surface_downwelling_shortwave_flux_in_air": "ghi",
    "surface_direct_along_beam_shortwave_flux_in_air": "dni",
    "surface_diffuse_downwelling_shortwave_flux_in_air": "dhi",
    "air_temperature": "temp_air",
    "dew_point_temperature": "temp_dew",
    "relative_humidity": "relative_humidity",
    "surface_air_pressure": "pressure",
    "air_pressure": "pressure",
    "wind_speed": "wind_speed",
    "surface_downwelling_longwave_flux_in_air": "longwave_down",
    "surface_albedo": "albedo",
    "surface_snow_thickness": "snow_depth",
}
"""CF standard name -> canonical column."""

PLACE: Final = {
    "latitude": ("latitude", "lat", "geospatial_lat_min"),
    "longitude": ("longitude", "lon", "geospatial_lon_min"),
    "elevation": ("elevation", "altitude", "altitude_m", "elevation_m", "geospatial_vertical_min"),
}
OFFSETS: Final = ("utc_offset_h", "utc_offset")
WIND_HEIGHT: Final = 10.0
"""Height where the file names none [m] (the meteorological standard height)."""

LARGEST: Final = 30 * table.MAX_ROWS
"""Most numbers that a file may hold [-]."""

CF_PER: Final = re.compile(r"\s+([a-z]+)-(1|2)")
CF_SPELLINGS: Final = {
    "1": "-",
    "percent": "%",
    "degrees_Celsius": "degC",
    "degree_Celsius": "degC",
    "celsius": "degC",
    "C": "degC",
    "degrees_C": "degC",
}

DAMAGE: Final = (
    ValueError,
    OSError,
    LookupError,
    TypeError,
    AttributeError,
    RuntimeError,
    ArithmeticError,
    MemoryError,
    ImportError,
)
"""What the netCDF libraries raise on damaged bytes."""


def recognises_netcdf(content: Content) -> bool:
    """Return whether the content begins as a netCDF (classic or HDF5) file."""
    return content.raw.startswith((b"\x89HDF\r\n\x1a\n", b"CDF\x01", b"CDF\x02"))


def read_netcdf(content: Content) -> Record:
    """Read a netCDF file with one place and one time axis.

    Raises
    ------
    WeatherError
        When it is damaged, or lacks what CF asks for.
    """
    name = content.name
    dataset = _opened(content)
    starts, step, findings, sure = _starts(name, dataset)
    latitude, longitude, elevation = (_place(name, dataset, key) for key in PLACE)
    offset = next((_attribute(name, dataset, key) for key in OFFSETS if key in dataset.attrs), None)
    if offset is None:
        offset = float(turn_to_site(longitude, 0.0))
        findings.append(Finding("info", f"no utc_offset_h attribute: {offset:+g} h taken from the longitude"))
    starts, clock, turn = _own_clock(starts, offset)
    return Record(
        name=name,
        station=" ".join(str(dataset.attrs.get("station", dataset.attrs.get("title", "unnamed"))).split())[
            :80
        ],
        format="netCDF",
        latitude=latitude,
        longitude=longitude,
        elevation=elevation,
        utc_offset=clock,
        wind_height=WIND_HEIGHT,
        columns=_columns(name, dataset, step, starts.size),
        starts=starts,
        step=step,
        first_line=0,
        typical=False,
        turn=turn,
        other_label=0.0 if sure else -step / 3600.0,
        findings=tuple(findings),
    )


def _opened(content: Content) -> "xr.Dataset":
    import xarray as xr

    engine: Literal["h5netcdf", "scipy"] = "h5netcdf" if content.raw.startswith(b"\x89HDF") else "scipy"
    try:
        if engine == "h5netcdf":
            # h5netcdf also leaves noise behind when it meets damage, so the file is looked through first.
            require_plain(io.BytesIO(content.raw), content.name, 8 * LARGEST)
        with xr.open_dataset(
            io.BytesIO(content.raw), engine=engine, decode_times=False, create_default_indexes=False
        ) as lazy:
            _check_size(content.name, lazy)
            return xr.decode_cf(lazy.load(), decode_timedelta=False).load()
    except WeatherError:
        raise
    except InputError as refused:
        raise WeatherError(*refused.problems) from None
    except DAMAGE:
        raise WeatherError(
            f"{content.name}: damaged netCDF, or times that can't be decoded;"
            " a sound netCDF file with CF times on the standard calendar is accepted"
        ) from None


def _check_size(name: str, dataset: "xr.Dataset") -> None:
    total = sum(variable.size for variable in dataset.variables.values())
    if "time" not in dataset.variables or dataset["time"].ndim != 1:
        raise WeatherError(f"{name}: no time axis; a variable 'time' of one dimension is accepted")
    if total > LARGEST or dataset["time"].size > table.MAX_ROWS:
        raise WeatherError(f"{name}: {total} numbers; at most {LARGEST} are accepted")


def _starts(name: str, dataset: "xr.Dataset") -> tuple[Times, int, list[Finding], bool]:
    """Return interval starts in UTC, the step [s], what was noticed, and whether the file is sure of it."""
    time = dataset["time"]
    labels = _times(name, time.to_numpy())
    step = int((labels[1] - labels[0]).astype(np.int64)) if labels.size > 1 else 0
    if not 60 <= step <= 3600 or 3600 % step:
        raise WeatherError(
            f"{name}: a step of {step} s; 60 s to 3600 s, a whole part of an hour, is accepted"
        )
    bounds = time.attrs.get("bounds", time.encoding.get("bounds", ""))
    if bounds in dataset.variables:
        edges = _times(name, dataset[bounds].to_numpy())
        if edges.shape != (labels.size, 2) or np.any((edges[:, 1] - edges[:, 0]).astype(np.int64) != step):
            raise WeatherError(f"{name}: {bounds}: not one start and end {step} s apart for every time")
        return edges[:, 0], step, [], True
    if int(labels[0].astype(np.int64)) % step:
        found = Finding(
            "info", "no time bounds: labels off the whole step taken as the middle of the interval"
        )
        return labels - np.timedelta64(step // 2, "s"), step, [found], True
    return labels, step, [Finding("info", "no time bounds: labels taken as the start of the interval")], False


def _times(name: str, values: np.ndarray) -> Times:
    if values.dtype.kind != "M" or np.any(np.isnat(values)):
        raise WeatherError(
            f"{name}: times that can't be decoded; CF times on the standard calendar are accepted"
        )
    return values.astype("datetime64[s]")


def _own_clock(starts: Times, offset: float) -> tuple[Times, float, int]:
    """Return starts, their clock [h] and the turn [h]: the year is whole on its own clock, or in UTC."""
    own = starts + np.timedelta64(round(offset * 3600.0), "s")
    if _new_year(starts[0]) and not _new_year(own[0]):
        return starts, 0.0, math.floor(offset)
    return own, offset, 0


def _new_year(time: np.datetime64) -> bool:
    return bool(time == time.astype("datetime64[Y]").astype("datetime64[s]"))


def _columns(name: str, dataset: "xr.Dataset", step: int, size: int) -> dict[str, Floats]:
    columns: dict[str, Floats] = {}
    for key in dataset.data_vars:
        variable = dataset[key].squeeze(drop=True)
        column = (
            str(key) if key in COLUMNS else STANDARD_NAMES.get(str(variable.attrs.get("standard_name", "")))
        )
        if column is None or column in columns:
            continue
        if variable.shape != (size,) or variable.dtype.kind not in "fiu":
            raise WeatherError(f"{name}: {key}: not one number for each time")
        factor, addend = _unit(name, column, variable.attrs, step)
        with np.errstate(invalid="ignore", over="ignore"):
            columns[column] = variable.to_numpy().astype(np.float64) * factor + addend
    return columns


def _unit(name: str, column: str, attributes: dict[Any, Any], step: int) -> tuple[float, float]:
    """Return factor and addend for a unit written as CF does, "W m-2" or "1"."""
    if "units" not in attributes:
        raise WeatherError(f"{name}: {column}: no units attribute; it is needed")
    unit = str(attributes["units"]).strip()
    plain = CF_SPELLINGS.get(unit) or CF_PER.sub(_per, unit)
    try:
        return to_canonical(column, plain, step)
    except WeatherError as failure:
        raise WeatherError(f"{name}: {failure}") from None


def _per(found: re.Match[str]) -> str:
    return f"/{found[1]}" + ("" if found[2] == "1" else found[2])


def _place(name: str, dataset: "xr.Dataset", key: str) -> float:
    for title in PLACE[key]:
        if title in dataset.attrs:
            return _attribute(name, dataset, title)
        if title in dataset.variables:
            values = np.unique(dataset[title].to_numpy())
            if values.size != 1 or values.dtype.kind not in "fiu":
                raise WeatherError(f"{name}: {title}: {values.size} values; one place is accepted")
            return float(values[0])
    if key == "elevation":
        return float("nan")
    raise WeatherError(f"{name}: no {key}; an attribute or variable {' or '.join(PLACE[key])} is needed")


def _attribute(name: str, dataset: "xr.Dataset", key: str) -> float:
    return table.header_number(name, 0, key, str(dataset.attrs[key]))
