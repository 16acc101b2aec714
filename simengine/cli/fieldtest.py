"""`simengine fieldtest`: what a logged test tells about a built collector, and a card for checks by hand."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from simengine.cli import options
from simengine.cli.asked import scenario_of, units_of
from simengine.cli.exits import DONE
from simengine.cli.printing import note, show, show_json

if TYPE_CHECKING:
    from simengine.scenario import Scenario


@click.command("fieldtest", short_help="What a logged test of the built collector tells.")
@click.argument("files", nargs=-1, metavar="[LOG] SCENARIO")
@click.option(
    "--card", is_flag=True, help="Print the field check card of the scenario instead; takes no log."
)
@click.option(
    "--out",
    metavar="FILE",
    help="Write the fitted scenario to a file; with --card, the card as a page (HTML).",
)
@options.changes
@options.units
@options.as_json
@options.replace
@options.quiet
def command(files: tuple[str, ...], card: bool, changes: tuple[str, ...], **how: Any) -> int:
    """Reduce a logged test, hold the model against it and fit what the log can tell.

    The scenario's [field_test] says which column of the log is what. A log with a fault that spoils the
    numbers is refused, with the fault named.

    Example: simengine fieldtest log.csv house.toml --out fitted.toml
    """
    wanted = 1 if card else 2
    if len(files) != wanted:
        due = "one scenario" if card else "a log and a scenario"
        raise click.UsageError(f"{len(files)} files were given; accepted: {due}")
    asked = scenario_of(files[-1], changes)
    if card:
        return _card(asked, how)
    return _test(options.local_path(files[0]), files[-1], asked, changes, how)


def _test(log: Path, source: str, asked: "Scenario", changes: tuple[str, ...], how: dict[str, Any]) -> int:
    from simengine import fieldtest
    from simengine.errors import InputError
    from simengine.report import field_test

    if how["out"] is not None and changes:
        raise InputError(
            "--out writes the scenario's file, which --set does not change; accepted: one of them"
        )
    note("holding the model against the log ...", how["quiet"])
    result = fieldtest.field_test(log, asked)
    found = fieldtest.answer(result)
    if how["as_json"]:
        show_json(found)
    else:
        show(field_test.listing(found, units_of(asked, how["units"])))
    if how["out"] is not None:
        target = options.local_path(how["out"])
        fieldtest.write_fitted(result, options.local_path(source), target, replace=how["replace"])
        note(f"written: {target}; try: simengine run {target}", how["quiet"])
    return DONE


def _card(asked: "Scenario", how: dict[str, Any]) -> int:
    from simengine.errors import InputError
    from simengine.fieldtest import check_card
    from simengine.report import field_card
    from simengine.simulate import resolve

    card, units = check_card(resolve(asked)).as_dict(), units_of(asked, how["units"])
    if how["as_json"]:
        show_json(card)
    else:
        show(field_card.text(card, units))
    if how["out"] is not None:
        target = options.local_path(how["out"])
        if target.exists() and not how["replace"]:
            raise InputError(f"{target}: is there already; accepted: the name of a new file, or --replace")
        target.write_text(field_card.page(card, units), encoding="utf-8")
        note(f"written: {target}", how["quiet"])
    return DONE
