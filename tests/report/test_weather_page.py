"""The page of a weather file: complete in itself, escaped, with every finding, and drawn true."""

import base64
import dataclasses
import re
import zlib

import numpy as np
import pytest

from simengine.report.day_map import COLOUR, day_map
from simengine.report.weather_page import weather_page
from simengine.weather import Finding, WeatherSeries, builtin


@pytest.fixture(scope="module")
def series() -> WeatherSeries:
    year = builtin("sand_point")
    odd = (Finding("info", "a <b>note</b>"), Finding("warning", "hours were filled", "2001-02-03"))
    return dataclasses.replace(year, station="Shore <script>alert(1)</script>", findings=odd)


def pixels(address: str) -> np.ndarray:
    """Return the picture behind a data address [row, column, red green blue opacity] (ISO/IEC 15948)."""
    data = base64.b64decode(address.partition(",")[2])
    assert data.startswith(b"\x89PNG\r\n\x1a\n")
    wide, high = int.from_bytes(data[16:20]), int.from_bytes(data[20:24])
    length = int.from_bytes(data[33:37])
    lines = zlib.decompress(data[41 : 41 + length])
    return np.frombuffer(lines, np.uint8).reshape(high, 1 + 4 * wide)[:, 1:].reshape(high, wide, 4)


def test_the_map_has_a_column_a_day_and_a_row_an_interval() -> None:
    values = np.arange(6.0)  # two days of three intervals
    drawn = pixels(day_map(values, 3, 5.0))
    assert drawn.shape == (3, 2, 4)
    assert tuple(drawn[0, 0]) == (*COLOUR, 0)
    np.testing.assert_array_equal(drawn[:, :, 3], np.round([[0, 153], [51, 204], [102, 255]]))


def test_everything_from_the_file_is_escaped(series: WeatherSeries) -> None:
    text = weather_page(series)
    assert "<script" not in text and "<b>" not in text
    assert "Shore &lt;script&gt;" in text


def test_findings_stand_with_severity_and_dates_the_grave_ones_first(series: WeatherSeries) -> None:
    text = weather_page(series, "si")
    assert "1 warning, 1 note" in text
    assert text.index("Hours were filled") < text.index("note&lt;/b&gt;")
    assert "2001-02-03" in text


def test_the_title_is_a_finding_and_every_drawing_has_words(series: WeatherSeries) -> None:
    text = weather_page(series, "si")
    cool = series.data["temp_air"] < 15.0
    part = series.data["ghi"][cool].sum() / series.data["ghi"].sum()
    assert f"{100.0 * part:.0f} % of it while it is colder than 15 °C outdoors" in text
    drawings = re.findall(r"<svg[^>]*>", text)
    assert len(drawings) == 4
    assert all("aria-label=" in drawing and 'role="img"' in drawing for drawing in drawings)


def test_it_fetches_nothing(series: WeatherSeries) -> None:
    text = weather_page(series)
    assert "default-src 'none'" in text
    assert not [link for link in re.findall(r'(?:href|src)="([^"]+)"', text) if not link.startswith("data:")]
