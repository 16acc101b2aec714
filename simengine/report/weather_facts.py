"""What the page of a run says of its weather."""

from collections.abc import Mapping
from typing import Any

from simengine.report.both import US, Both, both


def weather_facts(weather: Mapping[str, Any]) -> list[tuple[str, Both]]:
    """Return the facts of the weather that are known, each with its label."""
    height = weather.get("elevation_m")
    plain = {
        "Latitude": _number(weather.get("latitude"), "{:.2f}°"),
        "Longitude": _number(weather.get("longitude"), "{:.2f}°"),
        "Heating degree days": _degree_days(weather.get("hdd18_kd")),
        "Sun on a horizontal plane": _sun(weather.get("ghi_kwh_m2")),
        "Misfit of the file's three sun columns": _number(weather.get("closure_rmse_w_m2"), "{:.1f} W/m²"),
        "Shift of its time labels": _number(weather.get("closure_shift_h"), "{:+.2f} h"),
        "Elevation": None if height is None else Both(US.quantity(height, "length"), f"{height:.0f} m"),
    }
    return [(label, text) for label, text in plain.items() if text is not None]


def _number(value: float | None, form: str) -> Both | None:
    return None if value is None else Both(form.format(value), form.format(value))


def _sun(kwh_per_square_metre: float | None) -> Both | None:
    if kwh_per_square_metre is None:
        return None
    return both(lambda units: f"{units.per_area(kwh_per_square_metre)} a year")


def _degree_days(kelvin_days: float | None) -> Both | None:
    return None if kelvin_days is None else both(lambda units: units.degree_days(kelvin_days))
