"""What is shown is read again as the same quantity."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simengine.errors import InputError
from simengine.units import KINDS, System, format_si, parse, plain_number, shown_unit


@pytest.mark.parametrize(
    ("text", "kind", "si", "us"),
    [
        ("6 in", "length", "152.4 mm", "6 in"),
        ("12 ft", "length", "3.658 m", "12 ft"),
        ("R-6", "thermal_resistance", "1.057 m2K/W", "R-6"),
        ("68 degF", "temperature", "20 degC", "68 degF"),
        ("18 degF", "temperature_difference", "10 K", "18 degF"),
        ("110 cfm", "volume_flow", "186.9 m3/h", "110 cfm"),
        ("0.25 in.wg", "pressure", "62.27 Pa", "0.25 in.wg"),
        ("29.92 inHg", "pressure", "1013 hPa", "29.92 inHg"),
        ("0.85", "fraction", "0.85", "0.85"),
        ("3 %", "percent_per_year", "3 %", "3 %"),
        ("90 min", "time", "90 min", "90 min"),
        ("0 W", "power", "0 W", "0 Btu/h"),
        ("-5 degC", "temperature", "-5 degC", "23 degF"),
    ],
)
def test_both_unit_systems(text: str, kind: str, si: str, us: str) -> None:
    value = parse(text, kind)
    assert (format_si(value, kind, "si"), format_si(value, kind, "us")) == (si, us)


@pytest.mark.parametrize("system", ["si", "us"])
@pytest.mark.parametrize("kind", sorted(KINDS))
@settings(derandomize=True, deadline=None, max_examples=20)
@given(number=st.floats(1e-3, 1e5), sign=st.sampled_from([1.0, -1.0]))
def test_shown_text_reads_back(kind: str, system: System, number: float, sign: float) -> None:
    value = sign * number * KINDS[kind].units[-1].factor
    shown = format_si(value, kind, system, digits=9)
    # nine digits of the shown number; a temperature level is rounded where it is shown, not in K
    offset = shown_unit(value, kind, system).offset
    assert parse(shown, kind) == pytest.approx(value, rel=1e-7, abs=1e-7 * offset)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"),
        (-0.0, "0"),
        (138500.0, "138500"),
        (0.025, "0.025"),
        (1e-9, "1.000e-09"),
        (0.1 + 0.2, "0.3"),
    ],
)
def test_plain_numbers(value: float, text: str) -> None:
    assert plain_number(value) == text


def test_unknown_kind_is_an_input_error() -> None:
    with pytest.raises(InputError, match="accepted: length"):
        format_si(1.0, "breadth")
