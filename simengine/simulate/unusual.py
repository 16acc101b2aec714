"""Notes on what is accepted but unusual: single values by their band, and figures that several make."""

from simengine.constants import STANDARD_AIR_DENSITY
from simengine.economics.fuels import heat_per_unit
from simengine.economics.spec import FuelUse
from simengine.scenario.unusual import unusual
from simengine.simulate.resolve import Resolved

USUAL_FLOW = (30.0, 150.0)
"""Air through a collector, per glazed area [m3/h per m2] (common practice)."""
USUAL_PRICE = (0.01, 1.0)
"""Of a kWh of heat content, in currencies of about the size of a dollar (common practice, 2020 to 2026)."""
ABOUT_A_DOLLAR = frozenset({"USD", "CAD", "EUR", "GBP", "CHF", "AUD", "NZD"})


def unusual_notes(resolved: Resolved) -> list[str]:
    """Return a sentence for everything in a build that is accepted but unusual.

    Parameters
    ----------
    resolved : the scenario

    Returns
    -------
    sentences with the value, what is usual, and why
    """
    inputs = resolved.scenario.inputs
    return [*unusual(inputs, inputs.units), *_of_the_flow(resolved), *_of_the_prices(resolved)]


def _of_the_flow(resolved: Resolved) -> list[str]:
    collector, control = resolved.parts.collector, resolved.scenario.inputs.control
    flow = 3600.0 * resolved.parts.fan.mass_flow / STANDARD_AIR_DENSITY / collector.aperture
    if control.kind == "none" or USUAL_FLOW[0] <= flow <= USUAL_FLOW[1]:
        return []
    side = "the box gets hot and loses much" if flow < USUAL_FLOW[0] else "the fan takes much for little heat"
    return [
        f"fan: {flow:.3g} m3/h of air per m2 of collector is unusual; usual is {USUAL_FLOW[0]:.0f} to "
        f"{USUAL_FLOW[1]:.0f}: {side}."
    ]


def _of_the_prices(resolved: Resolved) -> list[str]:
    money = resolved.parts.money
    uses = [*money.heating, *((money.electricity,) if money.electricity is not None else ())]
    return [note for use in uses for note in _of_a_price(use)]


def _of_a_price(use: FuelUse) -> list[str]:
    if not use.price or use.currency not in ABOUT_A_DOLLAR:
        return []
    each = use.price / heat_per_unit(use.sold, use.unit)
    if USUAL_PRICE[0] <= each <= USUAL_PRICE[1]:
        return []
    return [
        f"{use.fuel}: {each:.3g} {use.currency} for a kWh of heat content is unusual; usual is "
        f"{USUAL_PRICE[0]:g} to {USUAL_PRICE[1]:g}: is the unit of the price right?"
    ]
