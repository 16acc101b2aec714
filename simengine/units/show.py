"""Writes an SI number in the units that people read, metric or US."""

import math
from typing import Literal

from simengine.units.kinds import Unit, kind_of
from simengine.units.table import KINDS

System = Literal["si", "us"]


def shown_unit(value: float, kind: str, system: System) -> Unit:
    """Return the unit in which a value of this size is shown.

    Parameters
    ----------
    value
        [SI unit of the kind]
    kind
        Key of `KINDS`.
    system
        "si" or "us".

    Returns
    -------
    Unit
        One of the kind's units.

    Raises
    ------
    InputError
        If there is no such kind.

    Examples
    --------
    >>> shown_unit(0.15, "length", "us").name
    'in'
    """
    chosen = kind_of(KINDS, kind)
    steps = chosen.us if system == "us" else chosen.si
    name = next((unit for unit, least in reversed(steps) if abs(value) >= least), steps[0][0])
    return chosen.by_name["h.ft2.degF/Btu" if name == "R-" else name]


def to_unit(value: float, kind: str, unit: str) -> float:
    """Return an SI value as a number of `unit`.

    Parameters
    ----------
    value
        [SI unit of the kind]
    kind
        Key of `KINDS`.
    unit
        Name of one of the kind's units.

    Returns
    -------
    float
        [unit]

    Raises
    ------
    InputError
        If there is no such kind.
    KeyError
        If the kind has no such unit (a defect of the caller).

    Examples
    --------
    >>> round(to_unit(293.15, "temperature", "degF"), 9)
    68.0
    """
    chosen = kind_of(KINDS, kind).by_name[unit]
    return (value - chosen.offset) / chosen.factor


def format_si(value: float, kind: str, system: System = "si", digits: int = 4) -> str:
    """Return an SI value as text with a unit that `parse` reads again.

    Parameters
    ----------
    value
        [SI unit of the kind]
    kind
        Key of `KINDS`.
    system
        "si" or "us".
    digits
        Significant digits kept.

    Returns
    -------
    str
        E.g. "152.4 mm", "6 in", "R-6".

    Raises
    ------
    InputError
        If there is no such kind.

    Examples
    --------
    >>> format_si(0.1524, "length", "us")
    '6 in'
    >>> format_si(1.0567, "thermal_resistance", "us")
    'R-6'
    """
    unit = shown_unit(value, kind, system)
    text = plain_number((value - unit.offset) / unit.factor, digits)
    if unit.name == "h.ft2.degF/Btu" and value >= 0.0:
        return f"R-{text}"
    return f"{text} {unit.name}".rstrip()


def plain_number(value: float, digits: int = 4) -> str:
    """Return a number with `digits` significant digits, without an exponent where it reads well.

    Parameters
    ----------
    value
        Any number [any unit].
    digits
        Significant digits kept; whole numbers below a thousand million keep all of theirs.

    Returns
    -------
    str
        E.g. "0.025", "138500", "1.2e-09".

    Examples
    --------
    >>> plain_number(1234.56), plain_number(0.1 + 0.2), plain_number(138500.0)
    ('1235', '0.3', '138500')
    """
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else str(value)
    magnitude = math.floor(math.log10(abs(value)))
    if not -5 <= magnitude < 9:
        return f"{value:.{digits - 1}e}"
    rounded = f"{value:.{max(digits - 1 - magnitude, 0)}f}"
    text = rounded.rstrip("0").rstrip(".") if "." in rounded else rounded
    return "0" if text in ("-0", "") else text
