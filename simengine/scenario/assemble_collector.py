"""Turns the collector of a scenario into its parts: typical constructions, changed where the file says so."""

from dataclasses import fields, replace
from typing import Any, TypeVar

from pydantic import BaseModel

from simengine.collector import constructions, spec
from simengine.scenario.assemble_perforation import perforation
from simengine.scenario.schema import absorber as sheets
from simengine.scenario.schema import box, cover
from simengine.scenario.schema import collector as given

Part = TypeVar("Part", spec.Pane, spec.Absorber, spec.Layer)

NO_SPACE = spec.AirSpace(0.025, 0.025)
"""Stands for the space before a bare absorber, which is not there."""

PLAIN_LINING = (0.9, 1000.0)
"""Emittance [-] and heat capacity [J/m2K] of an inner face that nothing is said about."""


def collector(box: given.Collector, mass_flow: float, pressure: float) -> spec.Collector:
    """Return the collector in SI, still without its leaks.

    Parameters
    ----------
    box
        As the scenario describes it.
    mass_flow
        Of the fan at full speed [kg/s]: what a screen of wires does hangs on it.
    pressure
        Of the site's air [Pa].

    Returns
    -------
    simengine.collector.spec.Collector
        Its parts as plain numbers.
    """
    flux = mass_flow / (box.width * box.height)
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
        front=NO_SPACE if box.front_gap is None else _space(box.front_gap),
        absorber=_absorber(box.absorber, flux, pressure),
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
    names = {f.name for f in fields(part)} & set(type(section).model_fields) - {
        "rated",
        "perforation",
        "tubes",
    }
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


def _space(gap: box.Gap) -> spec.AirSpace:
    if gap.depth is not None:
        return spec.AirSpace(gap.depth, gap.depth)
    return spec.AirSpace(gap.inlet or 0.0, gap.outlet or 0.0)  # the schema has made sure of both


def _absorber(sheet: sheets.Absorber, flux: float, pressure: float) -> spec.Absorber:
    part = _changed(constructions.absorber(sheet.construction), sheet)
    if sheet.tubes is not None:
        part = replace(part, tubes=spec.Tubes(sheet.tubes.diameter, sheet.tubes.pitch))
    if sheet.perforation is None:
        return part
    return replace(part, perforation=perforation(sheet.perforation, flux, pressure))


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


def _layer(layer: box.Layer) -> spec.Layer:
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


def sealed_gaps(box: given.Collector) -> tuple[bool, ...]:
    """Return which spaces between panes are sealed units: as said, else those with another gas than air."""
    gaps = [sheet for sheet in box.cover if sheet.gap is not None]
    return tuple(sheet.gas != "air" if sheet.sealed is None else sheet.sealed for sheet in gaps)


def lining_material(box: given.Collector) -> str | None:
    """Return the key of the temperature limit of the inner face, None where nothing is said about it."""
    return None if box.back.lining is None else constructions.lining(box.back.lining).material
