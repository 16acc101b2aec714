"""How hot each part gets with the fan off, beside what it withstands."""

from collections.abc import Mapping
from typing import Any

from simengine.report.both import Both, both
from simengine.report.verdict import too_hot
from simengine.report.words import part_name

Summary = Mapping[str, Any]

DESIGN_AIR = 30.0
"""Outdoors at the design point of the hottest parts [degC]."""


def limits_title(summary: Summary) -> str:
    """Return how many parts get too hot, as a sentence."""
    hot = len(too_hot(summary))
    return f"With the fan off, {hot or 'no'} part{'s get' if hot != 1 else ' gets'} hotter than it withstands"


def limit_rows(summary: Summary) -> list[dict[str, Any]]:
    """Return each part with its hottest, its limit, when, and its bar."""
    hot = too_hot(summary)
    return [
        {
            "part": part_name(str(limit["part"])),
            "hottest": temperature(limit.get("hottest_c")),
            "limit": temperature(limit.get("limit_c")),
            "hour": str(limit.get("hour") or ""),
            "hot": limit in hot,
            "bar": _limit_bar(limit),
        }
        for limit in summary["limits"]
    ]


def _limit_bar(limit: Mapping[str, Any]) -> tuple[float, float] | None:
    """Return how long the bar is and where its mark stands [% of 200 K above freezing]."""
    hottest, withstood = limit.get("hottest_c"), limit.get("limit_c")
    if hottest is None or withstood is None:
        return None
    return min(max(hottest / 2.0, 0.0), 100.0), min(max(withstood / 2.0, 0.0), 100.0)


def temperature(celsius: float | None) -> Both:
    """Return a temperature [degC] in both systems; a dash where it is not known."""
    return Both("–", "–") if celsius is None else both(lambda units: units.temperature(celsius))
