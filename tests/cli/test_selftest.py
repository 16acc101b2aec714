"""The self-test says what works and fails when something does not."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from simengine.cli import main, selftest
from simengine.simulate import known_answers


def test_a_sound_installation_passes() -> None:
    outcome = CliRunner().invoke(main, ["selftest"])
    assert outcome.exit_code == 0, outcome.stdout
    assert "FAILS" not in outcome.stdout
    assert outcome.stdout.count("ok     ") == 8


def test_a_folder_that_cannot_be_written_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(folder: Path) -> str:
        raise PermissionError(13, "Permission denied", str(folder))

    monkeypatch.setattr(selftest, "_writable", refuse)
    outcome = CliRunner().invoke(main, ["selftest"])
    assert outcome.exit_code == 2
    assert "FAILS  current folder" in outcome.stdout


def test_a_cache_that_others_can_write_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("simengine.compiled.refusal", lambda folder: "is open to others")
    outcome = CliRunner().invoke(main, ["selftest"])
    assert outcome.exit_code == 2
    assert "FAILS  folder for compiled code" in outcome.stdout


@pytest.mark.parametrize(
    ("function", "wrong", "said"),
    [
        ("simengine.air.properties.density", lambda temperature, pressure: 1.3, "instead of 1.2041"),
        ("simengine.simulate.known_answers.stagnation_point", lambda: 100.0, "instead of 107.50"),
        ("simengine.simulate.known_answers.cooling_node", lambda: 0.5, "instead of 0.36788"),
    ],
)
def test_a_wrong_answer_fails(
    function: str, wrong: object, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(function, wrong)
    outcome = CliRunner().invoke(main, ["selftest"])
    assert outcome.exit_code == 2
    assert said in outcome.stdout


def test_the_known_answers_come_out() -> None:
    # mathematics: 20 + 700 / 8 degC, exp(-1)
    assert known_answers.stagnation_point() == pytest.approx(107.5, abs=1e-3)
    assert known_answers.cooling_node() == pytest.approx(0.36788, abs=1e-5)
