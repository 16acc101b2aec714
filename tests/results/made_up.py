"""An invented year of round numbers, so that sums can be checked by hand.

Every day is alike: the sun shines on 4 m2 for eight hours with 500 W/m2 (incident 2000 W), and in
those hours the fan runs. Nothing here is measured, and nothing comes from a run of the program.
"""

from typing import Any

import numpy as np

from simengine.results import Provenance, Record

HOURS = 8760
SUNNY = (np.arange(HOURS) % 24 >= 9) & (np.arange(HOURS) % 24 < 17)
SUNNY_HOURS = 365 * 8  # [h] a year
UTC_OFFSET = -5.0  # [h]

# W in the sunny hours, by house where a pair is given; the losses and the gain add up to incident + fan heat
POWERS: dict[str, float | tuple[float, float]] = {
    "incident": 2000.0,
    "reflected": 300.0,
    "absorbed": 1700.0,
    "cover_convection_loss": 400.0,
    "cover_longwave_loss": 200.0,
    "back_loss": 60.0,
    "edge_loss": 30.0,
    "leak_loss": 10.0,
    "duct_loss": 20.0,
    "collected": 1000.0,
    "fan_heat": 20.0,
    "delivered": 1000.0,
    "stored": 0.0,
    "wall_heat": 0.0,
    "house_gain": 400.0,
    "house_loss": (2800.0, 1500.0),
    "house_stored": 0.0,
    "heating_without": (2000.0, 300.0),
    "heating_with": (1400.0, 150.0),
    "vented": (0.0, 50.0),
    "vented_without": 0.0,
    "held_back": (5.0, 20.0),
    "carried": 0.0,
    "fresh_air": 0.0,
    "ventilation_replaced": 0.0,
    "fan_power": 25.0,
    "fan_on": 1.0,
    "passive_on": 0.0,
    "fan_starts": 0.0,
}
NIGHT_POWERS = {
    "night_loss": 12.5,
    "wall_heat": 12.5,
    "opening_loss": -2.5,
    "heating_without": (2000.0, 300.0),
}
NIGHT_POWERS["house_loss"] = NIGHT_POWERS["heating_without"]
NIGHT_POWERS["heating_with"] = NIGHT_POWERS["heating_without"]
TEMPERATURES = {
    "supply_temperature": 313.15,
    "peak_supply_temperature": 323.15,
    "absorber_temperature": 333.15,
    "cover_temperature": 293.15,
    "outlet_temperature": 318.15,
    "room_temperature": 294.15,
    "room_temperature_without": 293.15,
    "ambient_temperature": 281.15,  # 8 degC: ten degree days a day to the base 18 degC
}


def record(**changes: Any) -> Record:
    """Return the invented year, with fields of the record changed by name."""
    local_start = np.datetime64("2001-01-01T00:00:00", "s")
    start = local_start - np.timedelta64(round(UTC_OFFSET * 3600), "s")
    fields: dict[str, Any] = {
        "title": "An invented house <script>alert(1)</script>",
        "houses": ("standard", "low_energy"),
        "times": start + np.arange(HOURS) * np.timedelta64(3600, "s"),
        "step": 3600.0,
        "utc_offset": UTC_OFFSET,
        "hourly": hourly(),
        "aperture": 4.0,
        "provenance": Provenance("0.0", "a" * 64, "b" * 64, "c" * 64),
        "weather": {
            "station": "Invented & Town",
            "latitude": 40.0,
            "longitude": -75.0,
            "elevation_m": 100.0,
            "ghi_kwh_m2": 1460.0,
            "closure_rmse_w_m2": 2.0,
            "closure_shift_h": 0.0,
            "warnings": ["one hour was filled <b>here</b>"],
        },
        "collector": {"tilt_deg": 90.0, "azimuth_deg": 180.0},
        "closure": {"collector": 1e-12, "house": 2e-12},
        "limits": [
            {"part": "polyiso board", "hottest_c": 120.0, "limit_c": 93.0, "hour": "design point"},
            {"part": "glass", "hottest_c": 80.0, "limit_c": 150.0, "hour": "2001-07-01 12:00"},
        ],
        "money": {"standard": money(40.0), "low_energy": money(None)},
        "inputs": [{"group": "collector", "name": "width", "si": "1.2 m", "us": "47.2 in"}],
    }
    return Record(**{**fields, **changes})


def hourly() -> dict[str, np.ndarray]:
    """Return the interval means of both houses."""
    means = {name: by_house(value) * SUNNY for name, value in POWERS.items()}
    for name, value in NIGHT_POWERS.items():
        means[name] = means.get(name, np.zeros((2, HOURS))) + by_house(value) * ~SUNNY
    means["fan_starts"] = by_house(1.0) * (np.arange(HOURS) % 24 == 9)
    for name, value in TEMPERATURES.items():
        means[name] = by_house(value) * np.ones(HOURS)
    means["ambient_temperature"] = means["ambient_temperature"][0]
    means["plane_irradiance"] = 500.0 * SUNNY
    return means


def by_house(value: float | tuple[float, float]) -> np.ndarray:
    """Return a column [house, 1] of one value or of a pair."""
    pair = value if isinstance(value, tuple) else (value, value)
    return np.array(pair, dtype=float)[:, np.newaxis]


def money(payback: float | None) -> dict[str, Any]:
    """Return the money blocks of a house; prices are invented."""
    economics: dict[str, Any] = {"first_cost": 600.0, "simple_payback_a": payback, "npv": -100.0}
    if payback is None:
        economics["simple_payback_reason"] = "the saving never covers the first cost"
    return {
        "fuel": {
            "name": "heating oil",
            "saved": 12.3,
            "unit": "gal",
            "basis": "higher",
            "price": 3.5,
            "price_unit": "USD/gal",
            "price_date": "2026-01",
            "money_saved": 43.05,
            "fan_cost": 10.0,
            "net_saving": 33.05,
            "currency": "USD",
        },
        "economics": economics,
        "co2_saved_kg": 120.0,
    }
