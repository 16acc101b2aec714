"""Makes docs/nomenclature.md from the program's own table of quantities."""

import math
import sys
from pathlib import Path

from simengine.nomenclature import QUANTITIES, Quantity

PAGE = Path(__file__).resolve().parents[1] / "nomenclature.md"
HEAD = """# Nomenclature

Every quantity that the program shows: in the hours of `hours.nc` (names without a unit, SI), in
`summary.json` (names that end in their unit) and on the page. Heat into a node is positive; where a number
can be negative, the table says what a positive one means. This page is made by
`docs/scripts/nomenclature.py`; a test holds it to the program.
"""


def main() -> None:
    """Write the page."""
    PAGE.write_text(text(), encoding="utf-8")


def text() -> str:
    """Return the page."""
    return f"{HEAD.strip()}\n\n{_table(list(QUANTITIES.values()))}\n"


def _table(rows: list[Quantity]) -> str:
    head = ["| name | symbol | unit | limits | meaning |", "|---|---|---|---|---|"]
    return "\n".join(head + [_row(row) for row in rows])


def _row(q: Quantity) -> str:
    unit = "–" if q.unit == "1" else q.unit
    low = "" if math.isinf(q.low) else f"{_near_zero(q.low):g}"
    high = "" if math.isinf(q.high) else f"{q.high:g}"
    limits = f"{low} to {high}" if low or high else ""
    return f"| `{q.name}` | {q.symbol} | {unit} | {limits} | {q.long_name} |"


def _near_zero(value: float) -> float:
    """Return a limit that only leaves room for rounding as the zero that is meant."""
    return 0.0 if abs(value) < 1e-3 else value


if __name__ == "__main__":
    sys.exit(main())
