"""From log to answer: the invented log gives back what it was made from; the fit becomes a scenario."""

import json
from pathlib import Path

import pytest

from simengine.data_files import data_path
from simengine.errors import InputError
from simengine.fieldtest import answer, check_card, field_test, write_fitted
from simengine.fieldtest.card import SUNS
from simengine.fieldtest.fitted_file import fitted_text
from simengine.fieldtest.outcome import FieldTestResult
from simengine.report import field_card
from simengine.report import field_test as field_text
from simengine.report.page import page
from simengine.report.shown import Shown
from simengine.scenario import load
from simengine.simulate import resolve, run

BUILT = {"cover_transmittance": 0.92, "back_loss": 1.3, "duct_loss": 1.5}
"""What docs/scripts/demo_log.py has built into the invented collector."""


@pytest.fixture(scope="module")
def result() -> FieldTestResult:
    return field_test(data_path("scenarios", "demo_log.csv"), load(data_path("scenarios", "demo.toml")))


def test_the_log_says_that_it_is_invented_and_is_small() -> None:
    path = data_path("scenarios", "demo_log.csv")
    assert "INVENTED" in path.read_text(encoding="utf-8").splitlines()[0]
    assert path.stat().st_size < 200_000


def test_the_bands_hold_what_the_log_was_made_from(result: FieldTestResult) -> None:
    for name in result.fit.told:
        assert abs(result.fit.values[name] - BUILT[name]) <= 2.5 * result.fit.deviation(name), name
    assert {"cover_transmittance", "duct_loss"} <= set(result.fit.told)


def test_what_the_log_cannot_tell_is_said(result: FieldTestResult) -> None:
    told = answer(result)["not_told"]
    assert any("exchange between absorber and air" in sentence for sentence in told)
    assert any("leak" in sentence and "two" in sentence for sentence in told)


def test_the_fit_leaves_less_than_the_scenario_does(result: FieldTestResult) -> None:
    before = sum(abs(hour.measured - hour.model) for hour in result.hours)
    after = sum(abs(hour.measured - hour.fitted) for hour in result.hours)
    assert after < 0.2 * before


def test_answer_is_strict_json_and_text_is_within_a_screen(result: FieldTestResult) -> None:
    found = answer(result)
    json.dumps(found, allow_nan=False)
    for system in ("si", "us"):
        text = field_text.listing(found, Shown(system))
        assert "of what the scenario promises" in text
        assert max(len(line) for line in text.splitlines()) <= 110


def test_the_fitted_scenario_is_written_whole_and_says_so(result: FieldTestResult, tmp_path: Path) -> None:
    source, target = data_path("scenarios", "demo.toml"), tmp_path / "fitted.toml"
    write_fitted(result, source, target)
    again = load(target)
    assert again.inputs.fitted is not None
    assert again.inputs.fitted.cover_transmittance == pytest.approx(
        result.fit.values["cover_transmittance"], abs=1e-4
    )
    mark = again.assemble().tested
    assert mark is not None
    assert (str(mark.date), mark.periods) == ("2026-02-14", result.compared)
    assert check_card(resolve(again)).tested == f"fitted to a test of 2026-02-14, {result.compared} periods"
    assert [path.name for path in tmp_path.iterdir()] == ["fitted.toml"]
    with pytest.raises(InputError, match="there already"):
        write_fitted(result, source, target)


def test_the_year_of_a_fitted_scenario_says_which_test_it_rests_on(result: FieldTestResult) -> None:
    summary = run(result.fitted_scenario()).summary
    told = f"The collector is fitted to a test of 2026-02-14, {result.compared} periods."
    assert told in summary["cautions"]
    assert summary["collector"]["fitted_to_test"] == "2026-02-14"
    assert told in page(summary)


def test_a_second_fit_takes_the_place_of_the_first(result: FieldTestResult) -> None:
    once = fitted_text("schema = 1\n[fan]\nflow = 1\n", result)
    assert fitted_text(once, result) == once
    assert once.count("[fitted]") == 1


def test_a_write_that_fails_leaves_nothing(
    result: FieldTestResult, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(self: Path, target: Path) -> None:
        raise OSError("no space")

    monkeypatch.setattr(Path, "replace", broken)
    with pytest.raises(OSError, match="no space"):
        write_fitted(result, data_path("scenarios", "demo.toml"), tmp_path / "fitted.toml")
    assert list(tmp_path.iterdir()) == []


def test_card_rises_with_sun_and_with_warmth_and_fits_a_page() -> None:
    card = check_card(resolve(load(data_path("scenarios", "demo.toml"))))
    assert (card.rise[:, 1:] > card.rise[:, :-1]).all()
    assert (card.rise[1:] > card.rise[:-1]).all()
    assert (card.band > 0.0).all()
    text = field_card.text(card.as_dict(), Shown("si"))
    assert len(text.splitlines()) <= 60
    assert f"{SUNS[0]:.0f} W/m²" in text
    page = field_card.page(card.as_dict(), Shown("us"))
    assert page.count("<tr>") == 5
    assert "http" not in page.replace("http-equiv", "")


def test_a_title_cannot_write_into_the_page() -> None:
    scenario = load(data_path("scenarios", "demo.toml")).changed({"title": "<script>alert(1)</script>"})
    assert "<script>" not in field_card.page(check_card(resolve(scenario)).as_dict(), Shown("us"))
