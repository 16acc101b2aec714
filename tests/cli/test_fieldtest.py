"""The command `fieldtest`: a test, a card, and one line for what is wrong."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from simengine.cli import main
from simengine.data_files import data_path

LOG, DEMO = str(data_path("scenarios", "demo_log.csv")), str(data_path("scenarios", "demo.toml"))


def call(*words: str):
    return CliRunner().invoke(main, ["fieldtest", *words])


def test_a_test_prints_a_verdict_first_and_writes_the_fit(tmp_path: Path) -> None:
    target = tmp_path / "fitted.toml"
    outcome = call(LOG, DEMO, "--out", str(target))
    assert outcome.exit_code == 0
    assert outcome.stdout.startswith("Test of 2026-02-14: in ")
    assert "[fitted]" in target.read_text(encoding="utf-8")


def test_json_is_strict_and_alone_on_stdout() -> None:
    outcome = call(LOG, DEMO, "--json", "--quiet")
    assert json.loads(outcome.stdout)["date"] == "2026-02-14"
    assert outcome.stderr == ""


def test_card_is_printed_and_written_as_a_page(tmp_path: Path) -> None:
    page = tmp_path / "card.html"
    outcome = call("--card", DEMO, "--out", str(page), "--units", "si")
    assert outcome.exit_code == 0
    assert "A low reading usually means" in outcome.stdout
    assert page.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert call("--card", DEMO, "--out", str(page)).exit_code == 2
    assert "rise_k" in json.loads(call("--card", DEMO, "--json").stdout)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((LOG,), "accepted: a log and a scenario"),
        (("--card", LOG, DEMO), "accepted: one scenario"),
        (("no.csv", DEMO), "no.csv: does not exist"),
        ((LOG, DEMO, "--set", "field_test.inlet.column=x"), "there is no column"),
        ((LOG, DEMO, "--set", "fan.power=20 W", "--out", "a.toml"), "--set does not change"),
    ],
)
def test_what_is_wrong_is_one_line(words: tuple[str, ...], told: str) -> None:
    outcome = call(*words)
    assert outcome.exit_code == 2
    assert told in outcome.stderr
    assert outcome.stdout == ""


def test_a_scenario_without_a_map_is_told_what_it_lacks(tmp_path: Path) -> None:
    outcome = call(LOG, str(data_path("scenarios", "demo_metric.toml")))
    assert outcome.exit_code == 2
    assert "field_test: is missing" in outcome.stderr
