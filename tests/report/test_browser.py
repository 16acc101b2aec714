"""The page in a real browser: quiet, on this machine alone, fit for phone, desk and paper."""

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import simengine
from simengine.data_files import data_path
from simengine.report.page import page
from simengine.report.price_curve import price_curve
from simengine.results import Result
from tests.report.browser import CHROMIUM, Browser

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")

PAGES = re.compile(rb"/Type\s*/Page[^s]")


@pytest.fixture(scope="module")
def shown(result: Result, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("page") / "report.html"
    path.write_text(page(result.summary, hours=result.hours), encoding="utf-8")
    return path


@pytest.fixture
def browser(tmp_path: Path) -> Iterator[Browser]:
    with Browser(tmp_path / "profile") as tab:
        yield tab


def test_it_is_quiet_and_asks_for_nothing(browser: Browser, shown: Path) -> None:
    browser.open(shown)
    browser.value("document.getElementById('pick-si').click()")
    assert browser.complaints == []
    assert [request for request in browser.requests if not request.startswith("file:")] == []


@pytest.mark.parametrize("width", [390, 1280])
def test_it_fits_its_window(browser: Browser, shown: Path, width: int) -> None:
    browser.open(shown, width)
    assert browser.value("document.documentElement.scrollWidth") <= width
    least = browser.value(
        "Math.min(...[...document.querySelectorAll('p, td, th, dd, dt, li')]"
        ".filter(e => e.offsetParent).map(e => parseFloat(getComputedStyle(e).fontSize)))"
    )
    assert least >= 12.0  # px: smaller is hard to read on a phone


def test_the_switch_shows_one_unit_system_at_a_time(browser: Browser, shown: Path) -> None:
    browser.open(shown)
    for picked, hidden in (("us", "si"), ("si", "us")):
        browser.value(f"document.getElementById('pick-{picked}').click()")
        seen = f"[...document.querySelectorAll('span.{hidden}')].filter(e => e.offsetParent).length"
        assert browser.value(seen) == 0
        assert browser.value(seen.replace(f"span.{hidden}", f"span.{picked}")) > 10


def test_the_slider_moves_the_payback_as_python_does(browser: Browser, shown: Path, result: Result) -> None:
    browser.open(shown)
    curves = [price_curve(house) for house in result.summary["houses"].values()]
    slider = "document.getElementById('price')"
    low, high = (float(browser.value(f"{slider}.{end}")) for end in ("min", "max"))
    for share in (0.0, 0.31, 0.77, 1.0):
        browser.value(f"{slider}.value = {low + share * (high - low)}")
        browser.value(f"{slider}.dispatchEvent(new Event('input'))")
        price = float(browser.value(f"{slider}.value"))
        cells = json.loads(
            browser.value(
                "JSON.stringify([...document.querySelectorAll('#at-price td')].map(e => e.textContent))"
            )
        )
        wanted = [f"{curve.net_saving(price):.2f} {curve.currency}" for curve in curves if curve]
        years = [curve.payback(price) for curve in curves if curve]
        wanted += ["never" if value is None else f"{value:.1f} years" for value in years]
        assert cells == wanted


@pytest.fixture(scope="module")
def three_houses(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of the demo with a house of its own: as much as a usual page can hold."""
    own = {"house": {"like": "standard", "floor_area": "1600 ft2"}}
    done = simengine.run(simengine.load(data_path("scenarios", "demo.toml")).changed(own))
    return done.report(tmp_path_factory.mktemp("three") / "report.html")


SIZES = [(8.27, 11.69), (8.5, 11.0)]  # [in]
PAPER = pytest.mark.parametrize(("width", "height"), SIZES, ids=["A4", "Letter"])


@PAPER
def test_it_prints_on_three_pages_at_most(browser: Browser, shown: Path, width: float, height: float) -> None:
    browser.open(shown)
    assert 1 <= len(PAGES.findall(browser.paper(width, height))) <= 3


@PAPER
def test_so_do_three_houses_in_full(
    browser: Browser, three_houses: Path, width: float, height: float
) -> None:
    assert three_houses.stat().st_size < 1.5e6
    browser.open(three_houses, width=390)
    assert browser.value("document.documentElement.scrollWidth") <= 390
    assert 1 <= len(PAGES.findall(browser.paper(width, height))) <= 3


def test_folded_tables_are_left_out_on_paper_with_their_heading(browser: Browser, three_houses: Path) -> None:
    browser.open(three_houses)
    browser.ask("Emulation.setEmulatedMedia", media="print")
    shut = "[...document.querySelectorAll('.money details')].map(e => e.offsetHeight > 0)"
    assert browser.value(f"JSON.stringify({shut})") == "[true,false,false]"  # the first house's own
    browser.value("document.querySelector('.money details').open = false")
    assert browser.value("document.querySelector('.money').offsetHeight") == 0
