"""Reads a test log by the map of its columns into SI, on one uniform grid."""

from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from simengine.errors import InputError
from simengine.fieldtest.flow import meter_flow
from simengine.fieldtest.log import Array, TestLog, Times
from simengine.fieldtest.rows import Rows, read_rows, read_text
from simengine.units import KINDS

if TYPE_CHECKING:
    from simengine.scenario.schema.field_test import FieldTest

TEMPERATURES = ("ambient", "inlet", "outlet", "supply", "absorber")
FLOWS = ("flow", "second_flow")
SHORTEST, LONGEST = 1.0, 3600.0
"""Steps of a log that are read [s]."""
MOST_SLOTS = 1_000_000
"""Longest grid; a log with a hole of months is two logs."""
LABELS = {"instant": 0.0, "start": 0.5, "end": -0.5}
"""From a row's time to the middle of what it stands for [steps]."""


def read_log(path: Path | str, given: "FieldTest", pressure: float, utc_offset: float) -> TestLog:
    """Return the log in a file.

    Parameters
    ----------
    path : a comma-separated file with one line of titles
    given : the scenario's [field_test]
    pressure : of the air at the site [Pa]
    utc_offset : of the logger's clock where the scenario says nothing of it [h]

    Returns
    -------
    TestLog

    Raises
    ------
    InputError
        Every problem has its line: file, line, column, what is wrong, what is accepted.
    """
    name, text = read_text(Path(path))
    return parse_log(name, text, given, pressure, utc_offset)


def parse_log(name: str, text: str, given: "FieldTest", pressure: float, utc_offset: float) -> TestLog:
    """Return the log in a text; see `read_log`.

    Parameters
    ----------
    name : of the file, for messages
    text : its content
    given : the scenario's [field_test]
    pressure : of the outdoor air [Pa]
    utc_offset : of the site's clock [h]
    """
    rows = read_rows(name, text, given.time, _titles(given))
    slots, step, notes = _grid(rows)
    times, count = rows.times[0] + (np.arange(slots[-1] + 1) * step).astype("timedelta64[s]"), slots[-1] + 1
    raw = {title: _placed(values, slots, count) for title, values in rows.numbers.items()}
    columns: dict[str, Array] = {}
    as_written: dict[str, Array] = {}
    for role in (*TEMPERATURES, "irradiance", "wind"):
        section = getattr(given, role)
        if section is None:
            continue
        kind = "temperature" if role in TEMPERATURES else "irradiance" if role == "irradiance" else "speed"
        unit = KINDS[kind].find(section.unit)
        assert unit is not None
        as_written[role] = raw[section.column]
        columns[role] = raw[section.column] * unit.factor + unit.offset
    for role in FLOWS:
        meter = getattr(given, role)
        if meter is not None:
            readings = [raw[title] for title in meter.column]
            columns[role] = meter_flow(meter, readings, columns[meter.place], pressure)
    shift = given.clock_offset + LABELS[given.label] * step
    clock = utc_offset if given.utc_offset is None else given.utc_offset / 3600.0
    moved: Times = times + np.timedelta64(round(shift), "s")
    return TestLog(name, moved, step, clock, columns, tuple(notes), as_written)


def _titles(given: "FieldTest") -> tuple[str, ...]:
    sections = [getattr(given, role) for role in (*TEMPERATURES, "irradiance", "wind")]
    plain = [section.column for section in sections if section is not None]
    flows = [
        title for role in FLOWS if getattr(given, role) is not None for title in getattr(given, role).column
    ]
    return tuple(dict.fromkeys([*plain, *flows]))


def _grid(rows: Rows) -> tuple[list[int], float, list[str]]:
    """Return the slot of every row on a uniform grid, its step [s], and what there is to say."""
    seconds = (rows.times - rows.times[0]).astype(np.int64)
    steps = np.diff(seconds)
    if (steps <= 0).any():
        line = int(rows.lines[1 + int(np.argmax(steps <= 0))])
        raise InputError(
            f"{rows.name}:{line}:1: time does not rise from the row before; accepted: rows in the order of "
            "time, on a clock without summer time"
        )
    usual, times = np.unique(steps, return_counts=True)
    step = float(usual[np.argmax(times)])
    if not SHORTEST <= step <= LONGEST:
        raise InputError(
            f"{rows.name}:{int(rows.lines[1])}:1: rows {step:.0f} s apart; accepted: {SHORTEST:.0f} s to 1 h"
        )
    slots = np.rint(seconds / step).astype(np.int64)
    if slots[-1] >= MOST_SLOTS:
        raise InputError(f"{rows.name}: the log lasts too long for its step; accepted: {MOST_SLOTS} steps")
    notes = []
    off = np.abs(seconds / step - slots) > 0.1
    if off.any():
        notes.append(f"{int(off.sum())} rows stand off the even step of {step:.0f} s and were moved onto it")
    return slots.tolist(), step, notes


def _placed(values: Array, slots: list[int], count: int) -> Array:
    """Return values on the grid; two on one slot as their mean."""
    total, number = np.zeros(count), np.zeros(count)
    finite = np.isfinite(values)
    where = np.array(slots)[finite]
    np.add.at(total, where, values[finite])
    np.add.at(number, where, 1.0)
    return np.where(number > 0.0, total / np.maximum(number, 1.0), np.nan)
