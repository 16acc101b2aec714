"""The band in words: what stands in the verdict, on the screen and on the page."""

import copy
import re
from typing import Any

import pytest

from simengine.report.page import page
from simengine.report.shown import Shown
from simengine.report.tables import WIDTH, console
from simengine.report.verdict import verdict
from simengine.report.within import plus_minus, span
from simengine.results import Result

US = Shown("us")


def banded(result: Result, **changes: Any) -> dict[str, Any]:
    """Return the invented year with an invented band around both houses."""
    block = {
        "offset_kwh": {"p10": 1400.0, "p50": 1700.0, "p90": 2100.0},
        "fuel_saved": {"p10": 30.0, "p50": 41.0, "p90": 54.0},
        "net_saving": {"p10": 20.0, "p50": 33.0, "p90": 50.0},
        "simple_payback_a": {"p10": 12.0, "p50": 18.0, "p90": None, "p90_reason": "in 7 of 60 never"},
        "never_paid_back": 7,
        "drivers": [
            {"key": "site.sun_factor", "ordered": True, "p10": "0.95", "p90": "1.05"}
            | {"offset_kwh": 0.9, "simple_payback_a": -0.8},
            {"key": "site.<b>", "ordered": False, "p10": None, "p90": None}
            | {"offset_kwh": 0.3, "simple_payback_a": None},
        ],
        "members": 60,
        "failed": 1,
        "failures": [{"member": 3, "reason": "no <i>file</i>"}],
        "seed": 4,
    }
    summary = copy.deepcopy(result.summary)
    for house in summary["houses"].values():
        house["spread"] = block | changes
    return summary


def test_the_verdict_says_how_sure_it_is(result: Result) -> None:
    line = verdict(banded(result), US)
    assert line.startswith(
        "Standard house saves 41 ± 12 gal of heating oil (5.8 ± 1.2 MMBtu, 33 ± 15 USD) a year, "
    )
    assert "(12.0 years to never)" in line


def test_without_a_band_nothing_changes(result: Result) -> None:
    assert "±" not in verdict(result.summary, US) + console(result.summary, US) + page(result.summary)
    assert "How sure this is" not in page(result.summary)


def test_the_screen_shows_ends_drivers_and_troubles(result: Result) -> None:
    text = console(banded(result), US)
    assert re.search(r"Fuel saved +30 \w+ +41 \w+ +54 \w+", text)
    assert re.search(r"Simple payback +12.0 years +18.0 years +–", text)
    assert "sunnier or duller year (+0.90)" in text
    assert "In 7 of 60 years drawn the saving never pays back." in text
    assert "1 of 60 came to no end; the first: no <i>file</i>" in text
    assert max(len(line) for line in text.splitlines()[1:]) <= max(WIDTH, 120)


def test_the_page_shows_a_table_and_bars_and_escapes_them(result: Result) -> None:
    text = page(banded(result))
    assert text.count("How sure this is") == 1
    assert "left:50.0%;width:45.0%" in text and "left:10.0%;width:40.0%" in text
    assert "site.&lt;b&gt;" in text and "no &lt;i&gt;file&lt;/i&gt;" in text


@pytest.mark.parametrize(
    ("low", "middle", "high", "text"),
    [(29.0, 41.0, 53.0, "41.0 ± 12.0 gal"), (2.0, 2.0, 2.0, "2.0 ± 0.0 gal"), (None, 2.0, 3.0, "")],
)
def test_plus_minus_has_as_many_digits_as_its_middle(
    low: float | None, middle: float, high: float, text: str
) -> None:
    assert plus_minus({"p10": low, "p50": middle, "p90": high}, lambda value: f"{value:.1f} gal") == text


def test_a_span_without_a_beginning_is_none() -> None:
    assert span({"p10": None, "p90": None}, str) == ""


def test_the_page_nests_and_has_no_place_for_a_script(result: Result) -> None:
    text = page(banded(result))
    section = text[text.index("How sure this is") : text.index("Where the heat went")]
    for tag in ("div", "table", "tbody", "tr", "span", "i"):
        assert len(re.findall(rf"<{tag}[ >]", section)) == section.count(f"</{tag}>"), tag
    assert "<script" not in section
