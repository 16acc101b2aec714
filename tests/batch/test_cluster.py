"""A sweep by a scheduler and its workers: the same bits as here, a lost worker, and no open door."""

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from simengine.batch.cluster import checked_address, execute_there
from simengine.batch.plan import plan_of
from simengine.batch.sweep import open_sweep, run_plan, sweep
from simengine.errors import InputError
from tests.batch.sweeps import small

THREADS = {name: "1" for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")}


@pytest.mark.parametrize(
    ("address", "trusted"),
    [
        ("tcp://127.0.0.1:8786", False),
        ("tcp://localhost:8786", False),
        ("tcp://[::1]:8786", False),
        ("tls://head.example.org:8786", False),
        ("tcp://192.0.2.7:8786", True),
    ],
)
def test_an_address_that_may_be_spoken_to(address: str, trusted: bool) -> None:
    assert checked_address(address, trusted) == address


@pytest.mark.parametrize(
    "address",
    [
        "tcp://192.0.2.7:8786",
        "tcp://localhost.example.org:8786",
        "tcp://0.0.0.0:8786",
        "127.0.0.1:8786",
        "http://127.0.0.1:8786",
        "tcp://127.0.0.1",
        "tcp://me@127.0.0.1:8786",
        "tcp://127.0.0.1:port",
        "inproc://1",
        "",
    ],
)
def test_an_address_that_may_not(address: str) -> None:
    with pytest.raises(InputError, match="accepted: "):
        checked_address(address, trusted=False)


class Cluster:
    """A scheduler and workers of their own on loopback."""

    def __init__(self, folder: Path) -> None:
        self.file = folder / "scheduler.json"
        self.folder = folder
        self.workers: list[subprocess.Popen[bytes]] = []
        self.scheduler = self._start("dask_scheduler", "--port", "0")
        self.address = self._address()

    def _address(self) -> str:
        import json

        for _ in range(300):
            if self.file.is_file() and (text := self.file.read_text()).strip():
                return str(json.loads(text)["address"])
            time.sleep(0.1)
        raise TimeoutError("no scheduler")

    def _start(self, program: str, *words: str) -> "subprocess.Popen[bytes]":
        common = ["--host", "127.0.0.1", "--scheduler-file", str(self.file), "--no-dashboard"]
        return subprocess.Popen(
            [sys.executable, "-m", f"distributed.cli.{program}", *common, *words],
            env={**os.environ, **THREADS},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            cwd=Path(__file__).parents[2],
        )

    def add_worker(self) -> None:
        words = [
            "--nthreads",
            "1",
            "--no-nanny",
            "--death-timeout",
            "60",
            "--local-directory",
            str(self.folder),
        ]
        self.workers.append(self._start("dask_worker", *words))

    def close(self) -> None:
        for process in (*self.workers, self.scheduler):
            process.kill()
            process.wait()


@pytest.fixture(scope="module")
def cluster(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Cluster]:
    pytest.importorskip("distributed", reason="the packages of a cluster are not installed")
    made = Cluster(tmp_path_factory.mktemp("cluster"))
    try:
        made.add_worker()
        made.add_worker()
        yield made
    finally:
        made.close()


def test_two_workers_of_a_scheduler_give_the_same_bits(cluster: Cluster, tmp_path: Path) -> None:
    plan = plan_of(small())
    with sweep(small(), tmp_path / "here") as here:  # first: what it compiles, the workers find
        run_plan(plan, tmp_path / "there", scheduler=cluster.address)
        with open_sweep(tmp_path / "there") as there:
            assert there.identical(here)


def test_a_lost_worker_costs_its_task_only(cluster: Cluster) -> None:
    plan = plan_of(small())
    tasks = list(plan.tasks(range(plan.chunks)))
    found = {}
    for task, outcomes in execute_there(cluster.address, plan.base, iter(tasks)):
        if not found:
            cluster.workers[0].kill()
        found[task.number] = outcomes
    assert sorted(found) == [task.number for task in tasks]
    assert all(outcome.numbers is not None for outcomes in found.values() for outcome in outcomes)


def test_no_scheduler_is_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("distributed", reason="the packages of a cluster are not installed")
    monkeypatch.setattr("simengine.batch.cluster.PATIENCE", 1.0)
    plan = plan_of(small())
    with pytest.raises(InputError, match="accepted: a scheduler that runs there"):
        list(execute_there("tcp://127.0.0.1:9", plan.base, plan.tasks(range(1))))
