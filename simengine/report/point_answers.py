"""What a table of operating points says in words: the test standards' figures, and slow air against fast."""

from collections.abc import Mapping, Sequence

from simengine.report.point import BOTH, Point, written
from simengine.report.shown import Shown


def fit(found: Mapping[str, float | None], units: Sequence[Shown] = BOTH) -> list[str]:
    """Return in words what the test standards read from a table; nothing where they read nothing [SI]."""
    lines = []
    start, loss = found.get("heat_removal_optical"), found.get("heat_removal_loss")
    if start is not None and loss is not None:
        slope = " or ".join(system.quantity(loss, "u_value") for system in units)
        furthest = max(found.get("line_error") or 0.0, 1e-4)
        lines.append(
            f"Line through the efficiencies: F_R(tau alpha) = {start:.3f}, F_R U_L = {slope}; no point lies "
            f"more than {furthest:.4f} from it."
        )
    slant = found.get("incidence_b0")
    if slant is not None:
        lines.append(f"Incidence-angle modifier: K = 1 - {slant:.3f} (1/cos(theta) - 1), up to 60 degrees.")
    if "time_constant" in found:
        constant = found["time_constant"]
        lines.append(
            "Time constant (63.2 % of the response to a step of the sun): "
            + (f"{constant:.0f} s." if constant is not None else "over four hours.")
        )
    return lines


def slower_or_faster(points: Sequence[Point], own: float, units: Shown) -> str:
    """Return the answer to the belief that slower air "captures more heat", in this collector's figures.

    Parameters
    ----------
    points : over the flow
    own : the collector's own flow [kg/s]
    units : the unit system to write in

    Returns
    -------
    A few sentences; empty where the points do not hold a slower and a faster flow.
    """
    moving = [point for point in points if point["mass_flow"] > 0.0]
    usual = min(moving, key=lambda point: abs(point["mass_flow"] - own), default=None)
    if usual is None or usual is moving[0] or usual is moving[-1]:
        return ""
    slow, fast = moving[0], moving[-1]
    hotter = slow["outlet_temperature"] > usual["outlet_temperature"]
    more = slow["useful_gain"] > usual["useful_gain"]
    ratio = slow["mass_flow"] / usual["mass_flow"]
    answer = f"Hotter, {'yes' if hotter else 'no'}; more, {'yes' if more else 'no'}"
    told = (
        f'Does slower air "capture more heat"? {answer}: at {ratio:.2g} of the flow it leaves at '
        f"{_outlet(slow, units)} instead of {_outlet(usual, units)}, and carries {_gain(slow, units)} "
        f"instead of {_gain(usual, units)}. "
    )
    if not more:
        told += "Slow air leaves the absorber hotter, and a hot absorber loses more to the outside. "
    extra, watts = fast["useful_gain"] - usual["useful_gain"], fast["fan_power"] - usual["fan_power"]
    if extra > 0.0 and watts > 0.0:
        times = fast["mass_flow"] / usual["mass_flow"]
        told += (
            f"{times:.2g} times the flow brings {units.quantity(extra, 'power')} more for {watts:.0f} W more "
            f"of fan: {extra / watts:.1f} W of heat for each watt."
        )
    return told.strip()


def _outlet(point: Point, units: Shown) -> str:
    return " ".join(written("outlet_temperature", point["outlet_temperature"], units))


def _gain(point: Point, units: Shown) -> str:
    return units.quantity(point["useful_gain"], "power")
