"""Makes the tables of docs/house.md: the demo's collector with its air taken and given elsewhere.

python docs/scripts/spaces.py
"""

from pages import markdown, put

from simengine.data_files import data_path
from simengine.scenario import Scenario, load
from simengine.simulate import run

PAGE = "house.md"
HOUSES = ("standard", "low_energy")
WAYS = {
    "room to room": ("room", "room"),
    "cellar to room": ("second_space", "room"),
    "room to cellar": ("room", "second_space"),
    "round through the cellar": ("second_space", "second_space"),
    "fresh air to room": ("outdoors", "room"),
}
FIGURES = (
    ("into the air", "collected_kwh"),
    ("delivered", "delivered_kwh"),
    ("carried", "carried_kwh"),
    ("to warm fresh air", "fresh_air_kwh"),
    ("ventilation replaced", "ventilation_replaced_kwh"),
    ("offset", "offset_kwh"),
)


def demo() -> Scenario:
    """Return the demo with its back in the open and a cellar below (invented)."""
    cellar = {"floor_area": "70 m2", "ground_conductance": "45 W/K", "door_flow": "60 m3/h"}
    opened = {"collector.mounting": "open", "collector.wall_resistance": None, "second_space": cellar}
    return load(data_path("scenarios", "demo.toml")).changed(opened)


def ways() -> str:
    """Return the year of each way of the air, both houses."""
    rows = [["air", "house", *(f"{name} [kWh]" for name, _ in FIGURES)]]
    for words, (intake, supply) in WAYS.items():
        houses = run(demo().changed({"air.intake": intake, "air.supply": supply})).summary["houses"]
        rows += [[words, name, *(f"{houses[name][key]:.0f}" for _, key in FIGURES)] for name in HOUSES]
    return markdown(rows)


def switched_off() -> str:
    """Return what room limit and season cost, beside the same collector that may always run."""
    rows = [["collector", "house", "delivered", "offset", "vented more", "hours too warm", "kept out"]]
    free = {"control.months": list(range(1, 13)), "control.room_limit": "45 degC"}
    for words, changes in (("as it is", {}), ("no limit, all year", free)):
        houses = run(load(data_path("scenarios", "demo.toml")).changed(changes)).summary["houses"]
        for name in HOUSES:
            year = houses[name]
            energies = ("delivered_kwh", "offset_kwh", "vented_added_kwh")
            cells = [f"{year[key]:.0f} kWh" for key in energies]
            cells += [f"{year['overheating_hours_added']:.0f} h", f"{year['held_back_kwh']:.0f} kWh"]
            rows.append([words, name, *cells])
    return markdown(rows)


if __name__ == "__main__":
    put(PAGE, "ways of the air", ways())
    put(PAGE, "switched off", switched_off())
