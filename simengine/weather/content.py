"""Bytes in: one regular file, plain, gzipped or zipped, read within limits of size and decoded."""

import gzip
import hashlib
import io
import zipfile
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import IO, Final

from simengine.errors import WeatherError

MAX_FILE_BYTES: Final = 128 * 1024**2
"""Largest file read from disk [byte]."""

MAX_CONTENT_BYTES: Final = 256 * 1024**2
"""Largest content after decompression [byte]; some hundred years of hourly records."""

WEATHER_SUFFIXES: Final = (".epw", ".csv", ".tm2", ".json", ".nc", ".txt")


@dataclass(frozen=True)
class Content:
    """What a file holds, once unpacked."""

    name: str
    raw: bytes
    sha256: str

    def text(self) -> str:
        """Return the content as text: utf-8 (with or without a byte-order mark), else latin-1."""
        raw = self.raw.rstrip(b"\x00\x1a \t\r\n") + self._line_end()
        try:
            text = raw.decode("utf-8-sig")
        except UnicodeDecodeError:
            text = raw.decode("latin-1")
        if "\r" in text:
            text = text.replace("\r\n", "\n").replace("\r", "\n")
        return text

    def _line_end(self) -> bytes:
        """Return a line end if the content's last line had one, so that a cut can be told from an end."""
        tail = self.raw[-64:].rstrip(b"\x00\x1a \t")
        return b"\n" if tail.endswith((b"\n", b"\r")) else b""


def quoted(text: str, limit: int = 60) -> str:
    """Return a piece of the input that is safe to print: printable, short, in quotes.

    Examples
    --------
    >>> quoted("a" + chr(7) + "b")
    "'a?b'"
    """
    clean = printable(text, limit + 1)
    return f"'{clean[:limit]}...'" if len(clean) > limit else f"'{clean}'"


def printable(text: str, limit: int = 80) -> str:
    """Return the first letters of a text, each unprintable one as a question mark."""
    return "".join(letter if letter.isprintable() else "?" for letter in text[:limit])


def read_content(path: Path) -> Content:
    """Read a weather file whole, unpacking gzip or a zip archive with one weather file in it.

    Parameters
    ----------
    path : Path
        A regular file on this computer.

    Returns
    -------
    The unpacked bytes with the hash of the file's own bytes.

    Raises
    ------
    WeatherError
        When it isn't a regular file, can't be read, is empty, too large, damaged or encrypted.
    """
    name = printable(path.name)
    try:
        if not path.is_file():
            what = "a folder or device" if path.exists() else "not there"
            raise WeatherError(f"{name}: {what}; a weather file (plain, .gz or .zip) is accepted")
        with path.open("rb") as stream:
            packed = stream.read(MAX_FILE_BYTES + 1)
    except (OSError, ValueError) as failure:
        reason = getattr(failure, "strerror", None) or "the path is not valid"
        raise WeatherError(f"{name}: can't be read ({reason})") from None
    if len(packed) > MAX_FILE_BYTES:
        raise WeatherError(f"{name}: larger than {MAX_FILE_BYTES >> 20} MiB; no weather file is")
    raw = _unpack(name, packed)
    if not raw.strip():
        raise WeatherError(f"{name}: empty; a weather file with at least one whole year is accepted")
    return Content(name, raw, hashlib.sha256(packed).hexdigest())


def _unpack(name: str, packed: bytes) -> bytes:
    if packed.startswith(b"\x1f\x8b"):
        return _bounded(name, lambda: gzip.GzipFile(fileobj=io.BytesIO(packed)))
    if packed.startswith((b"PK\x03\x04", b"PK\x05\x06")):
        return _bounded(name, lambda: _only_member(name, packed))
    return packed


def _bounded(name: str, opener: Callable[[], IO[bytes] | gzip.GzipFile]) -> bytes:
    try:
        with opener() as stream:
            raw = stream.read(MAX_CONTENT_BYTES + 1)
    except WeatherError:
        raise
    except (OSError, EOFError, zlib.error, zipfile.BadZipFile, RuntimeError, NotImplementedError, ValueError):
        raise WeatherError(
            f"{name}: damaged, cut off or encrypted archive; a sound .gz or .zip is accepted"
        ) from None
    if len(raw) > MAX_CONTENT_BYTES:
        raise WeatherError(
            f"{name}: unpacks to more than {MAX_CONTENT_BYTES >> 20} MiB; no weather file does"
        )
    return raw


def _only_member(name: str, packed: bytes) -> IO[bytes]:
    """Open the one weather file of an archive in memory; nothing is ever written to disk."""
    archive = zipfile.ZipFile(io.BytesIO(packed))
    files = [entry for entry in archive.infolist() if not entry.is_dir()]
    likely = [entry for entry in files if PurePosixPath(entry.filename.lower()).suffix in WEATHER_SUFFIXES]
    chosen = likely or files
    if len(chosen) != 1:
        raise WeatherError(
            f"{name}: holds {len(chosen)} weather files; an archive with exactly one is accepted"
        )
    return archive.open(chosen[0])
