"""Turns the places of the air, and the second space, into numbers."""

from simengine.house import spec
from simengine.scenario.assemble_house import UNLIMITED
from simengine.scenario.assembly import Spaces
from simengine.scenario.schema import Inputs, choices
from simengine.scenario.schema.second_space import SecondSpace


def spaces(inputs: Inputs) -> Spaces:
    """Return where the air is taken from and given to, and the second space.

    Parameters
    ----------
    inputs
        Checked scenario.

    Returns
    -------
    Spaces
        In SI.
    """
    given = inputs.second_space
    if given is None:
        return Spaces(inputs.air.intake, inputs.air.supply)
    return Spaces(
        inputs.air.intake,
        inputs.air.supply,
        _second(given),
        given.lies == "below",
        given.coupling is not None,
    )


def _second(given: SecondSpace) -> spec.SecondSpace:
    heat_capacity, mass_ratio = choices.MASSES[given.mass]
    return spec.SecondSpace(
        floor_area=given.floor_area,
        volume=given.floor_area * given.ceiling_height,
        coupling=given.coupling or 0.0,
        door_flow=given.door_flow,
        wall_conductance=given.wall_conductance,
        window_conductance=given.window_conductance,
        ground_conductance=given.ground_conductance,
        air_change=given.air_changes * 3600.0,
        internal_gain=given.internal_gain,
        setpoint=given.setpoint,
        heating_capacity=UNLIMITED if given.heating_capacity is None else given.heating_capacity,
        heat_capacity_per_area=heat_capacity,
        mass_area_ratio=mass_ratio,
        ground=spec.Ground(depth=given.ground_depth, temperature=given.ground_temperature),
    )
