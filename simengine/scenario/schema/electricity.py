"""What electricity costs, at one price or by a tariff of hours and months."""

import datetime
from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.dates import Day, Months
from simengine.scenario.schema.fuels import Emission
from simengine.scenario.schema.heating import Tariff
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.texts import Flag, Whole, Words


class TariffWindow(Section):
    """Hours of the day, and months, with a price of their own; repeat for each. Hours are local standard time
    all year, as in the weather file. A typical year has no weekdays: a window counts on every day."""

    name: Annotated[str, Words(40)] = usual("", description="what you call it")
    price: Tariff = Field(description="per kWh in these hours")
    from_hour: Annotated[int, Whole(0, 23, "of the day")] = usual(0, description="first hour, 16 is 16:00")
    to_hour: Annotated[int, Whole(1, 24, "of the day")] = usual(
        24, description="end, 21 is 21:00; before from_hour it is that of the next day"
    )
    months: Annotated[tuple[int, ...], Months()] = usual(
        list(range(1, 13)), description="months in which it holds"
    )

    @property
    def hours(self) -> tuple[int, ...]:
        """Hours of the day, 0 to 23."""
        end = self.to_hour if self.to_hour > self.from_hour else self.to_hour + 24
        return tuple(hour % 24 for hour in range(self.from_hour, end))

    @property
    def slots(self) -> frozenset[int]:
        """Places in a table of 12 x 24 prices."""
        return frozenset((month - 1) * 24 + hour for month in self.months for hour in self.hours)


class Electricity(Section):
    """What electricity costs: for the fan, and for electric heat without its own price."""

    price: Tariff | None = Field(None, description="per kWh")
    price_date: Annotated[datetime.date, Day()] | None = Field(None, description="when that price held")
    price_place: Annotated[str, Words(100)] = usual("", description="where that price held")
    invented: Annotated[bool, Flag()] = usual(False, description="the price is made up for an example")
    emission_factor: Emission | None = Field(None, description="of the local grid")
    tariff: tuple[TariffWindow, ...] = Field(
        (), max_length=20, description="other prices in some hours; price holds in all others"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        units = choices.fuel_keys()["electricity"].units()
        if self.price is not None and self.price.unit not in units:
            yield fault(
                f"electricity is not sold by the {self.price.unit}", f"a price per {', '.join(units)}"
            )
        if self.price is not None and self.price_date is None:
            yield fault("a price without a date says little", "price with price_date = 2026-05-01", "price")
        if self.tariff and self.price is None:
            yield fault("the hours outside the tariff have no price", "price besides", "tariff")
        yield from self._windows()

    def _windows(self) -> Iterator[Fault]:
        taken: frozenset[int] = frozenset()
        for number, window in enumerate(self.tariff):
            if self.price is not None and window.price.unit != self.price.unit:
                wrong = f"is per {window.price.unit}, but the price outside is per {self.price.unit}"
                yield fault(wrong, "one unit", "tariff", number, "price")
            if taken & window.slots:
                yield fault("some of its hours have a price already", "each hour once", "tariff", number)
            taken |= window.slots
