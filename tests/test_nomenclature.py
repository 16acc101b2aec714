"""The nomenclature: complete, consistent, and in units that an independent library reads."""

import dataclasses
import math
import re

import pint
import pytest

from simengine.nomenclature import QUANTITIES, Quantity
from simengine.units import KINDS
from tests.contracts.summary_keys import NUMBERS

MONEY = (
    "saved",
    "money_saved",
    "fan_cost",
    "net_saving",
    "first_cost",
    "simple_payback_a",
    "discounted_payback_a",
    "npv",
    "saving_to_investment",
    "irr",
    "levelised_heat_cost",
    "break_even_price",
)

WITHOUT_A_UNIT = {"currency", "unit of sale"}
SPELT_FOR_PINT = {"K day": "K * day", "1": "dimensionless"}


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize("key", [*NUMBERS, *MONEY])
def test_every_key_of_the_summary_is_explained(key: str) -> None:
    assert QUANTITIES[key].meaning


@pytest.mark.parametrize("quantity", QUANTITIES.values(), ids=lambda q: q.name)
def test_each_quantity_is_complete(quantity: Quantity, registry: pint.UnitRegistry) -> None:
    assert quantity.symbol and quantity.unit and quantity.meaning
    assert quantity.low < quantity.high
    assert math.isfinite(quantity.low) and math.isfinite(quantity.high)
    assert quantity.kind == "" or quantity.kind in KINDS
    if quantity.unit not in WITHOUT_A_UNIT:
        registry.parse_units(SPELT_FOR_PINT.get(quantity.unit, re.sub(r"m([23])", r"m**\1", quantity.unit)))


@pytest.mark.parametrize("quantity", QUANTITIES.values(), ids=lambda q: q.name)
def test_the_attributes_are_text_for_a_dataset(quantity: Quantity) -> None:
    attributes = quantity.attributes()
    assert set(attributes) == {"units", "long_name", "cell_methods"}
    assert all(isinstance(value, str) and value for value in attributes.values())
    assert attributes["cell_methods"] in ("time: mean", "time: sum", "time: maximum")


def test_a_quantity_that_can_be_negative_says_what_positive_means() -> None:
    signed = [q for q in QUANTITIES.values() if q.low == -q.high]
    assert signed
    assert all(q.sign.startswith("positive: ") for q in signed)


def test_names_are_their_own_keys() -> None:
    assert all(name == quantity.name for name, quantity in QUANTITIES.items())


def test_limits_tell_a_defect_from_a_number() -> None:
    room = QUANTITIES["room_temperature"]
    assert room.plausible(293.15)
    assert not room.plausible(20.0)  # degC where K is due
    assert not room.plausible(math.nan)
    assert not QUANTITIES["fan_on"].plausible(1.5)


def test_a_quantity_cannot_be_changed() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        QUANTITIES["incident"].unit = "kW"  # type: ignore[misc]
