"""What a command line names: scenarios with their changes, weather by file or by name, folders."""

from pathlib import Path

import click
import pytest

from simengine.cli import asked
from simengine.errors import InputError


def test_every_wrong_change_is_told() -> None:
    with pytest.raises(InputError) as caught:
        asked.scenario_of("house.toml", ("novalue", "=3"))
    assert len(caught.value.problems) == 2
    assert all("--set" in problem for problem in caught.value.problems)


def test_a_built_in_year_goes_by_its_name() -> None:
    from simengine.weather import builtin_names

    name = builtin_names()[0]
    assert asked.weather_of(f"builtin:{name}") is not None
    assert asked.weather_of(name) is not None
    assert asked.weather_of(None) is None


@pytest.mark.parametrize("text", ["nowhere.csv", "."])
def test_no_weather_file_is_said_with_what_is_accepted(text: str) -> None:
    with pytest.raises(click.UsageError, match="builtin:NAME"):
        asked.weather_of(text)


@pytest.mark.parametrize(
    "text", ["", "  ", "https://host/a.toml", "s3://b/c", "file://x", "//host/share/a", "\\\\host\\share"]
)
def test_paths_of_other_machines_are_refused(text: str) -> None:
    with pytest.raises(click.UsageError, match="accepted"):
        asked.folder_of(text, "house.toml")


@pytest.mark.parametrize(
    ("out", "scenario", "folder"),
    [
        (None, "plans/house.toml", "results/house"),
        ("here", "house.toml", "here"),
        (None, "a.b.toml", "results/a.b"),
    ],
)
def test_the_folder_of_a_result(out: str | None, scenario: str, folder: str) -> None:
    assert asked.folder_of(out, scenario) == Path(folder)
