"""What a unit and a kind of quantity are, and how spellings of a unit are made comparable."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from simengine.errors import InputError


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of one kind: SI value = number x factor + offset."""

    name: str  # as the program writes it
    factor: float
    spellings: str = ""  # further spellings that are read, parted by "|"
    offset: float = 0.0

    def written(self) -> Iterator[str]:
        """Yield every way to write it, without what makes no difference."""
        for spelling in (self.name, *filter(None, self.spellings.split("|"))):
            key = skeleton(spelling)
            yield key
            if "/" in key:  # a bare F is clear inside a compound unit only
                yield key.replace("degF", "F").replace("degC", "C")


@dataclass(frozen=True)
class Kind:
    """A kind of quantity: what may be written for it, and how it is shown."""

    name: str
    words: str  # "a length", for messages
    example: str
    units: tuple[Unit, ...]  # the first one is the unit used inside the program
    si: tuple[tuple[str, float], ...]  # units to show, each from this size [inside unit] upwards
    us: tuple[tuple[str, float], ...]
    bare: bool = False  # a plain number is meaningful
    by_name: dict[str, Unit] = field(init=False, repr=False, compare=False)
    exact: dict[str, Unit] = field(init=False, repr=False, compare=False)
    folded: dict[str, Unit] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Index the units by every spelling."""
        exact: dict[str, Unit] = {}
        for unit in self.units:
            for key in unit.written():
                if exact.setdefault(key, unit) is not unit:
                    raise ValueError(f"{self.name}: {key} is spelt twice")
        object.__setattr__(self, "by_name", {unit.name: unit for unit in self.units})
        object.__setattr__(self, "exact", exact)
        object.__setattr__(self, "folded", {key.casefold(): unit for key, unit in exact.items()})

    def find(self, text: str) -> Unit | None:
        """Return the unit that `text` spells, or None.

        Capitals are forgiven, except for a leading m: milli and mega differ by a thousand million.
        """
        key = skeleton(text)
        if key in self.exact:
            return self.exact[key]
        unit = self.folded.get(key.casefold())
        if unit is None or (key[:1] in "mM" and not any(s.startswith(key[0]) for s in self._spelt(unit))):
            return None
        return unit

    def _spelt(self, unit: Unit) -> list[str]:
        return [spelling for spelling, other in self.exact.items() if other is unit]

    @property
    def inside(self) -> Unit:
        """The unit used inside the program."""
        return self.units[0]

    def accepted(self) -> str:
        """What may be written, for a message."""
        names = [unit.name for unit in self.units if unit.name]
        plain = "a plain number or " if self.bare else ""
        return f'accepted: {plain}{", ".join(names)}, e.g. "{self.example}"'


_DROPPED = str.maketrans({c: None for c in " \t.·*()[]^"} | {"²": "2", "³": "3", "°": "deg", "µ": "u"})


def skeleton(text: str) -> str:
    """Return a unit's spelling without the marks that people set differently.

    Examples
    --------
    >>> skeleton("W/(m²·K)") == skeleton("W/m2/K") == skeleton("W/m2K")
    True
    """
    head, slash, tail = text.replace(" per ", "/").translate(_DROPPED).partition("/")
    return head + slash + tail.replace("/", "")


def quote(text: object, limit: int = 80) -> str:
    """Return a piece of input for a message: printable, in quotes, at most `limit` characters.

    Examples
    --------
    >>> quote("a\\tb")
    '"a\\\\tb"'
    """
    try:
        source = str(text)[: limit + 1]
    except (ValueError, RecursionError):  # a whole number of thousands of digits; lists in lists
        source = "something too long to show"
    shown = "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in source)
    return f'"{shown[: limit - 1]}…"' if len(shown) > limit else f'"{shown}"'


def kind_of(kinds: dict[str, Kind], name: str) -> Kind:
    """Return the kind called `name`.

    Raises
    ------
    InputError
        If there is no such kind.
    """
    if name not in kinds:
        raise InputError(f"{quote(name)} is no kind of quantity; accepted: {', '.join(kinds)}")
    return kinds[name]
