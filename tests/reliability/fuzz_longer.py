"""Feeds the readers by what each input reaches in the code, for as long as one likes.

Run it from the repository: python -m tests.reliability.fuzz_longer scenarios --seconds 3600

With `atheris` installed (a coverage-guided fuzzer, not among the project's requirements) its engine does the
work. Without it a small loop of our own does: it keeps every input that reaches a new line of the package,
and spoils what it kept. What breaks is written to the folder of findings, and can be fed again by its name.
"""

import argparse
import random
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from types import CodeType, FrameType, FunctionType
from typing import Any

from simengine.errors import InputError, RunEnded
from simengine.simulate.drive import Shared
from simengine.weather import read_weather
from tests.reliability.checking import Hung, checked, limited, lines_of
from tests.reliability.spoilt_scenarios import BASES, BYTES, TEXTS, spoilt
from tests.reliability.spoilt_weather import bases, spoilt_weather

KEPT = 4000
"""Most inputs that are kept to be spoilt again."""
READING = tuple(f"simengine.{room}" for room in ("scenario", "units", "weather", "fieldtest"))
LARGEST = 1 << 20
"""Larger inputs are not kept [byte]."""

Feed = Callable[[bytes], None]


def scenarios(folder: Path) -> tuple[Feed, list[bytes]]:
    """Return what reads a scenario, and where to begin."""
    shared, path = Shared(), folder / "fed.toml"

    def feed(content: bytes) -> None:
        path.write_bytes(content)
        _held(lambda: checked(path, shared))

    return feed, [*BASES, *(spoilt(number)[1] for number in range(60))]


def weather(folder: Path) -> tuple[Feed, list[bytes]]:
    """Return what reads a weather file, and where to begin."""
    path = folder / "fed.dat"

    def feed(content: bytes) -> None:
        path.write_bytes(content)
        _held(lambda: read_weather(path))

    return feed, [*bases().values(), *(spoilt_weather(number)[1][:LARGEST] for number in range(24))]


TARGETS = {target.__name__: target for target in (scenarios, weather)}


def _held(work: Callable[[], Any]) -> None:
    """Do some work; anything but an answer or an error of our own, in time, passes on."""
    with limited(5.0):
        try:
            work()
        except (InputError, RunEnded) as error:
            lines_of(error)


class Reached:
    """Lines of the package that were ever reached, found by a trace that each line sets off once."""

    def __init__(self) -> None:
        self.lines: set[tuple[CodeType, int]] = set()
        self.new = 0

    def __call__(self, frame: FrameType, event: str, _: Any) -> Any:
        """Follow only frames of the package."""
        return self._line if "simengine" in frame.f_code.co_filename else None

    def _line(self, frame: FrameType, event: str, _: Any) -> Any:
        place = (frame.f_code, frame.f_lineno)
        if event == "line" and place not in self.lines:
            self.lines.add(place)
            self.new += 1
        return self._line


def changed(rng: random.Random, kept: list[bytes]) -> bytes:
    """Return one of the kept inputs with some bytes changed, or two of them crossed."""
    raw = bytearray(rng.choice(kept))
    if rng.random() < 0.15:
        other = rng.choice(kept)
        return bytes(raw[: rng.randrange(len(raw) + 1)]) + other[rng.randrange(len(other) + 1) :]
    for _ in range(2 ** rng.randrange(5)):
        at = rng.randrange(len(raw) + 1)
        new = rng.choice((*BYTES, rng.randbytes(2), b"", rng.choice(TEXTS)[:300].encode("utf-8", "replace")))
        raw[at : at + rng.choice((0, 1, 1, 2, 8, 60))] = new
    return bytes(raw)


def by_ourselves(feed: Feed, kept: list[bytes], seconds: float, seed: int, findings: Path) -> int:
    """Feed inputs until the time is over, keeping those that reach new lines; return how many broke."""
    rng, reached, broken, count = random.Random(seed), Reached(), 0, 0
    first, end = list(kept), time.monotonic() + seconds
    while time.monotonic() < end:
        content = first.pop() if first else changed(rng, kept)
        reached.new = 0
        sys.settrace(reached)
        try:
            feed(content)
        except (Exception, Hung) as defect:  # any at all is a finding
            sys.settrace(None)
            broken += 1
            findings.mkdir(parents=True, exist_ok=True)
            place = findings / f"{type(defect).__name__}-{broken}"
            place.write_bytes(content)
            print(f"{place}: {str(defect)[:200]}", flush=True)
        finally:
            sys.settrace(None)
        count += 1
        if reached.new and len(content) < LARGEST and len(kept) < KEPT:
            kept.append(content)
    print(f"{count} inputs, {len(reached.lines)} lines reached, {len(kept)} kept, {broken} broke")
    return broken


def reading_functions() -> list[FunctionType]:
    """Return the functions of the rooms that read; what is compiled cannot be watched."""
    found: list[FunctionType] = []
    for name, module in list(sys.modules.items()):
        if name.startswith(READING):
            owners = [module, *(item for item in vars(module).values() if isinstance(item, type))]
            inside = [item for owner in owners for item in vars(owner).values()]
            found += [item for item in inside if isinstance(item, FunctionType) and item.__module__ == name]
    return found


def by_atheris(
    atheris: Any, feed: Feed, kept: list[bytes], seconds: float, seed: int, findings: Path
) -> None:
    """Hand the feeding to the coverage-guided engine; it ends the process by itself."""
    corpus = findings / "corpus"
    corpus.mkdir(parents=True, exist_ok=True)
    for number, content in enumerate(kept):
        (corpus / f"start-{number}").write_bytes(content)
    options = [
        f"-max_total_time={int(seconds)}",
        f"-seed={seed}",
        f"-artifact_prefix={findings}/",
        "-timeout=120",
    ]
    for function in reading_functions():
        atheris.instrument_func(function)
    atheris.Setup([sys.argv[0], str(corpus), *options, f"-max_len={LARGEST}"], feed)
    atheris.Fuzz()


def main() -> int:
    """Read the command line and feed one kind of file, or feed a finding again."""
    ask = argparse.ArgumentParser(description=(__doc__ or "").partition(":")[0])
    ask.add_argument("target", choices=TARGETS)
    ask.add_argument("--seconds", type=float, default=600.0, help="how long (default 600)")
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--findings", type=Path, default=Path("findings"), help="folder for what breaks")
    ask.add_argument("--again", type=Path, help="feed this one file instead")
    ask.add_argument(
        "--own", action="store_true", help="use the loop of our own even where atheris is installed"
    )
    given = ask.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        feed, kept = TARGETS[given.target](Path(folder))
        if given.again is not None:
            feed(given.again.read_bytes())
            return 0
        try:
            import atheris  # type: ignore[import-not-found]
        except ImportError:
            atheris = None
        if atheris is not None and not given.own:
            by_atheris(atheris, feed, kept, given.seconds, given.seed, given.findings)
        return 1 if by_ourselves(feed, kept, given.seconds, given.seed, given.findings) else 0


if __name__ == "__main__":
    sys.exit(main())
