"""TMY2 files, against the reference reader of pvlib."""

from pathlib import Path

import numpy as np
import pvlib
import pytest

from simengine.errors import WeatherError
from simengine.weather import WeatherSeries, read_weather

MIAMI = Path(pvlib.__file__).parent / "data" / "12839.tm2"


def test_against_pvlibs_reader() -> None:
    """Reference library: pvlib.iotools.read_tmy2 on the TMY2 file that it carries."""
    theirs, meta = pvlib.iotools.read_tmy2(MIAMI)
    ours = read_weather(MIAMI)
    pairs = {
        "ghi": ("GHI", 1.0),
        "dni": ("DNI", 1.0),
        "dhi": ("DHI", 1.0),
        "temp_air": ("DryBulb", 0.1),
        "temp_dew": ("DewPoint", 0.1),
        "relative_humidity": ("RHum", 1.0),
        "pressure": ("Pressure", 100.0),
        "wind_speed": ("Wspd", 0.1),
    }
    for column, (title, factor) in pairs.items():
        np.testing.assert_allclose(ours.data[column], theirs[title] * factor, atol=1e-9)
    assert ours.latitude == pytest.approx(meta["latitude"])
    assert ours.longitude == pytest.approx(meta["longitude"])
    assert (ours.utc_offset, ours.elevation) == (meta["TZ"], meta["altitude"])


def test_the_sun_stands_at_its_labels() -> None:
    assert abs(read_weather(MIAMI).closure_shift) < 0.05


def test_the_year_comes_back(tmp_path: Path, files: dict[str, bytes], year: WeatherSeries) -> None:
    path = tmp_path / "made.tm2"
    path.write_bytes(files["tmy2"])
    found = read_weather(path)
    np.testing.assert_allclose(found.data["ghi"], year.data["ghi"], atol=0.51)
    np.testing.assert_allclose(found.data["temp_air"], year.data["temp_air"], atol=0.051)


def test_a_short_row_is_named(tmp_path: Path, files: dict[str, bytes]) -> None:
    lines = files["tmy2"].split(b"\n")
    lines[99] = lines[99][:-3]
    path = tmp_path / "made.tm2"
    path.write_bytes(b"\n".join(lines))
    with pytest.raises(WeatherError, match=r"made.tm2:100: 139 letters where the first row has 142"):
        read_weather(path)
