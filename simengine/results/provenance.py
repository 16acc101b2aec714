"""Digests of what went into a result: the scenario and the program itself."""

import hashlib
import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from simengine import __version__
from simengine.results.record import Provenance


def scenario_digest(content: bytes, overrides: Mapping[str, str] | None = None) -> str:
    r"""Return the SHA-256 of a scenario file together with the values set over it.

    Parameters
    ----------
    content : the bytes of the scenario file
    overrides : key and text of every value set from outside

    Returns
    -------
    SHA-256 in hexadecimal; without overrides it is that of the bytes alone.

    >>> scenario_digest(b"")[:8]
    'e3b0c442'
    """
    total = hashlib.sha256(content)
    if overrides:
        total.update(json.dumps(dict(overrides), sort_keys=True).encode())
    return total.hexdigest()


@cache
def program_digest() -> str:
    """Return the SHA-256 of every source file of this package, by name and content."""
    package = Path(__file__).parent.parent
    total = hashlib.sha256()
    for source in sorted(package.rglob("*.py")):
        total.update(source.relative_to(package).as_posix().encode())
        total.update(source.read_bytes())
    return total.hexdigest()


def provenance(scenario_sha256: str, weather_sha256: str) -> Provenance:
    """Return the full provenance of a result of this program."""
    return Provenance(__version__, program_digest(), scenario_sha256, weather_sha256)
