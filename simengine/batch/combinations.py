"""The members of a sweep: every combination of lists, or drawn ones, less what is left out."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from simengine.batch.sample import Column, draw
from simengine.errors import InputError
from simengine.scenario.schema.at_key import AtKey, at_key
from simengine.scenario.schema.combinations import Condition
from simengine.scenario.schema.many import Sweep
from simengine.scenario.schema.root import Inputs

Places = NDArray[np.int64]

MOST = 10_000_000
"""Most combinations that are looked at."""

INDOORS = (
    "fan.",
    "control.",
    "ducts.",
    "loop.",
    "house.",
    "builtin_houses.",
    "heating.",
    "electricity.",
    "economics.",
    "collector.arrangement",
    "collector.leak.",
    "collector.back.",
    "collector.edge.",
    "collector.front_gap.",
    "collector.rear_gap.",
    "collector.absorber.perforation.",
)
"""Keys that sun, sky and cover do not hang on: they vary fastest, so that neighbours share a march."""


@dataclass(frozen=True, slots=True)
class Axis:
    """Keys that advance together, and their values step by step."""

    keys: tuple[str, ...]
    steps: tuple[tuple[Any, ...], ...]


@dataclass(frozen=True, slots=True)
class Members:
    """What every member of a sweep changes, as a function of its number."""

    axes: tuple[Axis, ...]  # of a grid, slowest first
    drawn: tuple[Column, ...]  # or of drawn members
    kept: Places  # [member] number among all combinations

    @property
    def count(self) -> int:
        """How many members there are."""
        return int(self.kept.size)

    @property
    def keys(self) -> tuple[str, ...]:
        """Keys that are varied."""
        return (*(key for axis in self.axes for key in axis.keys), *(column.key for column in self.drawn))

    def changes(self, member: int) -> dict[str, Any]:
        """Return what one member changes in the scenario, by dotted key."""
        number = int(self.kept[member])
        if self.drawn:
            return {column.key: column.raws[number] for column in self.drawn}
        changes: dict[str, Any] = {}
        for axis in reversed(self.axes):
            number, step = divmod(number, len(axis.steps))
            changes = {**dict(zip(axis.keys, axis.steps[step], strict=True)), **changes}
        return changes


def members_of(inputs: Inputs, sweep: Sweep) -> Members:
    """Return the members of a sweep.

    Parameters
    ----------
    inputs : the checked scenario
    sweep : its sweep table

    Returns
    -------
    Members, in an order that puts those next to each other which share sun, sky and cover

    Raises
    ------
    InputError
        Too many combinations, none left, or a condition that cannot be read.
    """
    members = _drawn(inputs, sweep, sweep.samples) if sweep.samples is not None else _grid(sweep)
    out = np.zeros(members.kept.size, dtype=bool)
    for number, rule in enumerate(sweep.leave_out, start=1):
        met = np.ones(members.kept.size, dtype=bool)
        for key, condition in rule.items():
            try:
                met &= _met(inputs, members, key, condition)
            except InputError as error:
                raise InputError(f"sweep.leave_out.{number}: {key}: {error.problems[0]}") from None
        out |= met
    if out.all():
        raise InputError("sweep.leave_out: leaves no combination over; accepted: rules that leave some")
    return Members(members.axes, members.drawn, members.kept[~out])


def _grid(sweep: Sweep) -> Members:
    grouped = {key: group for group in sweep.together for key in group}
    axes: dict[tuple[str, ...], Axis] = {}
    for key in sweep.vary:
        group = grouped.get(key, (key,))
        steps = zip(*(sweep.vary[one].term("values") for one in group), strict=True)
        axes.setdefault(group, Axis(group, tuple(steps)))
    slowest_first = sorted(axes.values(), key=lambda axis: all(key.startswith(INDOORS) for key in axis.keys))
    count = math.prod(len(axis.steps) for axis in slowest_first)
    if count > MOST:
        raise InputError(f"sweep: {count} combinations; accepted: at most {MOST}, or samples = 100000")
    return Members(tuple(slowest_first), (), np.arange(count))


def _drawn(inputs: Inputs, sweep: Sweep, samples: int) -> Members:
    columns = draw(inputs, sweep.vary, samples, sweep.seed).columns
    outdoors = [column.numbers for column in columns if not column.key.startswith(INDOORS)]
    order = np.lexsort(outdoors[::-1]) if outdoors else np.arange(samples)
    return Members((), columns, order)


def _met(inputs: Inputs, members: Members, key: str, condition: Condition) -> NDArray[np.bool_]:
    """Return for every member whether its value of a key meets a condition."""
    held = _held(inputs, key)
    if members.drawn:
        column = next(column for column in members.drawn if column.key == key)
        return np.array([_fits(held, column.raws[number], condition) for number in members.kept])
    after = 1
    for axis in reversed(members.axes):
        if key in axis.keys:
            place = axis.keys.index(key)
            fits = np.array([_fits(held, step[place], condition) for step in axis.steps])
            found: NDArray[np.bool_] = fits[members.kept // after % len(axis.steps)]
            return found
        after *= len(axis.steps)
    raise InputError("is not varied; accepted: a key of vary")


def _held(inputs: Inputs, key: str) -> AtKey | None:
    try:
        held = at_key(inputs, key)
    except InputError:
        return None
    return held if held.is_quantity else None


def _fits(held: AtKey | None, raw: Any, condition: Condition) -> bool:
    if condition.any_of:
        return any(_same(held, raw, one) for one in condition.any_of)
    if held is None:
        raise InputError("is no quantity of this scenario, so it has no ends; accepted: a value or a list")
    number = _number(held, raw)
    low = -math.inf if condition.low is None else _number(held, condition.low)
    high = math.inf if condition.high is None else _number(held, condition.high)
    slack = 1e-9 * max(abs(number), 1e-9)
    return low - slack <= number <= high + slack


def _same(held: AtKey | None, one: Any, other: Any) -> bool:
    if held is None or one == other:
        return bool(one == other and isinstance(one, bool) == isinstance(other, bool))
    return math.isclose(_number(held, one), _number(held, other), rel_tol=1e-9, abs_tol=1e-15)


def _number(held: AtKey, raw: Any) -> float:
    return held.read(raw).number


def numbers_of_key(inputs: Inputs, key: str, raws: Sequence[Any]) -> tuple[NDArray[np.float64] | None, str]:
    """Return the values of a key as numbers with their unit, None where they are no quantities.

    Parameters
    ----------
    inputs : the checked scenario
    key : dotted key
    raws : values as written
    """
    held = _held(inputs, key)
    if held is None or any(isinstance(raw, list) for raw in raws):
        plain = all(isinstance(raw, int | float) and not isinstance(raw, bool) for raw in raws)
        return (np.array(raws, dtype=np.float64), "") if plain else (None, "")
    known: dict[Any, tuple[float, str]] = {}
    for raw in raws:
        if raw not in known:
            try:
                written = held.read(raw)
            except InputError:
                return None, ""
            known[raw] = (written.number, written.unit)
    units = {unit for _, unit in known.values()}
    numbers = np.array([known[raw][0] for raw in raws])
    return (numbers, units.pop()) if len(units) == 1 else (None, "")


def described(members: Members) -> list[Mapping[str, Any]]:
    """Return what is varied as plain data, for a digest and for a person who compares two sweeps."""
    if members.drawn:
        return [{"key": column.key, "values": list(column.raws)} for column in members.drawn]
    return [{"keys": list(axis.keys), "steps": [list(step) for step in axis.steps]} for axis in members.axes]
