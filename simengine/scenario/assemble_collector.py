"""Turns the collector of a scenario into its parts: typical constructions, changed where the file says so."""

import math
from dataclasses import fields, replace
from typing import Any, TypeVar

from pydantic import BaseModel

from simengine.collector import constructions, spec
from simengine.scenario.schema import absorber as sheets
from simengine.scenario.schema import collector as given
from simengine.scenario.schema import cover

Part = TypeVar("Part", spec.Pane, spec.Absorber, spec.Layer)

HOLES = {"triangular": math.pi / (2.0 * math.sqrt(3.0)), "square": math.pi / 4.0}
"""Open share of a sheet of holes over (diameter/pitch)^2 [-] (geometry)."""

PLAIN_LINING = (0.9, 1000.0)
"""Emittance [-] and heat capacity [J/m2K] of an inner face that nothing is said about."""


def collector(box: given.Collector) -> spec.Collector:
    """Return the collector in SI.

    Parameters
    ----------
    box
        As the scenario describes it.

    Returns
    -------
    simengine.collector.spec.Collector
        Its parts as plain numbers.
    """
    return spec.Collector(
        width=box.width,
        length=box.height,
        tilt=box.tilt,
        azimuth=box.azimuth % 360.0,
        arrangement=box.arrangement,
        panes=tuple(_pane(sheet) for sheet in box.cover),
        pane_gaps=tuple(
            spec.SealedGap(sheet.gap, sheet.gas, sheet.fill_share)
            for sheet in box.cover
            if sheet.gap is not None
        ),
        front=_space(box.front_gap),
        absorber=_absorber(box.absorber),
        rear=_space(box.rear_gap),
        back=_back(box),
        edge_conductance=_edge(box),
        box_heat_capacity=box.box_heat_capacity,
        dirt_factor=box.dirt_factor,
        segments=box.segments,
        wind_relation=box.wind_relation,
        tags=dict(box.tags),
    )


def _changed(part: Part, section: BaseModel) -> Part:
    """Return a typical part with every figure that the section gives."""
    names = {f.name for f in fields(part)} & set(type(section).model_fields) - {"rated", "perforation"}
    figures: dict[str, Any] = {name: getattr(section, name) for name in names}
    return replace(part, **{name: value for name, value in figures.items() if value is not None})


def _pane(sheet: cover.Pane) -> spec.Pane:
    part = _changed(constructions.pane(sheet.construction), sheet)
    optical = (sheet.refractive_index, sheet.extinction, sheet.thickness)
    if sheet.rated is not None:
        rated = sheet.rated
        optics = spec.RatedOptics(rated.transmittance, rated.reflectance_outside, rated.reflectance_inside)
        return replace(part, rated=optics, angle_table=None)
    if any(value is not None for value in optical):
        return replace(part, rated=None, angle_table=None)
    return part


def _space(gap: given.Gap) -> spec.AirSpace:
    if gap.depth is not None:
        return spec.AirSpace(gap.depth, gap.depth)
    return spec.AirSpace(gap.inlet or 0.0, gap.outlet or 0.0)  # the schema has made sure of both


def _absorber(sheet: sheets.Absorber) -> spec.Absorber:
    part = _changed(constructions.absorber(sheet.construction), sheet)
    if sheet.perforation is None:
        return part
    holes = sheet.perforation
    porosity = holes.porosity
    if porosity is None:  # the schema has made sure of diameter and pitch
        porosity = HOLES[holes.layout] * ((holes.hole_diameter or 0.0) / (holes.pitch or 1.0)) ** 2
    perforation = spec.Perforation(
        porosity=porosity,
        hole_diameter=holes.hole_diameter,
        pitch=holes.pitch,
        layout=holes.layout,
        effectiveness=holes.effectiveness,
        rated_flow=None if holes.rated_flow is None else holes.rated_flow.value,
        exponent=holes.exponent,
    )
    return replace(part, perforation=perforation)


def _back(box: given.Collector) -> spec.Back:
    back = box.back
    emittance, heat = PLAIN_LINING
    if back.lining is not None:
        lining = constructions.lining(back.lining)
        emittance, heat = lining.emittance, lining.heat_capacity
    return spec.Back(
        layers=tuple(_layer(layer) for layer in back.layers),
        emittance=emittance if back.emittance is None else back.emittance,
        lining_heat_capacity=heat if back.lining_heat_capacity is None else back.lining_heat_capacity,
        outside_film=back.outside_film,
        wall_resistance=box.wall_resistance,
    )


def _layer(layer: given.Layer) -> spec.Layer:
    part = _changed(constructions.layer(layer.construction), layer)
    if layer.resistance is not None:
        return replace(part, thickness=layer.resistance * part.conductivity)
    return part


def _edge(box: given.Collector) -> float:
    """Conductance of the rim [W/K]: its conductance, or perimeter x depth / resistance."""
    if box.edge is None:
        return 0.0
    if box.edge.conductance is not None:
        return box.edge.conductance
    perimeter = 2.0 * (box.width + box.height)
    return perimeter * (box.edge.depth or 0.0) / (box.edge.resistance or 1.0)
