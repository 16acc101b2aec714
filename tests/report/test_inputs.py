"""Resolved inputs on a screen: grouped, in both systems, nothing that steers the terminal."""

from simengine.report import houses, inputs
from simengine.report.shown import Shown

ROWS = [
    {"group": "", "name": "title", "si": "a\x1b[2Jb " * 30, "us": "a\x1b[2Jb " * 30, "origin": "file"},
    {"group": "collector", "name": "width", "si": "1.2 m", "us": "47.24 in", "origin": "file"},
    {"group": "collector", "name": "tilt", "si": "90 deg", "us": "90 deg", "origin": "default"},
]


def test_each_part_of_the_scenario_is_a_block() -> None:
    lines = inputs.listing(ROWS).splitlines()
    assert lines[1] == "scenario" and lines[3] == "collector"
    assert lines[4].split() == ["width", "1.2", "m", "47.24", "in", "file"]
    assert lines[5].split() == ["tilt", "90", "deg", "default"]


def test_long_text_is_cut_and_harmless() -> None:
    text = inputs.listing(ROWS)
    assert all(line.isprintable() and len(line) < 100 for line in text.splitlines())


def test_houses_in_both_systems() -> None:
    from simengine.house.presets import PRESETS

    made = [make(140.0, 2) for make in PRESETS.values()]
    text = houses.listing(made, [Shown("si"), Shown("us")])
    assert "Low-energy house" in text and "W/K" in text and "Btu/h.degF" in text
