"""The format is told from the content, whatever the file is called."""

from pathlib import Path

import pytest

import simengine.weather
from simengine.errors import WeatherError
from simengine.weather import read_weather
from simengine.weather.reading import READERS

FORMATS = ("epw", "tmy3", "tmy2", "plain", "nsrdb", "pvgis_csv", "pvgis_json", "pvgis_epw", "netcdf")


@pytest.mark.parametrize("name", FORMATS)
def test_every_format_is_told_from_its_content(tmp_path: Path, files: dict[str, bytes], name: str) -> None:
    path = tmp_path / "any.name"
    path.write_bytes(files[name])
    assert len(read_weather(path).data) == 8760


@pytest.mark.parametrize("name", FORMATS)
def test_no_two_readers_claim_one_file(files: dict[str, bytes], name: str) -> None:
    content = simengine.weather.reading.Content("x", files[name], "")
    assert sum(recognises(content) for recognises, _ in READERS.values()) == 1


@pytest.mark.parametrize("name", READERS)
def test_the_registry_is_made_of_the_functions_own_names(name: str) -> None:
    recognises, read = READERS[name]
    assert (recognises.__name__, read.__name__) == (f"recognises_{name}", f"read_{name}")


@pytest.mark.parametrize(
    "body",
    [
        b"<!DOCTYPE html><html><body>404 not found</body></html>",
        b"hello",
        b"\x00" * 1000,
        b"%PDF-1.7 something",
        b"a;b;c\n1;2;3\n",
        b"{}",
        b"[1, 2]",
        b"\x89PNG\r\n\x1a\n",
    ],
)
def test_anything_else_is_refused_with_the_formats_that_are_known(tmp_path: Path, body: bytes) -> None:
    path = tmp_path / "x.epw"
    path.write_bytes(body)
    with pytest.raises(WeatherError, match="accepted") as told:
        read_weather(path)
    assert "\n" not in str(told.value)
    assert str(told.value).isprintable()


def test_the_public_surface() -> None:
    assert simengine.weather.__all__ == [
        "Finding",
        "WeatherSeries",
        "builtin",
        "builtin_names",
        "read_weather",
    ]
