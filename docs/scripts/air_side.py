"""Makes tables of docs/air_side.md: what dampers and controls are worth in the demo's year.

    python docs/scripts/air_side.py

takes about two minutes on one core.
"""

from functools import cache

from pages import markdown, put

from simengine.data_files import data_path
from simengine.scenario import Scenario, load
from simengine.simulate import Resolved, resolve, run_resolved

PAGE = "air_side.md"
Changes = dict[str, object]

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
    put(PAGE, "dampers", compared("damper", DAMPERS))
    put(PAGE, "controls", compared("control", CONTROLS))
