"""Each usual band lies inside its bounds: inside of it all is silent, outside of it there is one note."""

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from pydantic import BaseModel
from pydantic_core import PydanticUndefined

from simengine.data_files import data_path
from simengine.scenario import Scenario, load
from simengine.scenario.schema import Inputs
from simengine.scenario.schema.fields import Many, Of
from simengine.scenario.schema.reading import Section
from simengine.scenario.schema.walk import fields_by_key, models_in, reader_of
from simengine.scenario.unusual import MOST, unusual
from simengine.simulate import resolve
from simengine.simulate.unusual import unusual_notes
from simengine.units import parse


def sections(model: type[BaseModel] = Inputs) -> Iterator[type[BaseModel]]:
    yield model
    for field in model.model_fields.values():
        for inner in models_in(field.annotation):
            yield from sections(inner)


BANDS = {
    f"{model.__name__}.{key}": (model, key, reader, each)
    for model in dict.fromkeys(sections())
    for key, field in fields_by_key(model).items()
    for reader in (reader_of(field),)
    for each in (reader.each if isinstance(reader, Many) else reader,)
    if isinstance(each, Of) and each.usual
}


def notes(model: type[BaseModel], key: str, reader: Any, value: float) -> list[str]:
    """Return what is told of a section that holds one value."""
    held = (value,) * reader.count if isinstance(reader, Many) else value
    section = model.model_construct(**{**dict.fromkeys(model.model_fields), key: held})
    assert isinstance(section, Section)
    return unusual(section, "si")


def test_many_keys_have_a_band() -> None:
    assert len(BANDS) > 60
    assert {"Pane.gap", "LoopDuct.length", "Element.u_value", "House.setpoint", "Collector.tilt"} <= set(
        BANDS
    )


@pytest.mark.parametrize("name", BANDS)
def test_a_band_lies_inside_its_bounds_and_has_a_reason(name: str) -> None:
    _, _, _, each = BANDS[name]
    assert each.usual is not None and each.low is not None and each.high is not None
    low, high = (parse(end, each.kind) for end in each.usual)
    least, most = parse(each.low, each.kind), parse(each.high, each.kind)
    assert least <= low < high <= most
    assert least < low or high < most, "a band as wide as the bounds says nothing"
    assert (each.beyond and each.beyond[0].islower()) or each.beyond[0].isdigit()
    assert f"usual {each.usual[0]} to {each.usual[1]}" in each.accepts()


@pytest.mark.parametrize("name", BANDS)
def test_inside_silent_outside_one_note(name: str) -> None:
    model, key, reader, each = BANDS[name]
    assert each.usual is not None
    low, high = (parse(end, each.kind) for end in each.usual)
    least, most = parse(each.low or "", each.kind), parse(each.high or "", each.kind)
    for value in (low, 0.5 * (low + high), high, parse(each.example()[1:-1], each.kind)):
        assert notes(model, key, reader, value) == []
    for bound, edge in ((least, low), (most, high)):
        if bound != edge:
            for value in (bound, 0.5 * (bound + edge)):
                (note,) = notes(model, key, reader, value)
                assert note.startswith(f"{key}: ") and each.beyond in note and "is unusual; usual is" in note


@pytest.mark.parametrize("name", BANDS)
def test_a_default_is_usual(name: str) -> None:
    model, key, _, each = BANDS[name]
    default = fields_by_key(model)[key].default
    if isinstance(default, str | int | float) and default is not PydanticUndefined:
        assert not each.unusual(each.read(default))


@pytest.mark.parametrize("demo", ["demo", "demo_metric", "demo_us"])
def test_nothing_is_unusual_in_the_examples(demo: str) -> None:
    assert unusual_notes(resolve(load(data_path("scenarios", f"{demo}.toml")))) == []


@pytest.fixture(scope="module")
def demo() -> Scenario:
    return load(data_path("scenarios", "demo.toml"))


THREE_PANES = [{"gap": "4 mm"}, {"gap": "4 mm"}, {}]
ODD = {
    "narrow gaps": (
        {"collector.cover": THREE_PANES},
        ("collector.cover.1.gap", "collector.cover.2.gap"),
        "0.1575 in",
    ),
    "a long duct": ({"ducts.supply.length": "40 m"}, ("ducts.1.length",), "0 m to 25 m"),
    "nearly flat": ({"collector.tilt": "5 deg"}, ("collector.tilt",), "snow"),
    "much air": ({"fan.flow": "400 cfm"}, ("fan",), "of air per m2 of collector is unusual"),
    "little air": ({"fan.flow": "20 cfm"}, ("fan",), "usual is 30 to 150"),
    "a hot room": (
        {
            "house": {
                "floor_area": "90 m2",
                "like": "standard",
                "setpoint": "30 degC",
                "vent_limit": "31 degC",
            }
        },
        ("house.setpoint",),
        "12 degC to 26 degC",
    ),
    "a sheet for a wall": (
        {"house": {"floor_area": "90 m2", "elements": [{"name": "w", "area": "9 m2", "u_value": "6 W/m2K"}]}},
        ("house.elements.1.u_value",),
        "a bare sheet",
    ),
    "dear oil": ({"heating.price": "79 USD/gal"}, ("heating_oil",), "is the unit of the price right?"),
    "cheap oil": ({"heating.price": "0.02 USD/gal"}, ("heating_oil",), "USD for a kWh"),
}


@pytest.mark.parametrize(("changes", "keys", "words"), ODD.values(), ids=ODD)
def test_what_is_unusual_is_told_once(
    demo: Scenario, changes: dict[str, Any], keys: tuple[str, ...], words: str
) -> None:
    told = unusual_notes(resolve(demo.changed(changes)))
    assert tuple(note.partition(": ")[0] for note in told) == keys
    assert all(words in note for note in told)


def test_prices_in_other_money_are_not_judged(demo: Scenario) -> None:
    changes = {"heating.price": "9000 KRW/gal", "electricity": None, "economics": None, "parts": None}
    assert unusual_notes(resolve(demo.changed(changes))) == []


def test_very_many_are_cut_short(demo: Scenario) -> None:
    windows = [{"azimuth": "180 deg", "area": "1 m2", "u_value": "9 W/m2K"}] * 30
    changed = demo.changed({"house": {"floor_area": "90 m2", "like": "standard", "windows": windows}})
    told = unusual(changed.inputs, "si")
    assert len(told) == MOST + 1 and told[-1] == "10 more values are unusual."


def test_the_readings_of_the_examples_are_toml() -> None:
    assert all(tomllib.loads(f"x = {each.example()}") for _, _, _, each in BANDS.values())
