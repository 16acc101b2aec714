"""A new scenario can be read at once, and nothing is overwritten."""

from pathlib import Path

from click.testing import CliRunner

from simengine.cli import main


def test_what_is_written_can_be_loaded(tmp_path: Path) -> None:
    from simengine.scenario import load

    path = tmp_path / "house.toml"
    outcome = CliRunner().invoke(main, ["new", str(path)])
    assert outcome.exit_code == 0, outcome.stderr
    assert load(path).title


def test_a_file_that_is_there_stays(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    path.write_text("mine")
    outcome = CliRunner().invoke(main, ["new", str(path)])
    assert outcome.exit_code == 2
    assert "is there already" in outcome.stderr
    assert path.read_text() == "mine"
