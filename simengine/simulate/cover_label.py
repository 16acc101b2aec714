"""The cover of a scenario as a label rates it."""

from simengine.collector.cover_rating import rate_cover
from simengine.simulate.resolve import Resolved


def cover_label(resolved: Resolved) -> dict[str, float] | None:
    """Return g- and U-value of the cover by the glazing standards, None where there is none.

    Source: EN 410 and EN 673, upright, see `collector.cover_rating`.
    """
    collector = resolved.parts.collector
    if not collector.panes:
        return None
    rating = rate_cover(collector.panes, collector.pane_gaps)
    return {
        "g_value": rating.g_value,
        "u_value": rating.u_value,
        "solar_transmittance": rating.transmittance,
        "solar_reflectance": rating.reflectance,
    }
