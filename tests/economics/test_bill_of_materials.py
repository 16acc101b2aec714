"""First cost of a build from its parts."""

import pytest

from simengine.economics.bill_of_materials import Part, bill_of_materials, replacements
from simengine.errors import InputError

# An invented build.
PARTS = [
    Part("tempered pane", 2.0, 45.0),
    Part("dark screen", 3.2, 4.5, "m2"),
    Part("fan", 1.0, 70.0, life=8),
    Part("switch", 1.0, 20.0, life=5),
    Part("duct from the shed", 2.0, 0.0, "m"),
]


def test_first_cost_is_the_sum():
    bill = bill_of_materials(PARTS)
    assert bill.first_cost == pytest.approx(90.0 + 14.4 + 70.0 + 20.0)
    assert bill.notes == ()


def test_parts_that_cost_nothing_are_allowed_and_said():
    bill = bill_of_materials([Part("old window", 1.0, 0.0), Part("old fan", 1.0, 0.0)])
    assert bill.first_cost == 0.0
    assert "costs nothing" in bill.notes[0]


def test_a_missing_price_leaves_the_cost_open():
    bill = bill_of_materials([*PARTS, Part("flashing", 3.0, None, "m")])
    assert bill.first_cost is None
    assert bill.unpriced == ("flashing",)
    assert "flashing" in bill.notes[0]


def test_no_parts_no_cost():
    bill = bill_of_materials([])
    assert bill.first_cost is None
    assert bill.notes == ("no parts are listed",)


def test_all_bad_lines_are_named_at_once():
    with pytest.raises(InputError) as caught:
        bill_of_materials([Part("a", -1.0, 1.0), Part("b", 1.0, -1.0), Part("c", 1.0, 1.0)])
    assert len(caught.value.problems) == 2


def test_parts_are_bought_again_at_the_end_of_their_lives():
    # Hand count over 16 years: switch in 5, 10, 15; fan in 8 (not in 16, the end).
    assert replacements(bill_of_materials(PARTS), 16) == ((5, 20.0), (8, 70.0), (10, 20.0), (15, 20.0))
