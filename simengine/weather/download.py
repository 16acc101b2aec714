"""Fetches a typical year for a place from an open service, once; later calls read the user's cache."""

import datetime
import io
import os
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

import numpy as np
import pandas as pd

from simengine.errors import WeatherError
from simengine.weather import reader_nsrdb, reader_pvgis
from simengine.weather.content import quoted
from simengine.weather.fetch import check_address, fetched
from simengine.weather.finish import finish
from simengine.weather.reading import read_weather
from simengine.weather.record import Record
from simengine.weather.series import Finding, WeatherSeries
from simengine.weather.weather_cache import kept_path, store
from simengine.weather.writer import packed, plain_text

TIMEOUT: Final = 60.0
"""Longest wait for an answer [s]."""

KEY: Final = "NSRDB_API_KEY"
EMAIL: Final = "NSRDB_EMAIL"
SHORTEST_SECRET: Final = 7
"""Words up to that length could stand among the numbers by chance."""

ATTRIBUTES: Final = (
    "air_temperature",
    "dew_point",
    "dhi",
    "dni",
    "ghi",
    "surface_albedo",
    "surface_pressure",
    "wind_speed",
)
"""Columns that are asked of the NSRDB, by its own names."""


@dataclass(frozen=True)
class Request:
    """What is asked of a service: where [deg], at which address, and how long to wait [s]."""

    latitude: float
    longitude: float
    address: str = ""
    timeout: float = TIMEOUT


def download(request: Request, service: str = "pvgis", *, folder: Path | None = None) -> WeatherSeries:
    """Return the typical year of a place, from the cache or else from the service.

    Parameters
    ----------
    request : Request
        The place. An address other than the service's own must be https; plain http is for a service on
        this computer only.
    service : str
        "pvgis", or "nsrdb" with a key and an e-mail address in the environment (NSRDB_API_KEY,
        NSRDB_EMAIL).
    folder : Path | None
        Where to keep the year; None: the user's own cache folder.

    Raises
    ------
    WeatherError
        When the service can't be reached in time, refuses, or sends something else; nothing is kept then.
    """
    if service not in SERVICES:
        raise WeatherError(f"{quoted(service)} is no weather service; accepted: {', '.join(SERVICES)}")
    if not (abs(request.latitude) <= 90.0 and abs(request.longitude) <= 180.0):
        raise WeatherError("a latitude of -90 to 90 and a longitude of -180 to 180 deg are accepted")
    if request.address:
        check_address(request.address)
    kept = kept_path(folder, f"{service}_{request.latitude:.4f}_{request.longitude:.4f}.csv.gz")
    if kept.is_file():
        return read_weather(kept)
    record = SERVICES[service](request)
    origin = Finding("info", f"{ORIGIN[service]}, fetched {datetime.date.today().isoformat()}")
    series = finish(replace(record, findings=(*record.findings, origin)), "")
    store(kept, packed(plain_text(series)))
    return read_weather(kept)


def pvgis(request: Request) -> Record:
    """Return PVGIS's typical year of a place."""
    from pvlib.iotools import pvgis as known
    from pvlib.iotools import read_pvgis_tmy

    asked = {"lat": request.latitude, "lon": request.longitude, "outputformat": "json"}
    text = fetched("PVGIS", (request.address or known.URL) + "tmy", asked, request.timeout)
    data, meta = _read(
        "PVGIS", lambda: read_pvgis_tmy(io.StringIO(text), pvgis_format="json", map_variables=False)
    )
    try:
        place = meta["inputs"]["location"]
        header = {key: float(place[key]) for key in ("latitude", "longitude", "elevation")}
        if place.get("irradiance_time_offset") is not None:
            header["offset"] = float(place["irradiance_time_offset"])
        stamps = pd.DatetimeIndex(data.index).tz_localize(None).to_numpy().astype("datetime64[s]")
        columns = {
            name: data[key].to_numpy(np.float64) for key, name in reader_pvgis.COLUMNS.items() if key in data
        }
    except (LookupError, TypeError, ValueError, AttributeError):
        raise WeatherError("PVGIS: sent something else than a typical year; try again later") from None
    return reader_pvgis.pvgis_record("PVGIS", header, columns, stamps, 0)


def nsrdb(request: Request) -> Record:
    """Return the NSRDB's typical year of a place."""
    from pvlib.iotools import psm4, read_nsrdb_psm4

    key, email = os.environ.get(KEY, ""), os.environ.get(EMAIL, "")
    if not key or not email:
        raise WeatherError(
            f"NSRDB: a key and an e-mail address are needed in {KEY} and {EMAIL} of the environment"
        )
    asked = {
        "api_key": key,
        "email": email,
        "wkt": f"POINT({request.longitude:.4f} {request.latitude:.4f})",
        "names": "tmy",
        "attributes": ",".join(ATTRIBUTES),
        "leap_day": "false",
        "utc": "false",
        "interval": 60,
    }
    text = fetched("NSRDB", request.address or psm4.PSM4_TMY_URL, asked, request.timeout)
    for secret in filter(lambda word: len(word) > SHORTEST_SECRET, (key, email)):
        text = text.replace(secret, "")  # should the service ever send them back
    data, meta = _read("NSRDB", lambda: read_nsrdb_psm4(io.StringIO(text), map_variables=False))
    header = {str(title): str(value) for title, value in meta.items()}
    labels = pd.DatetimeIndex(data.index).tz_localize(None).to_numpy().astype("datetime64[s]")
    columns = {
        name: data[title].to_numpy(np.float64) * factor
        for title, (name, factor) in reader_nsrdb.COLUMNS.items()
        if title in data
    }
    return reader_nsrdb.nsrdb_record("NSRDB", header, columns, labels)


def _read(service: str, read: Callable[[], Any]) -> tuple[pd.DataFrame, dict[str, Any]]:
    """Return data and description of an answer; no message of a failure is passed on: it may hold the key."""
    try:
        data, meta = read()
    except (LookupError, ValueError, TypeError, AttributeError, OSError):
        raise WeatherError(f"{service}: sent something else than a typical year; try again later") from None
    return data, meta


SERVICES: Final[dict[str, Callable[[Request], Record]]] = {ask.__name__: ask for ask in (pvgis, nsrdb)}
"""Name -> how the service is asked."""

ORIGIN: Final = {
    "pvgis": "PVGIS typical year, (c) European Union, reuse with acknowledgement",
    "nsrdb": "NSRDB typical year, US-government data",
}
