"""Blocks of lanes: members of any weather, optics and control side by side are what they are one by one."""

from typing import Any

import numpy as np
import pytest

from simengine.data_files import data_path
from simengine.engine.ledger import COLUMNS, Column
from simengine.engine.march import march, march_block
from simengine.engine.state import new_scratch, new_state
from simengine.scenario import load
from simengine.simulate import resolve
from simengine.simulate.blocks import Ride, Room, joined, march_year
from simengine.simulate.drive import drive_of
from simengine.simulate.year import first_temperature, member_of
from simengine.vector import BLOCKS, WIDTH

QUICK = {"run.step": "15 min", "collector.segments": 2}
LAYOUTS: dict[str, dict[str, Any]] = {
    "behind": {},
    "two passes": {"collector.arrangement": "two_pass", "collector.front_gap.depth": "1.25 in"},
    "air that moves by itself": {"damper.kind": "none"},
    "a fan that follows": {"control.low_speed": 0.4, "control.full_speed_at": "125 degF"},
}


def ride(changes: dict[str, Any]) -> Ride:
    """Return the demo with changes, ready to march."""
    resolved = resolve(load(data_path("scenarios", "demo.toml")).changed({**QUICK, **changes}))
    drive = drive_of(resolved)
    return Ride(member_of(resolved, drive), drive, first_temperature(resolved))


def varied(layout: dict[str, Any]) -> list[Ride]:
    """Return four scenarios of one layout, of different flow, glass, tilt and weather."""
    other = (
        {"fan.flow": "80 cfm"},
        {"collector.cover.1.construction": "low_iron_tempered_4mm"},
        {"collector.tilt": "60 deg"},
        {"site.warmer": "2 K"},
    )
    return [ride({**layout, **changes}) for changes in other]


@pytest.mark.parametrize("name", LAYOUTS)
def test_in_company_each_is_what_it_is_alone(name: str) -> None:
    rides = varied(LAYOUTS[name])
    together = march_year(rides)
    for one, hours in zip(rides, together, strict=True):
        (alone,) = march_year([one])
        assert np.array_equal(hours, alone)
        assert hours[:, Column.DELIVERED].sum() > 0.0


@pytest.mark.skipif(not BLOCKS, reason="there are no blocks without the compiler")
@pytest.mark.parametrize("name", LAYOUTS)
def test_a_block_is_the_single_lanes_bit_for_bit(name: str) -> None:
    """The same source, compiled for a block and for one lane (law: one source, one answer)."""
    one = ride(LAYOUTS[name])
    member = joined([one.member] * WIDTH, [0, 1] * (WIDTH // 2), Room())
    member.rule[0] += np.linspace(0.0, 4.0, WIDTH)  # every lane switches at moments of its own
    count = 24 * 60
    ledgers = []
    for go in (march, march_block):
        state = new_state(member.network.panes, 2, WIDTH, 293.15)
        work = new_scratch(member.network.panes, 2, WIDTH)
        hours = np.zeros((count, COLUMNS, WIDTH))
        go(member, one.drive.plan[:count], 3600.0, state, work, hours)
        ledgers.append(hours)
    assert np.array_equal(*ledgers)
    assert len(np.unique(ledgers[0][:, Column.DELIVERED].sum(axis=0))) > 1


def test_in_a_room_that_others_have_left_each_is_what_it_is_alone() -> None:
    """Nothing is left of the march before, nor of what stood in the memory: it is filled with NaN first."""
    room = Room()
    for rides in (varied({}), varied({"fan.flow": "60 cfm"}), varied({})[::-1]):
        room.years.fill(np.nan)
        for one, hours in zip(rides, march_year(rides, room), strict=True):
            (alone,) = march_year([one])
            assert np.array_equal(hours, alone)
            assert np.shares_memory(hours, room.years)


def test_what_rides_share_is_joined_once() -> None:
    room, rides = Room(), varied({})[:2]
    march_year(rides, room)
    known = set(room.joined.values)
    march_year(rides, room)
    assert set(room.joined.values) == known


def test_more_lanes_than_a_block_are_parted() -> None:
    one = ride({})
    wide = one._replace(member=joined([one.member] * 10, [0, 1] * 5, Room()))
    (hours,) = march_year([wide])
    (alone,) = march_year([one])
    assert hours.shape[2] == 5 * one.lanes
    for part in np.split(hours, 5, axis=2):
        assert np.array_equal(part, alone)
