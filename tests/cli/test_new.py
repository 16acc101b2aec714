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


def test_values_can_be_set_and_asked_for(tmp_path: Path) -> None:
    from simengine.scenario import load

    path = tmp_path / "house.toml"
    typed = "builtin:sand_point\n5 ft\n\n60 deg\n\n\nnatural_gas\n"  # Enter takes a default
    outcome = CliRunner().invoke(main, ["new", str(path), "--ask", "--set", "title=Barn"], input=typed)
    assert outcome.exit_code == 0, outcome.stderr
    scenario = load(path)
    assert scenario.title == "Barn"
    collector = scenario.inputs.collector
    assert (collector.width, collector.height) == (5 * 0.3048, 8 * 0.3048)
    assert collector.tilt == 60.0 and scenario.inputs.site.weather == "builtin:sand_point"


def test_a_value_that_cannot_be_leaves_no_file(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    outcome = CliRunner().invoke(main, ["new", str(path), "--set", "collector.tilt=400 deg"])
    assert outcome.exit_code == 2
    assert "collector.tilt" in outcome.stderr and "accepted" in outcome.stderr
    assert not path.exists()
