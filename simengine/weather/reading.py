"""A file's format told from its content, and the file read by the reader of that format."""

from collections.abc import Callable
from pathlib import Path
from typing import Final

from simengine.errors import WeatherError
from simengine.weather.content import Content, quoted, read_content
from simengine.weather.finish import finish
from simengine.weather.reader_epw import read_epw, recognises_epw
from simengine.weather.reader_netcdf import read_netcdf, recognises_netcdf
from simengine.weather.reader_nsrdb import read_nsrdb, recognises_nsrdb
from simengine.weather.reader_plain import read_plain, recognises_plain
from simengine.weather.reader_pvgis import (
    read_pvgis_csv,
    read_pvgis_json,
    recognises_pvgis_csv,
    recognises_pvgis_json,
)
from simengine.weather.reader_tmy2 import read_tmy2, recognises_tmy2
from simengine.weather.reader_tmy3 import read_tmy3, recognises_tmy3
from simengine.weather.record import Record
from simengine.weather.series import WeatherSeries

Recogniser = Callable[[Content], bool]
Reader = Callable[[Content], Record]

READERS: Final[dict[str, tuple[Recogniser, Reader]]] = {
    read.__name__.removeprefix("read_"): (recognises, read)
    for recognises, read in (
        (recognises_epw, read_epw),
        (recognises_tmy3, read_tmy3),
        (recognises_plain, read_plain),
        (recognises_pvgis_csv, read_pvgis_csv),
        (recognises_pvgis_json, read_pvgis_json),
        (recognises_nsrdb, read_nsrdb),
        (recognises_tmy2, read_tmy2),
        (recognises_netcdf, read_netcdf),
    )
}
"""Format's name -> does the content look like it, and its reader."""

ACCEPTED: Final = ", ".join(sorted(READERS))


def read_weather(path: Path) -> WeatherSeries:
    """Return the canonical weather series of a file, whatever its (open) format.

    Parameters
    ----------
    path : Path
        A weather file, plain, .gz, or a .zip with one weather file in it.

    Returns
    -------
    Whole years, gap-free, with everything that was noticed in `findings`.

    Raises
    ------
    WeatherError
        One line a problem: file, line, what is wrong, what is accepted.
    """
    content = read_content(Path(path))
    for recognises, read in READERS.values():
        if recognises(content):
            return finish(read(content), content.sha256)
    start = content.raw[:60].decode("latin-1").split("\n")[0]
    raise WeatherError(
        f"{content.name}: begins with {quoted(start, 40)}, no known weather format; accepted: {ACCEPTED}"
    )
