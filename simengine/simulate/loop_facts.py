"""What the air costs on its way: pressure part by part, and what to look out for."""

from typing import Any

from simengine.simulate.resolve import Resolved


def loop_parts(resolved: Resolved, mass_flow: float) -> list[dict[str, Any]]:
    """Return what each part of the loop costs at a flow.

    Parameters
    ----------
    resolved : the scenario
    mass_flow : of the air [kg/s]

    Returns
    -------
    one mapping a part, in the order in which the air passes them: "part", "pressure_pa", "velocity_m_s"
    """
    from simengine.airflow.circuit import losses  # loads a library of friction factors

    return [
        {"part": loss.name, "pressure_pa": loss.pressure, "velocity_m_s": loss.velocity}
        for loss in losses(resolved.parts.air_path.parts, mass_flow, resolved.pressure)
    ]


def loop_facts(resolved: Resolved) -> dict[str, Any]:
    """Return the loop's block of the summary: flow, pressure, parts."""
    parts, fan = resolved.parts, resolved.parts.fan
    table = loop_parts(resolved, fan.mass_flow)
    return {
        "mass_flow_kg_s": fan.mass_flow,
        "volume_flow_m3_s": parts.fan_volume_flow,
        "fan_power_w": fan.electric_power,
        "pressure_pa": sum(row["pressure_pa"] for row in table),
        "fan_pushes": parts.fan_place == "room_side",
        "parts": table,
    }


def loop_cautions(resolved: Resolved) -> list[str]:
    """Return what to look out for in this loop: noise, little air, a fan off its curve, rooms drawn down."""
    from simengine.airflow.circuit import losses  # loads a library of friction factors
    from simengine.airflow.hints import flow_hints

    parts = resolved.parts
    found = [f"Fan: {note}." for note in parts.fan_notes]
    passed = losses(parts.air_path.parts, parts.fan.mass_flow, resolved.pressure)
    found += [
        f"{hint[:1].upper()}{hint[1:]}."
        for hint in flow_hints(passed, parts.fan.mass_flow, parts.collector.aperture)
    ]
    return [*found, *_balance(resolved)]


def _balance(resolved: Resolved) -> list[str]:
    """Return whether the house may be drawn below outdoor pressure while the fan runs."""
    leak = resolved.parts.collector.leak
    if leak is None or leak.box_pressure == 0.0:
        return []
    if leak.box_pressure > 0.0:
        return [
            "The fan blows the box up, and what leaks out of it comes into the house from outdoors: the "
            "rooms are drawn below outdoor pressure. A stove, boiler, water heater or fireplace there may "
            "spill its flue gas: have the draught tested, and fit carbon monoxide alarms."
        ]
    return [
        "The fan draws the box below outdoor pressure: what leaks into it comes cold, and pushes room air "
        "out. Where air is taken from a room with a stove or boiler, have its draught tested all the same."
    ]
