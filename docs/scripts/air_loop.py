"""Makes tables of docs/air_side.md: what the parts of a loop cost in the demo's year.

    python docs/scripts/air_loop.py

takes about three minutes on one core.
"""

from dataclasses import dataclass
from functools import cache
from typing import Any

from pages import markdown, put

from simengine.data_files import data_path
from simengine.report.shown import Shown
from simengine.scenario import Scenario, load
from simengine.simulate import Resolved, loop_facts, resolve, run_resolved

PAGE = "air_side.md"
CFM = 0.3048**3 / 60.0  # [m3/s]
US, SI = Shown("us"), Shown("si")
Parts = list[dict[str, Any]]
Changes = dict[str, Any]

FAN: Changes = {
    "curve": [
        ["0.40 in.wg", "0 cfm", "24 W"],
        ["0.33 in.wg", "60 cfm", "27 W"],
        ["0.22 in.wg", "100 cfm", "28 W"],
        ["0.10 in.wg", "130 cfm", "28 W"],
        ["0 in.wg", "150 cfm", "27 W"],
    ],
    "heat_to_air": 0.9,
}
"""An invented fan; its power hardly changes along the curve, as with most small ones."""

CONTROL: Changes = {"kind": "differential", "start": "9 K", "stop": "3 K", "room_limit": "77 degF"}


@dataclass(frozen=True, slots=True)
class Build:
    """What the tables change of the loop."""

    bore: str = "6 in"
    wrap: str = "R-6"
    runs: str = "outside"
    stretch: float | None = None  # None: rigid duct
    damper: str | None = "motorised"

    def loop(self) -> Parts:
        """Return the parts in the order in which the air passes them."""
        bore = {"diameter": self.bore}
        shut: Parts = [{"part": "damper", "kind": self.damper}] if self.damper else []
        return [
            {"part": "grille", "name": "return grille", "area": "80 in2"},
            {
                "part": "filter",
                "area": "1 ft2",
                "rated_velocity": "300 ft/min",
                "rated_pressure": "0.1 in.wg",
            },
            {"part": "fan"},
            self._duct("return duct", "5 ft"),
            {"part": "bend", "name": "return bend", **bore},
            *shut,
            {"part": "exit", "name": "mouth into the box", **bore},
            {"part": "collector"},
            {"part": "entry", "name": "mouth out of the box", **bore},
            {"part": "bend", "name": "supply bend", **bore},
            self._duct("supply duct", "4 ft"),
            {"part": "grille", "name": "supply grille", "area": "80 in2"},
        ]

    def _duct(self, name: str, length: str) -> dict[str, Any]:
        run = {
            "name": name,
            "length": length,
            "diameter": self.bore,
            "insulation": self.wrap,
            "runs": self.runs,
        }
        if self.stretch is None:
            return {"part": "duct", **run}
        return {"part": "flexible_duct", "stretch": self.stretch, **run}


@cache
def weather() -> Resolved:
    """Return the demo with its weather read."""
    return resolve(load(data_path("scenarios", "demo.toml")))


def scenario(build: Build, more: Changes) -> Scenario:
    """Return the demo with another loop."""
    changes = {"ducts": None, "loop": build.loop(), "fan": FAN, "control": CONTROL, **more}
    return load(data_path("scenarios", "demo.toml")).changed(changes)


def year(build: Build, more: Changes | None = None) -> dict[str, Any]:
    """Return the summary of the demo's year with another loop."""
    return run_resolved(resolve(scenario(build, more or {}), weather().series)).summary


HEAD = ["build", "air", "loop", "fastest", "saved, standard / low-energy", "fan", "a year, fan paid"]


def row(name: str, summary: dict[str, Any]) -> list[str]:
    """Return one line of a table: flow, pressure, velocity, heat, fan energy, money."""
    loop, houses = summary["collector"]["loop"], summary["houses"]
    standard, low = houses["standard"], houses["low_energy"]
    fastest = max(part["velocity_m_s"] for part in loop["parts"])
    flow, pressure = loop["volume_flow_m3_s"], loop["pressure_pa"]
    return [
        name,
        f"{US.quantity(flow, 'volume_flow')} ({SI.quantity(flow, 'volume_flow')})",
        f"{US.quantity(pressure, 'pressure')} ({pressure:.0f} Pa)",
        f"{fastest:.1f} m/s",
        f"{standard['offset_kwh']:.0f} / {low['offset_kwh']:.0f} kWh",
        f"{standard['fan_kwh']:.0f} kWh",
        f"{standard['fuel']['net_saving']:.1f} / {low['fuel']['net_saving']:.1f} USD",
    ]


def parts() -> str:
    """Return the loop of the tables, part by part at its operating point."""
    loop = loop_facts(resolve(scenario(Build(), {}), weather().series))
    rows = [["part", "in.wg", "Pa", "velocity"]]
    for part in loop["parts"]:
        pressure = part["pressure_pa"]
        rows.append(
            [
                part["part"],
                f"{part['pressure_in_wg']:.4f}",
                f"{pressure:.2f}",
                f"{part['velocity_m_s']:.1f} m/s",
            ]
        )
    whole = loop["pressure_pa"]
    return markdown([*rows, ["together", f"{loop['pressure_in_wg']:.4f}", f"{whole:.2f}", ""]])


def ducts() -> str:
    """Return the table of duct sizes, and of loose flexible duct."""
    builds = {
        "6 in duct": Build(),
        "5 in duct": Build("5 in"),
        "4 in duct": Build("4 in"),
        "6 in flexible duct, pulled straight": Build(stretch=1.0),
        "6 in flexible duct, a sixth too long": Build(stretch=0.85),
    }
    rows = [HEAD, *(row(name, year(build)) for name, build in builds.items())]
    watts, forced = stronger("4 in")
    rows.append(
        row(f"4 in duct, a fan of {watts:.0f} W that keeps the flow of 6 in", year(Build("4 in"), forced))
    )
    return markdown(rows)


def stronger(bore: str) -> tuple[float, Changes]:
    """Return power [W] and fan of equal efficiency that keeps the flow of 6 in ducts in narrower ones."""
    usual = resolve(scenario(Build(), {}), weather().series)
    flow = f"{usual.parts.fan_volume_flow / CFM:.2f} cfm"
    guess = {"flow": flow, "power": "1 W", "heat_to_air": 0.9}
    narrow = resolve(scenario(Build(bore), {"fan": guess}), weather().series)
    ratio = loop_facts(narrow)["pressure_pa"] / loop_facts(usual)["pressure_pa"]
    watts = usual.parts.fan.electric_power * ratio
    return watts, {"fan": {**guess, "power": f"{watts:.0f} W"}}


def careless() -> str:
    """Return the table of one carelessness after the other, each on top of those before."""
    panel = {"window_panel": {"area": "6 ft2"}}
    steps: dict[str, tuple[Build, Changes]] = {
        "6 in, R-6, a damper that shuts, through the wall": (Build(), {}),
        "4 in duct": (Build("4 in"), {}),
        "and bare": (Build("4 in", "R-0"), {}),
        "and through a bare sheet in a window of 6 ft²": (Build("4 in", "R-0"), panel),
        "and no damper": (Build("4 in", "R-0", damper=None), panel),
    }
    rows = [["loop", "net of the collector", "saved, standard / low-energy", "fan", "a year, fan paid"]]
    for name, (build, more) in steps.items():
        summary = year(build, more)
        told = row(name, summary)
        rows.append([name, f"{summary['houses']['standard']['net_kwh']:.0f} kWh", *told[4:]])
    return markdown(rows)


def insulation() -> str:
    """Return the table of duct insulation and of where the ducts run."""
    builds = {
        "R-8, outside": Build(wrap="R-8"),
        "R-6, outside": Build(),
        "R-4.2, outside": Build(wrap="R-4.2"),
        "bare, outside": Build(wrap="R-0"),
        "bare, unheated space": Build(wrap="R-0", runs="unheated"),
        "bare, inside": Build(wrap="R-0", runs="inside"),
    }
    rows = [["ducts", "lost from the ducts", "saved, standard / low-energy", "a year, fan paid"]]
    for name, build in builds.items():
        houses = year(build)["houses"]
        standard = houses["standard"]
        rows.append([name, f"{standard['duct_loss_kwh']:.0f} kWh", *row(name, year_of(houses))[4::2]])
    return markdown(rows)


def panels() -> str:
    """Return the table of a panel in a window of 6 ft2."""
    area = {"area": "6 ft2", "window_solar_factor": 0.75, "window_u_value": "2.8 W/m2K"}
    panels: dict[str, Changes] = {
        "no panel: the ducts pass the wall": {},
        "1 in of foam (R-6)": {"window_panel": {**area, "insulation": "R-6"}},
        "bare sheet": {"window_panel": area},
    }
    rows = [
        [
            "panel",
            "opening and wall",
            "net of the collector",
            "saved, standard / low-energy",
            "a year, fan paid",
        ]
    ]
    for name, changes in panels.items():
        houses = year(Build(), changes)["houses"]
        standard = houses["standard"]
        told = [f"{standard['opening_loss_kwh']:+.0f} kWh", f"{standard['net_kwh']:.0f} kWh"]
        rows.append([name, *told, *row(name, year_of(houses))[4::2]])
    return markdown(rows)


def year_of(houses: dict[str, Any]) -> dict[str, Any]:
    """Return a summary with houses alone, for the columns that need no more."""
    nothing = {"volume_flow_m3_s": 0.0, "pressure_pa": 0.0, "parts": [{"velocity_m_s": 0.0}]}
    return {"collector": {"loop": nothing}, "houses": houses}


if __name__ == "__main__":
    put(PAGE, "parts", parts())
    put(PAGE, "duct sizes", ducts())
    put(PAGE, "insulation", insulation())
    put(PAGE, "panels", panels())
    put(PAGE, "careless", careless())
