"""Sun on the plane: the parts sum to what was read, and a level meter leads to the same plane."""

import numpy as np
import pytest
from pvlib.irradiance import erbs

from simengine.fieldtest.log import TestLog
from simengine.fieldtest.sunlight import Plane, SkyPath, clear_sky, from_horizontal, from_plane, sky_path
from simengine.sun.position import Site

SITE, PLANE = Site(36.1, -79.95, 270.0, 98000.0, 15.0), Plane(60.0, 180.0, 0.2)
TIMES = np.datetime64("2026-02-14T08:00:00") + (np.arange(560) * 60).astype("timedelta64[s]")


def path(hours: float = 0.0) -> SkyPath:
    return sky_path(TestLog("made", TIMES, 60.0, -5.0, {}), SITE, PLANE, 3600.0 * hours)


@pytest.mark.parametrize("share", [0.2, 0.6, 1.0, 1.3])
def test_parts_of_a_plane_reading_sum_to_it_and_none_is_below_zero(share: float) -> None:
    total = share * clear_sky(path(), PLANE).total
    found = from_plane(total, path(), PLANE)
    assert found.total == pytest.approx(total, abs=1e-6)
    assert all((part >= -1e-6).all() for part in found[:3])


def test_level_meter_and_plane_meter_agree() -> None:
    ghi = np.full(TIMES.size, 350.0)
    level = from_horizontal(ghi, path(), PLANE)
    plane = from_plane(level.total, path(), PLANE)
    high = path().cosine > 0.4  # lower, no sky gives that much
    for one, other in zip(level[:3], plane[:3], strict=True):
        assert other[high] == pytest.approx(one[high], abs=0.5)


def test_diffuse_share_is_that_of_a_reference_library() -> None:
    # independent: pvlib's Erbs relation (its own extraterrestrial sun moves the share by a little)
    here = path()
    ghi = 0.5 * here.extraterrestrial * np.maximum(here.cosine, 0.05)
    mine = from_horizontal(ghi, here, Plane(0.0, 180.0, 0.2)).sky / ghi
    zenith = np.degrees(np.arccos(np.clip(here.cosine, -1.0, 1.0)))
    theirs = erbs(ghi, zenith, 45)["dhi"] / ghi
    high = here.cosine > 0.2
    assert mine[high] == pytest.approx(np.asarray(theirs)[high], abs=0.02)


def test_noon_stands_where_the_longitude_puts_it() -> None:
    # equation of time on 14 February -14.2 min (any almanac, from memory); 79.95 W is 4 x 4.95 min late
    cosine = path().cosine
    noon = TIMES[int(np.argmax(cosine))] - np.datetime64("2026-02-14T12:00:00")
    assert noon.astype("timedelta64[s]").astype(int) / 60.0 == pytest.approx(14.2 + 4.0 * 4.95, abs=2.0)
