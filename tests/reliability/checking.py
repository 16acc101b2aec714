"""What a hostile file is held to: an answer, or errors of our own, one line each, within five seconds."""

import dataclasses
import math
import signal
import time
import warnings
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from simengine.errors import InputError, RunEnded
from simengine.report import houses, inputs, loop, point
from simengine.report.shown import Shown
from simengine.scenario import Scenario, load
from simengine.scenario.schema import Inputs
from simengine.scenario.schema.fields import Many, Of, Pairs
from simengine.scenario.schema.texts import Whole
from simengine.scenario.schema.walk import fields_by_key, kinds_of, models_in, reader_of
from simengine.simulate import build_cautions, cover_label, loop_facts
from simengine.simulate.drive import Shared
from simengine.units import parse

LONGEST = 5.0
"""Time that a file may take on the processor [s]; a busy machine is no fault of the file."""
PATIENCE = 24.0
"""How many times longer it may take on the clock before it is stopped in the middle."""


class Hung(BaseException):
    """A file took too long; no `except Exception` catches it."""


@contextmanager
def limited(seconds: float) -> Iterator[None]:
    """Fail what takes longer; what never ends is stopped, where the system can."""
    alarm = getattr(signal, "SIGALRM", None)
    if alarm is not None:

        def stop(*_: object) -> None:
            raise Hung(f"no end after {PATIENCE * seconds} s")

        before = signal.signal(alarm, stop)
        signal.setitimer(signal.ITIMER_REAL, PATIENCE * seconds)
    started = time.process_time()
    try:
        yield
    finally:
        if alarm is not None:
            signal.setitimer(signal.ITIMER_REAL, 0.0)
            signal.signal(alarm, before)
    if time.process_time() - started > seconds:
        raise Hung(f"{time.process_time() - started:.1f} s")


def lines_of(error: InputError | RunEnded) -> tuple[str, ...]:
    """Return the lines of an error, each fit to be printed."""
    lines = error.problems if isinstance(error, InputError) else (str(error),)
    assert lines, "an error that says nothing"
    for line in lines:
        assert line.isprintable(), f"not printable: {line[:200]!r}"
        assert 10 < len(line) < 3000, f"{len(line)} characters: {line[:200]!r}"
    return lines


def outcome(
    work: Callable[[], Any], kinds: tuple[type[InputError] | type[RunEnded], ...]
) -> tuple[str, ...] | Any:
    """Return what comes of some work, or the lines of its error."""
    with limited(LONGEST):
        try:
            return work()
        except kinds as error:
            return lines_of(error)


def attack(numbers: Iterable[int], one: Callable[[int], str]) -> tuple[Counter[str], list[str]]:
    """Return what came of each number, in a word, and every defect with its number; a warning is one."""
    found: Counter[str] = Counter()
    defects: list[str] = []
    for number in numbers:
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("error")
                found[one(number)] += 1
        except (Exception, Hung) as defect:  # any at all is a defect; all are told at once
            defects.append(f"{number}: {type(defect).__name__}: {str(defect)[:300]}")
    return found, defects


def checked(path: Path, shared: Shared) -> Scenario:
    """Do what `simengine check` does with a scenario file; return the scenario."""
    scenario = load(path)
    hold_to_bounds(scenario.data)
    resolved = shared.resolve(scenario)
    rows = resolved.inputs
    both, facts = [Shown("si"), Shown("us")], loop_facts(resolved)
    told = [
        inputs.listing(rows),
        loop.listing(facts["parts"], both),
        loop.flow_note(facts, both[0]),
        houses.listing(resolved.houses, both),
        point.cover(cover_label(resolved)),
        *build_cautions(resolved),
    ]
    for line in "\n".join(told).splitlines():
        assert line.isprintable() or not line, f"told: {line[:200]!r}"
    for name, number in numbers_in((resolved.parts, resolved.houses), "parts"):
        assert not math.isnan(number), f"{name} is not a number"
    assert len(scenario.sha256) == 64
    return scenario


def numbers_in(value: Any, name: str) -> Iterator[tuple[str, float]]:
    """Yield every number that a run would start from, with its name."""
    if isinstance(value, float):
        yield name, value
    elif isinstance(value, tuple | list):
        for number, item in enumerate(value):
            yield from numbers_in(item, f"{name}.{number}")
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from numbers_in(getattr(value, field.name), f"{name}.{field.name}")


def hold_to_bounds(tables: Mapping[str, Any]) -> None:
    """Assert that no accepted number lies outside of the bounds that its key states."""
    for key, reader, raw in readings(tables, Inputs):
        if isinstance(reader, Whole):
            assert type(raw) is int and reader.low <= raw <= reader.high, f"{key} = {raw!r}"
        elif isinstance(reader, Many):
            for one in raw if isinstance(raw, list) else [raw]:
                _within(key, reader.each, one)
        elif isinstance(reader, Pairs):
            for first, second in raw:
                _within(key, reader.first, f"{first} deg" if reader.plain_degrees else first)
                _within(key, reader.second, f"{second} deg" if reader.plain_degrees else second)
        elif isinstance(reader, Of):
            _within(key, reader, raw)


def _within(key: str, reader: Of, raw: Any) -> None:
    if isinstance(raw, str) and raw.count("deg") == 2:  # a plain pair that has its unit already
        raw = raw.removesuffix(" deg")
    value = parse(raw, reader.kind) if isinstance(raw, str) else float(raw)
    assert math.isfinite(value), f"{key} = {raw!r}"
    small = 1e-6 * max(1e-9, abs(value))
    assert reader.low is None or value >= parse(reader.low, reader.kind) - small, f"{key} = {raw!r}"
    assert reader.high is None or value <= parse(reader.high, reader.kind) + small, f"{key} = {raw!r}"


def readings(tables: Any, model: type[BaseModel], above: str = "") -> Iterator[tuple[str, Any, Any]]:
    """Yield key, reader and raw value of everything that a file gives."""
    fields = fields_by_key(model)
    for key, raw in tables.items():
        inner = models_in(fields[key].annotation)
        if not inner:
            yield f"{above}{key}", reader_of(fields[key]), raw
            continue
        for item in raw if isinstance(raw, list) else [raw]:
            names = {item.get("part"), item.get("kind")} if isinstance(item, dict) else set()
            suits = next((one for one in inner if names & {*kinds_of(one)}), inner[0])
            if isinstance(item, dict):
                yield from readings(item, suits, f"{above}{key}.")


def told(found: Counter[str]) -> str:
    """Return what came of many files, in one line."""
    return ", ".join(f"{count} {what}" for what, count in found.most_common())
