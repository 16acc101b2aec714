"""Flow meters of every kind, with the density at the meter."""

from types import SimpleNamespace

import numpy as np
import pytest

from simengine.fieldtest.flow import METERS, meter_flow
from simengine.units import parse

P = 101325.0


def given(unit: str, **more: object) -> SimpleNamespace:
    plain = {"diameter": None, "width": None, "height": None, "profile_factor": 1.0, "curve": ()}
    return SimpleNamespace(unit=unit, **{**plain, **more})


def flow(meter: SimpleNamespace, reading: float, temperature: float, pressure: float = P) -> float:
    return float(meter_flow(meter, [np.array([reading])], np.array([temperature]), pressure)[0])


@pytest.mark.parametrize(
    ("unit", "temperature", "pressure", "expected"),
    [
        # ideal gas, handbook figures for 110 cfm: 0.062 (standard), 0.058 (45 degC), 0.048 (45 degC at
        # 1500 m)
        ("scfm", 318.15, P, 0.0624),
        ("cfm", 318.15, P, 0.0576),
        ("cfm", 318.15, 84556.0, 0.0481),
    ],
)
def test_a_hundred_and_ten_cubic_feet_a_minute(
    unit: str, temperature: float, pressure: float, expected: float
) -> None:
    assert flow(given(unit), 110.0, temperature, pressure) == pytest.approx(expected, abs=1e-4)


def test_volume_at_a_warm_meter_is_less_mass() -> None:
    cold, warm = flow(given("m3/h"), 180.0, 293.15), flow(given("m3/h"), 180.0, 333.15)
    assert warm / cold == pytest.approx(293.15 / 333.15, rel=1e-12)  # ideal gas


def test_a_traverse_counts_by_its_mean() -> None:
    meter = given("m/s", diameter=0.15)
    found = meter_flow(meter, [np.array([v]) for v in (2.0, 3.0, 4.0)], np.array([293.15]), P)
    assert float(found[0]) == pytest.approx(flow(meter, 3.0, 293.15), rel=1e-12)


def test_flat_duct_by_its_sides() -> None:
    flat, round_ = given("m/s", width=0.2, height=0.1), given("m/s", diameter=np.sqrt(0.08 / np.pi))
    assert flow(flat, 3.0, 293.15) == pytest.approx(flow(round_, 3.0, 293.15), rel=1e-9)


def test_a_fan_moves_the_same_volume_in_thin_air() -> None:
    # fan laws: pressure in proportion to density, volume as before
    fan = given("Pa", curve=((0.0, 0.08), (100.0, 0.0)))
    standard = 1.2014
    thin = P * 0.8
    density = thin / (287.05 * 293.15)
    found = flow(fan, 50.0 * density / standard, 293.15, thin)
    assert found / density == pytest.approx(0.04, rel=1e-9)


def test_off_the_curve_there_is_no_flow() -> None:
    assert np.isnan(flow(given("Pa", curve=((10.0, 0.08), (100.0, 0.01))), 200.0, 293.15))


def test_registry_gives_the_function_of_its_name() -> None:
    assert all(meter.__name__ == name for name, meter in METERS.items())


@pytest.mark.parametrize(
    ("text", "kind", "unit", "expected", "tolerance"),
    [
        ("30 kg/h.m2", "mass_flux", 1.0, 0.00833, 1e-5),  # row 8.06: range of the standards, from memory
        ("300 kg/h.m2", "mass_flux", 1.0, 0.0833, 1e-4),  # row 8.06b
        ("0.01 m3/s.m2", "volume_flux", parse("1 cfm/ft2", "volume_flux"), 1.97, 0.01),  # row 8.07
    ],
)
def test_published_air_flows_in_other_units(
    text: str, kind: str, unit: float, expected: float, tolerance: float
) -> None:
    assert parse(text, kind) / unit == pytest.approx(expected, abs=tolerance)
