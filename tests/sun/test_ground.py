"""Ground reflectance: fixed, by month, recorded, under snow."""

import numpy as np
import pytest

from simengine.errors import InputError
from simengine.sun import fixed_ground, monthly_ground, recorded_ground, snow_ground


def test_default_is_the_trade_value(make_series) -> None:
    # common practice: 0.2 without snow
    assert np.all(fixed_ground(make_series()) == 0.2)


def test_month_changes_at_its_first_midnight(make_series) -> None:
    series = make_series(start="2001-01-31", count=48)
    ground = monthly_ground(series, (0.6, 0.3, *(0.2,) * 10))
    assert np.all(ground[:24] == 0.6)
    assert np.all(ground[24:] == 0.3)


def test_recorded_albedo_is_held_to_what_can_be(make_series) -> None:
    assert recorded_ground(make_series(count=3, albedo=np.array([0.15, 1.3, 0.8]))) == pytest.approx(
        [0.15, 1.0, 0.8]
    )


def test_snow_brightens_the_ground_where_the_series_has_it(make_series) -> None:
    depth = np.array([np.nan, 0.0, 0.015, 0.03, 0.5])
    ground = snow_ground(make_series(count=5, snow_depth=depth), bare=0.2, snow=0.6)
    assert ground == pytest.approx([0.2, 0.2, 0.4, 0.6, 0.6])
    by_row = snow_ground(make_series(count=5, snow_depth=depth), bare=np.linspace(0.1, 0.5, 5))
    assert by_row[:2] == pytest.approx([0.1, 0.2])


@pytest.mark.parametrize("value", [-0.1, 1.1, float("nan")])
def test_reflectance_out_of_range_is_refused(make_series, value: float) -> None:
    for ask in (
        lambda: fixed_ground(make_series(), value),
        lambda: monthly_ground(make_series(), (value,) * 12),
        lambda: snow_ground(make_series(), snow=value),
        lambda: snow_ground(make_series(), bare=value),
    ):
        with pytest.raises(InputError, match="accepted: 0 to 1"):
            ask()


def test_year_has_twelve_months(make_series) -> None:
    with pytest.raises(InputError, match="12, January first"):
        monthly_ground(make_series(), (0.2,) * 11)
