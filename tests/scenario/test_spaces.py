"""Spaces of a scenario: what they become, and what is refused with a sentence."""

from typing import Any

import pytest

from simengine.data_files import data_path
from simengine.engine.state import HEATED_SPACE, OUTDOORS, SECOND_SPACE
from simengine.errors import ScenarioError
from simengine.scenario import Scenario, load
from simengine.scenario.schema import choices

CELLAR: dict[str, Any] = {"floor_area": "70 m2"}
OWN: dict[str, Any] = {"floor_area": "100 m2", "opaque_conductance": "120 W/K"}


@pytest.fixture(scope="module")
def demo() -> Scenario:
    return load(data_path("scenarios", "demo.toml"))


def test_the_words_are_the_numbers_of_the_march() -> None:
    numbers = (HEATED_SPACE, SECOND_SPACE, OUTDOORS)
    assert [choices.INTAKES[number] for number in numbers] == ["room", "second_space", "outdoors"]
    assert choices.INTAKES[:2] == choices.SUPPLIES


def test_nothing_said_is_room_to_room(demo: Scenario) -> None:
    spaces = demo.assemble(98_000.0).spaces
    assert (spaces.intake, spaces.supply, spaces.second) == ("room", "room", None)


def test_a_cellar_in_si(demo: Scenario) -> None:
    given = {
        "lies": "beside",
        "floor_area": "500 ft2",
        "ceiling_height": "7 ft",
        "coupling": "30 W/K",
        "door_flow": "20 cfm",
        "ground_conductance": "40 W/K",
        "setpoint": "12 degC",
        "heating_capacity": "2 kW",
        "ground_temperature": "10 degC",
    }
    spaces = demo.changed({"second_space": given, "air.intake": "second_space"}).assemble(98_000.0).spaces
    space = spaces.second
    assert space is not None
    assert (spaces.below, spaces.coupling) == (False, True)
    assert space.floor_area == pytest.approx(500.0 * 0.3048**2)
    assert space.volume == pytest.approx(3500.0 * 0.3048**3)
    assert space.door_flow == pytest.approx(20.0 * 0.3048**3 / 60.0)
    assert space.setpoint == (pytest.approx(285.15),) * 24
    assert (space.heating_capacity, space.air_change) == (2000.0, pytest.approx(0.2))
    assert space.ground.temperature == pytest.approx(283.15)


def test_leaks_of_the_own_house(demo: Scenario) -> None:
    blown = {**OWN, "infiltration": "wind_and_stack", "air_changes_at_50_pa": "8 1/h", "storeys": 1}
    house = demo.changed({"house": blown}).assemble(98_000.0).house
    assert house is not None
    assert house.leakage is not None
    # 250 m3 x 8 1/h x (4/50)^0.65 = 387.3 m3/h at 4 Pa; over sqrt(8/1.2014) m/s: 416.9 cm2; by hand
    assert house.leakage.area == pytest.approx(416.9e-4, rel=0.002)
    assert house.leakage.storeys == 1
    assert house.ventilation_conductance == 0.0
    area = {**OWN, "infiltration": "wind_and_stack", "leakage_area": "80 in2"}
    house = demo.changed({"house": area}).assemble(98_000.0).house
    assert house is not None
    assert house.leakage is not None
    assert house.leakage.area == pytest.approx(80.0 * 0.0254**2)


def test_heat_recovery_is_known_besides_what_is_lost(demo: Scenario) -> None:
    vented = {**OWN, "air_changes": "0.1 1/h", "mechanical_ventilation": "0.4 1/h", "heat_recovery": 0.75}
    house = demo.changed({"house": vented}).assemble(98_000.0).house
    assert house is not None
    # 250 m3 x 1200 J/m3K / 3600: 83.33 W/K for an air change an hour
    assert house.ventilation_conductance == pytest.approx(83.333 * 0.2, rel=1e-4)
    assert house.recovered_conductance == pytest.approx(83.333 * 0.3, rel=1e-4)


BAD = {
    "no such space": ({"air.intake": "second_space"}, "air.intake: is a space that nothing is known of"),
    "nor to give to": ({"air.supply": "second_space"}, "air.supply: is a space that nothing is known of"),
    "not outdoors": ({"air.supply": "outdoors"}, "air.supply"),
    "a wall of the room": (
        {"second_space": CELLAR, "air.intake": "second_space", "air.supply": "second_space"},
        "collector.mounting: is a wall of the heated space",
    ),
    "beside, but how": ({"second_space": {**CELLAR, "lies": "beside"}}, "nothing says how it is joined"),
    "own floor unknown": ({"second_space": CELLAR, "house": OWN}, "second_space.coupling: is not known"),
    "heater without a wish": (
        {"second_space": {**CELLAR, "heating_capacity": "1 kW"}},
        "second_space.heating_capacity: is the capacity of a heater without a setpoint",
    ),
    "no leaks to blow through": (
        {"house": {**OWN, "infiltration": "wind_and_stack"}},
        "house.infiltration: the leaks that wind and stack drive air through are not clear",
    ),
    "air change twice": (
        {
            "house": {
                **OWN,
                "infiltration": "wind_and_stack",
                "leakage_area": "80 in2",
                "air_changes": "0.3 1/h",
            }
        },
        "house.air_changes: the air change is given, and calculated",
    ),
    "a roof of another space": (
        {
            "air": {"intake": "second_space", "supply": "second_space"},
            "second_space": {"floor_area": "60 m2"},
            "collector.mounting": "roof",
            "collector.wall_resistance": "3 m2K/W",
        },
        "collector.mounting: is a roof of the heated space, but the air goes round through the second space",
    ),
    "leaks that nobody asks for": (
        {"house": {**OWN, "leakage_area": "80 in2"}},
        "house.leakage_area: serves wind_and_stack alone",
    ),
}


@pytest.mark.parametrize(("changes", "told"), BAD.values(), ids=BAD)
def test_what_does_not_go_together_is_told(demo: Scenario, changes: dict[str, Any], told: str) -> None:
    with pytest.raises(ScenarioError) as caught:
        demo.changed(changes)
    assert told in str(caught.value)
