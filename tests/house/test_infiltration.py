"""Wind and stack through leaks against the published formula worked by hand."""

import numpy as np
import pytest

from simengine.errors import RangeError
from simengine.house.infiltration import infiltration_flow, leakage_area
from simengine.house.spec import Leakage


@pytest.mark.parametrize(
    ("area_cm2", "storeys", "shelter", "difference", "wind", "litres"),
    [
        # basic model, coefficients from memory of ASHRAE Handbook of Fundamentals, "Ventilation and
        # infiltration"; its two-storey example, 500 cm2, 39 K, 6.7 m/s, class 4: 66 L/s (from memory)
        pytest.param(500.0, 2, 4, 39.0, 6.7, 66.0, id="two storeys, the handbook's example"),
        # 200 sqrt(0.000145 x 20 + 0.000319 x 16) = 200 x 0.08944; by hand
        pytest.param(200.0, 1, 1, 20.0, 4.0, 17.89, id="one storey in the open"),
        # 800 sqrt(0.000435 x 30) = 800 x 0.11424; by hand
        pytest.param(800.0, 3, 5, -30.0, 0.0, 91.39, id="three storeys, still air, warmer outdoors"),
    ],
)
def test_flow_of_the_basic_model_by_hand(area_cm2, storeys, shelter, difference, wind, litres) -> None:
    leaks = Leakage(area_cm2 / 1e4, storeys, shelter)
    flow = infiltration_flow(leaks, np.array([difference]), np.array([wind]))
    assert flow[0] * 1000.0 == pytest.approx(litres, rel=0.003)


def test_leakage_area_from_a_test_by_hand() -> None:
    # 600 m3/h at 50 Pa -> 600 (4/50)^0.65 = 116.2 m3/h at 4 Pa; sqrt(8/1.2014) = 2.5805 m/s; 125.0 cm2
    assert leakage_area(2.0, 300.0) == pytest.approx(125.0e-4, rel=0.002)


def test_yearly_mean_is_near_a_twentieth_of_the_test_pressure_rate() -> None:
    # common practice: n50/20 within a factor of two; two storeys, class 4, 15 K, 4 m/s
    volume, n50 = 350.0, 10.0
    leaks = Leakage(leakage_area(n50, volume), 2, 4)
    change = infiltration_flow(leaks, np.array([15.0]), np.array([4.0]))[0] * 3600.0 / volume
    assert n50 / 40.0 < change < n50 / 10.0


def test_more_wind_cold_height_and_openness_let_in_more() -> None:
    def flow(storeys=2, shelter=3, difference=20.0, wind=4.0):
        leaks = Leakage(0.05, storeys, shelter)
        return infiltration_flow(leaks, np.array([difference]), np.array([wind]))[0]

    base = flow()
    assert flow(storeys=3) > base > flow(storeys=1)
    assert flow(shelter=2) > base > flow(shelter=4)
    assert flow(wind=6.0) > base > flow(difference=10.0)
    assert flow(difference=0.0, wind=0.0) == 0.0


@pytest.mark.parametrize("leaks", [Leakage(0.05, 4, 3), Leakage(0.05, 2, 6)])
def test_houses_outside_the_table_are_refused(leaks) -> None:
    with pytest.raises(RangeError, match="storeys"):
        infiltration_flow(leaks, np.zeros(1), np.zeros(1))
