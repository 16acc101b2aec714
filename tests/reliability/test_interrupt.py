"""Ctrl-C: the process ends within 2 s with status 130, also out of compiled code that hears no signal."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from simengine.compiled import COMPILER_AVAILABLE, unbroken
from simengine.data_files import data_path

pytestmark = pytest.mark.skipif(os.name == "nt", reason="a child cannot be sent Ctrl-C alone there")

SECONDS = 2.0
LINE = "interrupted; what was finished before is kept"
DEAF = (
    "import numba\n"
    "from simengine.cli.exits import guarded\n"
    "@numba.njit(nogil=True)\n"
    "def spin(count):\n"
    "    total = 1.0\n"
    "    for number in range(count): total = (total * 1.0000001 + number) % 7.0\n"
    "    return total\n"
    "spin(1)\n"
    "print('begun', flush=True)\n"
    "raise SystemExit(guarded(lambda: spin(10**12)))\n"
)
LISTENING = (
    "import time\n"
    "from simengine.cli.exits import guarded\n"
    "print('begun', flush=True)\n"
    "raise SystemExit(guarded(lambda: time.sleep(60)))\n"
)


def interrupted(arguments: Sequence[str], until: str, wait: float) -> tuple[int, float, str]:
    """Start a child, press Ctrl-C some time after a line; return status, seconds, what it said."""
    child = subprocess.Popen(
        [sys.executable, *arguments],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
    )
    assert child.stdout is not None
    try:
        for line in child.stdout:
            if until in line:
                break
        time.sleep(wait)
        started = time.perf_counter()
        child.send_signal(signal.SIGINT)
        said, _ = child.communicate(timeout=30.0)
        return child.returncode, time.perf_counter() - started, said
    finally:
        if child.poll() is None:
            child.kill()


@pytest.mark.parametrize(
    "program",
    [pytest.param(LISTENING, id="python"), pytest.param(DEAF, id="compiled code", marks=pytest.mark.slow)],
)
def test_ctrl_c_ends_a_command_soon(program: str) -> None:
    status, seconds, said = interrupted(["-c", program], "begun", 0.2)
    assert (status, said.strip()) == (130, LINE)
    assert seconds < SECONDS


def test_ctrl_c_in_the_march_leaves_nothing_half_done(tmp_path: Path) -> None:
    out = tmp_path / "year"
    arguments = ["-m", "simengine", "run", str(data_path("scenarios", "demo.toml")), "--set", "run.step=2 s"]
    status, seconds, said = interrupted([*arguments, "--out", str(out)], "marching", 1.0)
    assert status == 130 and LINE in said
    assert seconds < SECONDS
    assert list(tmp_path.iterdir()) == []


# pressed in the midst of compiling, as in a notebook
PRESSED_WHILE_COMPILING = """
import signal
from numba.core.dispatcher import Dispatcher
from simengine import compiled
pressed, compile_it = [], Dispatcher.compile
def pressing(self, signature):
    if not pressed:
        pressed.append(signal.raise_signal(signal.SIGINT))
    return compile_it(self, signature)
Dispatcher.compile = pressing
@compiled.entry
def twice(number): return 2.0 * number
try:
    twice(1.0)
    print("not heard")
except KeyboardInterrupt:
    print("interrupted", len(twice.signatures), twice(2.0), signal.getsignal(signal.SIGINT).__name__)
"""


@pytest.mark.skipif(not COMPILER_AVAILABLE, reason="nothing is compiled here")
def test_ctrl_c_while_a_function_is_compiled_comes_after_it_is_whole(tmp_path: Path) -> None:
    program = tmp_path / "program.py"
    program.write_text(PRESSED_WHILE_COMPILING)
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "NUMBA_DISABLE_JIT": "0"}
    done = subprocess.run(
        [sys.executable, str(program)], env=environment, capture_output=True, text=True, timeout=120
    )
    assert done.stdout.strip() == "interrupted 1 4.0 default_int_handler", done.stderr


def test_another_thread_is_left_alone() -> None:
    with ThreadPoolExecutor(1) as pool:
        assert pool.submit(unbroken(lambda number: number + 1), 1).result() == 2
