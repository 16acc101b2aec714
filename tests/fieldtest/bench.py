"""A collector on an invented test bench, and the course of an invented test day.

Everything here is invented: the collector, the bench with its heater for the inlet, the day.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from simengine.scenario import Scenario

Array = NDArray[np.float64]

STEP = 60.0  # [s]
ROWS = 480  # eight hours
START = np.datetime64("2026-02-14T08:30:00")
OFFSET = -5.0  # [h]

COLUMNS = {
    "ambient": "T_out",
    "inlet": "T_in",
    "outlet": "T_exit",
    "supply": "T_room_end",
    "absorber": "T_plate",
}
KELVIN, SUN, FLOW, SECOND, WIND = 0.2, 0.02, 0.02, 0.015, 0.2  # standard uncertainties of the sensors
NOISE = {"kelvin": 0.1, "sun": 5.0, "flow": 0.01}


def tables() -> dict:
    """Return the scenario: a freely standing box with air behind a black sheet, and a fan that pulls."""
    thermometers = {
        role: {"column": title, "unit": "degC", "systematic": f"{KELVIN} K", "noise": f"{NOISE['kelvin']} K"}
        for role, title in COLUMNS.items()
    }
    return {
        "schema": 1,
        "title": "an invented collector on an invented bench",
        "site": {"weather": "builtin:greensboro", "collector_height": "10 m", "terrain": "open"},
        "collector": {
            "width": "1.2 m",
            "height": "2.4 m",
            "tilt": "60 deg",
            "azimuth": "180 deg",
            "arrangement": "behind",
            "cover": [{"construction": "clear_tempered_4mm"}],
            "absorber": {"construction": "flat_black_aluminium_sheet", "fall_off": "same_at_all_angles"},
            "front_gap": {"depth": "25 mm"},
            "rear_gap": {"depth": "25 mm"},
            "back": {
                "lining": "glass_fleece",
                "layers": [{"construction": "mineral_wool_board", "thickness": "30 mm"}],
            },
            "edge": {"conductance": "1.2 W/K"},
        },
        "fan": {"flow": "0.055 kg/s", "power": "25 W", "place": "hot_side"},
        "control": {"kind": "snap_switch", "start": "40 degC", "stop": "27 degC"},
        "ducts": [
            {
                "name": "supply",
                "length": "8 m",
                "diameter": "150 mm",
                "insulation": "RSI 0.5",
                "runs": "outside",
            }
        ],
        "field_test": {
            **thermometers,
            "irradiance": {
                "column": "sun",
                "unit": "W/m2",
                "systematic": SUN,
                "noise": f"{NOISE['sun']} W/m2",
            },
            "wind": {"column": "wind", "unit": "m/s", "systematic": WIND},
            "flow": {
                "column": "m_exit",
                "unit": "kg/s",
                "place": "outlet",
                "systematic": FLOW,
                "noise": NOISE["flow"],
            },
            "second_flow": {
                "column": "m_in",
                "unit": "kg/s",
                "place": "inlet",
                "systematic": SECOND,
                "noise": NOISE["flow"],
            },
            "utc_offset": f"{OFFSET} h",
            "steady": {"irradiance": "50 W/m2"},
        },
    }


def scenario() -> Scenario:
    return Scenario.from_dict(tables(), name="bench")


@dataclass(frozen=True)
class Day:
    """What really happened; all [row]."""

    times: NDArray[np.datetime64]
    irradiance: Array  # [W/m2] on the plane
    ambient: Array  # [K]
    sky: Array  # [K]
    wind: Array  # [m/s]
    inlet: Array  # [K]
    flow: Array  # [kg/s] through the absorber


def day(random: np.random.Generator) -> Day:
    """Return an invented day: a fair sky with a few clouds, and an inlet in four levels."""
    rows = np.arange(ROWS)
    noon = 215.0 + 10.0 * random.standard_normal()
    clear = (850.0 + 60.0 * random.standard_normal()) * np.cos(np.pi * (rows - noon) / 760.0)
    cloud = np.ones(ROWS)
    for _ in range(random.integers(2, 6)):
        begin, length = random.integers(0, ROWS), random.integers(4, 16)
        cloud[begin : begin + length] *= random.uniform(0.2, 0.8)
    levels = 273.15 + np.array([14.0, 26.0, 38.0, 20.0]) + random.normal(0.0, 2.0, 4)
    inlet = np.interp(
        rows,
        [0, 110, 122, 230, 242, 350, 362, ROWS],
        np.repeat(levels, 2),
    )
    ambient = 273.15 + random.uniform(-4.0, 8.0) + 4.0 * np.sin(np.pi * (rows - 60) / 600.0)
    wind = np.abs(
        random.uniform(1.0, 3.0) + np.convolve(random.normal(0, 1.5, ROWS + 29), np.ones(30) / 30, "valid")
    )
    return Day(
        START + (rows * 60).astype("timedelta64[s]"),
        np.maximum(clear * cloud, 20.0),
        ambient,
        ambient - 15.0 + 4.0 * random.standard_normal(),
        wind,
        inlet,
        np.full(ROWS, 0.055 * random.uniform(0.9, 1.1)),
    )


@dataclass(frozen=True)
class Truth:
    """Figures of the collector that the fit must find."""

    cover_transmittance: float
    back_loss: float
    effectiveness: float
    leakage: float
    duct_loss: float


def truth(random: np.random.Generator) -> Truth:
    return Truth(
        random.uniform(0.85, 1.05),
        random.uniform(0.8, 1.8),
        random.uniform(0.8, 1.3),
        random.uniform(0.0, 0.08),
        random.uniform(0.7, 1.6),
    )


def log_text(course: Day, answers: dict[str, Array], true: Truth, random: np.random.Generator) -> str:
    """Return the log that sensors of the stated uncertainty would write.

    answers: outlet, absorber and supply as they were [K]. A sensor is off by one draw in all its
    readings, and
    every reading scatters by another; both are normal.
    """

    def thermometer(values: Array) -> Array:
        off, scatter = KELVIN * random.standard_normal(), NOISE["kelvin"] * random.standard_normal(ROWS)
        return values - 273.15 + off + scatter

    def meter(values: Array, systematic: float, scatter: Array | float) -> Array:
        return values / (1.0 + systematic * random.standard_normal()) + scatter

    flow = course.flow
    columns = {
        "T_out": thermometer(course.ambient),
        "T_in": thermometer(course.inlet),
        **{COLUMNS[role]: thermometer(answers[role]) for role in ("outlet", "supply", "absorber")},
        "sun": meter(course.irradiance, SUN, NOISE["sun"] * random.standard_normal(ROWS)),
        "wind": meter(course.wind, WIND, 0.0),
        "m_exit": meter(flow, FLOW, 0.0) * (1.0 + NOISE["flow"] * random.standard_normal(ROWS)),
        "m_in": meter(flow * (1.0 - true.leakage), SECOND, 0.0)
        * (1.0 + NOISE["flow"] * random.standard_normal(ROWS)),
    }
    head = "time," + ",".join(columns)
    stamps = np.datetime_as_string(course.times, unit="s")
    table = np.stack(list(columns.values()), axis=1)
    body = (
        f"{stamp}," + ",".join(f"{value:.5g}" for value in row)
        for stamp, row in zip(stamps, table, strict=True)
    )
    return "\n".join([head, *body]) + "\n"
