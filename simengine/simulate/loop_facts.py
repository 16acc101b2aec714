"""What the air costs on its way: pressure part by part, and what to look out for."""

from dataclasses import replace
from itertools import groupby
from typing import Any

from simengine.airflow.parts import Bend, FlexibleDuct, RectangularDuct, RoundDuct
from simengine.scenario.air_path import AirPath
from simengine.simulate.resolve import Resolved

IN_WG = 249.08891
"""One inch of water [Pa]: 25.4 mm of 1000 kg/m3 at 9.80665 m/s2."""

DUCTED = (RoundDuct, FlexibleDuct, RectangularDuct, Bend)
"""Parts whose free end costs something that only a mouth beside them counts."""


def loop_parts(resolved: Resolved, mass_flow: float) -> list[dict[str, Any]]:
    """Return what each part of the loop costs at a flow.

    Parameters
    ----------
    resolved : the scenario
    mass_flow : of the air [kg/s]

    Returns
    -------
    one mapping a part, in the order in which the air passes them: "part", "pressure_pa", "pressure_in_wg",
    "velocity_m_s"; a space that narrows is one part, with its highest velocity
    """
    from simengine.airflow.circuit import losses  # loads a library of friction factors

    rows = []
    passed = losses(resolved.parts.air_path.parts, mass_flow, resolved.pressure)
    for name, group in groupby(passed, key=lambda loss: loss.name):
        slices = list(group)
        pressure = sum(loss.pressure for loss in slices)
        rows.append(
            {
                "part": name,
                "pressure_pa": pressure,
                "pressure_in_wg": pressure / IN_WG,
                "velocity_m_s": max(loss.velocity for loss in slices),
            }
        )
    return rows


def loop_facts(resolved: Resolved) -> dict[str, Any]:
    """Return the loop's block of the summary: flow, pressure, fan, box and parts."""
    parts, fan = resolved.parts, resolved.parts.fan
    table, leak = loop_parts(resolved, fan.mass_flow), parts.collector.leak
    whole = sum(row["pressure_pa"] for row in table)
    return {
        "mass_flow_kg_s": fan.mass_flow,
        "volume_flow_m3_s": parts.fan_volume_flow,
        "flow_from": "given" if parts.fan_curve is None else "fan curve",
        "fan_power_w": fan.electric_power,
        "pressure_pa": whole,
        "pressure_in_wg": whole / IN_WG,
        "fan_pushes": parts.fan_place == "room_side",
        "box_pressure_pa": None if leak is None else leak.box_pressure,
        "box_pressure_reason": "no test of the box's tightness is given: it is taken as tight",
        "parts": table,
    }


def loop_cautions(resolved: Resolved) -> list[str]:
    """Return what to look out for in this loop: noise, little air, a fan off its curve, rooms drawn down."""
    from simengine.airflow.circuit import losses  # loads a library of friction factors
    from simengine.airflow.hints import flow_hints

    parts = resolved.parts
    found = [f"Fan: {note}." for note in parts.fan_notes]
    passed = [  # a sheet outside of its relation has a caution of its own
        replace(loss, note="")
        for loss in losses(parts.air_path.parts, parts.fan.mass_flow, resolved.pressure)
    ]
    hints = flow_hints(passed, parts.fan.mass_flow, parts.collector.aperture)
    found += [f"{hint[:1].upper()}{hint[1:]}." for hint in dict.fromkeys(hints)]
    return [*found, *_open_ends(parts.air_path), *_balance(resolved)]


def _open_ends(path: AirPath) -> list[str]:
    """Return which ducts end without a mouth that counts what the end costs."""
    ends = [part for side in (path.before, path.after) if side for part in (side[0], side[-1])]
    names = dict.fromkeys(part.name for part in ends if isinstance(part, DUCTED))
    return [
        f"{name[:1].upper()}{name[1:]}: it ends without a mouth; what the end costs is not counted. Add a "
        'part "entry" where it draws air in, "exit" where it blows it out, or a grille.'
        for name in names
    ]


def _balance(resolved: Resolved) -> list[str]:
    """Return whether a room may be drawn below outdoor pressure while the fan runs."""
    leak, ways = resolved.parts.collector.leak, resolved.parts.spaces
    found = []
    if ways.intake != ways.supply and ways.intake != "outdoors":
        found.append(
            "The fan draws air out of one space and gives it to another: the first is drawn below outdoor "
            "pressure unless as much can flow back through a door or a grille. A stove, boiler, water heater "
            "or fireplace there may spill its flue gas: have the draught tested, and fit carbon monoxide "
            "alarms."
        )
    if leak is not None and leak.box_pressure > 0.0:
        found.append(
            "The fan blows the box up, and what leaks out of it comes into the house from outdoors: the "
            "rooms are drawn below outdoor pressure. A stove, boiler, water heater or fireplace there may "
            "spill its flue gas: have the draught tested, and fit carbon monoxide alarms."
        )
    if leak is not None and leak.box_pressure < 0.0:
        found.append(
            "The fan draws the box below outdoor pressure: what leaks into it comes cold, and pushes room "
            "air out. Where the air is taken from a room with a stove or boiler, have its draught tested all "
            "the same."
        )
    return found
