"""A folder for one process at a time: a lock of the system's, gone with the process that held it."""

import json
import os
import socket
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from simengine.errors import InputError

LOCK = "sweep.lock"
_FAR = 1 << 30
"""Where the byte lies that is locked: past the text, so that others can still read who holds it."""


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Hold a folder; the file says who does, the system's lock on it is what counts.

    Parameters
    ----------
    folder : an existing folder

    Raises
    ------
    InputError
        Another process holds it.
    """
    with (folder / LOCK).open("a+b") as stream:
        if not _take(stream.fileno()):
            raise InputError(
                f"{folder}: another sweep works in it ({_who(folder)}); accepted: another folder (--out)"
            )
        try:
            stream.truncate(0)
            stream.write(_me().encode())
            stream.flush()
            yield
        finally:
            stream.truncate(0)
            _release(stream.fileno())


def holder(folder: Path) -> str:
    """Return who works in a folder, empty where nobody does."""
    try:
        with (folder / LOCK).open("r+b") as stream:
            if _take(stream.fileno()):
                _release(stream.fileno())
                return ""
    except OSError:
        return ""
    return _who(folder)


def _me() -> str:
    started = datetime.now(UTC).isoformat(timespec="seconds")
    return json.dumps({"process": os.getpid(), "machine": socket.gethostname(), "started": started})


def _who(folder: Path) -> str:
    with suppress(OSError, ValueError):
        found: Any = json.loads((folder / LOCK).read_text(encoding="utf-8"))
        text = f"process {found['process']} on {found['machine']} since {found['started']}"
        return "".join(c if c.isprintable() else " " for c in text)[:200]
    return "unknown process"


if sys.platform == "win32":
    import msvcrt

    def _take(handle: int) -> bool:
        os.lseek(handle, _FAR, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

    def _release(handle: int) -> None:
        os.lseek(handle, _FAR, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _take(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True

    def _release(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_UN)
