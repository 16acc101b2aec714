"""What a measure that members are compared by is called, and how its number is written."""

from simengine.report.lines import LINES, MISSING
from simengine.report.shown import Shown
from simengine.report.words import printable

_LINES = {line.key: line for line in LINES}


def measure_name(measure: str) -> str:
    """Return what a measure is called, as in the table of a year.

    Parameters
    ----------
    measure : key of a line of that table

    >>> measure_name("offset_kwh"), measure_name("npv")
    ('Heating saved', 'Net present value')
    """
    return _LINES[measure].label.strip()


def measure_text(measure: str, value: float | None, currency: str, units: Shown) -> str:
    """Return the number of a measure with its unit, as in the table of a year.

    Parameters
    ----------
    measure : key of a line of that table
    value : the number [in the unit of its key], None where there is none
    currency : of money, empty where there is none
    units : the unit system to write in

    Returns
    -------
    text; a dash where there is no number

    >>> measure_text("npv", 332.4, "USD", Shown("us")), measure_text("offset_kwh", 1000.0, "", Shown("si"))
    ('332 USD', '1000 kWh')
    """
    if value is None:
        return MISSING
    return printable(_LINES[measure].write(value, {"fuel": {"currency": currency}}, units)).strip()
