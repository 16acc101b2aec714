"""Numbers for people: conversions by hand or by definition of the unit."""

import pytest

from simengine.report import shown
from simengine.report.shown import Shown

US, SI = Shown("us"), Shown("si")


@pytest.mark.parametrize(
    ("kwh", "us", "si"),
    [  # 1 kWh = 3412.14 Btu (International Table Btu, 1055.05585 J)
        (1000.0, "3.41 MMBtu", "1000 kWh"),
        (0.0, "0 MMBtu", "0 kWh"),
        (-14.6, "-0.0498 MMBtu", "-14.6 kWh"),
    ],
)
def test_heat_has_one_unit_for_all_sizes(kwh: float, us: str, si: str) -> None:
    assert (US.heat(kwh), SI.heat(kwh)) == (us, si)


@pytest.mark.parametrize(("celsius", "us"), [(0.0, "32 °F"), (100.0, "212 °F"), (-40.0, "-40 °F")])
def test_temperatures_to_the_whole_degree_by_the_definition_of_fahrenheit(celsius: float, us: str) -> None:
    assert US.temperature(celsius) == us
    assert SI.temperature(celsius) == f"{celsius:.0f} °C"


def test_electricity_is_in_kwh_everywhere() -> None:
    assert US.electricity(73.0) == SI.electricity(73.0) == "73 kWh"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (shown.share(0.0), "0.0 %"),
        (shown.share(-0.05), "-5.0 %"),
        (shown.money(0.5, "USD"), "0.50 USD"),
        (shown.money(-100.0, "USD"), "-100 USD"),
        (shown.years(9.96), "10.0 years"),
        (shown.amount(0.0, "gal"), "0 gal"),
    ],
)
def test_small_and_negative_numbers_read_well(text: str, expected: str) -> None:
    assert text == expected
