"""Factors that move money through time: present values, capital recovery, real and nominal rates."""

from simengine.errors import RangeError


def compound_amount(rate: float, years: float) -> float:
    """Return the single compound amount factor, (1 + d)^n.

    Parameters
    ----------
    rate : discount rate [1/a]
    years : number of years [a]

    Returns
    -------
    factor [-]

    Source: ASTM E917, definition.

    >>> round(compound_amount(0.03, 20), 4)
    1.8061
    """
    return float((1.0 + _above_minus_one(rate)) ** years)


def present_value_of_one(rate: float, years: float) -> float:
    """Return the single present value factor, 1 / (1 + d)^n.

    Parameters
    ----------
    rate : discount rate [1/a]
    years : number of years [a]

    Returns
    -------
    factor [-]

    Source: ASTM E917, definition.

    >>> round(present_value_of_one(0.03, 20), 4)
    0.5537
    """
    return 1.0 / compound_amount(rate, years)


def present_value_of_series(rate: float, years: int, escalation: float = 0.0) -> float:
    """Return the uniform present value factor of a sum paid at the end of each year.

    With an escalation e the sum of year t is (1 + e)^t times that of the base date.

    Parameters
    ----------
    rate : discount rate [1/a]
    years : number of payments [-]
    escalation : growth of the sum a year [1/a]

    Returns
    -------
    factor [a]

    Source: NIST Handbook 135 (UPV and modified UPV, from memory); for e = 0
    ((1 + d)^n - 1) / (d (1 + d)^n).

    >>> round(present_value_of_series(0.03, 20), 3)
    14.877
    """
    ratio = (1.0 + _above_minus_one(escalation)) / (1.0 + _above_minus_one(rate))
    if abs(ratio - 1.0) < 1e-9:
        return float(years)
    return float(ratio * (1.0 - ratio**years) / (1.0 - ratio))


def capital_recovery(rate: float, years: int) -> float:
    """Return the yearly payment at year end that repays one unit of money.

    Parameters
    ----------
    rate : discount rate [1/a]
    years : number of payments [-]

    Returns
    -------
    factor [1/a]

    Source: ASTM E917 (uniform capital recovery), definition.

    >>> round(capital_recovery(0.08, 10), 5)
    0.14903
    """
    return 1.0 / present_value_of_series(rate, years)


def real_rate(nominal: float, inflation: float) -> float:
    """Return the real rate of a nominal one, (1 + D) / (1 + i) - 1.

    Parameters
    ----------
    nominal : nominal rate [1/a]
    inflation : inflation [1/a]

    Returns
    -------
    real rate [1/a]

    Source: ASTM E917, definition.

    >>> round(real_rate(0.04, 0.0097087), 4)
    0.03
    """
    return (1.0 + nominal) / (1.0 + _above_minus_one(inflation)) - 1.0


def _above_minus_one(rate: float) -> float:
    if rate <= -1.0:
        raise RangeError(f"a rate of {rate:g} a year loses everything within a year; accepted: above -1")
    return rate
