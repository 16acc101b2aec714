"""Turns checked inputs into the parts of every room."""

from dataclasses import replace

from simengine.airflow import spec as airflow
from simengine.collector.spec import Collector
from simengine.scenario.assemble_bill import fuel_bill
from simengine.scenario.assemble_collector import collector, lining_material, sealed_gaps
from simengine.scenario.assemble_control import control, passive_path, shut
from simengine.scenario.assemble_fan import moved
from simengine.scenario.assemble_fitted import fitted_collector, fitted_ducts, fitted_leak, mark
from simengine.scenario.assemble_house import builtin_shelter, own_house, window_panel
from simengine.scenario.assemble_leak import leak
from simengine.scenario.assemble_loop import Loop, full_loop, short_loop
from simengine.scenario.assemble_money import money_inputs
from simengine.scenario.assemble_spaces import spaces
from simengine.scenario.assembly import Assembly, RunSettings, Site, Strip, Tree, Wall
from simengine.scenario.schema import Inputs, site

USUAL_FLUX = 0.02
"""Usual air flow over a collector [kg/s m2] (common practice)."""


def assembly(inputs: Inputs, pressure: float) -> Assembly:
    """Return the parts that the inputs describe.

    Parameters
    ----------
    inputs
        Checked scenario.
    pressure
        Of the site's air [Pa], above 0.

    Returns
    -------
    Assembly
        Parts in SI.
    """
    given = inputs.collector
    # where the air passes hangs on the geometry alone, so any flow serves until the fan's own is known
    way = _way(inputs, collector(given, USUAL_FLUX * given.width * given.height, pressure))
    place = way.fan_place or inputs.fan.place
    fan = moved(inputs.fan, place, given.width * given.height, way.path, pressure)
    tight = fitted_collector(collector(given, fan.mass_flow, pressure), inputs.fitted)
    cracks = leak(given.leak, way.path, fan.mass_flow, pressure, place)
    box = replace(tight, leak=fitted_leak(cracks, inputs.fitted, fan.mass_flow, place))
    return Assembly(
        collector=box,
        fan=airflow.Fan(fan.mass_flow, fan.electric_power, inputs.fan.heat_to_air),
        supply_ducts=fitted_ducts(way.supply, inputs.fitted),
        return_ducts=way.back,
        control=control(inputs.control, fan.electric_power),
        site=_site(inputs.site),
        house=None if inputs.house is None else own_house(inputs.house, _over_space(inputs)),
        bill=fuel_bill(inputs),
        builtin_floor_area=inputs.builtin_houses.floor_area,
        builtin_storeys=inputs.builtin_houses.storeys,
        builtin_loss_factor=inputs.builtin_houses.heat_loss_factor,
        money=money_inputs(inputs),
        run=RunSettings(inputs.run.step, inputs.run.sky, inputs.run.clear_sky),
        fan_volume_flow=fan.volume_flow,
        fan_inlet_temperature=fan.inlet_temperature,
        fan_notes=fan.notes,
        fan_place=place,
        fan_curve=fan.curve,
        air_path=way.path,
        room_humidity=given.room_humidity,
        sealed_gaps=sealed_gaps(given),
        lining_material=lining_material(given),
        spaces=spaces(inputs),
        builtin_shelter=builtin_shelter(inputs.builtin_houses),
        passive=passive_path(shut(inputs, way.path), box, way.path, fan.mass_flow, pressure),
        window_panel=window_panel(inputs),
        tested=mark(inputs.fitted),
    )


def _over_space(inputs: Inputs) -> bool:
    return inputs.second_space is not None and inputs.second_space.lies == "below"


def _way(inputs: Inputs, box: Collector) -> Loop:
    return full_loop(box, inputs.loop) if inputs.loop else short_loop(box, inputs.ducts)


def _site(given: site.Site) -> Site:
    strips = [Strip(fin.side, fin.depth, fin.gap) for fin in given.fins]
    if given.overhang is not None:
        strips.append(Strip("above", given.overhang.depth, given.overhang.gap))
    return Site(
        elevation=given.elevation,
        terrain=given.terrain,
        collector_height=given.collector_height,
        wind_shelter=given.wind_shelter,
        ground_reflectance=given.ground_reflectance,
        snow=given.snow,
        horizon=given.horizon,
        trees=tuple(_tree(tree) for tree in given.trees),
        strips=tuple(strips),
        walls=tuple(Wall(w.bearing, w.distance, w.height, w.left, w.right) for w in given.walls),
    )


def _tree(tree: site.Tree) -> Tree:
    return Tree(
        bearing=tree.bearing,
        distance=tree.distance,
        height=tree.height,
        base_height=tree.base_height,
        crown_width=tree.crown_width,
        in_leaf=tree.in_leaf,
        bare=tree.in_leaf if tree.evergreen else tree.bare,
        leaf_out=tree.leaf_out,
        leaf_fall=tree.leaf_fall,
    )
