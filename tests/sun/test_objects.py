"""Overhangs, fins and walls against profile angles, crossed strings and rays traced one by one."""

import numpy as np
import pytest

from simengine.errors import InputError
from simengine.sun import NeighbouringWall, Overhang, SideFin, Surroundings, sky_view_past, solar_position
from simengine.sun.incidence import seen_from_plane
from simengine.sun.shading import Rays

NEW_YEAR = np.array([1])


def rays(elevation: float, azimuth: float, tilt: float = 90.0, extent: float = 0.01) -> Rays:
    return Rays(np.array([elevation]), np.array([azimuth]), extent, NEW_YEAR, tilt, 180.0)


@pytest.mark.parametrize("gap", [0.0, 0.3])
def test_overhang_at_noon_of_the_equinox(make_series, gap: float) -> None:
    # mathematics: profile angle 90 deg - latitude; shadow depth tan(profile) - gap, on a 2 m aperture.
    # (2001-03-20, equinox at 13:31 UTC; refraction of 0.013 deg is in the tolerance)
    series = make_series(
        latitude=40.0, longitude=22.5, utc_offset=1.5, start="2001-03-20 11:52:30", count=1, step=1800
    )
    sun = solar_position(series)
    assert sun.solar_time[0] == pytest.approx(12.0, abs=0.05)
    noon = Rays(90.0 - sun.zenith, sun.azimuth, 0.5, np.array([79]), 90.0, 180.0)
    shaded = 1.0 - Overhang(1.2, 2.0, depth=0.8, gap=gap).transmittance(noon)[0]
    assert shaded == pytest.approx((0.8 * np.tan(np.radians(50.0)) - gap) / 2.0, abs=1e-3)


@pytest.mark.parametrize(("elevation", "azimuth"), [(30.0, 180.0), (30.0, 220.0), (50.0, 115.0)])
def test_endless_overhang_shades_by_the_profile_angle(elevation: float, azimuth: float) -> None:
    # mathematics: tan(profile) = tan(elevation)/cos(wall solar azimuth)
    profile = np.tan(np.radians(elevation)) / np.cos(np.radians(azimuth - 180.0))
    shaded = 1.0 - Overhang(1.2, 2.0, depth=0.5, gap=0.1).transmittance(rays(elevation, azimuth))[0]
    assert shaded == pytest.approx(np.clip((0.5 * profile - 0.1) / 2.0, 0.0, 1.0), abs=1e-6)


def traced(tilt: float, elevation: float, azimuth: float, kind: str) -> float:
    """Share of a 1.2 x 2 m aperture that sees the sun past a 0.7 m blade 0.2 m away, point by point."""
    sun = seen_from_plane(np.array([elevation]), np.array([azimuth]), tilt, 180.0)
    out, up, right = float(sun.out[0]), float(sun.up[0]), float(sun.right[0])
    across, along = np.meshgrid((np.arange(400) + 0.5) * 1.2 / 400, (np.arange(400) + 0.5) * 2.0 / 400)
    if kind == "overhang":
        way = (2.2 - along) / up
        side = across + way * right
        hit = (side >= -0.3) & (side <= 1.2 + 0.5)
    else:
        towards = right if kind == "right" else -right
        way = ((1.4 - across) if kind == "right" else (0.2 + across)) / towards
        side = along + way * up
        hit = (side >= -0.3) & (side <= 2.0 + 0.5)
    hidden = hit & (way > 0.0) & (way * out <= 0.7)
    return 1.0 - float(hidden.mean())


@pytest.mark.parametrize("tilt", [90.0, 60.0])
@pytest.mark.parametrize(
    ("elevation", "azimuth"), [(55.0, 181.0), (40.0, 235.0), (65.0, 130.0), (20.0, 250.0), (15.0, 105.0)]
)
@pytest.mark.parametrize("kind", ["overhang", "left", "right"])
def test_blades_of_finite_length_agree_with_traced_rays(tilt, elevation, azimuth, kind) -> None:
    # independent solution: 160,000 rays
    if kind == "overhang":
        shade = Overhang(1.2, 2.0, depth=0.7, gap=0.2, left=0.3, right=0.5)
    else:
        shade = SideFin(kind, 1.2, 2.0, depth=0.7, gap=0.2, below=0.3, above=0.5)
    assert shade.transmittance(rays(elevation, azimuth, tilt))[0] == pytest.approx(
        traced(tilt, elevation, azimuth, kind), abs=3e-3
    )


@pytest.mark.parametrize(("depth", "gap"), [(0.5, 0.0), (2.0, 0.0), (1.0, 0.4)])
def test_sky_view_under_an_endless_overhang(depth: float, gap: float) -> None:
    # mathematics: crossed strings (Hottel) between aperture (2 m) and strip; without it half the sky is seen
    def string(height: float) -> float:
        return float(np.hypot(height, depth))

    view = (string(gap) + (gap + 2.0) - gap - string(gap + 2.0)) / (2.0 * 2.0)
    sky = sky_view_past(Overhang(1.2, 2.0, depth, gap), 90.0, 180.0, NEW_YEAR)[0]
    assert sky == pytest.approx(0.5 - view, abs=2e-3)


@pytest.mark.parametrize("side", ["left", "right"])
def test_sky_view_beside_an_endless_fin(side) -> None:
    # mathematics: crossed strings; half of what the fin hides is sky
    view = (1.2 + 0.6 - np.hypot(1.2, 0.6)) / (2.0 * 1.2)
    sky = sky_view_past(SideFin(side, 1.2, 2.0, depth=0.6), 90.0, 180.0, NEW_YEAR)[0]
    assert sky == pytest.approx(0.5 - 0.5 * view, abs=2e-3)


def test_left_fin_shades_the_morning_of_a_south_wall_and_the_right_one_the_evening() -> None:
    left, right = (SideFin(side, 1.2, 2.0, depth=0.6) for side in ("left", "right"))
    east, west = rays(20.0, 120.0), rays(20.0, 240.0)
    assert left.transmittance(east)[0] == pytest.approx(right.transmittance(west)[0], abs=1e-12)
    assert left.transmittance(east)[0] < 1.0
    assert left.transmittance(west)[0] == right.transmittance(east)[0] == 1.0


def test_sun_behind_or_below_the_blade_casts_no_shadow() -> None:
    eave = Overhang(1.2, 2.0, depth=0.6)
    assert eave.transmittance(rays(30.0, 10.0))[0] == 1.0
    assert eave.transmittance(rays(0.0, 180.0))[0] == 1.0
    assert Surroundings((eave, SideFin("left", 1.2, 2.0, 0.6))).transmittance(rays(80.0, 180.0))[0] < 0.1


@pytest.mark.parametrize(("elevation", "shaded"), [(20.0, 1.0), (35.0, 0.749), (40.0, 0.402), (50.0, 0.0)])
def test_wall_across_the_yard_climbs_up_the_aperture(elevation: float, shaded: float) -> None:
    # mathematics: the shadow of a 5 m wall 5 m away reaches 5 - 5 tan(elevation) up a 2 m aperture
    wall = NeighbouringWall(180.0, 5.0, 5.0, rise=2.0)
    expected = np.clip((5.0 - 5.0 * np.tan(np.radians(elevation))) / 2.0, 0.0, 1.0)
    assert expected == pytest.approx(shaded, abs=1e-3)
    assert 1.0 - wall.transmittance(rays(elevation, 180.0))[0] == pytest.approx(expected, abs=1e-6)


def test_wall_ends_where_it_ends() -> None:
    wall = NeighbouringWall(180.0, 5.0, 5.0, left=5.0, right=1.0)
    # 5 m to the left at 5 m away is 45 deg east of south
    assert wall.transmittance(rays(10.0, 136.0))[0] == 0.0
    assert wall.transmittance(rays(10.0, 134.0))[0] == 1.0
    assert wall.transmittance(rays(10.0, 195.0))[0] == 1.0
    assert wall.transmittance(rays(10.0, 0.0))[0] == 1.0


@pytest.mark.parametrize(
    "make",
    [
        lambda: Overhang(0.0, 2.0, 0.5),
        lambda: Overhang(1.0, 2.0, -0.5),
        lambda: SideFin("left", 1.0, float("nan"), 0.5),
        lambda: SideFin("top", 1.0, 2.0, 0.5),
        lambda: NeighbouringWall(180.0, 0.0, 5.0),
        lambda: NeighbouringWall(180.0, 5.0, float("inf")),
    ],
)
def test_lengths_that_cannot_be_are_refused(make) -> None:
    with pytest.raises(InputError, match="accepted"):
        make()
