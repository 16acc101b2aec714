"""Sheets known by a rating or by an angle table."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simengine.collector.pane_optics import pane_optics, tabulated_pane
from simengine.collector.spec import AngleTable, Pane, RatedOptics
from simengine.errors import InputError

few = settings(max_examples=50, derandomize=True, deadline=None)
ALL_ANGLES = np.linspace(0.0, 89.9, 90)
CLEAR = Pane("clear", 0.004)


def test_rating_of_the_clear_sheet_itself_gives_the_clear_sheet() -> None:
    # Mathematics: scaling a sheet to its own normal figures changes nothing.
    normal = pane_optics(CLEAR, np.zeros(1))
    own = RatedOptics(
        float(normal.transmittance[0, 0]),
        float(normal.reflectance_outside[0, 0]),
        float(normal.reflectance_inside[0, 0]),
    )
    rated, clear = pane_optics(replace(CLEAR, rated=own), ALL_ANGLES), pane_optics(CLEAR, ALL_ANGLES)
    assert rated.transmittance == pytest.approx(clear.transmittance, abs=1e-12)
    assert rated.reflectance_outside == pytest.approx(clear.reflectance_outside, abs=1e-12)


def test_rated_transmittance_has_the_shape_of_clear_glass() -> None:
    rated = pane_optics(replace(CLEAR, rated=RatedOptics(0.60, 0.25, 0.20)), ALL_ANGLES)
    clear = pane_optics(CLEAR, ALL_ANGLES).transmittance.mean(axis=0)
    assert rated.transmittance.mean(axis=0) == pytest.approx(0.60 * clear / clear[0], abs=1e-12)


@few
@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 180.0))
def test_any_rating_gives_shares_at_any_angle(
    first: float, second: float, third: float, angle: float
) -> None:
    transmittance, others = first, 1.0 - first
    rated = RatedOptics(transmittance, others * second, others * third)
    sheet = pane_optics(replace(CLEAR, rated=rated), np.array([angle]))
    for share in (*sheet, sheet.absorptance_outside, sheet.absorptance_inside):
        assert np.all(share >= -1e-9) and np.all(share <= 1.0 + 1e-9)


def test_rated_figures_hold_at_normal_incidence() -> None:
    sheet = pane_optics(replace(CLEAR, rated=RatedOptics(0.58, 0.27, 0.22)), np.zeros(1))
    assert sheet.transmittance[:, 0].tolist() == pytest.approx([0.58, 0.58])
    assert sheet.reflectance_outside[:, 0].tolist() == pytest.approx([0.27, 0.27])
    assert sheet.reflectance_inside[:, 0].tolist() == pytest.approx([0.22, 0.22])


def test_angle_table_is_met_at_its_points_and_straight_between() -> None:
    table = AngleTable((0.0, 30.0, 60.0), (0.80, 0.78, 0.68), (0.15, 0.16, 0.24))
    sheet = pane_optics(
        replace(CLEAR, angle_table=table), np.array([0.0, 30.0, 45.0, 60.0, 75.0, 90.0, 100.0])
    )
    assert sheet.transmittance[0] == pytest.approx([0.80, 0.78, 0.73, 0.68, 0.34, 0.0, 0.0])
    assert sheet.reflectance_inside[1] == pytest.approx([0.15, 0.16, 0.20, 0.24, 0.62, 1.0, 1.0])


@pytest.mark.parametrize(
    "table",
    [
        AngleTable((10.0, 60.0), (0.8, 0.7), (0.1, 0.2)),
        AngleTable((0.0, 60.0, 60.0), (0.8, 0.7, 0.7), (0.1, 0.2, 0.2)),
        AngleTable((0.0, 95.0), (0.8, 0.0), (0.1, 0.9)),
        AngleTable((0.0, 60.0), (0.8,), (0.1, 0.2)),
        AngleTable((0.0, 60.0), (0.8, 0.9), (0.1, 0.2)),
        AngleTable((), (), ()),
    ],
)
def test_impossible_table_is_refused(table: AngleTable) -> None:
    with pytest.raises(InputError, match="accepted"):
        tabulated_pane(np.zeros(1), table)


@pytest.mark.parametrize(
    "rated", [RatedOptics(0.9, 0.2, 0.05), RatedOptics(0.9, 0.05, 0.2), RatedOptics(-0.1, 0.1, 0.1)]
)
def test_impossible_rating_is_refused(rated: RatedOptics) -> None:
    with pytest.raises(InputError, match="sum of at most 1"):
        pane_optics(replace(CLEAR, rated=rated), np.zeros(1))
