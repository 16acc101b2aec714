"""The page: complete in itself, escaped, and true to the summary."""

import re
from html.parser import HTMLParser
from pathlib import Path
from types import ModuleType

import pytest

from simengine.report.page import fragment, page
from simengine.report.prices import script_digest
from simengine.results import Result

VOID = {"meta", "input", "rect", "line", "polygon", "polyline", "circle", "link", "br", "img"}


class Nesting(HTMLParser):
    """Checks that every element that is opened is closed in its turn, and lists what there is."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.seen: list[str] = []
        self.links: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append(tag)
        self.links += [str(value) for name, value in attrs if name in ("src", "href", "action", "srcset")]
        self.links += [name for name, _ in attrs if name.startswith("on")]
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag not in VOID:
            assert self.open.pop() == tag


def parsed(text: str) -> Nesting:
    """Return what is in a page."""
    nesting = Nesting()
    nesting.feed(text)
    nesting.close()
    assert nesting.open == []
    return nesting


@pytest.mark.parametrize("system", ["us", "si"])
def test_it_is_one_file_without_links_and_with_no_script_but_its_own(result: Result, system: str) -> None:
    text = page(result.summary, "us" if system == "us" else "si", result.hours)
    found = parsed(text)
    assert found.links == []
    assert found.seen.count("script") == 1
    assert f"script-src '{script_digest()}'" in text


def test_a_page_without_prices_has_no_script_at_all(made_up: ModuleType) -> None:
    text = page(Result.of(made_up.record(money={})).summary)
    assert "script" not in parsed(text).seen and "script-src" not in text


def test_a_script_in_a_title_stays_text(result: Result) -> None:
    text = page(result.summary, hours=result.hours)
    assert text.count("<script>") == 1  # that of the page itself
    assert "<script>alert" not in text
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in text
    assert "Invented &amp; Town" in text
    assert "one hour was filled &lt;b&gt;here&lt;/b&gt;" in text


@pytest.mark.parametrize("field", ["title", "houses", "end_reason", "about"])
def test_whatever_comes_from_a_file_is_escaped(made_up: ModuleType, field: str) -> None:
    bad = "\"><img src=x onerror=alert(1)>'"
    about = dict.fromkeys(("client", "author", "date", "notes"), bad)
    value = {"title": bad, "houses": (bad, "low_energy"), "end_reason": bad, "about": about}[field]
    made = Result.of(made_up.record(**{field: value}))
    found = parsed(page(made.summary, hours=made.hours))
    assert "img" not in found.seen and found.links == []


def test_nothing_is_fetched(result: Result) -> None:
    text = page(result.summary)
    assert "default-src 'none'" in text
    assert not re.search(r"https?://|@import|url\(", text)


def test_it_is_fit_for_phones_and_both_lights_and_paper(result: Result) -> None:
    text = page(result.summary)
    for word in ("width=device-width", "prefers-color-scheme: dark", "@media print", "overflow-x: auto"):
        assert word in text


def test_every_caution_and_digest_is_on_it(result: Result) -> None:
    text = page(result.summary)
    assert "licensed practitioners decide" in text and "carbon monoxide" in text
    for digest in ("a" * 64, "b" * 64, "c" * 64):
        assert digest in text


def test_a_part_that_is_too_hot_is_named_and_one_that_is_not_is_not_marked(result: Result) -> None:
    text = page(result.summary)
    assert text.count('<tr class="hot">') == 1
    assert "<strong>Too hot:</strong> polyiso board reaches" in text


def test_both_unit_systems_are_there(result: Result) -> None:
    text = page(result.summary)
    assert '<span class="us">5.98 MMBtu</span><span class="si">1752 kWh</span>' in text


def test_a_bare_result_makes_a_page_too(made_up: ModuleType) -> None:
    bare = made_up.record(weather={}, limits=[], money={}, inputs=[], closure={}, collector={})
    parsed(page(Result.of(bare).summary))


def test_the_notebook_shows_the_table(result: Result) -> None:
    text = result._repr_html_()
    assert text == fragment(result.summary)
    parsed(text)
    assert "Heating saved" in text and "<script>" not in text


def test_the_report_is_written_where_it_is_wanted(result: Result, tmp_path: Path) -> None:
    path = result.report(tmp_path / "page.html")
    assert path.read_text(encoding="utf-8") == page(result.summary, hours=result.hours)
