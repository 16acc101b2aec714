"""Lines of text for a screen: tables, and items broken at its width."""

from collections.abc import Iterable, Sequence
from textwrap import wrap

from simengine.report.words import printable

WIDTH = 80


def columns(rows: Sequence[Sequence[str]]) -> list[str]:
    """Return rows of cells as lines of text: the first column to the left, the others to the right.

    >>> columns([["a", "b"], ["long", "12"]])
    ['a      b', 'long  12']
    """
    widths = [max(len(row[place]) for row in rows) for place in range(len(rows[0]))]
    return [
        "  ".join(
            cell.rjust(width) if place else cell.ljust(width)
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]


def wrapped(mark: str, texts: Iterable[str]) -> list[str]:
    """Return texts as marked items, broken at the width of a screen."""
    lines: list[str] = []
    for text in texts:
        head, rest = f"{mark} ", " " * (len(mark) + 1)
        lines += wrap(printable(text), WIDTH, initial_indent=head, subsequent_indent=rest)
    return lines
