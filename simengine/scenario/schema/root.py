"""The scenario file as a whole."""

import datetime
from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.air import Duct, Fan
from simengine.scenario.schema.collector import Collector
from simengine.scenario.schema.control import Control, Damper
from simengine.scenario.schema.dates import Day
from simengine.scenario.schema.drawn import unfit
from simengine.scenario.schema.electricity import Electricity
from simengine.scenario.schema.field_test import FieldTest
from simengine.scenario.schema.fitted import Fitted
from simengine.scenario.schema.fuels import OwnFuel
from simengine.scenario.schema.heating import Heating, OneOrMore
from simengine.scenario.schema.house import BuiltinHouses, House
from simengine.scenario.schema.loop import LoopDamper, LoopPart, loop_faults
from simengine.scenario.schema.many import Spot, Spread, Sweep
from simengine.scenario.schema.money import Economics
from simengine.scenario.schema.money_checks import money_faults
from simengine.scenario.schema.parts import Part
from simengine.scenario.schema.reading import Fault, Section, fault, nearest, usual
from simengine.scenario.schema.run import Run
from simengine.scenario.schema.second_space import Air, SecondSpace
from simengine.scenario.schema.site import Site
from simengine.scenario.schema.texts import Key, Whole, Words
from simengine.scenario.schema.walk import all_keys, key_exists
from simengine.scenario.schema.window_panel import WindowPanel

SCHEMA = 1
"""Version of the file's meaning; a change of meaning raises it."""


class Inputs(Section):
    """The head of the file."""

    schema_: Annotated[int, Whole(1, SCHEMA, "version of this file's meaning")] = Field(
        alias="schema", description="version of this file's meaning"
    )
    title: Annotated[str, Words(200)] = Field(description="what the result is called")
    notes: Annotated[str, Words(20_000)] = usual("", description="your own words")
    client: Annotated[str, Words(200)] = usual("", description="for whom")
    author: Annotated[str, Words(200)] = usual("", description="by whom")
    date: Annotated[datetime.date, Day()] | None = Field(None, description="of this file")
    units: Annotated[str, Key("unit system", lambda: ("si", "us"))] = usual(
        "us", description="units of the report; the file itself may mix both"
    )
    site: Site = Field(default_factory=lambda: Site.model_validate({}), description="where it stands")
    collector: Collector = Field(description="the glazed box")
    fan: Fan = Field(description="what moves the air")
    control: Control = Field(description="when it runs")
    damper: Damper | None = Field(None, description="what shuts the loop while the fan rests")
    air: Air = Field(
        default_factory=lambda: Air.model_validate({}), description="where it comes from and goes"
    )
    second_space: SecondSpace | None = Field(None, description="basement, garage or workshop")
    ducts: tuple[Duct, ...] = Field((), max_length=20, description="the loop in short: straight ducts alone")
    loop: tuple[LoopPart, ...] = Field(
        (), max_length=60, description="the loop part by part, in the order in which the air passes them"
    )
    window_panel: WindowPanel | None = Field(None, description="a panel in a window that the ducts pass")
    builtin_houses: BuiltinHouses = Field(
        default_factory=lambda: BuiltinHouses.model_validate({}),
        description="size of the two that are always run",
    )
    house: House | None = Field(None, description="your own house")
    fuels: tuple[OwnFuel, ...] = Field((), max_length=20, description="fuels that are not in the table")
    heating: Annotated[tuple[Heating, ...], OneOrMore()] = Field(
        (), max_length=10, description="what heats it now"
    )
    electricity: Electricity | None = Field(None, description="what electricity costs")
    parts: tuple[Part, ...] = Field((), max_length=200, description="what the build is made of")
    economics: Economics | None = Field(None, description="first cost, lives and rates")
    run: Run = Field(default_factory=lambda: Run.model_validate({}), description="how it is calculated")
    sweep: Sweep | None = Field(None, description="values to try")
    spread: Spread | None = Field(None, description="how sure the inputs are")
    field_test: FieldTest | None = Field(None, description="a logged test of the built collector")
    fitted: Fitted | None = Field(None, description="what such a test found")
    spots: tuple[Spot, ...] = Field((), max_length=200, description="candidate places")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together between sections."""
        yield from money_faults(self)
        yield from self._holes()
        yield from self._known_keys()
        yield from self._spreads()
        yield from self._spaces()
        yield from self._way()
        yield from self._moved()

    def _way(self) -> Iterator[Fault]:
        if self.ducts and self.loop:
            yield fault("[[ducts]] and [[loop]] are both given", "one of the two", "loop")
        if self.loop:
            yield from loop_faults(self.loop)
        elif self.fan.has_curve and not self.ducts:
            yield fault("a fan's curve has no loop to meet", "[[loop]] or [[ducts]]", "fan")

    def _moved(self) -> Iterator[Fault]:
        if self.damper is not None and self.loop:
            yield fault("[[loop]] tells its damper among its parts", 'part = "damper" there', "damper")
        if self.damper is not None and self.air.intake != self.air.supply:
            one_space = "air.intake and air.supply alike; another loop is taken as shut at rest"
            yield fault("air moves by itself only from one space back into it", one_space, "damper")
        kinds = [part.kind for part in self.loop if isinstance(part, LoopDamper)]
        shuts = "motorised" in kinds if self.loop else self.damper is None or self.damper.kind == "motorised"
        if self.control.kind == "none" and (shuts or self.air.intake != self.air.supply):
            yield fault(
                "no fan runs, and the damper lets no air pass by itself",
                '[damper] kind = "flap" or "none"',
                "control",
                "kind",
            )

    def _holes(self) -> Iterator[Fault]:
        sheet = self.collector.absorber
        typical = choices.absorber_keys()[sheet.construction].part
        if (
            self.collector.arrangement == "through"
            and sheet.perforation is None
            and typical.perforation is None
        ):
            accepted = "a perforated construction, or [collector.absorber.perforation]"
            yield fault('is "through", but the absorber has no holes', accepted, "collector", "arrangement")

    def _known_keys(self) -> Iterator[Fault]:
        asked: list[tuple[tuple[str | int, ...], str]] = []
        if self.sweep is not None:
            asked += [(("sweep", "vary", key), key) for key in self.sweep.vary]
        if self.spread is not None:
            asked += [(("spread", "vary", key), key) for key in self.spread.vary]
        for number, spot in enumerate(self.spots):
            asked += [(("spots", number, "changes", key), key) for key in spot.changes]
        for at, key in asked:
            if not key_exists(type(self), key):
                known = tuple(all_keys(type(self)))
                yield fault(f"is no key of a scenario{nearest(key, known)}", 'e.g. "collector.tilt"', *at)

    def _spreads(self) -> Iterator[Fault]:
        for name in ("sweep", "spread"):
            section: Sweep | Spread | None = getattr(self, name)
            for key, drawn in section.vary.items() if section is not None else ():
                known = drawn is not None and key_exists(type(self), key)
                if known and (problem := unfit(drawn, self, key)):
                    yield Fault(problem, (name, "vary", key))

    def _spaces(self) -> Iterator[Fault]:
        ways = (self.air.intake, self.air.supply)
        for key, place in zip(("intake", "supply"), ways, strict=True):
            if place == "second_space" and self.second_space is None:
                yield fault("is a space that nothing is known of", "a [second_space] section", "air", key)
        behind = self.collector.mounting
        if ways == ("second_space", "second_space") and behind != "open":
            wrong = f"is a {behind} of the heated space, but the air goes round through the second space"
            yield fault(wrong, 'mounting = "open"', "collector", "mounting")
        space = self.second_space
        if space is not None and space.coupling is None and self.house is not None:
            wrong = "is not known for the own house"
            yield fault(wrong, "the conductance of the floor between", "second_space", "coupling")
