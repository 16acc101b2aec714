"""What a sweep keeps: whole or absent, checked, resumed, locked, and never over something else."""

import json
import multiprocessing
import os
from pathlib import Path

import numpy as np
import pytest

from simengine.batch.chunk_file import Chunk, read_chunk, write_chunk
from simengine.batch.lock import LOCK, holder, locked
from simengine.batch.measures import WIDTH
from simengine.batch.plan import Plan, plan_of
from simengine.batch.store import Store, make_room
from simengine.batch.sweep import open_sweep, status
from simengine.batch.task import Outcome
from simengine.errors import InputError
from simengine.whole_file import write_whole
from tests.batch.sweeps import small

SHAPE = (2, 2, 5)


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_of(small())


def filled(folder: Path, plan: Plan) -> Store:
    """Return a store with invented numbers for every chunk."""
    store = Store(folder, plan)
    store.open()
    for task in plan.tasks(range(plan.chunks)):
        rows = [Outcome(one, np.full((2, WIDTH), float(one))) for one in task.members]
        store.put(task.number, rows)
    return store


def test_a_chunk_comes_back_bit_for_bit(tmp_path: Path) -> None:
    numbers = np.random.default_rng(1).normal(size=SHAPE)
    numbers[1] = np.nan
    write_chunk(tmp_path / "c", Chunk("p", 3, numbers, {1: "why"}))
    found = read_chunk(tmp_path / "c", "p", 3, SHAPE)
    assert found is not None
    assert found.numbers.tobytes() == numbers.tobytes()
    assert found.reasons == {1: "why"}
    assert [path.name for path in tmp_path.iterdir()] == ["c"]


def test_every_flipped_or_missing_byte_is_found(tmp_path: Path) -> None:
    path = tmp_path / "c"
    write_chunk(path, Chunk("p", 3, np.ones(SHAPE), {}))
    good = path.read_bytes()
    for place in range(len(good)):
        path.write_bytes(good[:place] + bytes([good[place] ^ 1]) + good[place + 1 :])
        assert read_chunk(path, "p", 3, SHAPE) is None, place
    for length in (0, 1, 40, len(good) - 1):
        path.write_bytes(good[:length])
        assert read_chunk(path, "p", 3, SHAPE) is None, length


def test_a_chunk_of_another_plan_number_or_shape_does_not_count(tmp_path: Path) -> None:
    write_chunk(tmp_path / "c", Chunk("p", 3, np.ones(SHAPE), {}))
    assert read_chunk(tmp_path / "c", "q", 3, SHAPE) is None
    assert read_chunk(tmp_path / "c", "p", 4, SHAPE) is None
    assert read_chunk(tmp_path / "c", "p", 3, (2, 2, 6)) is None
    assert read_chunk(tmp_path / "none", "p", 3, SHAPE) is None


def test_a_write_that_fails_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    write_whole(tmp_path / "kept", b"old", replace=True)
    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        write_whole(tmp_path / "kept", b"new", replace=True)
    assert (tmp_path / "kept").read_bytes() == b"old"
    assert len(list(tmp_path.iterdir())) == 1


def test_what_is_damaged_is_missing_again_and_the_rest_is_kept(tmp_path: Path, plan: Plan) -> None:
    store = filled(tmp_path, plan)
    assert store.missing() == []
    path = tmp_path / "chunks" / "0000002"
    path.write_bytes(path.read_bytes()[:-1])
    (tmp_path / "chunks" / "0000005").unlink()
    assert store.missing() == [2, 5]


def test_the_dataset_has_every_member_and_its_reason(tmp_path: Path, plan: Plan) -> None:
    store = filled(tmp_path, plan)
    store.put(3, [Outcome(3, None, "no such thing")])
    store.finish()
    assert store.complete and not (tmp_path / "chunks").exists()
    with open_sweep(tmp_path) as found:
        assert found["offset_kwh"].sel(house="standard").values.tolist()[:3] == [0.0, 1.0, 2.0]
        assert np.isnan(found["offset_kwh"].values[3]).all()
        assert found["reason"].values.tolist() == ["", "", "", "no such thing", "", "", "", ""]
        assert found["collector.tilt"].attrs["units"] == "deg"
        assert found["collector.tilt"].values.tolist() == [60.0] * 4 + [90.0] * 4
        assert found["month_offset_kwh"].dims == ("member", "house", "month")


def test_another_plan_is_refused_and_says_what_is_different(tmp_path: Path, plan: Plan) -> None:
    filled(tmp_path, plan)
    other = plan_of(small().changed({"collector.azimuth": "200 deg"}))
    with pytest.raises(InputError, match="holds a sweep of another scenario; accepted: another folder"):
        Store(tmp_path, other).open()


def test_a_folder_with_something_else_is_never_touched(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("mine")
    with pytest.raises(InputError, match="holds something that is no sweep"):
        make_room(tmp_path, replace=False)
    assert (tmp_path / "letter.txt").read_text() == "mine"
    previous = tmp_path.with_name(f"{tmp_path.name}.previous")
    make_room(tmp_path, replace=True)
    assert (previous / "letter.txt").read_text() == "mine"
    (tmp_path / "letter.txt").write_text("another")
    with pytest.raises(InputError, match="move it away first"):
        make_room(tmp_path, replace=True)


def test_an_unfinished_sweep_says_how_far_it_is(tmp_path: Path, plan: Plan) -> None:
    store = Store(tmp_path, plan)
    store.open()
    store.put(0, [Outcome(0, np.zeros((2, WIDTH)))])
    assert (status(tmp_path).done, status(tmp_path).complete, status(tmp_path).holder) == (1, False, "")
    with pytest.raises(InputError, match="is not finished"):
        open_sweep(tmp_path)
    with pytest.raises(InputError, match="holds no sweep"):
        status(tmp_path / "nowhere")


def test_two_at_once_are_refused(tmp_path: Path) -> None:
    with locked(tmp_path):
        assert f"process {os.getpid()} on " in holder(tmp_path)
        with pytest.raises(InputError, match="another sweep works in it"), locked(tmp_path):
            pass
    assert holder(tmp_path) == ""
    with locked(tmp_path):
        pass


def _die_with_it(folder: Path) -> None:
    with locked(folder):
        os._exit(9)


def test_a_lock_does_not_outlive_its_process(tmp_path: Path) -> None:
    process = multiprocessing.get_context("spawn").Process(target=_die_with_it, args=(tmp_path,))
    process.start()
    process.join(30)
    assert process.exitcode == 9
    assert json.loads((tmp_path / LOCK).read_text())["process"] == process.pid  # its note is still there
    assert holder(tmp_path) == ""
    with locked(tmp_path):
        pass
