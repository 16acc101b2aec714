"""A number with its band, as a person writes it."""

from collections.abc import Callable, Mapping
from typing import Any


def plus_minus(block: Mapping[str, Any], write: Callable[[float], str]) -> str:
    """Return the middle and half the width between the ends: "2.54 ± 0.35 MMBtu".

    Parameters
    ----------
    block : p10, p50 and p90
    write : how a number is written, with its unit behind a space

    Returns
    -------
    text; empty where one of the three is missing

    >>> plus_minus({"p10": 1.0, "p50": 2.0, "p90": 4.0}, lambda value: f"{value:.1f} gal")
    '2.0 ± 1.5 gal'
    """
    if any(block.get(name) is None for name in ("p10", "p50", "p90")):
        return ""
    number, _, unit = write(block["p50"]).partition(" ")
    digits = len(number.partition(".")[2])
    half = 0.5 * (block["p90"] - block["p10"])
    size, _, own = write(half).partition(" ")
    if own != unit:  # a small amount may be written in a smaller unit
        return f"{number} {unit} ± {size} {own}"
    rounded = f"{float(size):.{digits}f}"
    return f"{number} ± {rounded if float(rounded) > 0.0 else size} {unit}"


def span(block: Mapping[str, Any], write: Callable[[float], str]) -> str:
    """Return the ends in words: "13 to 19 years"; an end beyond every number is called so.

    >>> span({"p10": 13.0, "p90": None}, lambda value: f"{value:.0f} years")
    '13 years to never'
    """
    low, high = block.get("p10"), block.get("p90")
    if low is None:
        return ""
    if high is None:
        return f"{write(low)} to never"
    return f"{write(low).partition(' ')[0]} to {write(high)}"
