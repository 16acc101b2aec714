"""How the measures that members are compared by are called, and how their numbers and inputs are written."""

from simengine.report.lines import LINES, MISSING
from simengine.report.shown import Shown
from simengine.report.words import printable
from simengine.units import format_si, plain_number
from simengine.units.table import KINDS

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


def value_text(value: float, unit: str, units: Shown) -> str:
    """Return the value of a scenario's key with its unit, to four digits.

    Parameters
    ----------
    value : in SI or money [unit]
    unit : SI unit or currency; empty for a plain number
    units : the unit system to write in

    Returns
    -------
    text

    >>> value_text(0.0944, "m3/s", Shown("us")), value_text(900.0, "USD", Shown("us"))
    ('200 cfm', '900 USD')
    """
    kind = next((name for name, kind in KINDS.items() if kind.inside.name == unit and not kind.bare), "")
    return format_si(value, kind, units.system, 4) if kind else f"{plain_number(value, 4)} {unit}".strip()
