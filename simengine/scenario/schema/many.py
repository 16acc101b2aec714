"""Questions over many years: a sweep over keys, how sure the inputs are, and candidate places."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.combinations import MEASURES, Condition, KeyGroups, LeaveOut
from simengine.scenario.schema.drawn import Drawing
from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.reading import (
    Fault,
    JsonSchema,
    Reader,
    Section,
    describe,
    fault,
    refuse,
    usual,
)
from simengine.scenario.schema.site import Declination, Fin, Overhang, Skyline, Tree, Wall
from simengine.scenario.schema.texts import Key as Chosen
from simengine.scenario.schema.texts import LocalPath, Whole, Words
from simengine.units import quote


@dataclass(frozen=True, slots=True)
class Single(Reader):
    """One raw value."""

    EXAMPLE: ClassVar[str] = '"200 deg"'
    ACCEPTS: ClassVar[str] = "a value as that key takes it"
    SCHEMA: ClassVar[JsonSchema] = {"type": ["string", "number", "boolean", "array"]}

    def read(self, value: Any) -> Any:
        """Return it as it is."""
        if not _single(value) and not isinstance(value, list):
            raise refuse(
                f"{describe(value)} where one value is due", 'text with a unit, or a number, e.g. "200 deg"'
            )
        return value


Key = Annotated[str, Words(200)]


class Sweep(Section):
    """Values to try for `simengine sweep`: every combination of lists, or scenarios drawn from spreads."""

    vary: dict[Key, Annotated[Any, Drawing("values to try are due")]] = Field(
        min_length=1, max_length=30, description="dotted key to a list of values, or to a spread"
    )
    together: Annotated[tuple[tuple[str, ...], ...], KeyGroups()] = Field(
        (), description="groups of keys whose lists advance together instead of being combined"
    )
    leave_out: Annotated[tuple[dict[str, Condition], ...], LeaveOut()] = Field(
        (), description="combinations that make no sense: tables of key and value, list or range; see below"
    )
    samples: Annotated[int, Whole(1, 10_000_000)] | None = Field(
        None, description="how many scenarios are drawn, lists as well; needed where a spread is given"
    )
    seed: Annotated[int, Whole(0, 2**31 - 1)] = usual(1, "start of the random numbers")
    measure: Annotated[str, Chosen("measure", lambda: MEASURES)] = usual(
        "offset_kwh", "what the best members are the best in"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.samples is None and any(drawn.kind != "choice" for drawn in self.vary.values()):
            yield fault("a range has no end of values", "samples = 500, or lists alone", "samples")
        seen: set[str] = set()
        for group in self.together:
            lengths = {len(self.vary[key].term("values")) for key in group if self._is_list(key)}
            if not all(self._is_list(key) for key in group) or len(lengths) > 1 or seen & set(group):
                wrong = f"{', '.join(group)[:80]} cannot advance together"
                yield fault(wrong, "keys of vary with lists of one length, each key once", "together")
            seen |= set(group)
        if self.together and self.samples is not None:
            yield fault("drawn scenarios have no lists that advance", "together without samples", "together")
        for number, conditions in enumerate(self.leave_out):
            for key in conditions:
                if key not in self.vary:
                    wrong = f"{quote(key)} is not varied, so nothing can be left out by it"
                    yield fault(wrong, "keys of vary", "leave_out", number)

    def _is_list(self, key: str) -> bool:
        return key in self.vary and self.vary[key].kind == "choice"


class Spread(Section):
    """How sure the inputs are, for `simengine run --spread N`; keys that are left out have a usual spread."""

    vary: dict[Key, Annotated[Any, Drawing(none=True)]] = Field(
        default_factory=dict, max_length=30, description="dotted key to its spread; false: it is sure"
    )
    seed: Annotated[int, Whole(0, 2**31 - 1)] = usual(1, "start of the random numbers")


class Spot(Section):
    """A candidate place for `simengine spots`: what is different there; repeat for each. What it does not
    name is as in the rest of the file."""

    name: Annotated[str, Words(80)] = Field(description="what you call it")
    tilt: Annotated[float, Of("angle", "0 deg", "90 deg", "from horizontal")] | None = Field(
        None, description="of the collector there"
    )
    azimuth: Annotated[float, Of("angle", "0 deg", "360 deg", "180 is south", "180 deg")] | None = Field(
        None, description="where it looks there, clockwise from true north"
    )
    mounting: Annotated[str, Chosen("mounting", lambda: choices.MOUNTINGS)] | None = Field(
        None, description="what its back faces there; open takes the wall away from behind it"
    )
    duct_length: Annotated[float, Of("length", "0 m", "100 m", "a house")] | None = Field(
        None, description="of every duct there, each"
    )
    horizon: Skyline = Field((), description="skyline there")
    horizon_file: Annotated[str, LocalPath()] | None = Field(
        None, description="skyline there, as a table of compass and inclinometer readings"
    )
    declination: Declination | None = Field(None, description="of that compass")
    trees: tuple[Tree, ...] = Field((), max_length=200, description="tree crowns there; [] for none")
    overhang: Overhang | None = Field(None, description="a strip above it there")
    fins: tuple[Fin, ...] = Field((), max_length=10, description="strips beside it there")
    walls: tuple[Wall, ...] = Field((), max_length=50, description="walls across from it there")
    changes: dict[Key, Annotated[Any, Single()]] = Field(
        default_factory=dict, max_length=60, description="any other dotted key to the value it has there"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.horizon and self.horizon_file is not None:
            yield fault("the skyline is there twice", "horizon or horizon_file", "horizon_file")


def _single(value: Any) -> bool:
    return isinstance(value, str | int | float | bool)
