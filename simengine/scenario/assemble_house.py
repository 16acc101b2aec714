"""Turns the user's own house into numbers."""

from dataclasses import replace
from typing import Any

from simengine.house import spec
from simengine.house.calibrate import scaled
from simengine.house.envelope import (
    INSIDE_FILM,
    OUTSIDE_FILM,
    conductances,
    infiltration_from_test,
    recovered,
    u_value,
)
from simengine.house.infiltration import leakage_area
from simengine.house.presets import PRESETS
from simengine.scenario.assembly import WindowPanel
from simengine.scenario.schema import Inputs, choices, envelope, house

UNLIMITED = 1.0e9
"""Capacity of a heater that always suffices [W]."""

USUAL_AIR_CHANGE = 0.5
"""Infiltration and airing of a house that nothing is said about [1/h] (common practice)."""

AIR_KEYS = {
    "air_changes",
    "air_changes_at_50_pa",
    "infiltration",
    "leakage_area",
    "mechanical_ventilation",
    "heat_recovery",
}
"""Keys that take the place of a built-in house's change of air."""

ALWAYS_OWN = (
    "name",
    "setpoint",
    "heating_capacity",
    "heating_months",
    "vent_limit",
    "heat_capacity_per_area",
    "mass_area_ratio",
)
WINDOW_PARTS = ("windows", "window_conductance")
AIR_PARTS = ("ventilation_conductance", "recovered_conductance", "leakage")


def own_house(given: house.House, over_space: bool = False) -> spec.House:
    """Return the user's house as the hourly network takes it.

    Parameters
    ----------
    given
        As the scenario describes it.
    over_space
        A second space lies below; it matters to a house that is like a built-in one.

    Returns
    -------
    simengine.house.spec.House
        Conductances, capacity, gains and schedule.
    """
    whole = _described(given) if given.like is None else _like(given, given.like, over_space)
    return whole if given.heat_loss_factor == 1.0 else scaled(whole, given.heat_loss_factor)


def _like(given: house.House, model: str, over_space: bool) -> spec.House:
    """A built-in house of the same size, with whatever the scenario says besides."""
    own, told = _described(given), given.model_fields_set
    names = {*ALWAYS_OWN, *(WINDOW_PARTS if given.windows else ()), *(AIR_PARTS if told & AIR_KEYS else ())}
    names |= {"volume"} if "ceiling_height" in told else set()
    names |= {"internal_gain"} & told
    names |= set() if given.window_conductance is None else {"window_conductance"}
    said: dict[str, Any] = {name: getattr(own, name) for name in names}
    source = given.source or f"like the built-in {model} house of this size"
    return replace(PRESETS[model](given.floor_area, given.storeys, over_space), source=source, **said)


def _described(given: house.House) -> spec.House:
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
    return house


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


def window_panel(inputs: Inputs) -> WindowPanel | None:
    """Return the panel in a window opening, None where the scenario has none."""
    given = inputs.window_panel
    if given is None:
        return None
    azimuth = inputs.collector.azimuth if given.azimuth is None else given.azimuth
    return WindowPanel(
        area=given.area,
        u_value=1.0 / (INSIDE_FILM["horizontal"] + given.insulation + OUTSIDE_FILM),
        window_u_value=given.window_u_value,
        window=spec.Window(
            azimuth=azimuth,
            area=given.area,
            solar_factor=given.window_solar_factor,
            frame_share=given.window_frame_share,
            shading_factor=given.window_shading_factor,
        ),
    )


def _or(given: float | None, otherwise: float) -> float:
    return otherwise if given is None else given


def _element(element: envelope.Element) -> spec.Element:
    transmittance = element.u_value if element.u_value is not None else 1.0 / (element.resistance or 1.0)
    if element.layers:
        layers = [_layer(layer) for layer in element.layers]
        transmittance = u_value(layers, element.heat_flow, outside_film=element.outside_film)
    return spec.Element(element.name, element.area, transmittance, element.adjustment)


def _layer(layer: envelope.EnvelopeLayer) -> spec.EnvelopeLayer:
    """A layer by its resistance is as thick as that in a material of 1 W/mK."""
    if layer.resistance is not None:
        return spec.EnvelopeLayer(layer.resistance, 1.0)
    return spec.EnvelopeLayer(layer.thickness or 0.0, layer.conductivity or 1.0)


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


def _window(window: envelope.Window) -> spec.Window:
    return spec.Window(
        azimuth=window.azimuth,
        area=window.area,
        solar_factor=window.solar_factor,
        frame_share=window.frame_share,
        shading_factor=window.shading_factor,
        tilt=window.tilt,
    )
