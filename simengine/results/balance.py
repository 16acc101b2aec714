"""The ledger of a year: which terms of the summary add up to nothing, for the collector and for the house."""

from collections.abc import Mapping
from typing import Final

COLLECTOR_TERMS: Final[tuple[tuple[str, float], ...]] = (
    ("incident_kwh", 1.0),
    ("fan_heat_kwh", 1.0),
    ("night_loss_kwh", 1.0),
    ("reflected_kwh", -1.0),
    ("cover_loss_kwh", -1.0),
    ("back_loss_kwh", -1.0),
    ("edge_loss_kwh", -1.0),
    ("leak_loss_kwh", -1.0),
    ("duct_loss_kwh", -1.0),
    ("wall_heat_kwh", -1.0),
    ("delivered_kwh", -1.0),
    ("carried_kwh", -1.0),
    ("fresh_air_kwh", -1.0),
    ("stored_kwh", -1.0),
)
"""Term and sign of the collector with its air loop: what comes in, where it goes."""

HOUSE_TERMS: Final[tuple[tuple[str, float], ...]] = (
    ("heating_with_kwh", 1.0),
    ("house_gain_kwh", 1.0),
    ("delivered_kwh", 1.0),
    ("carried_kwh", 1.0),
    ("ventilation_replaced_kwh", 1.0),
    ("wall_heat_kwh", 1.0),
    ("night_loss_kwh", -1.0),
    ("vented_kwh", -1.0),
    ("house_loss_kwh", -1.0),
    ("house_stored_kwh", -1.0),
)
"""Term and sign of the house with the collector: heated space and second space together."""


def left_open(house: Mapping[str, float], terms: tuple[tuple[str, float], ...]) -> float:
    """Return what the terms of a house's block leave over, as a share of the sum of their sizes [-].

    Parameters
    ----------
    house : a house's block of the summary [kWh]
    terms : `COLLECTOR_TERMS` or `HOUSE_TERMS`, each with its sign [-]

    Source: first law.

    >>> terms = (("incident_kwh", 1.0), ("delivered_kwh", -1.0))
    >>> left_open({"incident_kwh": 100.0, "delivered_kwh": 60.0}, terms)
    0.25
    """
    signed = [sign * house[key] for key, sign in terms]
    size = sum(abs(term) for term in signed)
    return abs(sum(signed)) / size if size else 0.0
