"""Makes the table and the curve of docs/money.md: what one more square metre of collector still saves.

    python docs/scripts/marginal_use.py

takes about a minute on one core.
"""

from collections.abc import Mapping
from itertools import pairwise

import matplotlib
from matplotlib.figure import Figure
from pages import DOCS, markdown, put

from simengine.data_files import data_path
from simengine.scenario import Scenario, load
from simengine.simulate import resolve, run_resolved

PAGE, PICTURE = "money.md", "marginal_use.svg"
HEIGHT = 2.286  # m, 7 ft 6 in, as in the demo
AREAS = (1.0, 2.0, 4.0, 8.0, 16.0, 32.0)  # m2
HOUSES = {"standard": "standard house", "low_energy": "low-energy house"}
Row = dict[str, float]


def demo() -> Scenario:
    """Return the demo in the open, ducts indoors, with a thermostat for any size and no limit to the room."""
    control = {"kind": "differential", "start": "9 K", "stop": "3 K", "room_limit": "50 degC"}
    return load(data_path("scenarios", "demo.toml")).changed(
        {
            "control": control,
            "control.months": [10, 11, 12, 1, 2, 3, 4, 5],
            "collector.mounting": "open",
            "collector.wall_resistance": None,
            "ducts.supply.runs": "inside",
            "ducts.return.runs": "inside",
        }
    )


def years() -> dict[str, list[Row]]:
    """Return delivered and offset heat [kWh] of every size, house by house."""
    base = demo()
    series = resolve(base).series
    found: dict[str, list[Row]] = {name: [] for name in HOUSES}
    for area in AREAS:
        sized = {
            "collector.width": f"{area / HEIGHT} m",
            "fan.flow": "2.8 cfm/ft2",
            "fan.power": f"{8.0 * area} W",
        }
        houses = run_resolved(resolve(base.changed(sized), series)).summary["houses"]
        for name, rows in found.items():
            rows.append({"area": area, **_heat(houses[name])})
    return found


def _heat(house: Mapping[str, float]) -> Row:
    return {key: house[f"{key}_kwh"] for key in ("delivered", "offset", "heating_without")}


def steps(rows: list[Row]) -> list[Row]:
    """Return each size with what it adds to the one before: useful share and kWh a square metre."""
    added = []
    before = {"area": 0.0, "delivered": 0.0, "offset": 0.0}
    for row in rows:
        offset, delivered = row["offset"] - before["offset"], row["delivered"] - before["delivered"]
        more = {"share": offset / delivered, "yield": offset / (row["area"] - before["area"])}
        added.append({**row, **more})
        before = row
    return added


def table(found: dict[str, list[Row]]) -> str:
    """Return the table of both houses."""
    head = ["collector"]
    for words in HOUSES.values():
        head += [f"{words}: saved", "useful share", "of what the last step added", "a m² of that step saves"]
    lines = [head]
    columns = [steps(rows) for rows in found.values()]
    for place, area in enumerate(AREAS):
        line = [f"{area:g} m²"]
        for rows in columns:
            row = rows[place]
            share = row["offset"] / row["delivered"]
            line += [f"{row['offset']:.0f} kWh", f"{share:.2f}"]
            line += [f"{row['share']:.2f}", f"{row['yield']:.0f} kWh"]
        lines.append(line)
    return markdown(lines)


def curve(found: dict[str, list[Row]]) -> None:
    """Draw the marginal useful share against size."""
    matplotlib.rcParams["svg.hashsalt"] = "simengine"
    figure = Figure(figsize=(6.0, 3.2), layout="constrained")
    axes = figure.add_subplot()
    for (name, words), mark in zip(HOUSES.items(), ("o", "s"), strict=True):
        rows = steps(found[name])
        edges = [0.0, *(row["area"] for row in rows)]
        middles = [0.5 * (low + high) for low, high in pairwise(edges)]
        axes.plot(middles, [row["share"] for row in rows], marker=mark, label=words)
    axes.set_xlabel("size of the collector, middle of the step [m²]")
    axes.set_ylabel("useful share of the heat added [-]")
    axes.set_xscale("log", base=2)
    axes.xaxis.set_major_formatter(lambda value, _: f"{value:g}")
    axes.set_ylim(0.0, 1.0)
    axes.grid(alpha=0.3)
    axes.legend()
    figure.savefig(DOCS / PICTURE, format="svg", metadata={"Date": None, "Creator": None})


if __name__ == "__main__":
    found = years()
    put(PAGE, "marginal use", table(found))
    curve(found)
