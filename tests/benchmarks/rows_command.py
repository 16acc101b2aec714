"""Rows of the table that look at the command line: a warm run, and the very first one on a machine."""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from simengine.data_files import data_path
from simengine.scenario import load
from simengine.simulate import run, year
from tests.benchmarks.found import REPOSITORY, Found, Options, table
from tests.benchmarks.sample import timed

BARE = "import numpy, pandas, xarray, pvlib, numba"
USERS = "import sys; sys.modules.update(dask=None, pint=None); from simengine.cli import main; main()"
"""The command without what only contributors and clusters install, which xarray loads where it finds it."""


def _seconds(command: list[str], **more: str) -> float:
    environment = {**os.environ, "PYTHONPATH": str(REPOSITORY), **more}
    begin = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True, env=environment)
    return time.perf_counter() - begin


def _command(folder: Path) -> list[str]:
    demo = str(data_path("scenarios", "demo.toml"))
    return [sys.executable, "-m", "simengine", "run", demo, "--out", str(folder / "demo"), "--replace"]


def warm(options: Options) -> Found:
    """Time the demo from the command line, and its march, beside the bare imports."""
    scenario = load(data_path("scenarios", "demo.toml"))
    run(scenario)
    marched = []
    for _ in range(options.turns):
        with timed(year, "march_year", time.process_time) as clock:
            run(scenario)
        marched.append(clock.seconds)
    with tempfile.TemporaryDirectory() as made:
        command = _command(Path(made))
        users = [command[0], "-c", USERS, *command[3:]]
        bare_imports = [command[0], "-c", BARE]
        _seconds(command)
        turns = [tuple(map(_seconds, (command, users, bare_imports))) for _ in range(options.turns)]
        before = os.times()
        _seconds(users)
        after = os.times()
    spent = after.children_user - before.children_user + after.children_system - before.children_system
    whole, users_whole, bare = (statistics.median(each) for each in zip(*turns, strict=True))
    least, users_least, bare_least = (min(each) for each in zip(*turns, strict=True))
    march = statistics.median(marched)
    detail = table(
        ("part", "median", "quickest"),
        ("`simengine run demo.toml`, files and page written", f"{users_whole:.2f} s", f"{users_least:.2f} s"),
        ("the same with a contributor's libraries installed", f"{whole:.2f} s", f"{least:.2f} s"),
        ("its march, two houses, processor time", f"{march:.3f} s", f"{min(marched):.3f} s"),
        ("processor time of the first, one run", f"{spent:.2f} s", ""),
        (f"bare imports beside it (`{BARE}`)", f"{bare:.2f} s", f"{bare_least:.2f} s"),
    )
    ratio = users_whole / bare
    return Found(
        f"{users_whole:.2f} s ({ratio:.1f} times the bare imports beside it), march {march:.2f} s",
        users_whole < 2.5 and march < 0.25,
        detail,
    )


def first(options: Options) -> Found:
    """Time the same with an empty folder for compiled code."""
    with tempfile.TemporaryDirectory() as made:  # closed to others, so that compiled code is kept in it
        there = {name: made for name in ("XDG_CACHE_HOME", "LOCALAPPDATA")}
        command = _command(Path(made))
        begin = os.times().children_user + os.times().children_system
        whole = _seconds(command, **there)
        spent = os.times().children_user + os.times().children_system - begin
        again = _seconds(command, **there)
        kept = sum(path.stat().st_size for path in Path(made).glob("simengine/**/*") if path.is_file())
    detail = (
        f"{whole:.1f} s in all ({spent:.1f} s of processor time), the same command again {again:.1f} s; "
        f"{kept / 1e6:.1f} MB of compiled code are kept."
    )
    return Found(f"{whole:.1f} s", whole < 30.0, detail)
