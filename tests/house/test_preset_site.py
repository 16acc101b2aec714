"""Preset houses over a second space and in the wind, by hand."""

import pytest

from simengine.house.preset_site import exposed, floor_conductance
from simengine.house.presets import low_energy, standard


def test_the_floor_of_each_preset_by_hand() -> None:
    # 70 m2 x (U of the floor + thermal bridges)
    assert floor_conductance("standard", 140.0, 2) == pytest.approx(70.0 * 0.55)
    assert floor_conductance("low_energy", 140.0, 2) == pytest.approx(70.0 * 0.16)


def test_over_a_space_the_floor_loses_nothing_to_the_ground() -> None:
    for make, name in ((standard, "standard"), (low_energy, "low_energy")):
        less = make(140.0).opaque_conductance - make(140.0, over_space=True).opaque_conductance
        assert less == pytest.approx(0.6 * floor_conductance(name, 140.0, 2))  # the factor for ground


def test_in_the_wind_the_mean_infiltration_goes_and_the_rest_stays() -> None:
    # standard: 350 m3, 0.15 1/h of airing stays: 1200 x 350 x 0.15 / 3600 W/K
    house = exposed(standard(140.0), 2, 3)
    assert house.ventilation_conductance == pytest.approx(17.5)
    assert house.leakage is not None
    # 10 1/h at 50 Pa: 3500 m3/h x (4/50)^0.65 over sqrt(8/1.2014) m/s: 729.6 cm2
    assert house.leakage.area == pytest.approx(729.6e-4, rel=0.002)
    assert (house.leakage.storeys, house.leakage.shelter_class) == (2, 3)
