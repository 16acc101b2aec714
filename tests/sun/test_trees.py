"""Trees in and out of leaf."""

import numpy as np
import pytest

from simengine.errors import InputError
from simengine.sun import (
    Crown,
    Foliage,
    Surroundings,
    day_number,
    evergreen,
    plane_irradiance,
    sky_share,
    solar_position,
)
from simengine.sun.shading import Rays

YEAR = np.arange(1, 366)
OAK = Foliage(day_number(4, 20), day_number(10, 15))


def crown(foliage: Foliage) -> Crown:
    return Crown(180.0, 8.0, 10.0, 8.0, 2.0, foliage, eye_height=1.0)


def test_foliage_is_within_common_practice() -> None:
    # common practice: in leaf 0.1-0.3, bare 0.5-0.8
    passes = OAK.transmittance(YEAR)
    assert 0.1 <= passes.min() <= 0.3
    assert 0.5 <= passes.max() <= 0.8


def test_leaves_come_and_go_gradually() -> None:
    passes = OAK.transmittance(YEAR)
    assert passes[day_number(3, 1) - 1] == passes[day_number(12, 24) - 1] == passes.max()
    assert passes[day_number(7, 1) - 1] == passes.min()
    # half full after half the days: ten days after 20 April, fifteen after 15 October
    assert OAK.leaf_share(np.array([120, 303])) == pytest.approx([0.5, 0.5])
    assert np.abs(np.diff(passes)).max() <= (0.65 - 0.2) / 20.0 + 1e-12


def test_southern_trees_are_bare_in_july() -> None:
    plane_tree = Foliage(day_number(9, 25), day_number(4, 20))
    july, january = plane_tree.transmittance(np.array([day_number(7, 15), day_number(1, 15)]))
    assert (july, january) == pytest.approx((0.65, 0.2))


def test_evergreen_is_the_same_all_year() -> None:
    assert np.all(evergreen(0.25).transmittance(YEAR) == 0.25)


def test_bare_tree_passes_more_than_one_in_leaf(make_series) -> None:
    for start, leaf in (("2001-12-21", 0.65), ("2001-06-21", 0.2)):
        series = make_series(start=start, ghi=400.0, dni=600.0, dhi=100.0)
        sun = solar_position(series)
        free = plane_irradiance(series, sun, 90.0, 180.0)
        shaded = plane_irradiance(series, sun, 90.0, 180.0, horizon=crown(OAK))
        noon = 12
        # at noon the winter sun (26 deg) stands behind the crown, the summer sun (73 deg) above it
        assert shaded.beam[noon] == pytest.approx(free.beam[noon] * (leaf if start[5:7] == "12" else 1.0))
        assert np.all(shaded.sky_diffuse <= free.sky_diffuse)
    share = sky_share(crown(OAK), 90.0, 180.0, YEAR)
    assert share[day_number(1, 15) - 1] > share[day_number(7, 15) - 1]
    assert np.ptp(sky_share(crown(evergreen()), 90.0, 180.0, YEAR)) < 1e-12


@pytest.mark.parametrize(("distance", "radius"), [(6.0, 2.0), (12.0, 5.0), (20.0, 2.5)])
def test_round_crown_hides_as_much_sky_as_a_ball(distance: float, radius: float) -> None:
    # mathematics: view factor of a ball of angular radius r at elevation e from a level plane: sin^2 r sin e
    middle = 12.0
    tree = Crown(90.0, distance, middle + radius, 2.0 * radius, middle - radius, evergreen(0.3))
    away = np.hypot(distance, middle)
    hidden = (radius / away) ** 2 * middle / away
    share = sky_share(tree, 0.0, 0.0, np.array([1]))[0]
    assert 1.0 - share == pytest.approx(0.7 * hidden, rel=0.03)


def test_light_passes_beside_above_and_behind() -> None:
    tree = crown(evergreen(0.2))
    elevation = np.array([32.0, 32.0, 75.0, 32.0])
    azimuth = np.array([180.0, 240.0, 180.0, 0.0])
    passes = tree.transmittance(Rays(elevation, azimuth, 0.5, np.array([1]), 90.0, 180.0))
    assert passes == pytest.approx([0.2, 1.0, 1.0, 1.0])


def test_two_crowns_in_a_row_dim_twice() -> None:
    near, far = crown(evergreen(0.2)), Crown(180.0, 16.0, 20.0, 8.0, 4.0, evergreen(0.3), eye_height=1.0)
    ray = Rays(np.array([32.0]), np.array([180.0]), 0.5, np.array([1]), 90.0, 180.0)
    assert Surroundings((near, far)).transmittance(ray)[0] == pytest.approx(0.06)


@pytest.mark.parametrize(
    "make",
    [
        lambda: Foliage(0.0, 290.0),
        lambda: Foliage(110.0, 290.0, in_leaf=0.7, bare=0.5),
        lambda: Foliage(110.0, 290.0, bare=1.2),
        lambda: Foliage(110.0, 120.0, opening=20.0),
        lambda: Foliage(110.0, 290.0, falling=0.0),
        lambda: Crown(180.0, 8.0, 2.0, 8.0, 10.0, evergreen()),
        lambda: Crown(180.0, 0.0, 10.0, 8.0, 2.0, evergreen()),
        lambda: Crown(180.0, 1.0, 4.0, 8.0, -4.0, evergreen()),
    ],
)
def test_trees_that_cannot_be_are_refused(make) -> None:
    with pytest.raises(InputError, match=r"accepted|move one"):
        make()
