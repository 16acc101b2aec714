"""Printed figures of flat-plate theory that the air stream and the radiation relations must give back."""

import pytest
from scipy.optimize import brentq

from simengine.collector.airstream import moving_air, thinning_stream
from simengine.heat_transfer.radiation import radiative_coefficient


@pytest.mark.parametrize(
    ("factor", "printed", "tolerance"),
    [
        # From memory of Duffie and Beckman's worked example (U_L 8, F' 0.841, 0.03 kg/s of water, 2 m2)
        (1.0, 0.948, 0.002),  # collector flow factor F'' at m c/(A U_L F') = 9.34
        (0.841, 0.80, 0.005),  # heat removal factor F_R = F' F''
    ],
)
def test_mean_of_the_stream_is_the_collector_flow_factor(
    factor: float, printed: float, tolerance: float
) -> None:
    _, _, mean = thinning_stream(1.0, moving_air(9.34), 1.0, 1.0, 1.0)
    assert factor * mean == pytest.approx(printed, abs=tolerance)


@pytest.mark.parametrize(
    ("reflectance", "emittance", "printed"),
    [
        # ASTM E1980, medium wind: 1000 W/m2, air 37 C, sky 27 C, film 12 W/m2K; from memory, reproduced
        (0.05, 0.90, 82.6),
        (0.80, 0.90, 44.7),
    ],
)
def test_surface_in_the_sun_as_in_astm_e1980(reflectance: float, emittance: float, printed: float) -> None:
    air, sky = 310.15, 300.15

    def left_over(surface: float) -> float:
        radiated = radiative_coefficient(surface, sky, emittance) * (surface - sky)
        return (1.0 - reflectance) * 1000.0 - radiated - 12.0 * (surface - air)

    assert brentq(left_over, 280.0, 400.0) - 273.15 == pytest.approx(printed, abs=1.0)


def test_efficiency_line_of_a_two_cover_air_collector() -> None:
    """F_R(tau alpha) 0.49, F_R U_L 2.84 W/m2K, 20 K, 600 W/m2: 0.395 (from memory, reproduced).

    The stream of the march with that loss gives the same useful heat as the line.
    """
    sun, difference, capacity = 600.0, 20.0, 50.0
    # F_R = F' F'' with the stream's own mean; a wall at (S/U_L) above ambient heats the stream
    wall = 2.84 / thinning_stream(2.84, moving_air(capacity), 1.0, 1.0, 1.0)[2]
    for _ in range(50):
        wall = 2.84 / thinning_stream(wall, moving_air(capacity), 1.0, 1.0, 1.0)[2]
    _, end, _ = thinning_stream(wall, moving_air(capacity), 1.0, 1.0, 1.0)
    asymptote = 0.49 * sun / 2.84 - difference
    assert capacity * (1.0 - end) * asymptote / sun == pytest.approx(0.395, abs=0.001)
