"""`simengine point`: one steady operating point of the collector."""

from collections.abc import Callable
from typing import Any

import click

from simengine.cli import options
from simengine.cli.asked import scenario_of
from simengine.cli.printing import show, show_json

CONDITIONS = {
    "irradiance": ("irradiance", "sun on the collector plane"),
    "incidence": ("angle", "angle of incidence"),
    "ambient": ("temperature", "outdoor air"),
    "sky": ("temperature", "black-body temperature of the sky"),
    "inlet": ("temperature", "air that enters the collector"),
    "flow": ("mass_flow", "air flow, of volume or mass; 0 is stagnation"),
    "wind": ("speed", "wind at the collector"),
}
"""Each condition's kind of quantity, and its meaning."""


def _conditions(command: Callable[..., Any]) -> Callable[..., Any]:
    for name, (_, meaning) in reversed(CONDITIONS.items()):
        command = click.option(f"--{name}", metavar="VALUE", help=f"{meaning}, with its unit")(command)
    return command


@click.command("point", short_help="One steady operating point of the collector.")
@options.scenario
@_conditions
@click.option("--over", type=click.Choice(list(CONDITIONS)), help="Print a table over this condition.")
@options.changes
@options.units
@options.as_json
def command(
    scenario: str, over: str | None, changes: tuple[str, ...], units: str, as_json: bool, **conditions: str
) -> None:
    """Work out one steady operating point, or a table over one condition.

    Example: simengine point house.toml --irradiance "800 W/m2" --ambient "32 degF" --over flow
    """
    from simengine import simulate
    from simengine.report import point
    from simengine.report.shown import Shown

    given = {name: text for name, text in conditions.items() if text is not None}
    flow = given.get("flow", "")
    if flow and not _is_zero(flow):  # the scenario knows the air at its fan, so it turns cfm into kg/s
        changes = (*changes, f"fan.flow={given.pop('flow')}")
    wanted = scenario_of(scenario, changes)
    fixed = _parsed(given)
    if over is None:
        found = simulate.point(wanted, **fixed)
        show_json(found) if as_json else show(point.listing(found, Shown("si" if units == "si" else "us")))
        return


def _is_zero(text: str) -> bool:
    head = text.split()[0] if text.split() else ""
    try:
        return float(head) == 0.0
    except ValueError:
        return False


def _parsed(given: dict[str, str]) -> dict[str, float]:
    """Return the conditions in SI; every one that cannot be read has its line."""
    from simengine.errors import InputError
    from simengine.units import parse

    values: dict[str, float] = {}
    problems: list[str] = []
    for name, text in given.items():
        try:
            values[name] = 0.0 if name == "flow" else parse(text, CONDITIONS[name][0])
        except InputError as error:
            problems += [f"--{name}: {problem}" for problem in error.problems]
    if problems:
        raise InputError(*problems)
    return values
