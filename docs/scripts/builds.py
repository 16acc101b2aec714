"""Makes the tables of docs/builds.md: what each choice of a build is worth in the demo's year.

    python docs/scripts/builds.py

takes about ten minutes on one core.
"""

from functools import cache

from pages import markdown, put

from simengine.data_files import data_path
from simengine.scenario import Scenario, load
from simengine.simulate import Resolved, resolve, run_resolved

PAGE = "builds.md"
FLAT, SELECTIVE = "flat_black_aluminium_sheet", "selective_aluminium_sheet"
Changes = dict[str, object]

GLAZINGS: dict[str, Changes] = {
    "no cover": {"collector.cover": []},
    "one pane, clear": {"collector.cover": [{"construction": "clear_tempered_4mm"}]},
    "one pane, low iron": {"collector.cover": [{"construction": "low_iron_tempered_4mm"}]},
    "twin-wall polycarbonate": {"collector.cover": [{"construction": "twin_wall_polycarbonate_10mm"}]},
    "two panes, clear": {
        "collector.cover": [
            {"construction": "clear_tempered_4mm", "gap": "1/2 in"},
            {"construction": "clear_tempered_4mm"},
        ]
    },
    "two panes, low iron": {
        "collector.cover": [
            {"construction": "low_iron_tempered_4mm", "gap": "1/2 in"},
            {"construction": "low_iron_tempered_4mm"},
        ]
    },
    "sealed unit, hard low-e, argon": {
        "collector.cover": [
            {"construction": "clear_float_4mm", "gap": "14 mm", "gas": "argon", "fill_share": 0.9},
            {"construction": "low_e_hard_coat_4mm"},
        ]
    },
    "sealed unit, grey and soft low-e, argon": {
        "collector.cover": [
            {"construction": "tinted_grey_6mm", "gap": "14 mm", "gas": "argon", "fill_share": 0.9},
            {"construction": "low_e_soft_coat_4mm"},
        ]
    },
}

WIDE: Changes = {"collector.front_gap.depth": "1 1/4 in"}
SLANTED: Changes = {
    "collector.front_gap": {"inlet": "3 in", "outlet": "1 in"},
    "collector.rear_gap": {"inlet": "1 in", "outlet": "3 in"},
}
SCREEN = {"porosity": 0.4, "effectiveness": 0.75, "rated_flow": "0.02 kg/s.m2"}
TUBES = {"diameter": "2.6 in", "pitch": "2.7 in"}
WAYS: dict[str, Changes] = {
    "behind": {},
    "in front": {"collector.arrangement": "in_front", **WIDE},
    "both sides": {"collector.arrangement": "both_sides", **WIDE},
    "two passes": {"collector.arrangement": "two_pass", **WIDE},
    "through": {
        "collector.arrangement": "through",
        "collector.absorber.perforation": SCREEN,
        **SLANTED,
    },
    "tubes": {"collector.arrangement": "tubes", "collector.absorber.tubes": TUBES},
}
BARE = ("behind", "tubes")

MORE: dict[str, Changes] = {
    "the demo as it is": {},
    "ribs behind the absorber, 1.5 times the surface": {"collector.absorber.rear_area": 1.5},
    "the channel half as deep (5/8 in)": {"collector.rear_gap.depth": "5/8 in"},
    "the channel twice as deep (2 1/2 in)": {"collector.rear_gap.depth": "2 1/2 in"},
    "still gap under the glass 1/2 in": {"collector.front_gap.depth": "1/2 in"},
    "still gap under the glass 2 in": {"collector.front_gap.depth": "2 in"},
    "bare foil on the face of the back": {"collector.back.lining": "bare_aluminium_foil"},
    "back insulation 1 in": {"collector.back.layers.1.thickness": "1 in"},
    "back insulation 4 in": {"collector.back.layers.1.thickness": "4 in"},
    "the back in the open": {"collector.mounting": "open", "collector.wall_resistance": None},
    "rim without insulation (R-1)": {"collector.edge.resistance": "R-1"},
    "rim R-8": {"collector.edge.resistance": "R-8"},
    "leaky box, 30 cfm at 50 Pa": {"collector.leak": {"flow": "30 cfm"}},
    "leaky box and the fan draws": {"collector.leak": {"flow": "30 cfm"}, "fan.place": "hot_side"},
    "half the flow, an eighth of the fan power": {"fan.flow": "52.5 cfm", "fan.power": "3.5 W"},
    "twice the flow, eight times the fan power": {"fan.flow": "210 cfm", "fan.power": "224 W"},
    "tilt 60 deg": {"collector.tilt": "60 deg"},
    "bare ducts": {"ducts.1.insulation": "R-0", "ducts.2.insulation": "R-0"},
    "dull glass (dirt factor 0.90)": {"collector.dirt_factor": 0.90},
}

THROUGH: dict[str, Changes] = {
    "one screen, effectiveness 0.60": {"collector.absorber.perforation.effectiveness": 0.60},
    "one screen, effectiveness 0.75": {},
    "one screen, effectiveness 0.85": {"collector.absorber.perforation.effectiveness": 0.85},
    "two screens of 0.75": {"collector.absorber.perforation.layers": 2},
    "sheet of 1.6 mm holes, 17 mm apart": {
        "collector.absorber.perforation": {"hole_diameter": "1.6 mm", "pitch": "17 mm"}
    },
    "gaps straight, 2 in each": {
        "collector.front_gap": {"depth": "2 in"},
        "collector.rear_gap": {"depth": "2 in"},
    },
}


@cache
def demo() -> Scenario:
    """Return the demo, its snap switch replaced by a differential thermostat that suits any build."""
    control = {"kind": "differential", "start": "9 K", "stop": "3 K", "room_limit": "77 degF"}
    return load(data_path("scenarios", "demo.toml")).changed({"control": control})


@cache
def weather() -> Resolved:
    """Return the demo with its weather read."""
    return resolve(demo())


def year(changes: Changes) -> dict[str, float]:
    """Return offset of both houses [kWh] and the hottest the absorber gets with the fan off [degC]."""
    changed = demo().changed(changes)
    summary = run_resolved(resolve(changed, weather().series)).summary
    absorber = next(row["hottest_c"] for row in summary["limits"] if row["part"].startswith("absorber"))
    houses = summary["houses"]
    return {
        "standard": houses["standard"]["offset_kwh"],
        "low_energy": houses["low_energy"]["offset_kwh"],
        "fan": houses["standard"]["fan_kwh"],
        "absorber": absorber,
    }


def saved(found: dict[str, float]) -> str:
    """Return the cell of one build: heat saved in the standard and in the low-energy house."""
    return f"{found['standard']:.0f} / {found['low_energy']:.0f}"


def glazing_absorber_arrangement(absorber: str) -> str:
    """Return the table of covers against arrangements for one absorber."""
    rows = [["cover", *WAYS]]
    for glazing, cover in GLAZINGS.items():
        cells = []
        for way, arrangement in WAYS.items():
            if not cover["collector.cover"] and way not in BARE:
                cells.append("–")
                continue
            cells.append(saved(year({"collector.absorber.construction": absorber, **cover, **arrangement})))
        rows.append([glazing, *cells])
    return markdown(rows)


def hottest() -> str:
    """Return the table of how hot the absorber gets with the fan off."""
    rows = [["cover", "flat black", "selective"]]
    for glazing, cover in GLAZINGS.items():
        temperatures = [
            year({"collector.absorber.construction": absorber, **cover})["absorber"]
            for absorber in (FLAT, SELECTIVE)
        ]
        rows.append([glazing, *(f"{t:.0f} °C ({t * 1.8 + 32:.0f} °F)" for t in temperatures)])
    return markdown(rows)


HEAD = [
    "build",
    "saved, standard",
    "saved, low-energy",
    "fan",
    "standard less fan",
    "to the first",
    "absorber",
]


def one_by_one(base: Changes, choices: dict[str, Changes]) -> str:
    """Return the table of single changes to a build."""
    rows = [HEAD]
    first = None
    for name, changes in choices.items():
        found = year({**base, **changes})
        net = found["standard"] - found["fan"]
        first = net if first is None else first
        rows.append(
            [
                name,
                f"{found['standard']:.0f} kWh",
                f"{found['low_energy']:.0f} kWh",
                f"{found['fan']:.0f} kWh",
                f"{net:.0f} kWh",
                f"{100.0 * (net / first - 1.0):+.0f} %",
                f"{found['absorber']:.0f} °C",
            ]
        )
    return markdown(rows)


if __name__ == "__main__":
    put(PAGE, "flat black", glazing_absorber_arrangement(FLAT))
    put(PAGE, "selective", glazing_absorber_arrangement(SELECTIVE))
    put(PAGE, "hottest", hottest())
    put(PAGE, "one by one", one_by_one({}, MORE))
    put(PAGE, "through", one_by_one(WAYS["through"], THROUGH))
