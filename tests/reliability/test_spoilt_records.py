"""However a log, a skyline, a result or a piece of a sweep is spoilt: an answer or a line, and no more."""

import random
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from simengine import fieldtest
from simengine.batch.chunk_file import Chunk, read_chunk, write_chunk
from simengine.data_files import data_path
from simengine.errors import InputError, RunEnded
from simengine.report import field_test
from simengine.report.shown import Shown
from simengine.results import Result, open_result, store
from simengine.scenario import load
from simengine.sun import read_horizon
from tests.reliability.checking import attack, outcome, told
from tests.reliability.spoilt_scenarios import BYTES
from tests.reliability.spoilt_weather import FIELDS, packed

FEW, ALL = 20, 1000
KINDS = (InputError, RunEnded)


def by_bytes(rng: random.Random, raw: bytes) -> bytes:
    """Turn, cut out or put in some bytes."""
    spoilt = bytearray(raw)
    for _ in range(rng.choice((1, 1, 3, 20))):
        at = rng.randrange(rng.choice((len(spoilt), min(4000, len(spoilt)))) or 1)
        spoilt[at : at + rng.choice((0, 1, 4, 200))] = rng.choice((*BYTES, rng.randbytes(3), b""))
    return bytes(spoilt[: rng.choice((len(spoilt), len(spoilt), rng.randrange(len(spoilt) + 1)))])


def by_fields(rng: random.Random, raw: bytes) -> bytes:
    """Replace fields of a table, or a whole column, and move, double or drop rows."""
    rows = [line.split(b",") for line in raw.split(b"\n")]
    for _ in range(rng.choice((1, 1, 4, 40))):
        row = rng.choice(rows)
        row[rng.randrange(len(row))] = rng.choice(FIELDS).encode()
    if rng.random() < 0.3:
        column, value = rng.randrange(7), rng.choice(FIELDS).encode()
        for row in rows[2:]:
            row[min(column, len(row) - 1)] = value
    if rng.random() < 0.3:
        at, other = rng.randrange(len(rows)), rng.randrange(len(rows))
        rows[at:other] = rng.choice(([], rows[at:other] * 2, rows[at:other][::-1]))
    return b"\n".join(b",".join(row) for row in rows)


def by_nothing(rng: random.Random, raw: bytes) -> bytes:
    """Return something else, an archive or noise."""
    return rng.choice(
        (b"", b"\x00" * 5000, rng.randbytes(900), packed(rng)[:100_000], b"a," * 50_000, b"1,2\n" * 9000)
    )


WAYS = (by_bytes, by_fields, by_bytes, by_fields, by_nothing)


def spoilt(what: str, number: int, raw: bytes) -> bytes:
    """Return one file: the same for the same number."""
    return WAYS[number % len(WAYS)](random.Random(f"{what} {number}"), raw)


def attacked(what: str, numbers: range, raw: bytes, path: Path, read: Callable[[], Any]) -> Counter[str]:
    """Return what came of the files; fail with every defect and the number of its file."""

    def one(number: int) -> str:
        path.write_bytes(spoilt(what, number, raw))
        return "refused" if isinstance(outcome(read, KINDS), tuple) else "accepted"

    found, defects = attack(numbers, one)
    assert not defects, f"{what}: {told(found)}\n" + "\n".join(defects[:100])
    return found


def logs(numbers: range, folder: Path) -> Counter[str]:
    scenario = load(data_path("scenarios", "demo.toml"))
    path = folder / "log.csv"

    def read() -> str:
        return field_test.listing(fieldtest.answer(fieldtest.field_test(path, scenario)), Shown("si"))

    return attacked("log", numbers, data_path("scenarios", "demo_log.csv").read_bytes(), path, read)


def skylines(numbers: range, folder: Path) -> Counter[str]:
    raw = b"# a made-up skyline\ncompass,angle\n" + b"".join(b"%d,%d\n" % (10 * n, n % 30) for n in range(36))
    path = folder / "skyline.csv"
    return attacked("skyline", numbers, raw, path, lambda: read_horizon(path, 5.0))


def chunks(numbers: range, folder: Path) -> Counter[str]:
    import numpy as np

    path = folder / "000.chunk"
    write_chunk(path, Chunk("plan", 0, np.ones((4, 2, 9)), {2: "no such thing"}))
    raw, damaged = path.read_bytes(), Counter[str]()

    def read() -> str:
        chunk = read_chunk(path, "plan", 0, (4, 2, 9))
        damaged["damaged" if chunk is None else "whole"] += 1
        assert chunk is None or path.read_bytes() == raw, "a damaged piece was taken for whole"
        return ""

    attacked("chunk", numbers, raw, path, read)
    return damaged


def summaries(numbers: range, folder: Path, saved: Path) -> Counter[str]:
    path = saved / store.SUMMARY
    raw = path.read_bytes()

    def read() -> object:
        store.held(saved, ("a", "b", "c"))
        store.require_free(folder / "new", ("a", "b", "c"), replace=False)
        return open_result(saved)

    found = attacked("summary", numbers, raw, path, read)
    path.write_bytes(raw)
    return found


def hours(numbers: range, saved: Path) -> Counter[str]:
    path = saved / store.HOURS
    raw = path.read_bytes()
    found = attacked("hours", numbers, raw, path, lambda: open_result(saved))
    path.write_bytes(raw)
    return found


@pytest.fixture
def saved(result: Result, tmp_path: Path) -> Path:
    return result.save(tmp_path / "year")


def run_all(numbers: range, folder: Path, saved: Path) -> dict[str, Counter[str]]:
    return {
        "logs": logs(numbers, folder),
        "skylines": skylines(numbers, folder),
        "pieces of a sweep": chunks(numbers, folder),
        "summaries": summaries(numbers, folder, saved),
        "hours": hours(numbers, saved),
    }


def test_some_spoilt_records(tmp_path: Path, saved: Path) -> None:
    found = run_all(range(FEW), tmp_path, saved)
    assert found["pieces of a sweep"]["whole"] < 3
    assert all(sum(counts.values()) >= FEW for counts in found.values())


@pytest.mark.slow
def test_all_spoilt_records(tmp_path: Path, saved: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = run_all(range(ALL), tmp_path, saved)
    with capsys.disabled():
        for what, counts in found.items():
            print(f"\n{ALL} {what}: {told(counts)}", end="")
