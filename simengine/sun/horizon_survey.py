"""A skyline from what was read off a compass and an inclinometer on site."""

from pathlib import Path
from typing import Final

from simengine.errors import InputError
from simengine.sun.shading import Horizon

LARGEST: Final = 1_000_000
"""Largest table of readings that is read [byte]."""
MOST_READINGS: Final = 3600
"""Ten for each degree all around [-]."""
MOST_PROBLEMS: Final = 200

ACCEPTED: Final = "lines of compass bearing [deg], inclinometer angle [deg]"


def horizon_from_readings(
    compass: tuple[float, ...], inclinometer: tuple[float, ...], declination: float = 0.0
) -> Horizon:
    """Return the skyline of readings taken with a magnetic compass.

    Parameters
    ----------
    compass:
        Magnetic bearings, clockwise from magnetic north [deg].
    inclinometer:
        Elevation of the skyline at each [deg].
    declination:
        Of the magnetic needle at the site, east positive [deg]; 0 for true bearings.

    Returns
    -------
    Horizon with true bearings, in order.

    Raises
    ------
    InputError
        If the readings don't go together or are out of range.

    >>> horizon_from_readings((355.0, 90.0), (5.0, 10.0), declination=10.0).azimuths
    (5.0, 100.0)
    """
    if len(compass) != len(inclinometer):
        raise InputError(
            f"{len(compass)} compass and {len(inclinometer)} inclinometer readings; there must be as many"
        )
    pairs = sorted(
        ((bearing + declination) % 360.0, tilt) for bearing, tilt in zip(compass, inclinometer, strict=True)
    )
    return Horizon(tuple(pair[0] for pair in pairs), tuple(pair[1] for pair in pairs))


def read_horizon(path: Path, declination: float = 0.0) -> Horizon:
    """Return the skyline from a CSV file of readings.

    The first two columns are the compass bearing and the inclinometer angle [deg], parted by commas or
    semicolons. Empty lines, lines that begin with # and one line of headings are passed over.

    Parameters
    ----------
    path:
        The file, UTF-8.
    declination:
        Of the magnetic needle at the site, east positive [deg].

    Returns
    -------
    Horizon with true bearings.

    Raises
    ------
    InputError
        Naming file and line, for every line that doesn't hold two numbers, or if it can't be read.

    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     survey = Path(folder) / "skyline.csv"
    ...     _ = survey.write_text("compass,angle\\n90,10\\n180,5\\n", encoding="utf-8")
    ...     read_horizon(survey, declination=-8.0).azimuths
    (82.0, 172.0)
    """
    from simengine.weather.content import printable  # that room loads pandas

    name = printable(path.name, 120)
    lines = _lines(path, name)
    readings: list[tuple[float, float]] = []
    problems: list[str] = []
    heading_allowed = True
    for number, line in enumerate(lines, start=1):
        if not line.strip(" ,;\t") or line.lstrip().startswith("#"):
            continue
        try:
            bearing, angle = (float(cell) for cell in line.replace(";", ",").split(",")[:2])
            readings.append((bearing, angle))
        except ValueError:
            if not heading_allowed and len(problems) < MOST_PROBLEMS:
                problems.append(f"{name}:{number}: not two numbers; accepted: {ACCEPTED}")
        heading_allowed = False
    if not readings and not problems:
        problems.append(f"{name}: no readings; accepted: {ACCEPTED}")
    if problems:
        raise InputError(*problems)
    if len(readings) > MOST_READINGS:
        raise InputError(f"{name}: {len(readings)} readings; accepted: at most {MOST_READINGS}")
    compass, inclinometer = zip(*readings, strict=True)
    return horizon_from_readings(compass, inclinometer, declination)


def _lines(path: Path, name: str) -> list[str]:
    """Return the lines of a file of limited size; a pipe or device, which may never end, is none."""
    refused = InputError(
        f"{name}: can't be read as UTF-8 text of at most {LARGEST} bytes; accepted: {ACCEPTED}"
    )
    try:
        if not path.is_file():
            raise refused
        with path.open("rb") as stream:
            raw = stream.read(LARGEST + 1)
        text = raw.decode("utf-8-sig")
    except (OSError, ValueError):
        raise refused from None
    if len(raw) > LARGEST:
        raise refused
    return text.splitlines()
