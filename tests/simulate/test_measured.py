"""The collector driven by what was measured ends at the steady point; a fitted scenario is the fit."""

from typing import Any

import numpy as np
import pytest

from simengine.simulate import resolve
from simengine.simulate.course import Course, pieces
from simengine.simulate.measured import Bench, Factors
from simengine.simulate.operating_point import Conditions, figures
from tests.fieldtest.bench import scenario

FACTORS = Factors(0.9, 1.5, 1.2, 0.06, 1.4)


def course(rows: int, flow: np.ndarray | float = 0.055, sun: float = 800.0) -> Course:
    def held(value: float) -> np.ndarray:
        return np.full(rows, value)

    flows = np.broadcast_to(np.asarray(flow, dtype=float), (rows,)).copy()
    return Course(
        60.0,
        held(275.0),
        held(265.0),
        held(2.0),
        held(293.15),
        flows,
        held(20.0),
        held(sun),
        held(0.0),
        held(0.0),
    )


@pytest.fixture(scope="module")
def bench() -> Bench:
    return Bench.of(resolve(scenario()))


def test_a_held_course_stays_at_the_steady_point(bench: Bench) -> None:
    found = bench.follow(course(60), bench.factors())
    held = figures(
        bench.resolved,
        Conditions(irradiance=800.0, incidence=20.0, ambient=275.0, sky=265.0, inlet=293.15, wind=2.0),
    )
    assert found.outlet == pytest.approx(held["outlet_temperature"], abs=1e-5)


HOLES = {
    "collector.absorber.perforation": {"effectiveness": 0.7, "rated_flow": "0.02 kg/s/m2", "porosity": 0.2}
}
TUBES = {"collector.absorber.tubes": {"diameter": "5 cm", "pitch": "6 cm"}}


@pytest.mark.parametrize(
    ("arrangement", "parts"),
    [("behind", {}), ("both_sides", {}), ("two_pass", {}), ("through", HOLES), ("tubes", TUBES)],
)
def test_a_fitted_scenario_is_the_scenario_with_its_factors(arrangement: str, parts: dict[str, Any]) -> None:
    plain = scenario().changed({"collector.arrangement": arrangement, **parts})
    bench = Bench.of(resolve(plain))
    fitted = plain.changed(
        {
            "fitted": {
                "test_date": "2026-02-14",
                "periods": 9,
                "cover_transmittance": 0.9,
                "back_loss": 1.5,
                "effectiveness": 1.2,
                "leakage": 0.06,
                "duct_loss": 1.4,
            }
        }
    )
    other = Bench.of(resolve(fitted))
    assert other.leakage == pytest.approx(0.06, rel=1e-9)
    one, same = bench.follow(course(30), FACTORS), other.follow(course(30), other.factors())
    for name in ("outlet", "absorber", "supply"):
        assert getattr(same, name) == pytest.approx(getattr(one, name), abs=1e-6)


@pytest.mark.parametrize(
    ("name", "value", "sign"),
    [
        ("cover_transmittance", 1.1, 1.0),
        ("back_loss", 2.0, -1.0),
        ("effectiveness", 1.5, 1.0),
        ("leakage", 0.1, -1.0),
    ],
)
def test_each_factor_moves_the_outlet_its_own_way(name: str, value: float, sign: float, bench: Bench) -> None:
    plain = bench.follow(course(20), Factors()).outlet[-1]
    moved = bench.follow(course(20), Factors()._replace(**{name: value})).outlet[-1]
    assert sign * (moved - plain) > 0.05


def test_duct_loss_is_the_exact_exponential(bench: Bench) -> None:
    once, twice = (bench.follow(course(5), Factors(duct_loss=f)) for f in (1.0, 2.0))
    kept = (once.supply - 275.0) / (once.outlet - 275.0)
    assert (twice.supply - 275.0) / (twice.outlet - 275.0) == pytest.approx(kept**2, rel=1e-9)


def test_a_fan_that_rests_lets_the_absorber_get_hot(bench: Bench) -> None:
    flow = np.where(np.arange(60) < 30, 0.055, 0.0)
    found = bench.follow(course(60, flow), Factors())
    assert found.absorber[-1] > found.absorber[29] + 20.0


def test_stretches_of_equal_flow_cover_every_row_once() -> None:
    flow = np.concatenate([np.zeros(5), np.full(20, 0.05), np.full(10, 0.03), np.zeros(3)])
    found = list(pieces(flow * (1.0 + 0.01 * np.sin(np.arange(38)))))
    assert [first for first, _, _ in found] == [0, 5, 25, 35]
    assert [end for _, end, _ in found] == [5, 25, 35, 38]
    assert found[0][2] == found[3][2] == 0.0
