"""Every reader under damage: an error in words or the same year, never a traceback or a silent change."""

import gzip
import random
import zipfile
from collections import Counter
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
FULL = 200
"""Damaged files a format and kind of damage in the slow survey."""

FAST = FULL // 50
"""In the fast one."""

PAGES = (
    b"<!DOCTYPE html>\n<html><head><title>502 Bad Gateway</title></head><body>try again</body></html>\n",
    b"<html>\r\n<body>404 not found, page, number, 12\r\n</body></html>",
    b'{"errors": ["over the rate limit"], "status": 429}',
)

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


def random_bytes(data: bytes, chance: random.Random) -> bytes:
    """Keep the head, which tells the format, and put random bytes behind it."""
    head = chance.choice((0, 10, 100, 1000))
    return data[:head] + chance.randbytes(chance.randrange(1, 20_000))


def error_page(data: bytes, chance: random.Random) -> bytes:
    """Put a server's error page in the place of the file, or behind the part of it that came."""
    return data[: chance.choice((0, chance.randrange(len(data))))] + chance.choice(PAGES)


def swapped_columns(data: bytes, chance: random.Random) -> bytes:
    """Swap the values of two columns below their titles, in every row."""
    rows = data.split(b"\n")
    parts = [row.split(b",") for row in rows]
    count = len(parts[len(parts) // 2])
    if count < 3:
        return _swapped_keys(data, chance)
    one, other = chance.sample(range(count), 2)
    for part in parts:
        if len(part) == count and part[one][:1] in DIGITS and part[other][:1] in DIGITS:
            part[one], part[other] = part[other], part[one]
    return b"\n".join(b",".join(part) for part in parts)


def _swapped_keys(data: bytes, chance: random.Random) -> bytes:
    one, other = (b'"%b"' % name for name in chance.sample(KEYS, 2))
    return data.replace(one, b'"#"').replace(other, one).replace(b'"#"', other)


DIGITS = tuple(bytes([byte]) for byte in b"0123456789-.")
KEYS = (b"T2m", b"RH", b"G(h)", b"Gb(n)", b"Gd(h)", b"WS10m", b"SP")
TOLD = ("odd_number", "swapped_columns")
"""Damages that may pass as another year if a finding more says so; all others end in words."""

DAMAGES = (
    cut,
    noise,
    missing_piece,
    odd_number,
    semicolons,
    random_bytes,
    error_page,
    swapped_columns,
)
PAIRS = [
    pytest.param(name, damage, id=f"{name}-{damage.__name__}")
    for name in FORMATS
    for damage in DAMAGES
    # a changed number in binary looks like any other number, and fixed columns have nothing between them
    if (name, damage.__name__) not in {("netcdf", "odd_number"), ("netcdf", "swapped_columns")}
    and (name, damage.__name__) not in {("tmy2", "swapped_columns"), ("packed", "swapped_columns")}
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


def survey(
    path: Path, sound: tuple[bytes, WeatherSeries], damage: Callable, counts: tuple[int, int]
) -> Counter[str]:
    """Return how many damaged files were refused, were the same year all the same, or came with a finding."""
    data, truth = sound
    ends: Counter[str] = Counter()
    for seed in range(*counts):
        path.write_bytes(damage(data, random.Random(seed)))
        try:
            found = read_weather(path)
        except WeatherError as told:
            assert all(line.isprintable() and len(line) < 400 for line in told.problems)
            ends["refused"] += 1
            continue
        told_of = len(found.findings) > len(truth.findings)
        told_of = told_of and damage.__name__ in TOLD
        assert same(found, truth) or told_of, f"silently another year, seed {seed}"
        ends["same" if same(found, truth) else "told"] += 1
    return ends


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
    survey(tmp_path / "damaged", sound[name], damage, (FAST, FULL if damage is not semicolons else FAST))


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


@pytest.mark.slow
@pytest.mark.parametrize("pack", ["zip", "gzip"])
def test_five_gigabytes_of_zeros_are_refused_by_their_size(tmp_path: Path, pack: str) -> None:
    piece, times = bytes(64 << 20), 80  # 5 GiB
    path = tmp_path / "zeros.epw"
    if pack == "zip":
        with (
            zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive,
            archive.open("zeros.epw", "w", force_zip64=True) as member,
        ):
            for _ in range(times):
                member.write(piece)
    else:
        path.write_bytes(gzip.compress(piece, 1) * times)
    assert path.stat().st_size < 128 << 20
    with pytest.raises(WeatherError, match="unpacks to more than 256 MiB"):
        read_weather(path)
