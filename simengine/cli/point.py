"""`simengine point`: one steady operating point of the collector, or a table over one condition."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from simengine.cli import options
from simengine.cli.asked import scenario_of, units_of
from simengine.cli.printing import note_slowness, show, show_json

if TYPE_CHECKING:
    from simengine.scenario import Scenario
    from simengine.simulate.operating_point import Conditions

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

FIGURES = {
    "flow": "mass_flow",
    "inlet": "inlet_temperature",
    "incidence": "incidence_angle",
    "irradiance": "irradiance",
    "ambient": "ambient_temperature",
    "wind": "wind_speed",
}
"""What a table can run over, and its name among the figures of a point."""


ESTIMATE = (
    "An estimate, not an approval: hot parts burn and glass cuts. `simengine run` lists the cautions; local "
    "code and licensed people decide."
)


def _conditions(command: Callable[..., Any]) -> Callable[..., Any]:
    for name, (_, meaning) in reversed(CONDITIONS.items()):
        command = click.option(f"--{name}", metavar="VALUE", help=f"{meaning}, with its unit")(command)
    return command


@click.command("point", short_help="One steady operating point of the collector.")
@options.scenario
@_conditions
@click.option("--over", type=click.Choice(list(FIGURES)), help="Print a table over this condition.")
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

    A point is printed in both unit systems, with the cover's g- and U-value to hold against its label;
    without flow also with the hottest parts. The table over the inlet is read as the test standards do.

    Example: simengine point house.toml --irradiance "800 W/m2" --ambient "32 degF" --over flow
    """
    given = {name: text for name, text in conditions.items() if text is not None}
    asked = scenario_of(scenario, changes)
    fixed = _parsed(given, asked)
    note_slowness()
    if over is None:
        _show_point(asked, fixed, units, as_json)
    else:
        _show_table(asked, over, fixed, units, as_json)


def _show_point(asked: "Scenario", fixed: "Conditions", units: str | None, as_json: bool) -> None:
    from simengine import simulate
    from simengine.report import loop, point

    found = simulate.point_report(asked, fixed)
    if as_json:
        show_json(found)
        return
    systems = point.BOTH if units is None else [units_of(asked, units)]
    label, hottest, cautions, passed = (
        found.pop(name) for name in ("cover", "hottest_parts", "cautions", "loop")
    )
    show(point.listing(found, systems))
    if hottest:
        show("\n" + point.hottest(hottest, systems))
    if passed:
        show("\n" + loop.listing(passed, systems))
    show("\n" + point.cover(label, systems))
    _show_notes(cautions)


def _show_table(asked: "Scenario", over: str, fixed: "Conditions", units: str | None, as_json: bool) -> None:
    from simengine import simulate
    from simengine.report import point, point_answers

    found = simulate.point_table(asked, over, fixed)
    if as_json:
        show_json(found)
        return
    shown = units_of(asked, units)
    show(point.table(found["points"], FIGURES[over], shown))
    told = [point.held(found["points"][0], FIGURES[over], shown), *point_answers.fit(found["fit"])]
    if over == "flow":
        told.append(point_answers.slower_or_faster(found["points"], found["own_flow"], shown))
    _show_notes([*filter(None, told), *found["cautions"]])


def _show_notes(texts: list[str]) -> None:
    from simengine.report.tables import wrapped

    for line in ["", *wrapped("-", [*texts, ESTIMATE])]:
        show(line)


def _parsed(given: dict[str, str], asked: "Scenario") -> "Conditions":
    """Return the conditions in SI; every one that cannot be read has its line."""
    from simengine.errors import InputError
    from simengine.simulate import Conditions, flow_of
    from simengine.units import parse

    values: dict[str, float] = {}
    problems: list[str] = []
    for name, text in given.items():
        try:
            values[name] = flow_of(asked, text) if name == "flow" else parse(text, CONDITIONS[name][0])
        except InputError as error:
            problems += [f"--{name}: {problem}" for problem in error.problems]
    if problems:
        raise InputError(*problems)
    return Conditions(**values)
