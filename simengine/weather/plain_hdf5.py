"""Refuses an HDF5 file that holds, or points at, anything but numbers and texts of its own."""

from typing import IO, Any

from simengine.errors import InputError

MAX_DATASETS = 2000
"""Most variables and groups that are looked through [-]; a result has some fifty."""


def require_plain(source: IO[bytes], name: str, largest: int) -> None:
    """Look through an HDF5 file before anything of it is read.

    Parameters
    ----------
    source : IO[bytes]
        The open file; it is left at its start.
    name : str
        For the message.
    largest : int
        Most bytes that its variables may unpack to [byte].

    Raises
    ------
    InputError
        For links that lead elsewhere, data kept in other files, object, reference or compound types, and
        for contents that unpack to more than `largest`.
    OSError, ValueError, RuntimeError, KeyError
        Where the bytes are no sound HDF5 file.
    """
    import h5py

    source.seek(0)
    with h5py.File(source, "r") as root:
        waiting, seen, total = [root], 0, 0
        while waiting:
            group = waiting.pop()
            for key in group:
                seen += 1
                if seen > MAX_DATASETS:
                    raise InputError(f"{name}: holds more than {MAX_DATASETS} variables; no such file does")
                if not isinstance(group.get(key, getlink=True), h5py.HardLink):
                    raise InputError(f"{name}: {key[:60]!r} is a link elsewhere; accepted: data of its own")
                item = group[key]
                if isinstance(item, h5py.Group):
                    waiting.append(item)
                elif isinstance(item, h5py.Dataset):
                    total += _size(item, name)
                if total > largest:
                    raise InputError(f"{name}: unpacks to more than {largest >> 20} MiB; no such file does")
    source.seek(0)


def _size(item: Any, name: str) -> int:
    """Return what a variable unpacks to [byte], if it holds plain numbers or texts in this very file."""
    import h5py

    label = str(item.name).lstrip("/")[:60]
    if item.is_virtual or item.external:
        raise InputError(f"{name}: {label!r} is kept in another file; accepted: data of its own")
    text = h5py.check_string_dtype(item.dtype)
    if item.dtype.kind not in "iufbS" and text is None:
        raise InputError(f"{name}: {label!r} holds objects; accepted: numbers and texts")
    return int(item.size or 0) * max(int(item.dtype.itemsize), 1)
