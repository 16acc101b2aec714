"""A result on disk: written aside, flushed, then put in its place by one rename."""

import csv
import io
import json
import secrets
import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from simengine.errors import InputError
from simengine.results.dataset import encoding
from simengine.results.record import Provenance
from simengine.weather.plain_hdf5 import require_plain
from simengine.whole_file import flush_folder, held_open, write_flushed

if TYPE_CHECKING:
    import xarray as xr

SUMMARY, HOURS, MONTHS = "summary.json", "hours.nc", "months.csv"
LARGEST_SUMMARY = 32 * 1024**2
"""Largest summary that is read [byte]; one of two houses has some 60 kB."""

LARGEST_HOURS = 4 * 1024**3
"""Most that the hours of a result may unpack to [byte]; a year of two houses takes 4 MB."""

DAMAGE = (
    OSError, ValueError, LookupError, TypeError, AttributeError, RuntimeError, ArithmeticError, ImportError,
)  # fmt: skip
"""What the libraries raise on damaged bytes; an import is tried for calendars that no result has."""

_IDENTITY = (("program", "sha256"), ("scenario", "sha256"), ("weather", "sha256"))


def save(
    hours: "xr.Dataset",
    summary: Mapping[str, Any],
    directory: Path,
    *,
    replace: bool = False,
    extra: Mapping[str, str] | None = None,
) -> Path:
    """Write a result into a folder, all of it or nothing.

    Parameters
    ----------
    hours : interval means by house and time
    summary : the year, ready for strict JSON
    directory : the folder to make; one that already holds the very same result is kept
    replace : move what is there to `<directory>.previous` first
    extra : further text files by name

    Returns
    -------
    The folder.

    Raises
    ------
    InputError : the folder holds something else and `replace` is false
    """
    if not replace and held(directory, identity(summary)) is not None:
        return directory
    require_free(directory, identity(summary), replace=replace)
    texts = {SUMMARY: to_json(summary), MONTHS: months_table(summary), **(extra or {})}
    aside = _sibling(directory, "part")
    directory.parent.mkdir(parents=True, exist_ok=True)
    aside.mkdir()
    try:
        for name, text in texts.items():
            write_flushed(aside / name, text.encode("utf-8"))
        write_flushed(aside / HOURS, _as_bytes(hours))
        flush_folder(aside)
        _put_in_place(aside, directory)
        flush_folder(directory.parent)
    except HeldOpen:
        raise
    except BaseException:
        shutil.rmtree(aside, ignore_errors=True)
        raise
    return directory


def read(directory: Path) -> tuple["xr.Dataset", dict[str, Any]]:
    """Return the hours (in memory) and the summary of a saved result.

    Raises
    ------
    InputError : the folder holds no result, or a damaged one
    """
    summary = read_summary(directory)
    if summary is None:
        raise InputError(f"{directory}: holds no result ({SUMMARY} and {HOURS} are expected)")
    import xarray as xr

    path = directory / HOURS
    try:
        with path.open("rb") as source:
            require_plain(source, str(path), LARGEST_HOURS)
        with xr.open_dataset(path, engine="h5netcdf") as stored:
            hours = stored.load()
        if hours["time"].dtype.kind != "M":
            raise ValueError("its times are on another calendar")
        return hours, summary
    except InputError:
        raise
    except DAMAGE as damage:
        told = str(damage).splitlines() or [type(damage).__name__]
        raise InputError(f"{path}: cannot be read ({told[0][:200]})") from damage


def read_summary(directory: Path) -> dict[str, Any] | None:
    """Return the summary in a folder, None where there is none that can be read."""
    try:
        with (directory / SUMMARY).open("rb") as source:
            raw = source.read(LARGEST_SUMMARY + 1)
        summary = json.loads(raw.decode("utf-8")) if len(raw) <= LARGEST_SUMMARY else None
    except (OSError, ValueError, RecursionError):
        return None
    return summary if isinstance(summary, dict) and "houses" in summary else None


def identity(summary: Mapping[str, Any]) -> tuple[str, ...]:
    """Return the hashes of program, scenario and weather that a result stands for."""
    blocks = ((summary.get(block), key) for block, key in _IDENTITY)
    return tuple(str(block.get(key, "")) if isinstance(block, Mapping) else "" for block, key in blocks)


def identity_of(origin: Provenance) -> tuple[str, ...]:
    """Return the same hashes of a run that is still to be made."""
    return (origin.program_sha256, origin.scenario_sha256, origin.weather_sha256)


def held(directory: Path, wanted: tuple[str, ...]) -> dict[str, Any] | None:
    """Return the summary in a folder if it is complete and of the same program, scenario and weather."""
    summary = read_summary(directory)
    if summary is None or identity(summary) != wanted or not (directory / HOURS).is_file():
        return None
    return summary


def require_free(directory: Path, wanted: tuple[str, ...], *, replace: bool) -> None:
    """Raise InputError unless a result with these hashes may be put into this folder.

    Parameters
    ----------
    directory : where the result is to go
    wanted : hashes of program, scenario and weather
    replace : whether anything there may be put aside
    """
    if directory.is_symlink() or (directory.exists() and not directory.is_dir()):
        raise InputError(f"{directory}: is not a folder; accepted is a new or empty folder")
    if not _filled(directory):
        return
    if not replace:
        raise InputError(
            f"{directory}: holds {_content(directory, wanted)} already; accepted: another folder (--out), "
            f"or --replace, which moves it to {_previous(directory).name}"
        )
    if Path.cwd().is_relative_to(directory.resolve()):
        raise InputError(f"{directory}: is in use as the current folder and is not moved away")
    if _filled(_previous(directory)) and read_summary(_previous(directory)) is None:
        raise InputError(f"{_previous(directory)}: holds something that is no result; move it away first")


def to_json(value: Any) -> str:
    """Return strict JSON (no NaN, no infinity), readable by people."""
    return json.dumps(value, allow_nan=False, ensure_ascii=False, indent=2) + "\n"


def months_table(summary: Mapping[str, Any]) -> str:
    """Return the months of every house as comma-separated text; units are in the column names."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    columns: list[str] = []
    for house, year in summary["houses"].items():
        for number, month in enumerate(year["months"], start=1):
            if not columns:
                columns = list(month)
                writer.writerow(["house", "month", *columns])
            writer.writerow([cell(house), number, *(f"{month[key]:.6g}" for key in columns)])
    return text.getvalue()


def cell(text: str) -> str:
    """Return a text for a comma-separated table that no spreadsheet takes for a formula.

    >>> cell("=1+1"), cell("standard")
    ("'=1+1", 'standard')
    """
    return f"'{text}" if text.startswith(("=", "+", "-", "@", "\t", "\r")) else text


def _as_bytes(hours: "xr.Dataset") -> bytes:
    """Return the file of the hours; made in memory, for the library tears the process down on a full disk."""
    content = io.BytesIO()
    hours.to_netcdf(content, engine="h5netcdf", encoding=encoding(hours))
    return content.getvalue()


def _content(directory: Path, wanted: tuple[str, ...]) -> str:
    """Say what a folder holds, and for a result what sets it apart from the wanted one."""
    summary = read_summary(directory)
    if summary is None:
        return "something that is no result"
    pairs = zip(_IDENTITY, identity(summary), wanted, strict=True)
    other = [block for (block, _), has, wants in pairs if has != wants]
    return f"a result of another {' and '.join(other)}" if other else "a damaged result"


def _filled(directory: Path) -> bool:
    return directory.is_dir() and any(directory.iterdir())


def _previous(directory: Path) -> Path:
    return directory.with_name(f"{directory.name}.previous")


def _sibling(directory: Path, purpose: str) -> Path:
    return directory.with_name(f".{directory.name}.{secrets.token_hex(4)}.{purpose}")


class HeldOpen(InputError):
    """A finished result could not get its name; it stays under its temporary one."""


def _put_in_place(aside: Path, directory: Path) -> None:
    try:
        _renamed(aside, directory)
    except PermissionError as refused:
        raise HeldOpen(held_open(directory, aside)) from refused


def _renamed(aside: Path, directory: Path) -> None:
    """Rename, with what stood there kept as the previous result; undo the first move if the second fails."""
    if not _filled(directory):
        if directory.is_dir():
            directory.rmdir()
        aside.rename(directory)
        return
    previous = _previous(directory)
    old = _sibling(directory, "old")
    if previous.exists():
        previous.rename(old)
    try:
        directory.rename(previous)
        aside.rename(directory)
    except OSError:
        if not directory.exists():
            previous.rename(directory)
        if old.exists():
            old.rename(previous)
        raise
    shutil.rmtree(old, ignore_errors=True)
