"""Makes the tables of docs/air_side.md: what ducts, dampers and controls are worth in the demo's year.

    python docs/scripts/air_side.py

takes about two minutes on one core.
"""

from functools import cache

from pages import markdown, put

from simengine.airflow.circuit import loop_pressure
from simengine.airflow.fan_curve import FanCurve, shut_off_curve
from simengine.airflow.solved_loop import full_speed_point
from simengine.data_files import data_path
from simengine.scenario import Scenario, load
from simengine.simulate import Resolved, resolve, run_resolved

PAGE = "air_side.md"
Changes = dict[str, object]
CFM, IN_WG = 0.3048**3 / 60.0, 249.089
SHUT_OFF = 120.0
"""Pressure of the invented fan without flow [Pa]."""

SNAP = {"kind": "snap_switch", "start": "105 degF", "stop": "80 degF", "room_limit": "77 degF"}
SNAP |= {"minimum_on": "2 min", "months": [10, 11, 12, 1, 2, 3, 4, 5]}
DIFFERENTIAL = {**SNAP, "kind": "differential", "start": "9 K", "stop": "3 K"}
MODULE = {
    "kind": "pv_module",
    "open_circuit_voltage": "21.6 V",
    "short_circuit_current": "2.4 A",
    "best_voltage": "17.4 V",
    "best_current": "2.2 A",
    "room_limit": "77 degF",
    "months": SNAP["months"],
}

DAMPERS: dict[str, Changes] = {
    "motorised, tight (the demo)": {},
    "flap, tight, opens at 1 Pa": {"damper": {"kind": "flap"}},
    "flap, tight, opens at 5 Pa": {"damper": {"kind": "flap", "opening_pressure": "5 Pa"}},
    "flap that leaves 3 % of the duct open": {"damper": {"kind": "flap", "leak": 0.03}},
    "flap that leaves 10 % of the duct open": {"damper": {"kind": "flap", "leak": 0.1}},
    "none": {"damper": {"kind": "none"}},
}

CONTROLS: dict[str, Changes] = {
    "snap switch, 105 / 80 °F (the demo)": {},
    "the same on the absorber": {"control": {**SNAP, "sensor": "absorber"}},
    "differential, 9 / 3 K": {"control": DIFFERENTIAL},
    "differential, half speed below 20 K": {
        "control": {**DIFFERENTIAL, "low_speed": 0.5, "second_start": "20 K", "second_stop": "8 K"}
    },
    "differential, speed rising from 40 % at 3 K to full at 20 K": {
        "control": {**DIFFERENTIAL, "low_speed": 0.4, "full_speed_at": "20 K"}
    },
    "PV module of 38 W": {"control": MODULE},
    "differential, from 6 to 9 and 16 to 22 h": {"control": {**DIFFERENTIAL, "hours": [[6, 9], [16, 22]]}},
    "no fan, flap": {"control": {"kind": "none"}, "damper": {"kind": "flap"}},
    "no fan, no damper": {"control": {"kind": "none"}, "damper": {"kind": "none"}},
}


@cache
def demo() -> Resolved:
    """Return the demo with its weather read."""
    return resolve(load(data_path("scenarios", "demo.toml")))


def changed(changes: Changes) -> Scenario:
    """Return the demo with some keys changed."""
    return demo().scenario.changed(changes)


def year(changes: Changes) -> dict[str, dict[str, object]]:
    """Return both houses of a changed demo's year."""
    houses: dict[str, dict[str, object]] = run_resolved(resolve(changed(changes), demo().series)).summary[
        "houses"
    ]
    return houses


def kwh(value: object) -> str:
    """Return a number of kWh."""
    return f"{value:.0f}"


def money(house: dict[str, object]) -> str:
    """Return what a house saves in a year, the fan paid."""
    fuel = house["fuel"]
    return f"{fuel['net_saving']:.1f} {fuel['currency']}"  # type: ignore[index]


@cache
def fan() -> FanCurve:
    """Return a fan that gives the demo its flow: a parabola from an invented shut-off pressure."""
    parts = demo().parts
    needed = loop_pressure(parts.air_path.parts, parts.fan.mass_flow, demo().pressure)
    free = parts.fan_volume_flow / (1.0 - needed / SHUT_OFF) ** 0.5
    return shut_off_curve(SHUT_OFF, free)


def met(diameter: str) -> tuple[float, float]:
    """Return flow [m3/s] and pressure [Pa] at which that fan meets ducts of another width."""
    narrow = changed({"ducts.1.diameter": diameter, "ducts.2.diameter": diameter})
    parts = narrow.assemble(demo().pressure)
    point = full_speed_point(fan(), parts.air_path.parts, demo().pressure)
    return point.volume_flow, point.pressure


def ducts() -> str:
    """Return the table of ducts: their width, their wrap, and where they run."""
    six, narrow = met("6 in"), met("4 in")
    both = {"ducts.1.diameter": "4 in", "ducts.2.diameter": "4 in"}
    needed = loop_pressure(
        changed(both).assemble(demo().pressure).air_path.parts, demo().parts.fan.mass_flow, demo().pressure
    )
    stronger = demo().parts.fan.electric_power * needed / six[1]
    wraps = {name: {"ducts.1.insulation": name, "ducts.2.insulation": name} for name in ("R-0", "R-8")}
    rows = [
        ["ducts", "flow", "pressure", "delivered", "saved, standard", "saved, low-energy", "fan", "money"]
    ]
    cases: dict[str, tuple[Changes, float, float]] = {
        "6 in, R-6 (the demo)": ({}, six[0], six[1]),
        "6 in, bare": (wraps["R-0"], six[0], six[1]),
        "6 in, R-8": (wraps["R-8"], six[0], six[1]),
        "6 in, inside the house": ({"ducts.1.runs": "inside", "ducts.2.runs": "inside"}, six[0], six[1]),
        "4 in, the same fan": ({**both, "fan.flow": f"{narrow[0] / CFM:.1f} cfm"}, narrow[0], narrow[1]),
        f"4 in, a fan of {stronger:.0f} W that keeps the flow": (
            {**both, "fan.power": f"{stronger:.0f} W"},
            six[0],
            needed,
        ),
    }
    for name, (changes, flow, pressure) in cases.items():
        houses = year(changes)
        standard = houses["standard"]
        rows.append(
            [
                name,
                f"{flow / CFM:.0f} cfm",
                f"{pressure / IN_WG:.2f} in.wg",
                kwh(standard["delivered_kwh"]),
                kwh(standard["offset_kwh"]),
                kwh(houses["low_energy"]["offset_kwh"]),
                kwh(standard["fan_kwh"]),
                money(standard),
            ]
        )
    return markdown(rows)


def compared(title: str, cases: dict[str, Changes]) -> str:
    """Return the table of dampers or controls."""
    rows = [
        [
            title,
            "delivered",
            "lost back",
            "saved, standard",
            "saved, low-energy",
            "fan runs",
            "starts",
            "air by itself",
            "fan",
            "money",
        ]
    ]
    for name, changes in cases.items():
        houses = year(changes)
        standard = houses["standard"]
        rows.append(
            [
                name,
                kwh(standard["delivered_kwh"]),
                kwh(standard["night_loss_kwh"]),
                kwh(standard["offset_kwh"]),
                kwh(houses["low_energy"]["offset_kwh"]),
                f"{standard['fan_hours']:.0f} h",
                f"{standard['fan_starts']:.0f}",
                f"{standard['passive_hours']:.0f} h",
                kwh(standard["fan_kwh"]),
                money(standard),
            ]
        )
    return markdown(rows)


if __name__ == "__main__":
    put(PAGE, "ducts", ducts())
    put(PAGE, "dampers", compared("damper", DAMPERS))
    put(PAGE, "controls", compared("control", CONTROLS))
