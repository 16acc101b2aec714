"""Wind at the collector: the power law by hand, and its order by terrain."""

import numpy as np
import pytest

from simengine.errors import InputError
from simengine.sun import TERRAINS, collector_wind, terrain_factor


def test_hand_worked_factor() -> None:
    # from memory of ASHRAE Fundamentals, "Airflow around buildings": open 0.14, 270 m; suburb 0.22, 370 m
    # (270/10)^0.14 = 1.586 and (3/370)^0.22 = 0.3467, together 0.550
    assert terrain_factor(3.0, "suburban") == pytest.approx(0.550, abs=1e-3)


def test_station_over_its_own_ground_reads_itself() -> None:
    for name in TERRAINS:
        assert terrain_factor(10.0, name, 10.0, name) == pytest.approx(1.0)


def test_rougher_ground_and_lower_places_are_calmer() -> None:
    by_terrain = [terrain_factor(3.0, name) for name in ("city", "suburban", "open", "flat")]
    assert by_terrain == sorted(by_terrain)
    by_height = [terrain_factor(height, "suburban") for height in (0.0, 1.0, 2.0, 10.0, 50.0)]
    assert by_height == sorted(by_height)
    assert by_height[0] == by_height[1]


def test_wind_of_a_series_is_scaled_from_its_own_height_and_sheltered(make_series) -> None:
    high = collector_wind(make_series(wind_height=10.0), height=2.0, terrain="open")
    low = collector_wind(make_series(wind_height=2.0), height=2.0, terrain="open")
    assert low == pytest.approx(np.full(24, 3.0))
    assert high == pytest.approx(np.full(24, 3.0 * (2.0 / 10.0) ** 0.14))
    assert collector_wind(make_series(), shelter=0.5) == pytest.approx(0.5 * collector_wind(make_series()))


@pytest.mark.parametrize(
    "change",
    [
        {"shelter": 1.5},
        {"shelter": -0.1},
        {"terrain": "moor"},
        {"station_terrain": "moor"},
        {"height": -1.0},
        {"height": 5000.0},
        {"height": float("nan")},
    ],
)
def test_what_cannot_be_is_refused(make_series, change: dict[str, object]) -> None:
    with pytest.raises(InputError, match="accepted"):
        collector_wind(make_series(), **change)
