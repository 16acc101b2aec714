"""Several results side by side: one table a house, one column a result."""

from collections.abc import Mapping, Sequence
from pathlib import PurePath
from typing import Any

from simengine.report.lines import MISSING, lines_of
from simengine.report.shown import Shown
from simengine.report.tables import columns
from simengine.report.verdict import too_hot
from simengine.report.words import house_name, part_name, printable, sentence

Summary = Mapping[str, Any]
LONGEST_NAME = 24


def side_by_side(named: Sequence[tuple[str, Summary]], units: Shown) -> str:
    """Return the tables that compare results.

    Parameters
    ----------
    named : what each result is called (its folder), and its summary
    units : the unit system to write in

    Returns
    -------
    Lines of text: for every house of any result, the lines of the year's table.
    """
    tails = [PurePath(folder).name for folder, _ in named]
    if len(set(tails)) == len(tails):
        named = [(tail, summary) for tail, (_, summary) in zip(tails, named, strict=True)]
    houses = list(dict.fromkeys(name for _, summary in named for name in summary["houses"]))
    parts = [_house(name, named, units) for name in houses]
    return "\n\n".join([*parts, *_notes(named)])


def short(name: str) -> str:
    """Return the end of a long folder name, which tells it from the others.

    >>> short("x" * 30)
    '...xxxxxxxxxxxxxxxxxxxxx'
    """
    name = printable(name)
    return name if len(name) <= LONGEST_NAME else "..." + name[-(LONGEST_NAME - 3) :]


def _house(name: str, named: Sequence[tuple[str, Summary]], units: Shown) -> str:
    rows: list[Sequence[str]] = [[sentence(house_name(name)), *(short(folder) for folder, _ in named)]]
    held = [summary["houses"].get(name) for _, summary in named]
    for line in lines_of(house for house in held if house is not None):
        cells = [MISSING if house is None else line.cell(house, units) for house in held]
        rows.append([f"  {line.label}", *cells])
    return "\n".join(columns(rows))


def _notes(named: Sequence[tuple[str, Summary]]) -> list[str]:
    """Say what makes results hard to compare, and which ones run too hot."""
    notes = [
        f"! {short(folder)}: {part_name(str(limit['part']))} gets too hot with the fan off"
        for folder, summary in named
        for limit in too_hot(summary)
    ]
    if len({summary["weather"]["sha256"] for _, summary in named}) > 1:
        notes.append("! These results stand on different weather files.")
    if len({summary["program"].get("sha256") for _, summary in named}) > 1:
        notes.append("! These results come from different versions of the program.")
    return ["\n".join(notes)] if notes else []
