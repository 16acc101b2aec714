"""A text in both unit systems, of which the page shows one."""

from collections.abc import Callable
from dataclasses import dataclass

from simengine.report.shown import Shown

US, SI = Shown("us"), Shown("si")


@dataclass(frozen=True, slots=True)
class Both:
    """A text in both unit systems; the page shows the one that its reader picks."""

    us: str
    si: str


def both(write: Callable[[Shown], str]) -> Both:
    """Write a text in both systems.

    >>> both(lambda units: units.temperature(20.0))
    Both(us='68 °F', si='20 °C')
    """
    return Both(write(US), write(SI))
