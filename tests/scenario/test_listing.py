"""`check` prints every input as it is used, in both unit systems, with where it is from."""

import pytest

from simengine.data_files import data_path
from simengine.scenario import load
from simengine.scenario.listing import Row


def rows(name: str = "demo.toml", **changes: str) -> dict[str, Row]:
    scenario = load(data_path("scenarios", name))
    if changes:
        scenario = scenario.changed({key.replace("__", "."): value for key, value in changes.items()})
    return {row.key: row for row in scenario.resolved()}


@pytest.mark.parametrize(
    ("key", "si", "us", "origin"),
    [
        ("collector.width", "1.524 m", "60 in", "file"),
        ("collector.wall_resistance", "2.289 m2K/W", "R-13", "file"),
        ("collector.dirt_factor", "0.98", "0.98", "default"),
        ("collector.cover.1.thickness", "4 mm", "0.1575 in", "construction clear_tempered_4mm"),
        ("collector.back.emittance", "0.9", "0.9", "construction glass_fleece"),
        ("fan.flow", "178.4 m3/h", "105 cfm", "file"),
        ("fan.inlet_temperature", "20 degC", "68 degF", "default"),
        ("control.start", "40.56 degC", "105 degF", "file"),
        ("control.room_limit_band", "0.5 K", "0.9 degF", "default"),
        ("site.trees.1.leaf_out", "04-15", "04-15", "file"),
        ("site.snow", "yes", "yes", "default"),
        ("heating.price", "0.9906 USD/L", "3.75 USD/gal", "file"),
        ("economics.discount_rate", "3 %", "3 %", "file"),
        ("collector.aperture", "3.484 m2", "37.5 ft2", "worked out"),
        ("fan.mass_flow", "0.05967 kg/s", "105.2 scfm", "worked out"),
    ],
)
def test_rows_of_the_demo(key: str, si: str, us: str, origin: str) -> None:
    # each pair is one quantity in two units; the file's own unit gives the file's own figure
    row = rows()[key]
    assert (row.si, row.us, row.origin) == (si, us, origin)


def test_a_changed_key_says_so() -> None:
    changed = rows(collector__tilt="60 deg")
    assert (changed["collector.tilt"].si, changed["collector.tilt"].origin) == ("60 deg", "changed")
    assert changed["collector.width"].origin == "file"


@pytest.mark.parametrize("name", ["demo.toml", "demo_metric.toml", "demo_us.toml"])
def test_rows_are_complete_and_printable_pairs(name: str) -> None:
    listed = load(data_path("scenarios", name)).resolved()
    assert len({row.key for row in listed}) == len(listed)
    for row in listed:
        assert row.si and row.us and row.origin and row.description
        assert set(row.as_dict()) == {"key", "group", "name", "si", "us", "origin"}
    assert len(listed) > 100


def test_the_own_house_is_worked_out() -> None:
    listed = rows("demo_metric.toml")
    assert listed["house.opaque_loss"].si == "112 W/K"
    assert listed["house.setpoint"].si.startswith("17 degC, 17 degC")
    assert listed["collector.absorber.open_share"].si == "0.5"
