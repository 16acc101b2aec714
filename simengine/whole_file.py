"""A file on disk is either whole or absent: written aside, flushed, then put in its place by one rename."""

import contextlib
import os
import re
import secrets
from collections.abc import Iterator
from pathlib import Path

from simengine.errors import InputError


def write_whole(path: Path, content: str | bytes, *, replace: bool = False) -> None:
    """Write a file such that whoever looks finds all of it or nothing, even if the power fails.

    Parameters
    ----------
    path : Path
        The file to make; its folder exists.
    content : str | bytes
        A text is written as UTF-8.
    replace : bool
        Take the place of a file that is there; else such a file stays and the call fails.

    Raises
    ------
    InputError
        If there is such a file and `replace` is false, or if it is open in another program.
    """
    data = content.encode("utf-8") if isinstance(content, str) else content
    aside = path.with_name(f".{path.name}.{secrets.token_hex(4)}.part")
    try:
        write_flushed(aside, data)
        put_in_place(aside, path, replace=replace)
    except InputError:
        raise
    except BaseException:
        aside.unlink(missing_ok=True)
        raise
    flush_folder(path.parent)


def write_flushed(path: Path, data: bytes) -> None:
    """Write a new file and see it to the disk; it is not whole before this returns."""
    with path.open("xb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())


@contextlib.contextmanager
def told_by_the_system(path: Path) -> Iterator[None]:
    """Turn what the library of HDF5 files says of a full disk into the error that the system gave."""
    try:
        yield
    except RuntimeError as trouble:
        number = re.search(r"errno = (\d+)", str(trouble))
        if number is None:
            raise
        raise OSError(int(number[1]), os.strerror(int(number[1])), str(path)) from None


def put_in_place(aside: Path, path: Path, *, replace: bool) -> None:
    """Give a finished file its name; where another program holds the old one open, leave it aside.

    Parameters
    ----------
    aside : the finished file
    path : the name that it is to have
    replace : whether it may take the place of an old one
    """
    try:
        if replace:
            aside.replace(path)
        else:
            _rename_to_free(aside, path)
    except FileExistsError:
        aside.unlink(missing_ok=True)
        raise InputError(
            f"{path}: is there already; accepted: the name of a new file, or to replace it"
        ) from None
    except PermissionError:
        raise InputError(held_open(path, aside)) from None


def held_open(path: Path, aside: Path) -> str:
    """Return the line for what cannot get its name because another program holds the old one."""
    return f"{path}: is open in another program or protected; what is finished was left as {aside.name}"


def flush_folder(folder: Path) -> None:
    """See the names in a folder to the disk, where the system has a way to."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _rename_to_free(aside: Path, path: Path) -> None:
    """Rename without ever taking the place of a file, also of one that appears at this moment."""
    try:
        os.link(aside, path)
    except FileExistsError:
        raise
    except OSError:  # a disk without links
        if path.exists():
            raise FileExistsError(path) from None
        aside.rename(path)
    else:
        with contextlib.suppress(OSError):
            aside.unlink()
