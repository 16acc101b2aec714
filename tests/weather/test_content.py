"""Bytes are unpacked within limits, and whatever can't be used is refused in one line."""

import gzip
import hashlib
import io
import os
import zipfile
from pathlib import Path

import pytest

from simengine.errors import WeatherError
from simengine.weather import content
from simengine.weather.content import read_content


def zipped(members: dict[str, bytes]) -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in members.items():
            archive.writestr(name, data)
    return buffer.getvalue()


def put(folder: Path, data: bytes, name: str = "file.csv") -> Path:
    path = folder / name
    path.write_bytes(data)
    return path


@pytest.mark.parametrize("pack", [bytes, gzip.compress, lambda data: zipped({"a.epw": data})])
def test_content_is_the_same_however_it_is_packed(tmp_path: Path, pack: object) -> None:
    assert callable(pack)
    packed = pack(b"hello\n")
    found = read_content(put(tmp_path, packed))
    assert found.raw == b"hello\n"
    assert found.sha256 == hashlib.sha256(packed).hexdigest()


def test_the_one_weather_file_of_an_archive_is_taken_and_its_companions_left(tmp_path: Path) -> None:
    packed = zipped({"x/a.stat": b"no", "x/a.epw": b"yes", "x/a.ddy": b"no"})
    assert read_content(put(tmp_path, packed)).raw == b"yes"


def test_an_archive_is_never_unpacked_to_disk(tmp_path: Path) -> None:
    inside = tmp_path / "in"
    inside.mkdir()
    read_content(put(inside, zipped({"../../escaped.epw": b"data"})))
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["file.csv", "in"]


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (zipped({"a.epw": b"1", "b.epw": b"2"}), "2 weather files"),
        (zipped({}), "0 weather files"),
        (zipped({"a.epw": b"1" * 999})[:-30], "damaged"),
        (gzip.compress(b"1" * 999)[:-5], "damaged"),
        (b"\x1f\x8bnot a gzip", "damaged"),
        (b"", "empty"),
        (b" \r\n\r\n ", "empty"),
    ],
)
def test_what_cannot_be_unpacked_is_refused(tmp_path: Path, data: bytes, reason: str) -> None:
    with pytest.raises(WeatherError, match=reason):
        read_content(put(tmp_path, data))


@pytest.mark.parametrize("pack", [gzip.compress, lambda data: zipped({"a.csv": data})])
def test_a_bomb_is_refused_by_its_size(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, pack: object) -> None:
    assert callable(pack)
    monkeypatch.setattr(content, "MAX_CONTENT_BYTES", 1 << 20)
    with pytest.raises(WeatherError, match="unpacks to more than 1 MiB"):
        read_content(put(tmp_path, pack(b"0" * (8 << 20))))


def test_a_file_too_large_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(content, "MAX_FILE_BYTES", 1 << 20)
    with pytest.raises(WeatherError, match="larger than 1 MiB"):
        read_content(put(tmp_path, b"0" * (2 << 20)))


def test_a_folder_a_device_and_nothing_are_refused(tmp_path: Path) -> None:
    for path, reason in (
        (tmp_path, "folder"),
        (tmp_path / "none", "not there"),
        (Path(os.devnull), "device"),
    ):
        with pytest.raises(WeatherError, match=reason):
            read_content(path)


@pytest.mark.parametrize(
    ("raw", "text"),
    [
        (b"\xef\xbb\xbfa\r\nb\r\n", "a\nb\n"),
        (b"a\rb\r", "a\nb\n"),
        (b"a\nb\n\n\n\x1a", "a\nb\n"),
        (b"a\nb\x00\x00", "a\nb"),
        (b"a\nb", "a\nb"),
        ("Zürich\n".encode("latin-1"), "Zürich\n"),
        ("Zürich\n".encode(), "Zürich\n"),
    ],
)
def test_line_ends_marks_and_encodings_come_out_alike(raw: bytes, text: str) -> None:
    assert content.Content("x", raw, "").text() == text


def test_quoted_input_is_short_and_printable() -> None:
    quoted = content.quoted("\x1b[31m" + "x" * 500)
    assert quoted.isprintable()
    assert len(quoted) < 80
