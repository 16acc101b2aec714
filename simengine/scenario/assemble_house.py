"""Turns the user's own house, and its fuel bill, into numbers."""

from simengine.economics.fuels import fuel_named, heat_per_unit
from simengine.house import spec
from simengine.house.calibrate import FuelBill, scaled
from simengine.house.envelope import conductances, infiltration_from_test, recovered
from simengine.house.infiltration import leakage_area
from simengine.scenario.schema import Inputs, choices, house
from simengine.scenario.schema.money import unit_of_sale
from simengine.units import KINDS

UNLIMITED = 1.0e9
"""Capacity of a heater that always suffices [W]."""

USUAL_AIR_CHANGE = 0.5
"""Infiltration and airing of a house that nothing is said about [1/h] (common practice)."""


def own_house(given: house.House) -> spec.House:
    """Return the user's house as the hourly network takes it.

    Parameters
    ----------
    given
        As the scenario describes it.

    Returns
    -------
    simengine.house.spec.House
        Conductances, capacity, gains and schedule.
    """
    volume = given.floor_area * given.ceiling_height
    ventilation = _ventilation(given)
    sums = conductances(
        spec.Envelope(
            volume=volume,
            opaque=tuple(_element(element) for element in given.elements),
            light=tuple(spec.Element("windows", w.area, w.u_value) for w in given.windows),
            ventilation=ventilation,
            thermal_bridge=given.thermal_bridge,
        )
    )
    heat_capacity, mass_ratio = choices.MASSES[given.mass]
    house = spec.House(
        name=given.name,
        floor_area=given.floor_area,
        volume=volume,
        opaque_conductance=_or(given.opaque_conductance, sums.opaque),
        window_conductance=_or(given.window_conductance, sums.light),
        ventilation_conductance=sums.ventilation,
        windows=tuple(_window(window) for window in given.windows),
        internal_gain=given.internal_gain,
        setpoint=given.setpoint,
        heating_capacity=_or(given.heating_capacity, UNLIMITED),
        vent_limit=given.vent_limit,
        heat_capacity_per_area=heat_capacity,
        mass_area_ratio=mass_ratio,
        source=given.source or "the scenario",
        recovered_conductance=recovered(volume, ventilation),
        leakage=_leakage(given, volume),
        heating_months=given.heating_months,
    )
    return scaled(house, given.heat_loss_factor)


def builtin_shelter(given: house.BuiltinHouses) -> int | None:
    """Return the shelter class of the built-in houses where wind and stack drive air in, else None."""
    return given.shelter_class if given.infiltration == "wind_and_stack" else None


def _leakage(given: house.House, volume: float) -> spec.Leakage | None:
    if given.infiltration != "wind_and_stack":
        return None
    area = given.leakage_area
    if area is None:
        area = leakage_area((given.air_changes_at_50_pa or 0.0) * 3600.0, volume)
    return spec.Leakage(area, given.storeys, given.shelter_class)


def fuel_bill(inputs: Inputs) -> FuelBill | None:
    """Return a year's fuel of the user's house as heat, or None where the scenario has none."""
    if inputs.house is None or inputs.house.yearly_fuel is None or inputs.heating is None:
        return None
    amount, fuel = inputs.house.yearly_fuel, fuel_named(inputs.heating.fuel)
    name = unit_of_sale(amount, fuel.key) or ""  # the schema has made sure that there is one
    heat = (
        amount.value
        / KINDS[amount.kind].by_name[name].factor
        * heat_per_unit(fuel, name, inputs.heating.basis)
    )
    return FuelBill(heat, inputs.heating.efficiency, inputs.house.hot_water_share)


def _or(given: float | None, otherwise: float) -> float:
    return otherwise if given is None else given


def _element(element: house.Element) -> spec.Element:
    u_value = element.u_value if element.u_value is not None else 1.0 / (element.resistance or 1.0)
    return spec.Element(element.name, element.area, u_value, element.adjustment)


def _ventilation(given: house.House) -> spec.Ventilation:
    """Air changes per hour; the schema holds them per second."""
    infiltration = USUAL_AIR_CHANGE if given.air_changes is None else given.air_changes * 3600.0
    if given.air_changes_at_50_pa is not None:
        infiltration = infiltration_from_test(given.air_changes_at_50_pa * 3600.0)
    if given.infiltration == "wind_and_stack":  # comes from the weather, interval by interval
        infiltration = 0.0
    return spec.Ventilation(
        infiltration=infiltration,
        mechanical=given.mechanical_ventilation * 3600.0,
        heat_recovery=given.heat_recovery,
    )


def _window(window: house.Window) -> spec.Window:
    return spec.Window(
        azimuth=window.azimuth,
        area=window.area,
        solar_factor=window.solar_factor,
        frame_share=window.frame_share,
        shading_factor=window.shading_factor,
        tilt=window.tilt,
    )
