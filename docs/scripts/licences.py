"""Makes docs/licences.md: what is installed with the program, and under which licences, from metadata."""

import re
import sys
import tomllib
from collections.abc import Iterable
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

TOP = Path(__file__).resolve().parents[2]
PAGE = TOP / "docs" / "licences.md"
HEAD = """# Licences of what the program needs

What an installation of simengine brings along: the libraries that `pyproject.toml` asks for, in bold, and
what these ask for in turn, each with the version pinned in `.ci/constraints.txt` and the licence that its
own metadata states. None of them is copied into simengine or changed by it; each keeps its own licence. All
allow use beside a program under the MIT licence, which is that of simengine: the permissive ones ask that
their notice is kept, the Mozilla one asks for the source of its own files, should these be changed and
passed on. What only tests need, or the workers of a scheduler, is not listed. No legal advice.

This page is made by `docs/scripts/licences.py`; a test holds it to the packages installed and to the pins.
"""

COMPATIBLE = {
    "0BSD", "Apache Software License", "Apache-2.0", "Apache-2.0 WITH LLVM-exception", "BSD", "BSD 3-Clause",
    "BSD License", "BSD-2-Clause", "BSD-3-Clause", "CC0-1.0", "MIT", "MIT License", "MIT-CMU", "MPL-2.0",
    "PSF-2.0", "Python Software Foundation License", "Revised BSD License", "Zlib",
}  # fmt: skip
"""Licences beside which a program may stand under the MIT licence, as the metadata of packages write them."""

LONGEST = 40
"""A longer statement is the licence's text, not its name."""


def main() -> None:
    """Write the page."""
    PAGE.write_text(text(), encoding="utf-8")


def text() -> str:
    """Return the page."""
    direct = {canonicalize_name(one.name) for one in asked_for()}
    rows = ["| package | version | licence |", "|---|---|---|"]
    for name, found in sorted(pulled_in(asked_for()).items()):
        shown = f"**{name}**" if name in direct else name
        rows.append(f"| {shown} | {found.version} | {licence(found)} |")
    return f"{HEAD.strip()}\n\n" + "\n".join(rows) + "\n"


def asked_for() -> list[Requirement]:
    """Return the dependencies that pyproject.toml states for an ordinary run."""
    project = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return [Requirement(line) for line in project["dependencies"]]


def pulled_in(wanted: Iterable[Requirement]) -> dict[str, Distribution]:
    """Return what is installed because of the requirements, by name; what is not installed is left out."""
    found: dict[str, Distribution] = {}
    seen: set[tuple[str, str]] = set()
    left = [(one, "") for one in wanted]
    while left:
        one, extra = left.pop()
        if one.marker is not None and not one.marker.evaluate({"extra": extra}):
            continue
        name = canonicalize_name(one.name)
        try:
            found[name] = distribution(name)
        except PackageNotFoundError:
            continue
        for option in ("", *one.extras):
            if (name, option) not in seen:
                seen.add((name, option))
                left += [(Requirement(line), option) for line in found[name].requires or ()]
    return found


def licence(found: Distribution) -> str:
    """Return the name of a package's licence as its metadata states it; empty if they don't."""
    stated = found.metadata.get_all("License-Expression") or found.metadata.get_all("License") or [""]
    name = stated[0].strip()
    if name and "\n" not in name and len(name) <= LONGEST * (1 + name.count(" AND ")):
        return name
    kinds = [line.split(" :: ") for line in found.metadata.get_all("Classifier") or ()]
    return " AND ".join(
        re.sub(r".*\((.*)\)", r"\1", kind[-1]) for kind in kinds if kind[0] == "License" and len(kind) > 1
    )


def compatible(name: str) -> bool:
    """Return whether every part of a licence is a known one; of several to choose from, one is enough."""
    return all(any(part in COMPATIBLE for part in each.split(" OR ")) for each in name.split(" AND "))


if __name__ == "__main__":
    sys.exit(main())
