"""`simengine weather`: what a weather file holds and what is wrong with it; also mends, draws and fetches."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from simengine.cli import options
from simengine.cli.asked import BUILTIN, weather_of
from simengine.cli.exits import DONE, INPUT_AT_FAULT
from simengine.cli.printing import note, show, show_json

if TYPE_CHECKING:
    from simengine.units import System
    from simengine.weather import WeatherSeries

PAGES = (".html", ".htm")
TABLES = (".csv", ".csv.gz")


@click.command("weather", short_help="What a weather file holds, and what is wrong with it.")
@click.argument("file", metavar="FILE", required=False)
@click.option("--at", metavar="LAT,LON", help="Fetch the typical year of a place instead of reading a file.")
@click.option(
    "--service",
    type=click.Choice(["pvgis", "nsrdb"]),
    default="pvgis",
    show_default=True,
    help="Where --at fetches from; nsrdb needs NSRDB_API_KEY and NSRDB_EMAIL in the environment.",
)
@click.option("--mend", is_flag=True, help="Put a wrong clock right, as far as the sun shows it.")
@click.option("--warmer", metavar="VALUE", help='A what-if: every hour warmer by so much, e.g. "2 K".')
@click.option("--plot", is_flag=True, help="Draw the year: one page to open in a browser.")
@click.option(
    "--out",
    metavar="FILE",
    help="Write the year as a plain table (.csv or .csv.gz), or with --plot the page (.html).",
)
@options.units_of_a_file
@options.as_json
@options.replace
@options.quiet
def command(file: str | None, at: str | None, out: str | None, **how: Any) -> int:
    """Read a weather file and say what it holds and what was noticed.

    FILE may also be builtin:NAME, one of the years that travel with the program.

    Example: simengine weather my_year.csv --plot

    Example: simengine weather --at 45.0,8.0 --out year.csv
    """
    from simengine.report.weather import facts, listing

    targets = _targets(file, at, out, how["plot"])
    series = _series(file, at, how)
    system = _system(how)
    for target in targets:
        _write(target, series, system, how["replace"])
    if how["as_json"]:
        show_json(facts(series))
    else:
        from simengine.report.shown import Shown

        show(listing(series, Shown(system)))
    for target in targets:
        note(f"written: {target}", how["quiet"])
    grave = any(finding.severity == "error" for finding in series.findings)
    return INPUT_AT_FAULT if grave else DONE


def _system(how: dict[str, Any]) -> "System":
    return "si" if how["units"] == "si" else "us"


def _series(file: str | None, at: str | None, how: dict[str, Any]) -> "WeatherSeries":
    """Return the year that is asked for, mended and warmed where that is wanted."""
    if (file is None) == (at is None):
        raise click.UsageError("name one year: a FILE, or a place by --at LAT,LON")
    series = weather_of(file) if at is None else _fetched(at, how["service"])
    assert series is not None
    if how["mend"]:
        from simengine.weather.mend import clock_mended

        series = clock_mended(series)
    if how["warmer"] is not None:
        from simengine.errors import InputError
        from simengine.units import parse
        from simengine.weather.warmer import warmed

        try:
            series = warmed(series, parse(how["warmer"], "temperature_difference"))
        except InputError as error:
            raise InputError(*(f"--warmer: {problem}" for problem in error.problems)) from None
    return series


def _fetched(at: str, service: str) -> "WeatherSeries":
    from simengine.weather.download import Request, download

    parts = at.split(",")
    try:
        latitude, longitude = (float(part) for part in parts)
    except ValueError:
        raise click.UsageError(
            f"--at {at[:40]!r}: no place; accepted: latitude,longitude in degrees, e.g. --at 45.0,8.0"
        ) from None
    return download(Request(latitude, longitude), service)


def _targets(file: str | None, at: str | None, out: str | None, plot: bool) -> list[Path]:
    """Return the files to write: the table, the page, both or none."""
    path = None if out is None else options.local_path(out)
    if path is not None and not path.name.lower().endswith(PAGES + TABLES):
        raise click.UsageError(
            f"--out {path.name[:80]!r}: accepted: a name that ends in {', '.join(TABLES)}, "
            "or in .html for a page"
        )
    page = path is not None and path.suffix.lower() in PAGES
    found = [] if path is None else [path]
    if not plot or page:
        return found
    if path is not None:
        return [path, path.with_name(f"{_stem(path.name)}.html")]
    named = f"at_{at}" if file is None else file.removeprefix(BUILTIN)
    return [Path("results") / f"{_stem(Path(named).name)}-weather.html"]


def _stem(name: str) -> str:
    for ending in (".gz", ".zip", ".csv", ".epw", ".json", ".nc", ".tm2", ".txt"):
        name = name.removesuffix(ending)
    return name


def _write(target: Path, series: "WeatherSeries", system: "System", replace: bool) -> None:
    from simengine.errors import InputError
    from simengine.weather.writer import packed, plain_text

    if target.suffix.lower() in PAGES:
        from simengine.report.weather_page import weather_page

        data = weather_page(series, system).encode("utf-8")
    else:
        text = plain_text(series)
        data = packed(text) if target.suffix.lower() == ".gz" else text.encode("utf-8")
    target.parent.mkdir(parents=True, exist_ok=True)
    try:
        with target.open("wb" if replace else "xb") as stream:
            stream.write(data)
    except FileExistsError as error:
        raise InputError(
            f"{target}: is there already; accepted: the name of a new file, or --replace"
        ) from error
