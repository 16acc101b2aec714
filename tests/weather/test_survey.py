"""Every reader under damage: an error in words or the same year, never a traceback or a silent change."""

import gzip
import random
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from simengine.errors import WeatherError
from simengine.weather import WeatherSeries, read_weather

FORMATS = (
    "epw",
    "tmy3",
    "tmy2",
    "plain",
    "nsrdb",
    "pvgis_csv",
    "pvgis_json",
    "pvgis_epw",
    "netcdf",
    "packed",
)
FAST = 4
"""Damaged files a format and kind of damage; the slow survey takes some seventy times as many."""

NUMBERS = (
    b"NaN",
    b"inf",
    b"-inf",
    b"1e308",
    b"-1e99",
    b"9" * 30,
    b"",
    b"abc",
    b"0x10",
    b"1,5",
    b"--",
    b"\xff",
)


def cut(data: bytes, chance: random.Random) -> bytes:
    return data[: chance.randrange(len(data))]


def noise(data: bytes, chance: random.Random) -> bytes:
    first = chance.randrange(len(data))
    last = min(len(data), first + chance.randrange(1, 4000))
    return data[:first] + chance.randbytes(last - first) + data[last:]


def missing_piece(data: bytes, chance: random.Random) -> bytes:
    first = chance.randrange(len(data))
    return data[:first] + data[first + chance.randrange(1, 3000) :]


def odd_number(data: bytes, chance: random.Random) -> bytes:
    lines = data.split(b"\n")
    row = chance.randrange(len(lines))
    parts = lines[row].split(b",")
    parts[chance.randrange(len(parts))] = chance.choice(NUMBERS)
    lines[row] = b",".join(parts)
    return b"\n".join(lines)


def semicolons(data: bytes, chance: random.Random) -> bytes:
    return data.replace(b",", b";")


DAMAGES = (cut, noise, missing_piece, odd_number, semicolons)
PAIRS = [
    pytest.param(name, damage, id=f"{name}-{damage.__name__}")
    for name in FORMATS
    for damage in DAMAGES
    if (name, damage) != ("netcdf", odd_number)  # a changed number in binary looks like any other number
]


@pytest.fixture(scope="module")
def sound(
    tmp_path_factory: pytest.TempPathFactory, files: dict[str, bytes]
) -> dict[str, tuple[bytes, WeatherSeries]]:
    folder = tmp_path_factory.mktemp("sound")
    data = files | {"packed": gzip.compress(files["plain"])}
    found = {}
    for name in FORMATS:
        (folder / name).write_bytes(data[name])
        found[name] = (data[name], read_weather(folder / name))
    return found


def same(one: WeatherSeries, other: WeatherSeries) -> bool:
    place = all(getattr(one, key) == getattr(other, key) for key in ("latitude", "longitude", "utc_offset"))
    return place and np.array_equal(one.data.to_numpy(), other.data.to_numpy(), equal_nan=True)


def survey(path: Path, sound: tuple[bytes, WeatherSeries], damage: Callable, counts: tuple[int, int]) -> None:
    data, truth = sound
    for seed in range(*counts):
        path.write_bytes(damage(data, random.Random(seed)))
        try:
            found = read_weather(path)
        except WeatherError as told:
            assert all(line.isprintable() and len(line) < 400 for line in told.problems)
            continue
        told_of = len(found.findings) > len(truth.findings)
        assert same(found, truth) or (told_of and damage is odd_number), f"silently another year, seed {seed}"


@pytest.mark.parametrize(("name", "damage"), PAIRS)
def test_damage_is_told_in_words(
    tmp_path: Path, sound: dict[str, tuple[bytes, WeatherSeries]], name: str, damage: Callable
) -> None:
    survey(tmp_path / "damaged", sound[name], damage, (0, FAST if damage is not semicolons else 1))


@pytest.mark.slow
@pytest.mark.parametrize(("name", "damage"), PAIRS)
def test_damage_is_told_in_words_at_length(
    tmp_path: Path, sound: dict[str, tuple[bytes, WeatherSeries]], name: str, damage: Callable
) -> None:
    survey(tmp_path / "damaged", sound[name], damage, (FAST, 75 * FAST if damage is not semicolons else FAST))


@pytest.mark.parametrize("name", ["epw", "tmy3", "nsrdb", "plain", "pvgis_csv", "tmy2"])
@pytest.mark.parametrize("back", [1, 2, 3, 5, 9, 14, 40, 200])
def test_a_cut_near_the_end_never_changes_a_number(
    tmp_path: Path, sound: dict[str, tuple[bytes, WeatherSeries]], name: str, back: int
) -> None:
    data, truth = sound[name]
    path = tmp_path / "cut"
    path.write_bytes(data[:-back])
    try:
        assert same(read_weather(path), truth)
    except WeatherError as told:
        assert "\n" not in str(told)
