"""Every part of a collector at its hottest, held against what its material bears."""

from typing import Any

import numpy as np

from simengine.collector.limits import check_limits
from simengine.collector.network import COVER_FACE, Array
from simengine.scenario.assembly import Assembly


def hottest_parts(parts: Assembly, nodes: Array, cases: list[str]) -> list[dict[str, Any]]:
    """Return every part at its hottest, those above their limit first.

    Parameters
    ----------
    parts : of the scenario
    nodes : [case, node] hottest temperature of each node [K]
    cases : what each case is called

    Returns
    -------
    rows of part, hottest_c, limit_c, exceeded, hour (the case), sentence

    Source: limits by material, see `collector.limits`.
    """
    temperatures, materials = part_temperatures(parts, nodes)
    return [
        {
            "part": check.part,
            "hottest_c": check.hottest_c,
            "limit_c": check.limit_c,
            "exceeded": check.exceeded,
            "hour": cases[check.index],
            "sentence": check.sentence,
        }
        for check in check_limits(temperatures, materials)
    ]


def part_temperatures(parts: Assembly, nodes: Array) -> tuple[dict[str, Any], dict[str, str]]:
    """Return temperature [case] and material of every part.

    Parameters
    ----------
    parts : of the scenario
    nodes : [case, node] temperatures [K]

    Returns
    -------
    (temperatures [K], materials) by part; a layer stands at the temperature of its inner face, a sealed unit
    at that of its warmer pane, the innermost pane at that of its inner face where that is warmer
    """
    collector = parts.collector
    temperatures: dict[str, Any] = {}
    materials: dict[str, str] = {}

    def add(part: str, values: Array, material: str) -> None:
        temperatures[part], materials[part] = values, material

    panes = max(len(collector.panes), 1)
    cover = nodes[:, :panes].copy()
    cover[:, -1] = np.maximum(cover[:, -1], nodes[:, panes + COVER_FACE])
    for number, pane in enumerate(collector.panes):
        add(f"pane {number + 1}: {pane.name}", cover[:, number], pane.material)
    for number, sealed in enumerate(parts.sealed_gaps):
        if sealed:
            warmer = cover[:, number : number + 2].max(axis=1)
            add(f"seal between pane {number + 1} and {number + 2}", warmer, "sealed_unit")
    add(f"absorber: {collector.absorber.name}", nodes[:, panes], collector.absorber.material)
    face, box = nodes[:, panes + 1], nodes[:, panes + 3]
    if parts.lining_material is not None:
        add("lining of the back", face, parts.lining_material)
    resistances = [layer.thickness / layer.conductivity for layer in collector.back.layers]
    whole, inside = sum(resistances), 0.0
    for layer, resistance in zip(collector.back.layers, resistances, strict=True):
        add(f"back: {layer.name}", face + (box - face) * (inside / whole), layer.material)
        inside += resistance
    return temperatures, materials
