"""What contractors write is read; what can be read in two ways is not."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simengine.errors import InputError
from simengine.units import KINDS, Quantity, parse, parse_one_of, quote

INCH = 0.0254  # [m] definition


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("6 in", 6 * INCH),
        ('6"', 6 * INCH),
        ("6 inches", 6 * INCH),
        ("3 ft 6 in", 42 * INCH),
        ("3'6\"", 42 * INCH),
        ("3' 6 1/2\"", 42.5 * INCH),
        ("3’ 6”", 42 * INCH),
        ("3ft 6-1/2in", 42.5 * INCH),
        ("47 1/2 in", 47.5 * INCH),
        ("47-1/2 in", 47.5 * INCH),
        ("47½ in", 47.5 * INCH),
        ("1/2 in", 0.5 * INCH),
        ("5 ft", 60 * INCH),
        ("-3 ft 6 in", -42 * INCH),
        ("2.5e-2 m", 0.025),
        ("12 mm", 0.012),
        ("1,234.5 mm", 1.2345),
        ("1 234 mm", 1.234),
        (" 4  ft ", 48 * INCH),
    ],
)
def test_lengths_as_people_write_them(text: str, metres: float) -> None:
    assert parse(text, "length") == pytest.approx(metres, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "same_as"),
    [
        ("1.7 W/(m² K)", "u_value", "1.7 W/m2K"),
        ("1.7 W/m^2/K", "u_value", "1.7 W/m2K"),
        ("1.7 W/m2·K", "u_value", "1.7 W/m2K"),
        ("1.7 W per m2 K", "u_value", "1.7 W/m2K"),
        ("0.3 Btu/(h·ft²·°F)", "u_value", "0.3 Btu/h.ft2.degF"),
        ("0.3 Btu/hr ft2 F", "u_value", "0.3 Btu/h.ft2.degF"),
        ("68 °F", "temperature", "68 degF"),
        ("20 °C", "temperature", "20 degC"),
        ("110 CFM", "volume_flow", "110 cfm"),
        ("110 ft3/min", "volume_flow", "110 cfm"),
        ("0.25 in. w.g.", "pressure", "0.25 in.wg"),
        ("0.25 in.wc", "pressure", "0.25 in.wg"),
        ("12 BTU/h", "power", "12 Btu/h"),
        ("3 KWH", "energy", "3 kWh"),
        ("RSI 1.06", "thermal_resistance", "1.06 m2K/W"),
        ("RSI-1.06", "thermal_resistance", "1.06 m2K/W"),
        ("R-6", "thermal_resistance", "6 h.ft2.degF/Btu"),
        ("r-13.5", "thermal_resistance", "13.5 hr·ft²·°F/Btu"),
        ("5 yrs", "years", "5 years"),
        ("1 h 30 min", "time", "90 min"),
        ("2 min 30 s", "time", "150 s"),
        ("85 %", "fraction", "0.85"),
        ("3 %/a", "percent_per_year", "0.03"),
    ],
)
def test_spellings_of_one_unit_mean_the_same(text: str, kind: str, same_as: str) -> None:
    assert parse(text, kind) == pytest.approx(parse(same_as, kind), rel=1e-12)


def test_the_kind_decides_between_level_and_difference() -> None:
    assert parse("18 degF", "temperature_difference") == pytest.approx(10.0)
    assert parse("18 degF", "temperature") == pytest.approx(265.372, abs=1e-3)


LENGTHS = 'accepted: m, cm, mm, in, ft, e.g. "6 in"'
R_VALUES = 'accepted: "R-6" (US: h.ft2.degF/Btu) or "RSI 1.06" (metric: m2K/W)'


@pytest.mark.parametrize(
    ("text", "kind", "line"),
    [
        ("12", "length", f'"12" has no unit; {LENGTHS}'),
        ("12 ftt", "length", f'"12 ftt": unknown unit "ftt", the nearest is "ft"; {LENGTHS}'),
        ("5 cfm", "length", f'"5 cfm" is a volume flow, but a length is due here; {LENGTHS}'),
        ("0,5 m", "length", '"0,5 m" has a comma in its number; accepted: a decimal point, e.g. 0.5'),
        ("1,234 mm", "length", 'the comma in "1,234 mm" can be read in two ways; accepted: 1234 or 1.234'),
        ("1/0 in", "length", '"1/0 in" divides by zero; accepted: a fraction such as 1/2'),
        ("1.2.3 m", "length", '"1.2.3 m" holds two numbers in a row; accepted: one number and its unit'),
        ("3 ft 13 in", "length", f'"3 ft 13 in": the second part does not fit into the first; {LENGTHS}'),
        ("3.5 ft 2 in", "length", f'"3.5 ft 2 in": the second part does not fit into the first; {LENGTHS}'),
        ("3 ft 6 m", "length", f'"3 ft 6 m" is made of parts that do not follow each other; {LENGTHS}'),
        ("25 MM", "length", f'"25 MM": unknown unit "MM", the nearest is "mm"; {LENGTHS}'),
        (
            "5 mil",
            "length",
            '"5 mil": the unit "mil" is not clear; accepted: "in" (a mil is 0.001 in) or "mm"',
        ),
        ("1e999 m", "length", '"1e999 m" is too large a number; accepted: a finite number'),
        (
            "nan m",
            "length",
            '"nan m" does not begin with a number; accepted: a number with its unit, e.g. "6 in"',
        ),
        ("", "length", 'nothing is written here; accepted: a number with its unit, e.g. "6 in"'),
        ("68 F", "temperature", '"68 F": the unit "F" is not clear; accepted: "degF"'),
        ("20 C", "temperature", '"20 C": the unit "C" is not clear; accepted: "degC"'),
        ("R6", "thermal_resistance", f'"R6" does not say which R-value; {R_VALUES}'),
        ("6 R", "thermal_resistance", f'"6 R": the unit "R" is not clear; {R_VALUES}'),
        ("R-", "thermal_resistance", f'"R-" has no number; {R_VALUES}'),
        ("R-6 in", "thermal_resistance", f'"R-6 in" has a second unit; {R_VALUES}'),
        (
            "2 ton",
            "mass",
            '"2 ton": the unit "ton" is not clear; accepted: "short ton" (907 kg), "t" (1000 kg)',
        ),
        ("5 m", "time", '"5 m": the unit "m" is not clear; accepted: "min" (minutes) or "d" (days)'),
        (
            "3 oz",
            "mass",
            '"3 oz": the unit "oz" is not clear; accepted: "lb" or "g" (an ounce may be a weight or a '
            "volume)",
        ),
        (
            "3 MBtu",
            "energy",
            '"3 MBtu": the unit "MBtu" is not clear; accepted: "kBtu" (1000 Btu) or "MMBtu" (1,000,000 Btu)',
        ),
    ],
)
def test_each_bad_quantity_gives_its_line(text: str, kind: str, line: str) -> None:
    with pytest.raises(InputError) as caught:
        parse(text, kind)
    assert caught.value.problems == (line,)


@pytest.mark.parametrize("text", ["5 mj", "5 mJ", "5 mwh", "5 mW"])
def test_milli_is_never_taken_for_mega(text: str) -> None:
    with pytest.raises(InputError):
        parse(text, "energy")


@pytest.mark.parametrize(
    "text", ["9**9**9", "__import__('os')", "1e3e3 m", "0x10 m", "1_000 m", "٣ m", "1 m; 2 m"]
)
def test_nothing_is_evaluated(text: str) -> None:
    with pytest.raises(InputError):
        parse(text, "length")


def test_long_text_is_refused_at_once() -> None:
    with pytest.raises(InputError, match="too long"):
        parse("9" * 1_000_000, "length")


def test_unknown_kind_is_an_input_error() -> None:
    with pytest.raises(InputError, match="no kind of quantity"):
        parse("1 m", "breadth")


def test_a_flow_is_known_by_its_unit() -> None:
    kinds = ("volume_flow", "mass_flow", "volume_flux", "mass_flux")
    assert [parse_one_of(text, kinds).kind for text in ("1 cfm", "1 scfm", "1 cfm/ft2", "1 kg/s.m2")] == list(
        kinds
    )
    assert parse_one_of("2 kg/s", kinds) == Quantity("mass_flow", 2.0)
    with pytest.raises(InputError, match='unknown unit "cfmm", the nearest is "cfm"'):
        parse_one_of("1 cfmm", kinds)
    with pytest.raises(InputError, match="has no unit"):
        parse_one_of("105", kinds)


@settings(derandomize=True, deadline=None, max_examples=50)
@given(st.text(max_size=40), st.sampled_from(sorted(KINDS)))
def test_any_text_is_read_or_refused_in_one_printable_line(text: str, kind: str) -> None:
    try:
        assert isinstance(parse(text, kind), float)
    except InputError as error:
        assert len(error.problems) == 1
        assert error.problems[0].isprintable()


@settings(derandomize=True, deadline=None, max_examples=50)
@given(st.text(max_size=300))
def test_quoted_input_is_printable_and_short(text: str) -> None:
    assert quote(text).isprintable()
    assert len(quote(text)) <= 82
