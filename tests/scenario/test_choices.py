"""The names that a scenario offers are the very keys of the other rooms' registries."""

from simengine.air.gases import GASES
from simengine.collector import constructions
from simengine.collector.angular import FALL_OFFS
from simengine.collector.build import ARRANGEMENTS
from simengine.control.spec import SENSOR_PLACES
from simengine.economics.fuels import FUELS
from simengine.economics.spec import BASES, MONEY_BASES
from simengine.heat_transfer.perforated_plate import POROSITIES
from simengine.heat_transfer.wind import WIND_RELATIONS
from simengine.scenario.air_path import BOXES
from simengine.scenario.schema import choices
from simengine.scenario.schema.heating import Heating
from simengine.scenario.schema.money import Economics
from simengine.scenario.schema.walk import reader_of
from simengine.sun import CLEAR_SKIES, SKY_MODELS, TERRAINS


def test_each_choice_is_a_registry() -> None:
    assert tuple(ARRANGEMENTS) == choices.ARRANGEMENTS
    assert set(BOXES) == set(ARRANGEMENTS)
    bare = {name for name, path in ARRANGEMENTS.items() if path.front_inlet == 0.0}
    assert set(choices.BARE_ARRANGEMENTS) == bare
    assert set(choices.FALL_OFFS) == set(FALL_OFFS)
    assert set(choices.SENSOR_PLACES) == set(SENSOR_PLACES)
    assert set(choices.TERRAINS) == set(TERRAINS)
    assert set(choices.TRANSPOSITIONS) == set(SKY_MODELS)
    assert set(choices.CLEAR_SKIES) == set(CLEAR_SKIES)
    assert set(choices.WIND_RELATIONS) == set(WIND_RELATIONS)
    assert set(choices.GASES) == set(GASES)
    assert set(choices.LAYOUTS) == set(POROSITIES)


def test_each_table_is_the_other_rooms_own() -> None:
    assert choices.pane_keys() is constructions.PANES
    assert choices.absorber_keys() is constructions.ABSORBERS
    assert choices.layer_keys() is constructions.LAYERS
    assert choices.lining_keys() is constructions.LININGS
    assert choices.fuel_keys() is FUELS


def test_bases_are_those_of_the_money_side() -> None:
    heating, economics = (reader_of(m.model_fields["basis"]) for m in (Heating, Economics))
    assert heating is not None and economics is not None
    assert tuple(heating.json()["enum"]) == BASES
    assert tuple(economics.json()["enum"]) == MONEY_BASES
