"""Turns checked inputs into the parts of every room."""

from dataclasses import replace

from simengine.airflow import spec as airflow
from simengine.constants import GAS_CONSTANT_DRY_AIR, ZERO_CELSIUS
from simengine.control.spec import ControlRule
from simengine.scenario.air_path import air_path
from simengine.scenario.assemble_collector import collector, lining_material, sealed_gaps
from simengine.scenario.assemble_house import builtin_shelter, fuel_bill, own_house
from simengine.scenario.assemble_leak import leak
from simengine.scenario.assemble_money import money_inputs
from simengine.scenario.assemble_spaces import spaces
from simengine.scenario.assembly import Assembly, RunSettings, Site, Strip, Tree, Wall
from simengine.scenario.schema import Inputs, air, site

ROOM_SIDE = ZERO_CELSIUS + 20.0
"""Air at a fan that pushes room air [K] (common practice)."""

HOT_SIDE = ZERO_CELSIUS + 45.0
"""Air at a fan that pulls from the collector [K] (common practice)."""


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
    mass_flow, volume_flow, inlet = _flow(inputs.fan, given.width * given.height, pressure)
    supply = tuple(_duct(duct) for duct in inputs.ducts if duct.name == "supply")
    back = tuple(_duct(duct) for duct in inputs.ducts if duct.name == "return")
    tight = collector(given, mass_flow, pressure)
    path = air_path(tight, supply, back)
    box = replace(tight, leak=leak(given.leak, path, mass_flow, pressure, inputs.fan.place))
    return Assembly(
        collector=box,
        fan=airflow.Fan(mass_flow, inputs.fan.power, inputs.fan.heat_to_air),
        supply_ducts=supply,
        return_ducts=back,
        control=_control(inputs.control),
        site=_site(inputs.site),
        house=None if inputs.house is None else own_house(inputs.house),
        bill=fuel_bill(inputs),
        builtin_floor_area=inputs.builtin_houses.floor_area,
        builtin_storeys=inputs.builtin_houses.storeys,
        money=money_inputs(inputs),
        run=RunSettings(inputs.run.step, inputs.run.sky, inputs.run.clear_sky),
        fan_volume_flow=volume_flow,
        fan_inlet_temperature=inlet,
        air_path=path,
        room_humidity=given.room_humidity,
        sealed_gaps=sealed_gaps(given),
        lining_material=lining_material(given),
        spaces=spaces(inputs),
        builtin_shelter=builtin_shelter(inputs.builtin_houses),
    )


def _flow(fan: air.Fan, aperture: float, pressure: float) -> tuple[float, float, float]:
    """Mass flow [kg/s], volume flow at the fan [m3/s] and temperature there [K]."""
    usual = ROOM_SIDE if fan.place == "room_side" else HOT_SIDE
    inlet = usual if fan.inlet_temperature is None else fan.inlet_temperature
    density = pressure / (GAS_CONSTANT_DRY_AIR * inlet)
    given = fan.flow.value * (aperture if fan.flow.kind in ("volume_flux", "mass_flux") else 1.0)
    mass_flow = given * density if fan.flow.kind in ("volume_flow", "volume_flux") else given
    return mass_flow, mass_flow / density, inlet


def _duct(duct: air.Duct) -> airflow.Duct:
    return airflow.Duct(duct.length, duct.diameter, duct.insulation, duct.runs)


def _control(control: air.SnapSwitch | air.Differential) -> ControlRule:
    return ControlRule(
        start=control.start,
        stop=control.stop,
        reference_weight=1.0 if isinstance(control, air.Differential) else 0.0,
        sensor_place=control.sensor,
        sensor_time_constant=control.time_constant,
        room_limit=control.room_limit,
        room_limit_band=control.room_limit_band,
        minimum_on=control.minimum_on,
        minimum_off=control.minimum_off,
        months=control.months,
    )


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
