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

STEPS = {
    "irradiance": (100.0, 200.0, 400.0, 600.0, 800.0, 1000.0),  # [W/m2]
    "incidence": (0.0, 15.0, 30.0, 45.0, 60.0, 75.0),  # [deg]
    "ambient": (253.15, 263.15, 273.15, 283.15, 293.15),  # [K]
    "inlet": (283.15, 293.15, 303.15, 313.15),  # [K]
    "flow": (0.0, 0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0),  # [-] of the scenario's own flow
    "wind": (0.0, 1.0, 2.0, 4.0, 6.0, 10.0),  # [m/s]
}
"""Steps of a table over a condition."""

FIGURES = {
    "irradiance": "irradiance",
    "incidence": "incidence_angle",
    "ambient": "ambient_temperature",
    "inlet": "inlet_temperature",
    "flow": "mass_flow",
    "wind": "wind_speed",
}
"""Name of a condition among the figures of a point."""


def _conditions(command: Callable[..., Any]) -> Callable[..., Any]:
    for name, (_, meaning) in reversed(CONDITIONS.items()):
        command = click.option(f"--{name}", metavar="VALUE", help=f"{meaning}, with its unit")(command)
    return command


@click.command("point", short_help="One steady operating point of the collector.")
@options.scenario
@_conditions
@click.option("--over", type=click.Choice(list(STEPS)), help="Print a table over this condition.")
@options.changes
@options.units
@options.as_json
def command(
    scenario: str,
    over: str | None,
    changes: tuple[str, ...],
    units: str | None,
    as_json: bool,
    **conditions: str | None,
) -> None:
    """Work out one steady operating point, or a table over one condition.

    Example: simengine point house.toml --irradiance "800 W/m2" --ambient "32 degF" --over flow
    """
    given = {name: text for name, text in conditions.items() if text is not None}
    if not _is_zero(given.get("flow", "0")):  # the scenario knows the air at its fan: cfm becomes kg/s
        changes = (*changes, f"fan.flow={given.pop('flow')}")
    fixed = _parsed(given)
    asked = scenario_of(scenario, changes)
    from simengine import simulate
    from simengine.report import point
    from simengine.report.shown import Shown

    shown = Shown("si" if (units or asked.inputs.units) == "si" else "us")
    if over is None:
        found = simulate.point(asked, **fixed)
        show_json(found) if as_json else show(point.listing(found, shown))
        return
    share_of_flow = simulate.point(asked)["mass_flow"] if over == "flow" else 1.0
    points = [simulate.point(asked, **{**fixed, over: step * share_of_flow}) for step in STEPS[over]]
    show_json(points) if as_json else show(point.table(points, FIGURES[over], shown))


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
