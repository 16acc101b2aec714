"""Draws valid builds of every kind: most as people build them, some as odd as the file allows."""

import random
from typing import Any

from simengine.errors import ScenarioError
from simengine.scenario import Scenario
from simengine.scenario.schema import choices

TRIES = 200
"""Draws until one goes together; more would mean that the drawing is at fault."""


def random_scenario(number: int, seed: int = 1) -> Scenario:
    """Return a checked build: the same for the same number and seed."""
    rng = random.Random(f"build {seed} {number}")
    faults: list[str] = []
    for _ in range(TRIES):
        try:
            return Scenario.from_dict(_tables(rng, number), name=f"build {number}")
        except ScenarioError as refused:
            faults += refused.problems
    raise AssertionError(f"no valid build {number} in {TRIES} draws: {faults[:5]}")


def _tables(rng: random.Random, number: int) -> dict[str, Any]:
    wide = rng.random() < 0.25  # out to the bounds, not only what is built
    width, height = _log(rng, 0.1, 30.0) if wide else rng.uniform(0.5, 3.0), rng.uniform(0.6, 3.5)
    tables: dict[str, Any] = {
        "schema": 1,
        "title": f"drawn build {number}",
        "site": _site(rng),
        "collector": _collector(rng, wide, width, height, choices.ARRANGEMENTS[number % 6]),
        "fan": _fan(rng, wide, width * height),
        "control": _control(rng),
        "ducts": _ducts(rng, wide),
        "builtin_houses": {"floor_area": f"{rng.uniform(40, 500):.1f} m2", "storeys": rng.randint(1, 3)},
        "run": {
            "step": rng.choice(["60 s", "90 s", "180 s", "600 s", "30 min"]),
            "sky": _one(rng, "TRANSPOSITIONS"),
        },
    }
    if tables["control"]["kind"] == "none" or rng.random() < 0.35:
        tables["damper"] = _damper(rng)
    if rng.random() < 0.3:
        tables["house"] = _house(rng)
    if rng.random() < 0.25:
        tables["second_space"] = _second_space(rng)
        tables["air"] = {"intake": _one(rng, "INTAKES"), "supply": _one(rng, "SUPPLIES")}
    elif rng.random() < 0.15:
        tables["air"] = {"intake": "outdoors"}
    return tables


def _one(rng: random.Random, name: str) -> str:
    return str(rng.choice(list(getattr(choices, name))))


def _log(rng: random.Random, low: float, high: float) -> float:
    return float(low * (high / low) ** rng.random())


def _site(rng: random.Random) -> dict[str, Any]:
    site: dict[str, Any] = {
        "weather": "builtin:greensboro",
        "terrain": _one(rng, "TERRAINS"),
        "wind_shelter": round(rng.uniform(0.0, 1.0), 3),
        "ground_reflectance": round(rng.uniform(0.05, 0.9), 3),
        "collector_height": f"{rng.uniform(0, 12):.2f} m",
    }
    if rng.random() < 0.2:
        site |= {"warmer": f"{rng.uniform(-10, 10):.2f} K", "sun_factor": round(rng.uniform(0.5, 1.5), 3)}
    if rng.random() < 0.2:
        site["trees"] = [{"bearing": "170 deg", "distance": "12 m", "height": "9 m", "crown_width": "5 m"}]
    if rng.random() < 0.2:
        site["horizon"] = [[90, rng.uniform(0, 40)], [200, rng.uniform(0, 30)]]
    if rng.random() < 0.1:
        site["elevation"] = f"{rng.uniform(0, 4000):.0f} m"
    return site


def _collector(
    rng: random.Random, wide: bool, width: float, height: float, arrangement: str
) -> dict[str, Any]:
    most = 6 if wide else 3
    bare = arrangement in choices.BARE_ARRANGEMENTS and rng.random() < 0.2
    panes = [_pane(rng, wide) for _ in range(0 if bare else rng.randint(1, most))]
    if panes:
        panes[-1] = {"construction": panes[-1]["construction"]}
    collector: dict[str, Any] = {
        "width": f"{width:.4f} m",
        "height": f"{height:.4f} m",
        "tilt": f"{rng.choice((0.0, 90.0, rng.uniform(0, 90))):.2f} deg",
        "azimuth": f"{rng.uniform(0, 360):.1f} deg",
        "arrangement": arrangement,
        "segments": rng.choice((1, 2, 3, 3, 5)),
        "dirt_factor": round(rng.uniform(0.3 if wide else 0.9, 1.0), 3),
        "wind_relation": _one(rng, "WIND_RELATIONS"),
        "box_heat_capacity": f"{_log(rng, 10, 200_000) if wide else 8000:.1f} J/m2K",
        "cover": panes,
        "absorber": _absorber(rng, arrangement),
        "front_gap": _space(rng, wide),
        "rear_gap": _space(rng, wide),
        "back": {"layers": [_layer(rng, wide) for _ in range(rng.randint(1, 3))]},
    }
    if rng.random() < 0.7:
        collector["edge"] = {"conductance": f"{_log(rng, 0.01, 100) if wide else rng.uniform(0, 3):.3f} W/K"}
    if rng.random() < 0.3:
        collector["mounting"] = rng.choice(("wall", "roof"))
        collector["wall_resistance"] = f"{_log(rng, 0.05, 20):.3f} m2K/W"
    if rng.random() < 0.25:
        most_lost = 0.3 if wide else 0.05
        collector["leak"] = {
            "flow": f"{_log(rng, 0.001, most_lost) * width * height:.6f} m3/s",
            "exponent": round(rng.uniform(0.5, 1.0), 2),
        }
    return collector


def _pane(rng: random.Random, wide: bool) -> dict[str, Any]:
    pane: dict[str, Any] = {"construction": rng.choice(list(choices.pane_keys()))}
    pane |= {"gap": f"{_log(rng, 1, 500) if wide else rng.uniform(5, 40):.2f} mm", "gas": _one(rng, "GASES")}
    return pane


def _space(rng: random.Random, wide: bool) -> dict[str, Any]:
    def depth() -> str:
        return f"{_log(rng, 1, 500) if wide else rng.uniform(12, 90):.2f} mm"

    return {"depth": depth()} if rng.random() < 0.7 else {"inlet": depth(), "outlet": depth()}


def _absorber(rng: random.Random, arrangement: str) -> dict[str, Any]:
    known = choices.absorber_keys()
    holed = [key for key, entry in known.items() if entry.part.perforation is not None]
    absorber: dict[str, Any] = {
        "construction": rng.choice(holed if arrangement == "through" else list(known))
    }
    if rng.random() < 0.3:
        absorber |= {
            "absorptance": round(rng.uniform(0.05, 1.0), 3),
            "emittance_front": rng.uniform(0.02, 1.0),
        }
    if rng.random() < 0.2:
        absorber |= {"front_area": rng.uniform(1.0, 3.0), "rear_area": rng.uniform(1.0, 3.0)}
    if arrangement == "tubes":
        diameter = rng.uniform(20, 90)
        absorber["tubes"] = {
            "diameter": f"{diameter:.2f} mm",
            "pitch": f"{diameter * rng.uniform(1.0, 1.4):.2f} mm",
        }
    return absorber


def _layer(rng: random.Random, wide: bool) -> dict[str, Any]:
    thickness = _log(rng, 0.05, 500) if wide else rng.uniform(5, 100)
    return {"construction": rng.choice(list(choices.layer_keys())), "thickness": f"{thickness:.3f} mm"}


def _fan(rng: random.Random, wide: bool, aperture: float) -> dict[str, Any]:
    if rng.random() < 0.2:
        free = aperture * rng.uniform(40, 200)
        return {
            "shut_off_pressure": f"{rng.uniform(20, 300):.1f} Pa",
            "free_flow": f"{free:.2f} m3/h",
            "power": f"{rng.uniform(1, 90):.1f} W",
        }
    flow = aperture * (_log(rng, 0.5, 1000) if wide else rng.uniform(20, 160))
    fan: dict[str, Any] = {
        "flow": f"{flow:.4f} m3/h",
        "power": f"{rng.choice((0.0, rng.uniform(0, 3000 if wide else 80))):.2f} W",
        "heat_to_air": round(rng.random(), 2),
        "place": rng.choice(("room_side", "hot_side")),
    }
    return fan


def _control(rng: random.Random) -> dict[str, Any]:
    kind = rng.choice(("snap_switch", "snap_switch", "differential", "differential", "pv_module", "none"))
    control: dict[str, Any] = {"kind": kind}
    if kind == "none":
        return control
    control |= {
        "sensor": _one(rng, "SENSOR_PLACES"),
        "time_constant": f"{_log(rng, 1, 3600):.1f} s",
        "room_limit": f"{rng.uniform(18, 45):.1f} degC",
        "room_limit_band": f"{rng.uniform(0, 5):.2f} K",
    }
    if rng.random() < 0.3:
        control |= {
            "minimum_on": f"{rng.uniform(0, 60):.1f} min",
            "minimum_off": f"{rng.uniform(0, 60):.1f} min",
        }
    if kind == "pv_module":
        volts, amps = rng.uniform(10, 40), rng.uniform(0.2, 8)
        control |= {"open_circuit_voltage": f"{volts:.2f} V", "best_voltage": f"{volts * 0.8:.2f} V"}
        control |= {"short_circuit_current": f"{amps:.3f} A", "best_current": f"{amps * 0.92:.3f} A"}
        return control
    unit, start = ("degC", rng.uniform(25, 60)) if kind == "snap_switch" else ("K", rng.uniform(2, 30))
    stop = start - rng.uniform(0.5, min(start, 15))
    control |= {"start": f"{start:.2f} {unit}", "stop": f"{max(stop, 0.0):.2f} {unit}"}
    speeds = rng.random()
    if speeds < 0.2:
        control |= {
            "low_speed": rng.uniform(0.1, 0.9),
            "full_speed_at": f"{start + rng.uniform(1, 9):.2f} {unit}",
        }
    elif speeds < 0.4:
        control |= {
            "low_speed": rng.uniform(0.1, 0.9),
            "second_start": f"{start + rng.uniform(3, 9):.2f} {unit}",
            "second_stop": f"{start + rng.uniform(0, 2.5):.2f} {unit}",
        }
    return control


def _ducts(rng: random.Random, wide: bool) -> list[dict[str, Any]]:
    def duct(name: str) -> dict[str, Any]:
        return {
            "name": name,
            "length": f"{rng.uniform(0, 100 if wide else 10):.2f} m",
            "diameter": f"{_log(rng, 20, 1000) if wide else rng.uniform(100, 300):.1f} mm",
            "insulation": f"{rng.choice((0.0, rng.uniform(0, 10 if wide else 2))):.3f} m2K/W",
            "runs": _one(rng, "SURROUNDINGS"),
        }

    return [duct("supply"), duct("return")]


def _damper(rng: random.Random) -> dict[str, Any]:
    return {
        "kind": rng.choice(("none", "flap", "motorised")),
        "opening_pressure": f"{_log(rng, 0.1, 100):.2f} Pa",
        "leak": round(rng.random() ** 3, 4),
        "riser": f"{rng.uniform(-10, 10):.2f} m",
    }


def _house(rng: random.Random) -> dict[str, Any]:
    area = rng.uniform(20, 600)
    house: dict[str, Any] = {
        "floor_area": f"{area:.1f} m2",
        "mass": _one(rng, "MASSES"),
        "air_changes": f"{rng.uniform(0, 3):.2f} 1/h",
        "internal_gain": f"{rng.uniform(0, 3000):.0f} W",
        "setpoint": [f"{rng.choice((16, 20, 22)):.0f} degC" for _ in range(24)],
    }
    if rng.random() < 0.4 and 40 <= area <= 500:
        return house | {"like": rng.choice(("standard", "low_energy"))}
    house["opaque_conductance"] = f"{_log(rng, 2, 5000):.1f} W/K"
    if rng.random() < 0.5:
        house["windows"] = [{"azimuth": "180 deg", "area": f"{rng.uniform(0.5, 40):.1f} m2"}]
    if rng.random() < 0.3:
        house["heating_capacity"] = f"{_log(rng, 0.1, 100):.2f} kW"
    return house


def _second_space(rng: random.Random) -> dict[str, Any]:
    return {
        "floor_area": f"{rng.uniform(10, 200):.1f} m2",
        "lies": _one(rng, "LIES"),
        "coupling": f"{_log(rng, 1, 1000):.2f} W/K",
        "door_flow": f"{rng.choice((0.0, rng.uniform(0, 5000))):.1f} m3/h",
        "wall_conductance": f"{rng.uniform(0, 300):.1f} W/K",
        "ground_conductance": f"{rng.uniform(0, 200):.1f} W/K",
        "mass": _one(rng, "MASSES"),
    }
