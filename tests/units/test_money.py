"""Money keeps its currency, a price keeps its unit."""

import pytest

from simengine.errors import InputError
from simengine.units import Amount, Price, format_price, parse_money, parse_price

GALLON = 231 * 0.0254**3  # [m3] US liquid gallon, definition


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("2400 USD", Amount(2400.0, "USD")),
        ("€ 12.50", Amount(12.5, "EUR")),
        ("12 500 CAD", Amount(12500.0, "CAD")),
        ("1,234.50 gbp", Amount(1234.5, "GBP")),
    ],
)
def test_sums(text: str, amount: Amount) -> None:
    assert parse_money(text) == amount


@pytest.mark.parametrize(
    ("text", "unit", "kind", "per_si"),
    [
        ("2.79 USD/gal", "gal", "volume", 2.79 / GALLON),
        ("0.31 EUR/kWh", "kWh", "energy", 0.31 / 3.6e6),
        ("1.35 USD/therm", "therm", "energy", 1.35 / 105505585.262),  # 100,000 Btu (IT)
        ("11.33 USD/kcf", "kcf", "volume", 11.33 / (1000 * 0.3048**3)),
        ("260 USD/cord", "cord", "volume", 260 / (128 * 0.3048**3)),
        ("300 USD per short ton", "short ton", "mass", 300 / 907.18474),
        ("0.30 €/kg", "kg", "mass", 0.30),
    ],
)
def test_prices(text: str, unit: str, kind: str, per_si: float) -> None:
    price = parse_price(text)
    assert (price.unit, price.kind) == (unit, kind)
    assert price.per_si == pytest.approx(per_si, rel=1e-12)  # definitions of the units


def test_gas_by_the_thousand_cubic_feet_and_by_the_therm() -> None:
    # EIA, question 5 (2013-08-22), published: 11.33 USD/kcf at 1,022 Btu/ft3 is 1.11 USD/therm within 0.5 %
    per_cubic_foot = parse_price("11.33 USD/kcf").per_si * 0.3048**3
    assert per_cubic_foot / 1022.0 * 1e5 == pytest.approx(1.11, rel=5e-3)


@pytest.mark.parametrize(
    ("price", "si", "us"),
    [
        (Price(3.785411784, "USD", "gal", "volume"), "1 USD/L", "3.785 USD/gal"),
        (Price(0.14, "USD", "kWh", "energy"), "0.14 USD/kWh", "0.14 USD/kWh"),
        (Price(1.35, "USD", "therm", "energy"), "0.04606 USD/kWh", "1.35 USD/therm"),
    ],
)
def test_prices_in_both_unit_systems(price: Price, si: str, us: str) -> None:
    assert (format_price(price, "si"), format_price(price, "us")) == (si, us)


DOLLARS = 'accepted: "USD", "CAD", "AUD" or "NZD" in the place of "$"'
CODES = "accepted: a code of ISO 4217 such as USD, CAD, EUR, GBP"


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("$3/gal", f'"$3/gal": the dollar may be of several countries; {DOLLARS}'),
        ("3", '"3" has no currency; accepted: e.g. "2.79 USD/gal"'),
        ("3 USD", '"3 USD" is money, but a price per unit is due; accepted: e.g. "2.79 USD/gal"'),
        (
            "3 USF/gal",
            f'"3 USF/gal": unknown currency "USF", the nearest is "USD"; {CODES}, e.g. "2.79 USD/gal"',
        ),
        (
            "3 USD/ton",
            '"3 USD/ton": the unit "ton" is not clear; accepted: "short ton" (907 kg), "t" (1000 kg)',
        ),
    ],
)
def test_each_bad_price_gives_its_line(text: str, line: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_price(text)
    assert caught.value.problems == (line,)


@pytest.mark.parametrize("text", ["", "USD", "2400", "$2400", "2400 XYZQ", "2 USD/gal", "1e999 USD", "٣ USD"])
def test_bad_sums_are_refused(text: str) -> None:
    with pytest.raises(InputError, match="accepted: "):
        parse_money(text)
