"""`simengine compare`: several results side by side."""

import click

from simengine.cli import options
from simengine.cli.printing import show, show_json


@click.command("compare", short_help="Several results side by side.")
@click.argument("folders", metavar="DIR...", nargs=-1, required=True)
@options.units
@options.as_json
def command(folders: tuple[str, ...], units: str | None, as_json: bool) -> None:
    """Show several results side by side, one table for each house.

    Example: simengine compare results/house results/steep
    """
    from simengine.errors import InputError
    from simengine.report.compare import side_by_side
    from simengine.report.shown import Shown, preferred
    from simengine.results import store

    found = [(folder, store.read_summary(options.local_path(folder))) for folder in folders]
    empty = [folder for folder, summary in found if summary is None]
    if empty:
        raise InputError(*(f"{name}: holds no result; accepted: a folder that a run wrote" for name in empty))
    named = [(folder, summary) for folder, summary in found if summary is not None]
    if as_json:
        show_json(dict(named))
    else:
        try:
            system = units or preferred(named[0][1])
            table = side_by_side(named, Shown("si" if system == "si" else "us"))
        except (LookupError, TypeError, ValueError, AttributeError) as odd:
            raise InputError(
                f"{', '.join(folders)}: a summary is not as a run writes it ({odd}); accepted: results of "
                "this program, unchanged"
            ) from odd
        show(table)
