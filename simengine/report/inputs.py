"""Every input of a run as it is used, in both unit systems, for a screen."""

from collections.abc import Iterable, Mapping, Sequence
from textwrap import shorten

from simengine.report.words import printable

LONGEST_VALUE, WIDEST = 48, 30


def listing(rows: Iterable[Mapping[str, str]]) -> str:
    """Return the inputs as lines of text, a block for each part of the scenario.

    Parameters
    ----------
    rows : group, name, si, us and origin of every input, as text

    Returns
    -------
    Lines of text: name, metric, US and where the value is from. A value that reads the same in
    both systems stands once.
    """
    blocks: dict[str, list[tuple[str, str, str, str]]] = {}
    for row in rows:
        si, us = _short(row["si"]), _short(row["us"])
        told = (f"  {printable(row['name'])}", si, "" if us == si else us, printable(row.get("origin", "")))
        blocks.setdefault(row["group"] or "scenario", []).append(told)
    every = [told for block in blocks.values() for told in block]
    widths = [_width([told[place] for told in every]) for place in range(3)]
    lines = [_line(("", "metric", "US", "from"), widths)]
    for group, block in blocks.items():
        lines.append(printable(group))
        lines += [_line(told, widths) for told in block]
    return "\n".join(lines)


def _short(text: str) -> str:
    return shorten(printable(text), LONGEST_VALUE, placeholder=" …")


def _width(texts: Sequence[str]) -> int:
    """Return a width that holds all but the longest texts, which push their own line only."""
    return max((len(text) for text in texts if len(text) <= WIDEST), default=0)


def _line(told: Sequence[str], widths: Sequence[int]) -> str:
    *cells, origin = told
    return "  ".join(
        [*(cell.ljust(width) for cell, width in zip(cells, widths, strict=True)), origin]
    ).rstrip()
