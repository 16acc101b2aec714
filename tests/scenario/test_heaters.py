"""Heaters, fuels, tariffs, parts and bills in the scenario: read, assembled, refused in words."""

import datetime
import tomllib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from simengine.data_files import data_path
from simengine.errors import ScenarioError
from simengine.house.presets import low_energy, standard
from simengine.house.spec import House
from simengine.scenario import Scenario, load
from simengine.scenario.schema import Inputs
from simengine.scenario.schema.walk import key_exists
from simengine.scenario.writing import as_toml

DAY = datetime.date(2026, 5, 1)
OIL = {
    "name": "boiler",
    "fuel": "heating_oil",
    "efficiency": 0.85,
    "price": "3.75 USD/gal",
    "price_date": DAY,
}
STOVE = {"name": "stove", "fuel": "firewood", "efficiency": 0.7, "share": 0.3}
PUMP = {
    "name": "pump",
    "fuel": "electricity",
    "cop_by_outdoor_temperature": [["-15 degC", 2], ["10 degC", 4]],
}
STRAW = {
    "name": "straw",
    "unit": "kg",
    "heat_content": "3.6 kWh",
    "basis": "lower",
    "lower_to_higher": 0.9,
    "emission_factor": "0.36 kg/kWh",
    "source": "invented",
    "date": DAY,
}
OWN = {"name": "mine", "floor_area": "120 m2", "opaque_conductance": "150 W/K"}


@pytest.fixture(scope="module")
def demo() -> Scenario:
    return load(data_path("scenarios", "demo.toml"))


def test_one_table_and_a_list_of_one_are_the_same(demo: Scenario) -> None:
    listed = demo.changed({"heating": [demo.data["heating"]]})
    assert listed.inputs == demo.inputs
    assert listed.sha256 == demo.sha256
    keys = [row.key for row in demo.resolved() if row.group == "heating"]
    assert "heating.price" in keys


def test_several_heaters_share_the_heat_and_the_rest_goes_to_the_one_without_a_share(demo: Scenario) -> None:
    uses = demo.changed({"heating": [OIL, STOVE, {**PUMP, "share": 0.1}]}).assemble().money.heating
    assert [use.share for use in uses] == pytest.approx([0.6, 0.3, 0.1])
    assert [use.name for use in uses] == ["boiler", "stove", "pump"]
    changed = demo.changed({"heating": [OIL, STOVE]}).changed({"heating.stove.share": 0.2})
    assert changed.assemble().money.heating[0].share == pytest.approx(0.8)


def test_electric_heat_without_a_price_runs_over_the_houses_meter(demo: Scenario) -> None:
    windows = [{"price": "0.30 USD/kWh", "from_hour": 22, "to_hour": 6, "months": [1, 12]}]
    there = demo.changed({"heating": PUMP, "electricity.tariff": windows}).assemble().money
    (pump,), power = there.heating, there.electricity
    assert power is not None and pump.price_by_hour == power.price_by_hour
    assert pump.price_by_hour is not None and len(pump.price_by_hour) == 288
    by_hour = pump.price_by_hour
    assert [by_hour[23], by_hour[5], by_hour[6], by_hour[11 * 24 + 22], by_hour[5 * 24 + 23]] == [
        0.30,
        0.30,
        0.14,
        0.30,
        0.14,
    ]
    own = demo.changed({"heating": {**PUMP, "price": "0.10 USD/kWh", "price_date": DAY}})
    assert own.assemble().money.heating[0].price == 0.10


def test_an_own_fuel_in_any_unit_of_its_kind(demo: Scenario) -> None:
    heater = {"fuel": "straw", "efficiency": 0.8, "basis": "lower", "price": "90 USD/t", "price_date": DAY}
    (use,) = demo.changed({"fuels": [STRAW], "heating": heater}).assemble().money.heating
    assert use.own_fuel is not None and use.sold is use.own_fuel
    # Hand sums: 3.6 kWh on the lower value are 4 on the higher; 0.36 kg per lower kWh are 0.324 per higher.
    assert use.sold.heat_content == pytest.approx(4.0)
    assert use.sold.emission_factor == pytest.approx(0.324)
    assert dict(use.sold.other_units)["t"] == pytest.approx(1000.0)


def test_parts_make_the_first_cost_and_wear_out(demo: Scenario) -> None:
    parts = [
        {"name": "pane", "quantity": 2, "price": "80 USD"},
        {"name": "fan", "price": "90 USD", "life": "8 years"},
        {"name": "old door", "price": "0 USD"},
    ]
    changed = demo.changed({"economics.first_cost": None, "economics.fan_cost": None, "parts": parts})
    money = changed.assemble().money.economics
    assert money is not None
    assert (money.first_cost, money.currency, money.replacements) == (250.0, "USD", ((8, 90.0), (16, 90.0)))
    alone = demo.changed({"economics": None, "parts": parts}).assemble().money.economics
    assert alone is not None and alone.first_cost == 250.0
    open_ = changed.changed({"parts.pane.price": None}).assemble().money.economics
    assert open_ is not None and open_.first_cost is None
    assert open_.first_cost_reason == "no price is given for: pane"


def test_a_wall_by_its_layers(demo: Scenario) -> None:
    # ISO 6946 (films from memory): 0.13 + 0.0125/0.25 + 0.14/0.04 + 0.18 + 0.04 = 3.90 m2K/W.
    layers = [
        {"name": "board", "thickness": "12.5 mm", "conductivity": "0.25 W/mK"},
        {"name": "wool", "thickness": "140 mm", "conductivity": "0.04 W/mK"},
        {"name": "air", "resistance": "0.18 m2K/W"},
    ]
    wall = {"name": "wall", "area": "100 m2", "layers": layers}
    house = {"floor_area": "120 m2", "elements": [wall]}
    built = demo.changed({"house": house}).assemble().house
    assert built is not None and built.opaque_conductance == pytest.approx(100.0 / 3.90)
    roof = {**wall, "heat_flow": "up", "outside_film": "0.1 m2K/W"}
    roofed = demo.changed({"house": {**house, "elements": [roof]}}).assemble().house
    assert roofed is not None and roofed.opaque_conductance == pytest.approx(100.0 / 3.93)


def test_a_house_like_a_built_in_one(demo: Scenario) -> None:
    here = {"name": "mine", "floor_area": "150 m2", "like": "standard", "storeys": 1}
    plain = demo.changed({"house": here}).assemble().house
    assert plain == replace(standard(150.0, 1), name="mine", heating_capacity=1e9, source=plain.source)
    more = demo.changed({"house": {**here, "air_changes": "0.4 1/h", "setpoint": "19 degC"}}).assemble().house
    assert more is not None
    assert more.ventilation_conductance == pytest.approx(1200.0 * 375.0 * 0.4 / 3600.0)
    assert (more.setpoint[0], more.windows) == (292.15, plain.windows)
    with pytest.raises(ScenarioError, match="what a built-in house stands for"):
        demo.changed({"house": {**here, "floor_area": "20 m2"}})
    with pytest.raises(ScenarioError, match="heat loss is not clear"):
        demo.changed({"house": {**here, "opaque_conductance": "90 W/K"}})


@pytest.mark.parametrize("make", [standard, low_energy])
@pytest.mark.parametrize("storeys", [1, 2, 3])
def test_built_in_houses_of_every_size_have_their_figures(make: Callable[..., House], storeys: int) -> None:
    houses = [make(area, storeys) for area in (40.0, 80.0, 140.0, 250.0, 500.0)]
    losses = [house.opaque_conductance + house.window_conductance for house in houses]
    assert losses == sorted(losses)
    per_area = [loss / house.floor_area for loss, house in zip(losses, houses, strict=True)]
    assert per_area == sorted(per_area, reverse=True)  # a larger box has less surface for its floor
    assert all("practice" in house.source or "published" in house.source for house in houses)


def test_a_loss_factor_scales_all_losses(demo: Scenario) -> None:
    plain, more = (
        demo.changed({"house": {**OWN, **extra}}).assemble().house
        for extra in ({}, {"heat_loss_factor": 1.4})
    )
    assert plain is not None and more is not None
    for name in ("opaque_conductance", "window_conductance", "ventilation_conductance"):
        assert getattr(more, name) == pytest.approx(1.4 * getattr(plain, name))


@pytest.mark.parametrize(
    ("bill", "share", "water"),
    [
        ({"amount": "620 gal", "efficiency": 0.84, "hot_water": "110 gal"}, 1.0, 110 / 620),
        ({"amount": "620 gal", "efficiency": 0.84, "hot_water_share": 0.2}, 0.7, 0.2),
    ],
)
def test_a_bill_as_heat(demo: Scenario, bill: dict[str, Any], share: float, water: float) -> None:
    heaters = [OIL] if share == 1.0 else [OIL, STOVE]
    found = demo.changed({"house": {**OWN, "bill": bill}, "heating": heaters}).assemble().bill
    assert found is not None
    # 138,500 Btu/gal (EIA, published), 3412.14 Btu/kWh
    assert found.fuel_heat == pytest.approx(620 * 138_500 / 3412.14, rel=1e-5)
    assert found.space_heat == pytest.approx(found.fuel_heat * 0.84 * (1 - water) / share)


REFUSED: list[tuple[dict[str, Any], str]] = [
    ({"heating.fuel": "plutonium"}, r'heating\.fuel: "plutonium" is no fuel'),
    ({"heating": [OIL, {**STOVE, "fuel": "wod"}]}, r'heating\.2\.fuel: "wod" is no fuel'),
    ({"heating": [OIL, {**STOVE, "share": None}, PUMP]}, "more than one heater has no share"),
    ({"heating": [{**OIL, "share": 0.5}, STOVE]}, "the shares of the heaters sum to 0.8"),
    ({"heating": [OIL, {**STOVE, "name": "boiler"}]}, "two heaters have one name"),
    ({"heating.efficiency": None}, r"heating\.efficiency: is missing"),
    ({"heating.full_load": "9 kW"}, "serves efficiency_by_load alone"),
    ({"heating.efficiency_by_load": [[1.0, 0.9], [0.3, 0.8]]}, "by load make no curve"),
    (
        {"heating": [OIL, {**STOVE, "price": "90 EUR/cord", "price_date": DAY}]},
        r"heating\.2\.price: is in EUR",
    ),
    ({"electricity.tariff": [{"price": "0.3 EUR/kWh"}]}, r"electricity\.tariff\.1\.price: is in EUR"),
    ({"electricity.tariff": [{"price": "3 USD/therm"}]}, "the price outside is per kWh"),
    ({"electricity.tariff": [{"price": "0.3 USD/kWh"}] * 2}, "have a price already"),
    (
        {"electricity.price": None, "electricity.tariff": [{"price": "0.3 USD/kWh"}]},
        "hours outside the tariff have no price",
    ),
    ({"fuels": [{**STRAW, "name": "propane"}]}, "is a fuel of the table already"),
    ({"fuels": [STRAW, STRAW]}, "two fuels have this name"),
    ({"fuels": [{**STRAW, "source": " "}]}, "without a source"),
    (
        {"fuels": [{**STRAW, "lower_to_higher": None}], "heating": {"fuel": "straw", "efficiency": 0.8}},
        r"heating\.basis: counts on the higher heating value, but straw is known by its lower",
    ),
    (
        {
            "fuels": [STRAW],
            "heating": {"fuel": "straw", "efficiency": 0.8, "price": "9 USD/gal", "price_date": DAY},
        },
        r"heating\.price: straw is not sold by the gal",
    ),
    ({"parts": [{"name": "pane"}]}, r"economics\.first_cost: is given, and so are \[\[parts\]\]"),
    ({"parts": [{"name": "pane", "quantity": -1}]}, r"parts\.1\.quantity: .* a plain number"),
    ({"parts": [{"name": "pane", "life": "2.5 years"}]}, "no whole number of years"),
    (
        {"economics.first_cost": None, "parts": [{"name": "fan", "price": "9 USD", "life": "5 years"}]},
        "it would be bought twice",
    ),
    ({"house": {**OWN, "bill": {"amount": "9 gal"}, "yearly_fuel": "9 gal"}}, "bill is given twice"),
    ({"house": {**OWN, "bill": {"amount": "9 kg"}}}, r"house\.bill\.amount: is a mass"),
    ({"house": {**OWN, "bill": {"amount": "9 gal", "hot_water": "9 kWh"}}}, "hot_water: is a"),
    ({"house": {**OWN, "bill": {"amount": "9 gal", "hot_water": "9 gal"}}}, "nearly all"),
    ({"house": {**OWN, "bill": {"amount": "9 gal", "basis": "lower"}}}, "belongs to an efficiency"),
    (
        {"heating": PUMP, "house": {**OWN, "bill": {"amount": "9 MWh"}}},
        r"house\.bill: how much of this fuel became heat",
    ),
    (
        {"house": {"floor_area": "9 m2", "elements": [{"name": "w", "area": "9 m2", "layers": [{}]}]}},
        "resistance is not clear",
    ),
]


@pytest.mark.parametrize(("changes", "line"), REFUSED, ids=[line for _, line in REFUSED])
def test_what_does_not_go_together_is_told(demo: Scenario, changes: dict[str, Any], line: str) -> None:
    with pytest.raises(ScenarioError, match=line):
        demo.changed({key: without_nothing(value) for key, value in changes.items()})


def without_nothing(value: Any) -> Any:
    """Drop the keys that a case takes away."""
    if isinstance(value, dict):
        return {key: without_nothing(item) for key, item in value.items() if item is not None}
    return [without_nothing(item) for item in value] if isinstance(value, list) else value


def test_a_problem_in_one_of_several_heaters_is_found_in_the_file(spoilt: Callable[..., Path]) -> None:
    path = spoilt("[electricity]", '[[parts]]\nname = "pane"\n\n[electricity]')
    with pytest.raises(ScenarioError) as caught:
        load(path)
    (line,) = caught.value.problems
    number = next(n for n, text in enumerate(path.read_text().splitlines(), 1) if "first_cost" in text)
    assert line.startswith(f"{path}:{number}:1: economics.first_cost:")


@pytest.mark.parametrize(
    ("key", "there"),
    [
        ("heating.price", True),
        ("heating.2.price", True),
        ("heating.stove.price", True),
        ("heating.1", True),
        ("heating", True),
        ("heating.prize", False),
        ("heating.stove.prize", False),
        ("parts.fan.life", True),
        ("house.bill.amount", True),
        ("electricity.tariff.1.price", True),
    ],
)
def test_keys_of_a_table_that_may_stand_for_a_list(key: str, there: bool) -> None:
    assert key_exists(Inputs, key) is there


@pytest.mark.parametrize("name", ["demo", "demo_metric", "demo_us"])
def test_a_written_scenario_reads_the_same(name: str, tmp_path: Path) -> None:
    given = load(data_path("scenarios", f"{name}.toml"))
    path = tmp_path / f"{name}.toml"
    path.write_text(given.as_toml(("a\nremark",)), encoding="utf-8")
    assert path.read_text(encoding="utf-8").startswith("# a remark\n")
    again = load(path)
    assert again.data == given.data
    assert again.sha256 == given.sha256


def test_odd_keys_and_texts_survive_writing() -> None:
    data = {
        "a b": 'quote " and \\ and \x7f and 🌞\nline',
        "n": 1e-9,
        "yes": True,
        "list": [[1, "x"], {"k": 2.5}],
        "t": {"x.y": {"z": []}, "rows": [{"a": 1, "in": [{"b": DAY}]}, {"a": 2}]},
    }
    assert tomllib.loads(as_toml(data)) == data
