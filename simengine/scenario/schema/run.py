"""How the year is calculated, and the questions asked over many of them."""

from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.texts import Key


class Run(Section):
    """How the year is calculated; the defaults serve."""

    step: Annotated[float, Of("time", "1 s", "1 h", "a whole part of an hour")] = usual(
        "600 s",
        description="mean step while the sun can drive the collector; three times as long in the dark or "
        "while the fan may not run, 0.4 times where air can move by itself, shorter at the start of an hour "
        "and after the fan switches",
    )
    sky: Annotated[str, Key("sky model", lambda: choices.TRANSPOSITIONS)] = usual(
        "perez", description="model of the sky's diffuse light"
    )
    clear_sky: Annotated[str, Key("clear-sky relation", lambda: choices.CLEAR_SKIES)] = Field(
        "berdahl_martin",
        description="temperature of a clear sky, where the weather file has no long-wave column",
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        steps = 3600.0 / self.step
        if abs(steps - round(steps)) > 1e-9 * steps:
            yield fault(
                f"a step of {self.step:g} s does not fit into an hour", "a whole part of an hour, e.g. 60 s"
            )
