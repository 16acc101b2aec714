"""Laws of a whole year with a fan that switches: never worse by more than 0.5 % of what the year saves.

A switch gives a fan new minutes whenever a collector changes a little, so that a law holds in the sum of a
year and not to the last joule; with the fan always on (`test_heat_laws`) it holds exactly.
"""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from simengine.collector.network import Forcing
from simengine.collector.spec import Collector, Layer
from simengine.control.spec import ControlRule
from simengine.engine.ledger import Column
from simengine.house.presets import low_energy, standard
from simengine.house.spec import House
from tests.engine.drive import BOX, SNAP, Ran, go, go_house, plan_of, real_member, start

pytestmark = pytest.mark.slow

HOUSES = {"standard": standard(140.0), "low_energy": low_energy(140.0)}
DIFFERENTIAL = ControlRule(start=8.0, stop=2.5, reference_weight=1.0)
RULES = {"snap": SNAP, "differential": DIFFERENTIAL}
SLACK = 0.005
DEFAULT_STEP = 90.0


@cache
def bare(house: House) -> float:
    """Return the heating of a year without a collector [J]."""
    whole = real_member(BOX, house=house)
    return float(go_house(whole, plan_of(whole, step=DEFAULT_STEP))[0][:, 0, 0].sum())


def year(collector: Collector, rule: ControlRule, house: House, share: float = 1.0) -> Ran:
    """March a year, with more or less sun on the collector than there was."""
    whole = real_member(collector, rule, house)
    scaled = Forcing(whole.forcing.weather * np.array([1.0, 1.0, 1.0, share]), whole.forcing.absorbed * share)
    plan = plan_of(real_member(BOX, rule), step=DEFAULT_STEP)  # one plan for all
    return go(whole._replace(forcing=scaled), plan, start(whole))


def offsets(ran: list[Ran], house: House) -> np.ndarray:
    return bare(house) - np.array([one.total(Column.HEATING) for one in ran])


def rises(values: np.ndarray) -> bool:
    return bool(np.all(np.diff(values) >= -SLACK * np.abs(values[1:])) and values[-1] > values[0])


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("house", HOUSES)
def test_a_bigger_collector_never_makes_a_house_heat_more(house, rule) -> None:
    widths = (0.6, 0.9, 1.2, 1.8, 2.7)
    ran = [year(replace(BOX, width=width), RULES[rule], HOUSES[house]) for width in widths]
    assert rises(offsets(ran, HOUSES[house]))


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("house", HOUSES)
def test_a_better_insulated_back_never_saves_less(house, rule) -> None:
    ran = []
    for conductivity in (0.2, 0.1, 0.05, 0.025, 0.0125):
        layer = Layer("wool", 0.05, conductivity, 60.0, 840.0, "mineral_wool")
        box = replace(BOX, back=replace(BOX.back, layers=(layer,)))
        ran.append(year(box, RULES[rule], HOUSES[house]))
    assert rises(offsets(ran, HOUSES[house]))
    assert rises(np.array([one.total(Column.DELIVERED) for one in ran]))


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("house", HOUSES)
def test_more_sun_never_saves_less(house, rule) -> None:
    ran = [year(BOX, RULES[rule], HOUSES[house], share) for share in (0.6, 0.8, 0.9, 1.0, 1.1)]
    assert rises(offsets(ran, HOUSES[house]))
    assert rises(np.array([one.total(Column.DELIVERED) for one in ran]))


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("house", HOUSES)
def test_a_year_saves_no_more_than_the_air_brings(house, rule) -> None:
    ran = year(BOX, RULES[rule], HOUSES[house])
    offset = float(offsets([ran], HOUSES[house])[0])
    brought = ran.total(Column.DELIVERED) - ran.total(Column.NIGHT_LOSS)
    assert 0.0 < offset < brought
