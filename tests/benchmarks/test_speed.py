"""Speed of the kernels, the march, a run and a sweep.

Run with: pytest -m benchmark tests/benchmarks/test_speed.py
"""

from pathlib import Path
from typing import Any

import numba
import numpy as np
import pytest

from simengine.batch.plan import plan_of
from simengine.batch.sweep import run_plan
from simengine.heat_transfer.mixed_convection import mixed
from simengine.heat_transfer.radiation import radiative_coefficient
from simengine.heat_transfer.roots import cube_root, exp_negative
from simengine.simulate import resolve, run
from simengine.simulate.drive import drive_of
from simengine.simulate.year import member_of
from tests.benchmarks.sample import perforated, sweep_of
from tests.engine import drive as hand

pytestmark = pytest.mark.benchmark

compiled = numba.njit(error_model="numpy")
NUMBERS = np.linspace(0.1, 50.0, 4096)


@compiled
def all_cube_roots(given: np.ndarray, found: np.ndarray) -> None:
    for i in range(given.size):
        found[i] = cube_root(given[i])


@compiled
def all_exponentials(given: np.ndarray, found: np.ndarray) -> None:
    for i in range(given.size):
        found[i] = exp_negative(given[i])


@compiled
def all_films(given: np.ndarray, found: np.ndarray) -> None:
    for i in range(given.size):
        found[i] = mixed(given[i], 2.0)


@compiled
def all_exchanges(given: np.ndarray, found: np.ndarray) -> None:
    for i in range(given.size):
        found[i] = radiative_coefficient(280.0 + given[i], 300.0, 0.8)


KERNELS = {
    "cube root": all_cube_roots,
    "exp": all_exponentials,
    "film": all_films,
    "radiation": all_exchanges,
}


@pytest.mark.parametrize("name", KERNELS)
def test_kernel_on_4096_numbers(benchmark: Any, name: str) -> None:
    found = np.zeros_like(NUMBERS)
    KERNELS[name](NUMBERS, found)
    benchmark(KERNELS[name], NUMBERS, found)
    assert np.isfinite(found).all()


def test_a_week_of_the_march(benchmark: Any) -> None:
    resolved = resolve(perforated())
    drive = drive_of(resolved)
    week = hand.window(member_of(resolved, drive), 168, 336)
    ran = benchmark(hand.go, week, drive.plan[168:336], hand.start(week))
    assert np.isfinite(ran.hours).all()


def test_weather_sun_and_optics(benchmark: Any) -> None:
    resolved = resolve(perforated())
    assert benchmark(drive_of, resolved).plan.size == 8760


def test_a_run(benchmark: Any) -> None:
    scenario = perforated()
    run(scenario)
    assert benchmark.pedantic(run, (scenario,), rounds=3).summary["houses"]


def test_a_sweep_of_32(benchmark: Any, tmp_path: Path) -> None:
    plan = plan_of(sweep_of(32))
    run(perforated())
    folders = iter(range(100))

    def sweep() -> None:
        run_plan(plan, tmp_path / str(next(folders)))

    benchmark.pedantic(sweep, rounds=2)
