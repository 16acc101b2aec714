"""Words of a scenario stay words, on the page, in tables and on the console, wherever they stand."""

import csv
import io
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from html.parser import HTMLParser
from typing import Any

import pytest
from pydantic import BaseModel

from simengine.data_files import data_path
from simengine.report import loop, tables
from simengine.report.page import page
from simengine.report.shown import Shown
from simengine.results import Result, store
from simengine.scenario import Scenario
from simengine.scenario.schema import Inputs
from simengine.scenario.schema.texts import Words
from simengine.scenario.schema.walk import fields_by_key, kinds_of, models_in, reader_of
from simengine.simulate import loop_facts, resolve
from simengine.simulate.together import run_together
from simengine.simulate.year import finished
from simengine.weather import builtin

MARKUP = "\"'><img src=x>{{7*7}}"
FORMULA = "=1+1|@SUM(A1)"


def with_words(table: Any, model: type[BaseModel], words: str, count: Iterator[int]) -> Any:
    """Return a table in which every free text is other words, each with a number of its own."""
    fields = fields_by_key(model)
    made = dict(table)
    for key, field in fields.items():
        reader = reader_of(field)
        if isinstance(reader, Words) and key not in ("source", "tags"):
            made[key] = f"{words}{next(count)}"[: reader.longest]
        inner = models_in(field.annotation)
        if not inner or key not in table:
            continue
        items = table[key] if isinstance(table[key], list) else [table[key]]
        worded = [with_words(item, _suits(item, inner), words, count) for item in items]
        made[key] = worded if isinstance(table[key], list) else worded[0]
    return made


def _suits(item: Any, models: list[type[BaseModel]]) -> type[BaseModel]:
    names = {item.get("part"), item.get("kind")}
    return next((model for model in models if names & {*kinds_of(model)}), models[0])


def made_of(words: str) -> tuple[Scenario, Result]:
    """Return a scenario full of some words, and its result of two weeks."""
    tables_ = tomllib.loads(data_path("scenarios", "demo_us.toml").read_text(encoding="utf-8"))
    for key in ("sweep", "spread", "spots", "field_test"):
        tables_.pop(key, None)
    tables_["house"] = {"floor_area": "90 m2", "like": "standard"}
    tables_["run"] = {"step": "10 min"}
    count = iter(range(1000))
    tables_["collector"]["tags"] = {f"{words} tag": f"{words} text"}
    scenario = Scenario.from_dict(with_words(tables_, Inputs, words, count))
    assert next(count) > 20
    year = builtin("greensboro")
    short = replace(year, data=year.data.iloc[24 * 10 : 24 * 24], station=f"{words} station")
    (result,) = run_together([resolve(scenario, short)], finished)
    assert isinstance(result, Result), result
    return scenario, result


@pytest.fixture(scope="module")
def marked() -> tuple[Scenario, Result]:
    return made_of(MARKUP)


@pytest.fixture(scope="module")
def formulas() -> tuple[Scenario, Result]:
    return made_of(FORMULA)


class Tags(HTMLParser):
    """Collects every tag, and every attribute's name and value."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]


def tags_of(text: str) -> Tags:
    found = Tags()
    found.feed(text)
    return found


def test_markup_in_any_words_stays_text_on_the_page(marked: tuple[Scenario, Result]) -> None:
    text = page(marked[1].summary, hours=marked[1].hours)
    found = tags_of(text)
    assert "img" not in found.tags and "<img" not in text
    assert text.count("&lt;img src=x&gt;") > 10
    assert "{{7*7}}" in text and MARKUP.replace("{{7*7}}", "49") not in text and "&gt;49" not in text
    assert not [name for name, _ in found.attributes if name.startswith("on")]


def test_markup_stays_text_in_a_notebook(marked: tuple[Scenario, Result]) -> None:
    for text in (marked[0]._repr_html_(), marked[1]._repr_html_()):
        assert "<img" not in text and "img" not in tags_of(text).tags


def test_no_words_are_a_formula_in_a_table(formulas: tuple[Scenario, Result]) -> None:
    rows = list(csv.reader(io.StringIO(store.months_table(formulas[1].summary))))
    cells = [text for row in rows for text in row]
    assert any(FORMULA in text for text in cells)
    assert not [text for text in cells if text[:1] in ("=", "+", "@", "\t", "\r")]


def test_a_console_gets_lines_and_no_more(marked: tuple[Scenario, Result]) -> None:
    scenario, result = marked
    facts = loop_facts(resolve(scenario))
    told = [
        tables.console(result.summary, Shown("us")),
        loop.listing(facts["parts"], [Shown("si"), Shown("us")]),
    ]
    assert all(line.isprintable() for text in told for line in text.splitlines())


def test_what_was_tried_is_no_formula(tmp_path: Any) -> None:
    from simengine.batch.optimise import Best
    from simengine.batch.tries import Try
    from simengine.cli.best import _keep

    odd = {"=site.warmer": "-2 K", "fan.flow": "+3 cfm/ft2"}
    one = Try(odd, 5.0, "@reason")
    _keep(Best("offset_kwh", "", "standard", one, one, (one,)), tmp_path)
    text = (tmp_path / "tries.csv").read_text(encoding="utf-8")
    cells = [cell for row in csv.reader(io.StringIO(text)) for cell in row]
    assert {"'=site.warmer", "'-2 K", "'+3 cfm/ft2", "'@reason"} <= set(cells)
