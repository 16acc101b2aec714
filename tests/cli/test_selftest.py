"""The self-test says what works and fails when something does not."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from simengine.cli import main, selftest


def test_a_sound_installation_passes() -> None:
    outcome = CliRunner().invoke(main, ["selftest"])
    assert outcome.exit_code == 0, outcome.stdout
    assert "FAILS" not in outcome.stdout
    assert outcome.stdout.count("ok     ") == 6


def test_a_folder_that_cannot_be_written_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(folder: Path) -> str:
        raise PermissionError(13, "Permission denied", str(folder))

    monkeypatch.setattr(selftest, "_writable", refuse)
    outcome = CliRunner().invoke(main, ["selftest"])
    assert outcome.exit_code == 2
    assert "FAILS  current folder" in outcome.stdout


def test_a_wrong_answer_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("simengine.air.properties.density", lambda temperature, pressure: 1.3)
    outcome = CliRunner().invoke(main, ["selftest"])
    assert outcome.exit_code == 2
    assert "instead of 1.2041" in outcome.stdout
