"""The sampler: strata, spreads against scipy and closed forms, bounds, seeds."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from simengine.batch.sample import draw, latin_hypercube, quantiles
from simengine.batch.usual_spread import USUAL, spreads_of
from simengine.data_files import data_path
from simengine.errors import InputError
from simengine.scenario import Scenario, load
from simengine.scenario.schema.at_key import at_key
from simengine.scenario.schema.drawn import Drawn

OPEN = (-math.inf, math.inf)


@pytest.fixture(scope="module")
def demo() -> Scenario:
    return load(data_path("scenarios", "demo_us.toml"))


@settings(derandomize=True, deadline=None, max_examples=20)
@given(keys=st.integers(1, 6), count=st.integers(1, 40), seed=st.integers(0, 1000))
def test_every_stratum_of_every_key_is_met_once(keys: int, count: int, seed: int) -> None:
    # definition of a Latin hypercube (McKay, Beckman, Conover 1979): mathematics
    strata = np.floor(latin_hypercube(keys, count, seed) * count).astype(int)
    assert (np.sort(strata, axis=0) == np.arange(count)[:, None]).all()


def test_a_seed_draws_the_same_members_and_another_seed_others(demo: Scenario) -> None:
    spreads = spreads_of(demo.inputs)
    first, again, other = (draw(demo.inputs, spreads, 12, seed) for seed in (5, 5, 6))
    assert [first.changes(i) for i in range(12)] == [again.changes(i) for i in range(12)]
    assert [first.changes(i) for i in range(12)] != [other.changes(i) for i in range(12)]


@pytest.mark.parametrize(
    ("kind", "terms", "closed"),
    [  # quantile functions in closed form: mathematics
        ("uniform", {"from": 2.0, "to": 6.0}, lambda p: 2.0 + 4.0 * p),
        (
            "triangular",
            {"from": 0.0, "most": 1.0, "to": 4.0},
            lambda p: np.where(p < 0.25, np.sqrt(4.0 * p), 4.0 - np.sqrt(12.0 * (1.0 - p))),
        ),
        ("normal", {"mean": 3.0, "deviation": 2.0}, lambda p: 3.0 + 2.0 * stats.norm.ppf(p)),
        ("lognormal", {"median": 3.0, "factor": 2.0}, lambda p: 3.0 * 2.0 ** stats.norm.ppf(p)),
    ],
)
def test_spreads_against_their_closed_forms(kind: str, terms: dict[str, float], closed: object) -> None:
    shares = np.linspace(0.01, 0.99, 99)
    expected = closed(shares)  # type: ignore[operator]
    assert quantiles(kind, terms, OPEN, shares) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("ends", [(2.0, 5.0), (-math.inf, 3.0), (4.0, math.inf)])
def test_a_cut_normal_spread_is_scipys(ends: tuple[float, float]) -> None:
    shares = np.linspace(0.02, 0.98, 25)
    low, high = ((end - 3.0) / 2.0 for end in ends)
    oracle = stats.truncnorm(low, high, 3.0, 2.0).ppf(shares)  # general-purpose library
    assert quantiles("normal", {"mean": 3.0, "deviation": 2.0}, ends, shares) == pytest.approx(
        oracle, rel=1e-7
    )


def test_drawn_values_stay_within_the_bounds_of_their_key(demo: Scenario) -> None:
    wide = {"collector.tilt": Drawn("normal", "value", (("mean", "85 deg"), ("deviation", "20 deg")))}
    sample = draw(demo.inputs, wide, 200, 1)
    low, high = at_key(demo.inputs, "collector.tilt").bounds
    assert low is not None and high is not None
    assert sample.columns[0].numbers.min() >= low and sample.columns[0].numbers.max() <= high
    for member in (0, 77, 199):
        demo.changed(sample.changes(member))


def test_a_spread_outside_of_the_bounds_is_refused(demo: Scenario) -> None:
    far = {"collector.dirt_factor": Drawn("uniform", "factor", (("from", 3.0), ("to", 4.0)))}
    with pytest.raises(InputError, match=r"^collector\.dirt_factor: of the spread nothing lies within"):
        draw(demo.inputs, far, 4, 1)


def test_a_factor_keeps_the_unit_of_sale_and_a_shift_moves_every_hour(demo: Scenario) -> None:
    spreads = {
        "heating.price": Drawn("uniform", "factor", (("from", 2.0), ("to", 2.0001))),
        "house.setpoint": Drawn("uniform", "shift", (("from", "1 K"), ("to", "1.0001 K"))),
    }
    changed = demo.changed(draw(demo.inputs, spreads, 1, 1).changes(0)).inputs
    assert len(changed.heating) == len(demo.inputs.heating) == 1
    assert changed.heating[0].price is not None and demo.inputs.heating[0].price is not None
    assert changed.heating[0].price.unit == demo.inputs.heating[0].price.unit
    assert changed.heating[0].price.value == pytest.approx(2.0 * demo.inputs.heating[0].price.value, rel=1e-4)
    assert changed.house is not None and demo.inputs.house is not None
    assert np.subtract(changed.house.setpoint, demo.inputs.house.setpoint) == pytest.approx(1.0, abs=1e-3)


def test_a_weighted_choice_is_met_by_its_weight(demo: Scenario) -> None:
    choice = Drawn("choice", "value", (("values", ("city", "open")), ("weights", (3.0, 1.0))))
    column = draw(demo.inputs, {"site.terrain": choice}, 40, 1).columns[0]
    assert column.raws.count("city") == 30  # strata make the count exact: mathematics
    assert not column.ordered


def test_usual_spreads_are_of_keys_that_the_scenario_has(demo: Scenario) -> None:
    found = spreads_of(demo.inputs)
    assert {"site.wind_shelter", "collector.leak.flow", "house.heat_loss_factor", "heating.price"} <= set(
        found
    )
    bare = demo.changed({"house": None, "heating": None, "collector.leak": None})
    assert not {"collector.leak.flow", "house.heat_loss_factor", "heating.price"} & set(
        spreads_of(bare.inputs)
    )
    assert all(usual.source for usual in USUAL.values())


def test_the_scenario_goes_before_the_usual_spread(demo: Scenario) -> None:
    vary = {"site.wind_shelter": False, "site.weather": ["builtin:greensboro", "builtin:denver"]}
    found = spreads_of(demo.changed({"spread": {"vary": vary}}).inputs)
    assert "site.wind_shelter" not in found
    assert found["site.weather"].kind == "choice"
    assert not {"site.warmer", "site.sun_factor"} & set(found)  # years are given by name
