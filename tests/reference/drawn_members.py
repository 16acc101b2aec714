"""Builds drawn at random, as people make them: every arrangement with every kind of control. All invented."""

import random
from typing import Any

from simengine.scenario import Scenario
from simengine.scenario.schema import choices

CONTROLS = ("snap", "snap, least times", "snap, two speeds", "differential", "rising", "module", "room limit")
"""Kinds of control; a build's number goes through all of them with every arrangement."""

SENSORS = choices.SENSOR_PLACES


def kind_of(number: int) -> tuple[str, str]:
    """Return arrangement and control of a build."""
    arrangements = choices.ARRANGEMENTS
    return arrangements[number % len(arrangements)], CONTROLS[number // len(arrangements) % len(CONTROLS)]


def drawn(number: int) -> Scenario:
    """Return a build: always the same for the same number."""
    rng = random.Random(f"member {number}")
    arrangement, control = kind_of(number)
    width, height = rng.uniform(0.8, 2.5), rng.uniform(1.5, 3.0)
    tables: dict[str, Any] = {
        "schema": 1,
        "title": f"drawn member {number}",
        "site": {"weather": "builtin:greensboro", "wind_shelter": round(rng.uniform(0.4, 1.0), 2)},
        "collector": _collector(rng, arrangement, width, height),
        "fan": {
            "flow": f"{width * height * rng.uniform(30.0, 110.0):.1f} m3/h",
            "power": f"{rng.uniform(5.0, 60.0):.0f} W",
        },
        "control": _control(rng, control),
        "ducts": [
            {
                "name": name,
                "length": f"{rng.uniform(0.5, 5.0):.1f} m",
                "diameter": f"{rng.uniform(120.0, 250.0):.0f} mm",
                "insulation": f"{rng.uniform(0.0, 1.5):.2f} m2K/W",
                "runs": rng.choice(choices.SURROUNDINGS),
            }
            for name in ("supply", "return")
        ],
        "builtin_houses": {"floor_area": f"{rng.uniform(80.0, 220.0):.0f} m2"},
    }
    return Scenario.from_dict(tables, name=f"member {number}")


def _collector(rng: random.Random, arrangement: str, width: float, height: float) -> dict[str, Any]:
    holed = arrangement == "through"
    panes = [
        {"construction": rng.choice(("clear_tempered_4mm", "low_iron_tempered_4mm"))}
        for _ in range(rng.choice((1, 1, 2, 3)))
    ]
    for pane in panes[:-1]:
        pane |= {"gap": f"{rng.uniform(8.0, 20.0):.1f} mm", "gas": rng.choice(choices.GASES)}
    absorber: dict[str, Any] = {
        "construction": "aluminium_insect_screen" if holed else "flat_black_aluminium_sheet",
        "absorptance": round(rng.uniform(0.85, 0.96), 3),
    }
    if holed:
        absorber["perforation"] = {
            "porosity": 0.5,
            "effectiveness": round(rng.uniform(0.5, 0.9), 3),
            "rated_flow": "0.02 kg/s.m2",
        }
    if arrangement == "tubes":
        absorber["tubes"] = {"diameter": "60 mm", "pitch": f"{rng.uniform(62.0, 75.0):.0f} mm"}
    collector: dict[str, Any] = {
        "width": f"{width:.3f} m",
        "height": f"{height:.3f} m",
        "tilt": f"{rng.uniform(45.0, 90.0):.0f} deg",
        "azimuth": f"{rng.uniform(150.0, 215.0):.0f} deg",
        "arrangement": arrangement,
        "cover": panes,
        "absorber": absorber,
        "front_gap": {"depth": f"{rng.uniform(15.0, 60.0):.0f} mm"},
        "rear_gap": {"depth": f"{rng.uniform(15.0, 60.0):.0f} mm"},
        "back": {
            "layers": [
                {"construction": "mineral_wool_board", "thickness": f"{rng.uniform(30.0, 100.0):.0f} mm"}
            ]
        },
        "edge": {"conductance": f"{rng.uniform(0.1, 1.5):.2f} W/K"},
    }
    if rng.random() < 0.4:
        collector |= {"mounting": "wall", "wall_resistance": f"{rng.uniform(0.5, 4.0):.2f} m2K/W"}
    if rng.random() < 0.3:
        collector["leak"] = {"flow": f"{rng.uniform(0.001, 0.006) * width * height:.5f} m3/s"}
    return collector


def _control(rng: random.Random, kind: str) -> dict[str, Any]:
    common = {"sensor": rng.choice(SENSORS), "time_constant": f"{rng.choice((30.0, 60.0, 120.0)):.0f} s"}
    start = rng.uniform(32.0, 45.0)
    snap = {"kind": "snap_switch", "start": f"{start:.1f} degC"}
    snap["stop"] = f"{start - rng.uniform(5.0, 12.0):.1f} degC"
    above = rng.uniform(6.0, 12.0)
    differential = {
        "kind": "differential",
        "start": f"{above:.1f} K",
        "stop": f"{rng.uniform(1.5, 4.0):.1f} K",
    }
    if kind == "snap, least times":
        snap |= {
            "minimum_on": f"{rng.uniform(1.0, 6.0):.1f} min",
            "minimum_off": f"{rng.uniform(0.0, 5.0):.1f} min",
        }
    if kind == "snap, two speeds":
        snap |= {
            "low_speed": round(rng.uniform(0.4, 0.7), 2),
            "second_start": f"{start + rng.uniform(5.0, 12.0):.1f} degC",
            "second_stop": f"{start + rng.uniform(-1.0, 3.0):.1f} degC",
        }
    if kind == "rising":
        differential |= {
            "low_speed": round(rng.uniform(0.3, 0.6), 2),
            "full_speed_at": f"{above + rng.uniform(6.0, 16.0):.1f} K",
        }
    if kind == "room limit":
        differential["room_limit"] = f"{rng.uniform(20.6, 23.0):.1f} degC"
    module = {
        "kind": "pv_module",
        "open_circuit_voltage": "21.6 V",
        "short_circuit_current": "1.2 A",
        "best_voltage": "17.3 V",
        "best_current": "1.1 A",
    }
    return common | (snap if kind.startswith("snap") else module if kind == "module" else differential)
