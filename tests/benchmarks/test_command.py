"""How long one scenario takes from the command line, beside the bare imports, in one run.

Run with: pytest -m benchmark tests/benchmarks -s
"""

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest

from simengine.data_files import data_path
from simengine.engine.ledger import COLUMNS
from simengine.engine.march import march
from simengine.engine.state import Member, new_scratch, new_state
from simengine.scenario import load
from simengine.simulate import resolve
from simengine.simulate import year as whole
from simengine.simulate.fan_drive import drive
from simengine.simulate.forcing import (
    collector_forcing,
    demand_rows,
    on_plane,
    place,
    step_plan,
    zone_rows,
)
from simengine.simulate.lanes import collector_lanes, passive_rows, rule_rows

pytestmark = pytest.mark.benchmark

TURNS = 9
BARE = "import numpy, pandas, xarray, pvlib, numba"


def seconds(command: list[str], folder: Path) -> float:
    start = time.perf_counter()
    subprocess.run(command, cwd=folder, check=True, capture_output=True, env=dict(os.environ))
    return time.perf_counter() - start


def test_one_scenario_from_the_command_line(tmp_path: Path) -> None:
    demo = str(data_path("scenarios", "demo.toml"))
    run = [sys.executable, "-m", "simengine", "run", demo, "--out", str(tmp_path / "demo"), "--replace"]
    bare = [sys.executable, "-c", BARE]
    seconds(run, tmp_path)
    pairs = [(seconds(run, tmp_path), seconds(bare, tmp_path)) for _ in range(TURNS)]
    command = statistics.median(pair[0] for pair in pairs)
    imports = statistics.median(pair[1] for pair in pairs)
    print(f"\ncommand {command:.2f} s, bare imports {imports:.2f} s, ratio {command / imports:.2f}")


def test_march_of_one_scenario() -> None:
    resolved = resolve(load(data_path("scenarios", "demo.toml")))
    here = place(resolved.series, resolved.parts.site, resolved.parts.run.clear_sky)
    forcing = collector_forcing(here, resolved, on_plane(here, resolved))
    plan = step_plan(forcing, 3600.0, resolved.parts.run.step)
    houses = tuple(whole.house_with(house, resolved.parts) for house in resolved.houses)
    lanes = len(houses)
    network, table = collector_lanes(resolved, lanes)
    control = resolved.parts.control
    rule, runs = rule_rows(control, lanes), drive(control, here, resolved, lanes)
    passive = passive_rows(resolved, lanes)
    demand = demand_rows(here, houses)
    member = Member(network, table, forcing, rule, runs, passive, zone_rows(houses), demand)
    taken = []
    for _ in range(TURNS + 1):
        state = new_state(network.panes, network.path.shape[1], lanes, 293.15)
        work = new_scratch(network.panes, network.path.shape[1], lanes)
        start = time.perf_counter()
        march(member, plan, 3600.0, state, work, np.zeros((0, COLUMNS, lanes)))
        taken.append(time.perf_counter() - start)
    median = statistics.median(taken[1:])
    each = median / plan.sum() / lanes * 1e6
    print(f"\nmarch of both houses {median:.2f} s, {plan.sum()} steps, {each:.2f} us each")
