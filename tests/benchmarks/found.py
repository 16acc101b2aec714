"""A row of the side-by-side table: what was found, and where it is written down."""

import datetime
import os
import platform
import re
import subprocess
from dataclasses import dataclass
from pathlib import Path

REPOSITORY = Path(__file__).resolve().parents[2]
PAGE = REPOSITORY / "docs" / "performance.md"


@dataclass(frozen=True)
class Options:
    """How much is measured."""

    members: int = 2000
    many: int = 10_000
    store: int = 100_000
    turns: int = 5


@dataclass(frozen=True)
class Found:
    """What a row found: a figure, whether that is what was asked, and the figures beside it."""

    figure: str
    reached: bool | None
    detail: str = ""


def commit() -> str:
    """Return the short name of the commit that was measured; a star where files differ from it."""

    def git(*words: str) -> str:
        ran = subprocess.run(["git", *words], cwd=REPOSITORY, capture_output=True, text=True, check=False)
        return ran.stdout.strip()

    changed = git("status", "--porcelain", "--untracked-files=no", "--", "simengine", "scenarios", "weather")
    return (git("rev-parse", "--short", "HEAD") or "unknown") + ("*" if changed else "")


def processor() -> str:
    """Return the processor's name and number of cores."""
    name = platform.processor() or platform.machine()
    try:
        text = Path("/proc/cpuinfo").read_text(encoding="utf-8")
        name = re.search(r"model name\s*: (.*)", text).group(1)  # type: ignore[union-attr]
    except (OSError, AttributeError):
        pass
    return f"{name}, {os.cpu_count()} cores"


def stamp(before: float) -> str:
    """Return date, commit, and the load of the machine before and behind a measurement."""
    now = datetime.datetime.now(tz=datetime.UTC)
    return f"{now:%Y-%m-%d %H:%M} UTC, commit {commit()}, {processor()}, load {before:.1f} to {load():.1f}"


def load() -> float:
    """Return how many processes want the processor, on average over a minute; 0 where nobody counts."""
    return os.getloadavg()[0] if hasattr(os, "getloadavg") else 0.0


def word(reached: bool | None) -> str:
    """Return how a row did, in words."""
    return "told" if reached is None else "reached" if reached else "**not reached**"


def write(name: str, measure: str, asked: str, found: Found, when: str) -> None:
    """Put a row into the page: its line in the table, and its section."""
    text = PAGE.read_text(encoding="utf-8")
    line = f"| {measure} <!-- {name} --> | {asked} | {found.figure} | {word(found.reached)} |"
    text = re.sub(rf"^\|.*<!-- {name} -->.*$", lambda _: line, text, flags=re.MULTILINE)
    begin, end = f"<!-- section {name} -->", f"<!-- end of section {name} -->"
    section = f"{begin}\n\nMeasured {when}.\n\n{found.detail.strip()}\n\n{end}"
    pattern = re.compile(f"{re.escape(begin)}.*?{re.escape(end)}", re.DOTALL)
    if not pattern.search(text):
        raise SystemExit(f"docs/performance.md has no place for {name}")
    PAGE.write_text(pattern.sub(lambda _: section, text), encoding="utf-8")


def table(*rows: tuple[str, ...]) -> str:
    """Return rows as a Markdown table; the first is its head."""
    lines = [rows[0], ("---",) * len(rows[0]), *rows[1:]]
    return "\n".join(f"| {' | '.join(cells)} |" for cells in lines)
