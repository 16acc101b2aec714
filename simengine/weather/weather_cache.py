"""Where fetched years are kept: a folder of the user's own, closed to others, written in one piece."""

import contextlib
import os
import stat
import sys
import tempfile
from pathlib import Path

from simengine.compiled import cache_folder
from simengine.errors import WeatherError


def kept_path(folder: Path | None, name: str) -> Path:
    """Return where a fetched year is kept; the folder is made if need be.

    Parameters
    ----------
    folder : Path | None
        None: the user's own cache folder.
    name : str
        File name.

    Raises
    ------
    WeatherError
        When the folder can't be made, or isn't the user's own.
    """
    place = folder or cache_folder().parents[1] / "weather"
    try:
        place.mkdir(mode=0o700, parents=True, exist_ok=True)
        status = place.stat()
    except OSError:
        raise WeatherError(f"{place}: the folder for fetched weather can't be made") from None
    if sys.platform != "win32" and (
        status.st_uid != os.getuid() or status.st_mode & (stat.S_IWGRP | stat.S_IWOTH)
    ):
        raise WeatherError(f"{place}: others can write there; a folder of the user's own is accepted")
    return place / name


def store(path: Path, data: bytes) -> None:
    """Write a file that only the user may read, whole or not at all.

    Raises
    ------
    WeatherError
        When the folder can't be written.
    """
    try:
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".part-")
        try:
            with os.fdopen(handle, "wb") as stream:
                stream.write(data)
                stream.flush()
                os.fsync(stream.fileno())
            os.replace(temporary, path)
        except OSError:
            with contextlib.suppress(OSError):
                os.unlink(temporary)
            raise
    except OSError:
        raise WeatherError(f"{path.name}: the fetched year can't be kept in {path.parent}") from None
