"""A wet cover is counted by the definition of the dew point."""

import numpy as np
import pytest
from CoolProp.HumidAirProp import HAPropsSI

from simengine.simulate.condensation import caution, condensation_hours, room_dew_point, wet


@pytest.mark.parametrize("humidity", [0.3, 0.4, 0.6, 1.0])
def test_dew_point_of_room_air_against_a_reference_library(humidity: float) -> None:
    # CoolProp, humid air after ASHRAE RP-1485; Magnus form within 0.4 % of vapour pressure is 0.06 K
    reference = HAPropsSI("D", "T", 293.15, "R", humidity, "P", 101325.0)
    assert room_dew_point(humidity) == pytest.approx(reference, abs=0.1)


def test_a_cover_is_wet_below_the_dew_point_only() -> None:
    dew = room_dew_point(0.4)
    assert wet(np.array([dew - 0.01, dew + 0.01]), 0.4).tolist() == [True, False]


def test_drier_air_wets_fewer_hours() -> None:
    cover = np.random.default_rng(1).normal(280.0, 8.0, 8760)
    hours = [condensation_hours(cover, 0.0 * cover, humidity, 3600.0)[0] for humidity in (0.3, 0.4, 0.5)]
    assert hours[0] < hours[1] < hours[2]


def test_hours_are_a_years_and_the_fans_share_of_them_is_told() -> None:
    # mathematics: two years of half-hours, one half of them cold, the fan on in half of each cold interval
    cover = np.tile([270.0, 290.0], 2 * 8760)
    hours, running = condensation_hours(cover, np.full(cover.size, 0.5), 0.4, 1800.0)
    assert (hours, running) == pytest.approx((4380.0, 2190.0))


def test_a_dry_cover_is_no_caution() -> None:
    assert caution(0.2, 0.0, 0.4) == []
    (text,) = caution(1234.0, 56.0, 0.4)
    assert "1234 hours" in text and "56 of them" in text and "6 degC" in text


def test_a_cover_that_is_wet_only_at_rest_is_a_milder_caution() -> None:
    (text,) = caution(1234.0, 0.3, 0.4)
    assert "1234 hours" in text and "never while it runs" in text and "it drips" not in text
