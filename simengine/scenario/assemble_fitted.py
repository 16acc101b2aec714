"""Puts what a field test found onto the parts of a scenario."""

import datetime
from dataclasses import dataclass, replace

from simengine.airflow.spec import Duct
from simengine.collector import spec
from simengine.scenario.schema import fitted as given

NOMINAL_PRESSURE = 10.0
"""Pressure in a box whose leak was measured as a share of its flow [Pa]; it fixes the flow alone."""
EXPONENT = 0.65
"""n in flow ~ pressure^n of cracks (common practice)."""


@dataclass(frozen=True, slots=True)
class TestedOn:
    """Which test a scenario is fitted to."""

    date: datetime.date
    periods: int


def mark(found: given.Fitted | None) -> TestedOn | None:
    """Return date and size of the test, None where there was none."""
    return None if found is None else TestedOn(found.test_date, found.periods)


def fitted_collector(box: spec.Collector, found: given.Fitted | None) -> spec.Collector:
    """Return the collector as the test has it, its leak aside.

    Parameters
    ----------
    box
        As the scenario describes it.
    found
        Factors of the test; None changes nothing.

    Returns
    -------
    simengine.collector.spec.Collector
        Sun, insulation and exchange multiplied.
    """
    if found is None:
        return box
    layers = tuple(replace(la, conductivity=la.conductivity * found.back_loss) for la in box.back.layers)
    return replace(
        box,
        dirt_factor=box.dirt_factor * found.cover_transmittance,
        back=replace(box.back, layers=layers),
        edge_conductance=box.edge_conductance * found.back_loss,
        absorber=_exchange(box, found.effectiveness),
    )


def _exchange(box: spec.Collector, factor: float) -> spec.Absorber:
    sheet = box.absorber
    if box.arrangement == "tubes" and sheet.tubes is not None:
        return replace(sheet, tubes=replace(sheet.tubes, exchange=sheet.tubes.exchange * factor))
    if box.arrangement != "through" or sheet.perforation is None:
        from simengine.collector.build import exchanging_sides  # loads the compiler

        sides = {side: getattr(sheet, side) * factor for side in exchanging_sides(box.arrangement)}
        return replace(sheet, **sides)
    holes = replace(sheet.perforation, exchange=sheet.perforation.exchange * factor)
    return replace(sheet, perforation=holes)


def fitted_ducts(ducts: tuple[Duct, ...], found: given.Fitted | None) -> tuple[Duct, ...]:
    """Return the supply ducts as they lose heat: a longer duct loses as a worse insulated one does."""
    if found is None:
        return ducts
    return tuple(replace(duct, length=duct.length * found.duct_loss) for duct in ducts)


def fitted_leak(
    leak: spec.Leak | None, found: given.Fitted | None, mass_flow: float, fan_place: str
) -> spec.Leak | None:
    """Return the leak as the test has it.

    Parameters
    ----------
    leak
        As the scenario describes it.
    found
        Its `leakage` is a share of the flow; None leaves the leak as it is.
    mass_flow
        Of the fan at full speed [kg/s].
    fan_place
        "room_side" blows air out of the cracks, "hot_side" draws it in.

    Returns
    -------
    simengine.collector.spec.Leak
        One that loses that share at full speed; None where the box is tight.
    """
    if found is None or found.leakage is None:
        return leak
    if found.leakage <= 0.0:
        return None
    pressure = NOMINAL_PRESSURE if fan_place == "room_side" else -NOMINAL_PRESSURE
    return spec.Leak(found.leakage * mass_flow / NOMINAL_PRESSURE**EXPONENT, EXPONENT, pressure)
