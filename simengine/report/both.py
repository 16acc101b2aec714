"""A text in both unit systems, of which the page shows one."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Both:
    """A text in both unit systems; the page shows the one that its reader picks."""

    us: str
    si: str
