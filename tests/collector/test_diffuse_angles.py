"""Effective angles of diffuse light."""

import numpy as np
import pytest

from simengine.collector.diffuse_angles import ground_diffuse_angle, sky_diffuse_angle
from simengine.collector.optics import cover_transmittance
from simengine.collector.spec import Pane
from simengine.errors import RangeError


def test_angles_at_45_deg() -> None:
    # From memory of Brandemuehl and Beckman 1980: 56.5 and 69.4, each +- 0.1 deg.
    assert sky_diffuse_angle(45.0) == pytest.approx(56.5, abs=0.1)
    assert ground_diffuse_angle(45.0) == pytest.approx(69.4, abs=0.1)


def test_a_wall_sees_sky_and_ground_alike() -> None:
    # Symmetry (mathematics): upright, both halves of an even surrounding look the same; fits differ by 1 deg.
    assert sky_diffuse_angle(90.0) == pytest.approx(ground_diffuse_angle(90.0), abs=1.0)


def isotropic(panes: list[Pane], tilt: float, sky: bool) -> float:
    """Integrate a cover's transmittance over the part of the hemisphere that is sky, or ground."""
    sine_squared, turn = (np.arange(300) + 0.5) / 300, (np.arange(360) + 0.5) * np.pi / 180
    angle = np.arcsin(np.sqrt(sine_squared))[:, None]
    slope = np.radians(tilt)
    height = np.cos(angle) * np.cos(slope) + np.sin(angle) * np.cos(turn) * np.sin(slope)
    seen = (height > 0) if sky else (height < 0)
    passed = np.broadcast_to(cover_transmittance(panes, np.degrees(angle)), seen.shape)
    return float(passed[seen].mean())


@pytest.mark.parametrize("tilt", [30.0, 45.0, 60.0, 90.0])
@pytest.mark.parametrize("sky", [True, False])
def test_one_angle_stands_for_the_integral(tilt: float, sky: bool) -> None:
    # Independent solution: the isotropic integral itself, within the 0.01 that the relation for the whole
    # hemisphere holds to (from memory of Duffie and Beckman, section 5.4).
    panes = [Pane("glass", 0.004, extinction=0.037 / 0.004)]
    angle = sky_diffuse_angle(tilt) if sky else ground_diffuse_angle(tilt)
    single = float(cover_transmittance(panes, np.array([angle]))[0])
    assert single == pytest.approx(isotropic(panes, tilt, sky), abs=0.01)


@pytest.mark.parametrize("tilt", [-1.0, 90.5, float("nan")])
def test_tilt_outside_the_fit_is_refused(tilt: float) -> None:
    for relation in (sky_diffuse_angle, ground_diffuse_angle):
        with pytest.raises(RangeError, match="0 to 90"):
            relation(tilt)
