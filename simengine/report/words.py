"""Text that is safe to show: printable everywhere, and in plain ASCII where the screen knows no more."""

import unicodedata

_PLAIN = str.maketrans(
    {"°": " deg", "–": "-", "—": "-", "−": "-", "²": "2", "³": "3", "×": "x", "·": ".", "’": "'"}
    | {"“": '"', "”": '"', "…": "...", "₂": "2", "±": "+-", "€": "EUR", "£": "GBP", "\u00a0": " "}
)
HOUSES = {"standard": "standard house", "low_energy": "low-energy house", "own": "own house"}


def printable(text: str) -> str:
    r"""Return a text without control characters, so that it cannot move a terminal's cursor.

    >>> printable("warm\x1b[2J\nroom")
    'warm [2J room'
    """
    return "".join(c if c.isprintable() else " " for c in text)


def plain(text: str) -> str:
    """Return a text in ASCII: signs become words, accents are dropped, the rest is a question mark.

    >>> plain("50 °C – Müller")
    '50 degC - Muller'
    """
    known = text.replace(" °", "°").translate(_PLAIN)
    bare = "".join(c for c in unicodedata.normalize("NFKD", known) if not unicodedata.combining(c))
    return bare.encode("ascii", "replace").decode("ascii")


def house_name(name: str) -> str:
    """Return how a house is called in a sentence.

    >>> house_name("low_energy")
    'low-energy house'
    """
    return HOUSES.get(name, printable(name))


def part_name(part: str) -> str:
    """Return how a part of the collector is called in a sentence.

    >>> part_name("back: mineral_wool_board")
    'mineral wool board (back)'
    """
    place, colon, name = printable(part).replace("_", " ").partition(": ")
    return f"{name} ({place})" if colon else place


def sentence(text: str) -> str:
    """Return a text with a capital at its head.

    >>> sentence("standard house")
    'Standard house'
    """
    return text[:1].upper() + text[1:]
