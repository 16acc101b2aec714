"""A fresh state and its work space: everything at one temperature, the fan long at rest."""

import numpy as np

from simengine.engine.ledger import COLUMNS
from simengine.engine.state import (
    BLOCKED,
    CLOCK_ROWS,
    HEATED_SPACE,
    MASS,
    NOW,
    OUTDOORS,
    ROOM,
    ROOM_SENSOR,
    RUNNING,
    SECOND,
    SECOND_MASS,
    SECOND_SPACE,
    SENSOR,
    SINCE,
    TRIAL,
    WARM,
    ZONE_STATE,
    new_scratch,
    new_state,
)


def test_rows_and_buffers_have_names_of_their_own() -> None:
    assert sorted((NOW, TRIAL)) == [0, 1]
    assert sorted((ROOM, MASS, SECOND, SECOND_MASS, SENSOR, ROOM_SENSOR)) == list(range(ZONE_STATE))
    assert sorted((HEATED_SPACE, SECOND_SPACE, OUTDOORS)) == [0, 1, 2]
    assert sorted((WARM, BLOCKED, RUNNING, SINCE)) == [0, 1, 2, 3]


def test_a_new_state_stands_still_at_one_temperature() -> None:
    state = new_state(panes=2, segments=3, lanes=4, temperature=293.15)
    assert state.nodes.shape == (2, 7, 3, 4)
    assert state.zone.shape == (2, ZONE_STATE, 4)
    assert np.all(state.nodes == 293.15)
    assert np.all(state.zone == 293.15)
    assert not state.rate.any()


def test_its_fan_is_free_to_start() -> None:
    control = new_state(1, 3, 2, 293.15).control
    assert not control[[WARM, BLOCKED, RUNNING]].any()
    assert np.all(control[SINCE] > 7200.0)  # longer than any least time


def test_work_space_fits_the_state() -> None:
    work = new_scratch(panes=2, segments=3, lanes=4)
    assert work.stage.guess.shape == work.stage.begin.shape == (7, 3, 4)
    assert work.part.shape == work.interval.shape == (COLUMNS, 4)
    assert work.clock.shape == (CLOCK_ROWS, 4)
    assert work.speed.shape == work.fan.shape == (4,)
    assert len({id(array) for array in work}) == len(work)
