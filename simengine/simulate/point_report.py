"""A steady operating point with what belongs beside it: the cover's label, the hottest parts, cautions."""

from typing import TYPE_CHECKING, Any

from simengine.simulate.cover_label import cover_label
from simengine.simulate.hottest import hottest_parts
from simengine.simulate.loop_facts import loop_parts
from simengine.simulate.notes import build_cautions
from simengine.simulate.operating_point import Conditions, figures_of, solve
from simengine.simulate.resolve import resolve

if TYPE_CHECKING:
    from simengine.scenario import Scenario


def point_report(scenario: "Scenario", conditions: Conditions) -> dict[str, Any]:
    """Return a steady operating point with what belongs beside it.

    Parameters
    ----------
    scenario : the checked scenario
    conditions : of the point

    Returns
    -------
    the figures of `point`; "cover": the cover as its label rates it, None for a bare absorber; "loop": what
    each part of the loop costs; "hottest_parts": every part against its material's limit, at stagnation
    only; "cautions" of this build

    Raises
    ------
    as `point`
    """
    resolved = resolve(scenario)
    solved = solve(resolved, conditions)
    at_rest = solved.steady.mass_flow == 0.0
    hottest = solved.steady.nodes.max(axis=1)[None, :]
    return {
        **figures_of(resolved, conditions, solved),
        "cover": cover_label(resolved),
        "loop": [] if at_rest else loop_parts(resolved, solved.steady.mass_flow),
        "hottest_parts": hottest_parts(resolved.parts, hottest, ["this point"]) if at_rest else [],
        "cautions": build_cautions(resolved),
    }
