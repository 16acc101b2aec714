"""The three-number loop against the loop itself, and its inverse."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simengine.airflow.circuit import loop_pressure
from simengine.airflow.parts import (
    Bend,
    Channel,
    Filter,
    FlexibleDuct,
    PerforatedSheet,
    RoundDuct,
    inlet_port,
    outlet_port,
)
from simengine.airflow.resistance import fit_resistance, flow_at_pressure, pressure_at_flow

PORTS = [inlet_port("intake", 0.1524), outlet_port("supply", 0.1524)]
LOOPS = {
    "back pass": [
        *PORTS,
        RoundDuct("duct", 6.0, 0.1524),
        Bend("bend", 0.1524),
        Channel("air", 2.4, 1.2, 0.025),
    ],
    "wall": [*PORTS, Channel("air", 2.4, 1.2, 0.04)],
    "flexible": [*PORTS, FlexibleDuct("duct", 5.0, 0.1524), Filter("filter", 0.06, 1.0, 25.0)],
    "perforated": [*PORTS, PerforatedSheet("sheet", 2.88, 1.6e-3, 0.00823)],
    "long duct": [*PORTS, RoundDuct("duct", 30.0, 0.1524)],
}


@pytest.mark.parametrize("name", LOOPS)
def test_fit_is_within_one_percent(name):
    fit = fit_resistance(lambda flow: loop_pressure(LOOPS[name], flow, 101325.0), 0.1)
    assert fit.largest_error < 0.01
    for flow in np.linspace(fit.smallest_flow, fit.largest_flow, 37):
        expected = loop_pressure(LOOPS[name], float(flow), 101325.0)
        assert pressure_at_flow(fit.coefficients, flow) == pytest.approx(expected, rel=0.0101)


def test_poor_fit_says_so():
    lone = [Channel("air", 2.4, 1.2, 0.012)]
    fit = fit_resistance(lambda flow: loop_pressure(lone, flow, 101325.0), 0.1)
    assert fit.largest_error > 0.01


def test_coefficients_are_never_negative():
    for parts in LOOPS.values():
        fit = fit_resistance(lambda flow, parts=parts: loop_pressure(parts, flow, 101325.0), 0.1)
        assert fit.coefficients.min() >= 0.0


coefficient = st.one_of(st.just(0.0), st.floats(1e-3, 1e5))


@settings(derandomize=True, deadline=None, max_examples=50)
@given(coefficient, coefficient, st.floats(1e-3, 1e5), st.floats(1e-5, 10.0))
def test_flow_and_pressure_are_inverse(square, friction, laminar, flow):
    row = np.array([square, friction, laminar])
    assert flow_at_pressure(row, pressure_at_flow(row, flow)) == pytest.approx(flow, rel=1e-9)


def test_no_pressure_no_flow():
    for row in ([1e4, 0.0, 0.0], [0.0, 1e3, 0.0], [1e4, 1e3, 10.0]):
        assert flow_at_pressure(np.array(row), 0.0) == 0.0
        assert flow_at_pressure(np.array(row), -5.0) == 0.0
