"""However a weather file is spoilt: a whole finite year or lines of our own, quickly, and nothing written."""

import tracemalloc
from collections import Counter
from pathlib import Path

import numpy as np
import pytest

from simengine.errors import WeatherError
from simengine.weather import WeatherSeries, read_weather
from simengine.weather.series import COLUMNS
from tests.reliability.checking import attack, outcome, told
from tests.reliability.spoilt_weather import gzip_bomb, spoilt_weather, zip_bomb

FEW, ALL = 100, 5000
MAY_BE_ABSENT = ("longwave_down", "snow_depth")
"""Columns that not every format has, NaN where there is nothing."""

MOST_HELD = 1200 * 1024**2
"""What a bomb of 300 MiB may take in memory at most: the bounded content and copies of it [byte]."""


def require_sound(series: WeatherSeries) -> None:
    """Assert that an accepted year is whole, finite and on this planet."""
    data = series.data
    assert len(data) * series.step % (365 * 86400) == 0 or len(data) * series.step % 86400 == 0
    for name in COLUMNS:
        values = data[name].to_numpy()
        bad = np.isinf(values) if name in MAY_BE_ABSENT else ~np.isfinite(values)
        assert not bad.any(), f"{name} is not finite"
    assert -90.0 <= series.latitude <= 90.0 and -180.0 <= series.longitude <= 180.0
    # survivable extremes of measured weather, with room (World Meteorological Organization's archive,
    # from memory: -89.2 to 56.7 degC; the solar constant is 1361 W/m2)
    assert data["temp_air"].min() >= -100.0 and data["temp_air"].max() <= 70.0
    for name in ("ghi", "dni", "dhi"):
        assert data[name].min() >= 0.0 and data[name].max() < 2000.0, name
    assert data["relative_humidity"].between(0.0, 120.0).all()
    assert data["wind_speed"].between(0.0, 120.0).all()
    for finding in series.findings:
        assert str(finding).isprintable(), f"finding: {str(finding)[:200]!r}"
    assert series.station.isprintable() and len(series.station) < 1000, "station"


def attacked(numbers: range, folder: Path) -> tuple[Counter[str], list[str]]:
    """Return what came of the files, and every defect with the number of its file."""
    path = folder / "spoilt.dat"

    def one(number: int) -> str:
        path.write_bytes(spoilt_weather(number)[1])
        came = outcome(lambda: read_weather(path), (WeatherError,))
        if isinstance(came, WeatherSeries):
            require_sound(came)
            return "accepted"
        assert all(line.startswith("spoilt.dat") for line in came), f"names no file: {came[0][:200]}"
        return "refused"

    found = attack(numbers, one)
    assert [item.name for item in folder.rglob("*")] == ["spoilt.dat"], "something was written"
    return found


def test_some_spoilt_weather(tmp_path: Path) -> None:
    found, defects = attacked(range(FEW), tmp_path)
    assert not defects, "\n".join(defects)
    assert found["refused"] > FEW // 3 and found["accepted"] > FEW // 50, told(found)


@pytest.mark.slow
def test_all_spoilt_weather(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found, defects = attacked(range(ALL), tmp_path)
    with capsys.disabled():
        print(f"\n{ALL} weather files: {told(found)}, {len(defects)} defects")
    assert not defects, "\n".join(defects[:200])


@pytest.mark.slow
@pytest.mark.parametrize("bomb", [gzip_bomb, zip_bomb])
def test_a_bomb_takes_bounded_memory(bomb: object, tmp_path: Path) -> None:
    path = tmp_path / "bomb"
    path.write_bytes(bomb())  # type: ignore[operator]
    assert path.stat().st_size < 2 * 1024**2
    tracemalloc.start()
    with pytest.raises(WeatherError, match=r"more than 256 MiB|damaged"):
        read_weather(path)
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert most < MOST_HELD
