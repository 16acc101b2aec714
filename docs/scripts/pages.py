"""Puts the tables that a script makes between their marks in a page."""

import re
from collections.abc import Sequence
from pathlib import Path

DOCS = Path(__file__).resolve().parents[1]


def markdown(rows: Sequence[Sequence[str]]) -> str:
    """Return rows as a Markdown table; the first is its head."""
    head, *body = rows
    lines = [head, ["---"] * len(head), *body]
    return "\n".join(f"| {' | '.join(cells)} |" for cells in lines)


def put(page: str, name: str, text: str) -> None:
    """Put a text between `<!-- name -->` and `<!-- end of name -->` of a page in docs/."""
    path = DOCS / page
    begin, end = f"<!-- {name} -->", f"<!-- end of {name} -->"
    pattern = re.compile(f"{re.escape(begin)}.*?{re.escape(end)}", re.DOTALL)
    old = path.read_text(encoding="utf-8")
    if not pattern.search(old):
        raise SystemExit(f"{page} has no place for {name}")
    path.write_text(pattern.sub(lambda _: f"{begin}\n\n{text}\n\n{end}", old), encoding="utf-8")
    print(text)
