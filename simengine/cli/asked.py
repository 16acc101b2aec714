"""What a command line names, turned into the objects that the rooms below work with."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from simengine.cli.options import local_path

if TYPE_CHECKING:
    from simengine.report.shown import Shown
    from simengine.scenario import Scenario
    from simengine.weather import WeatherSeries

BUILTIN = "builtin:"


def changes_of(texts: tuple[str, ...]) -> dict[str, Any]:
    """Return key and value of every `--set KEY=VALUE`.

    Raises
    ------
    InputError : a text is none; every problem has its line
    """
    from simengine.errors import InputError
    from simengine.scenario import read_override

    changed: dict[str, Any] = {}
    problems: list[str] = []
    for text in texts:
        try:
            key, value = read_override(text)
            changed[key] = value
        except InputError as error:
            problems += [f"--set: {problem}" for problem in error.problems]
    if problems:
        raise InputError(*problems)
    return changed


def scenario_of(text: str, changes: tuple[str, ...]) -> "Scenario":
    """Return the scenario of a file with the changes made to it.

    Raises
    ------
    InputError : the file or a change is at fault; every problem has its line
    """
    from simengine.scenario import load

    changed = changes_of(changes)
    scenario = load(local_path(text))
    return scenario.changed(changed) if changed else scenario


def units_of(scenario: "Scenario", units: str | None) -> "Shown":
    """Return the unit system to print in: that of `--units`, else the scenario's own."""
    from simengine.report.shown import Shown

    return Shown("si" if (units or scenario.inputs.units) == "si" else "us")


def weather_of(text: str | None) -> "WeatherSeries | None":
    """Return the series of a weather file or of a built-in year, None where none is named.

    Raises
    ------
    InputError : the file cannot be used, or there is no such file
    """
    if text is None:
        return None
    from simengine.weather import builtin, builtin_names, read_weather

    if text.startswith(BUILTIN):
        return builtin(text.removeprefix(BUILTIN))
    path = local_path(text)
    if not path.exists() and text in builtin_names():
        return builtin(text)
    if path.is_dir() or not path.exists():
        raise click.UsageError(
            f"there is no weather file {text[:80]!r}; accepted: a file, or {BUILTIN}NAME with one of "
            f"{', '.join(builtin_names())}"
        )
    return read_weather(path)


def weathers_of(texts: tuple[str, ...]) -> "tuple[WeatherSeries, ...] | None":
    """Return the series of several weather files or built-in years, None where none is named."""
    return tuple(filter(None, map(weather_of, texts))) or None


def weather_name(text: str | None) -> str | None:
    """Return weather named on the command line as a scenario in any folder would name it."""
    if text is None or text.startswith(BUILTIN):
        return text
    path = local_path(text)
    return str(path.resolve()) if path.exists() else f"{BUILTIN}{text}"


def folder_of(out: str | None, scenario: str) -> Path:
    """Return the folder for a result: the one that is named, else results/<stem> in the current folder."""
    return local_path(out) if out is not None else Path("results") / Path(scenario).stem
