"""What a field test has changed in a scenario: factors on its figures, with the date of the test."""

import datetime
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema.dates import Day
from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.reading import Section, usual
from simengine.scenario.schema.texts import Whole

Factor = Annotated[float, Of("fraction", "0.05", "20", "beyond it the scenario describes another thing")]


class Fitted(Section):
    """What a field test found, as factors on the figures above: written by `simengine fieldtest --out`."""

    test_date: Annotated[datetime.date, Day()] = Field(description="day of the test")
    periods: Annotated[int, Whole(1, 1_000_000)] = Field(
        description="how many periods of the test it is fitted to"
    )
    cover_transmittance: Annotated[float, Of("fraction", "0.05", "2", "a cover")] = usual(
        1.0, description="on the sun that panes and absorber take up"
    )
    back_loss: Factor = usual(1.0, description="on the conductance of back and edges")
    effectiveness: Factor = usual(1.0, description="on the exchange (NTU) between absorber and air")
    duct_loss: Factor = usual(1.0, description="on the conductance of the supply duct, insulation and all")
    leakage: Annotated[float, Of("fraction", "0", "0.5", "a box that holds air")] | None = Field(
        None, description="share of the flow that leaks, in the place of [collector.leak]"
    )
