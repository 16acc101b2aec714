"""A skyline from compass and inclinometer, as read on site."""

from pathlib import Path

import numpy as np
import pytest

from simengine.errors import InputError
from simengine.sun import horizon_from_readings, read_horizon


def test_declination_turns_magnetic_into_true_bearings() -> None:
    # true bearing = compass bearing + declination, east positive (common practice)
    skyline = horizon_from_readings((0.0, 90.0, 355.0), (1.0, 2.0, 3.0), declination=-8.0)
    assert dict(zip(skyline.azimuths, skyline.elevations, strict=True)) == {352.0: 1.0, 82.0: 2.0, 347.0: 3.0}
    assert list(skyline.azimuths) == sorted(skyline.azimuths)


@pytest.mark.parametrize(
    "text",
    [
        "compass,inclinometer\n90,5\n180,20\n270,10\n",
        "# a made-up yard\n90;5\n\n180;20\n270;10",
        "\ufeffcompass,inclinometer,note\r\n90, 5,oak\r\n180, 20,roof\r\n270, 10,\r\n",
    ],
)
def test_file_of_readings(tmp_path: Path, text: str) -> None:
    path = tmp_path / "skyline.csv"
    path.write_bytes(text.encode("utf-8"))
    assert read_horizon(path, declination=10.0).elevation_at(
        np.array([100.0, 145.0, 190.0])
    ) == pytest.approx([5.0, 12.5, 20.0])


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"a,b\n90,5\n100;x\n110\n", r"skyline.csv:3: not two numbers(.|\n)*skyline.csv:4"),
        (b"compass,angle\n", "no readings"),
        (b"", "no readings"),
        (b"\xff\xfe\x00", "UTF-8"),
        (b"90,95\n", "-90 to 90"),
        (b"nan,5\n", "clockwise from north"),
    ],
)
def test_faulty_file_is_refused_with_its_lines(tmp_path: Path, content: bytes, words: str) -> None:
    path = tmp_path / "skyline.csv"
    path.write_bytes(content)
    with pytest.raises(InputError, match=words):
        read_horizon(path)


def test_missing_file_is_an_input_error(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"none\.csv: can't be read"):
        read_horizon(tmp_path / "none.csv")


def test_readings_must_go_together() -> None:
    with pytest.raises(InputError, match="2 compass and 1 inclinometer"):
        horizon_from_readings((0.0, 90.0), (5.0,))
