"""A panel in a window opening that the air of the collector passes."""

from typing import Annotated

from pydantic import Field

from simengine.scenario.schema.envelope import PaneUValue
from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.reading import Section, usual
from simengine.scenario.schema.site import Bearing, Share


class WindowPanel(Section):
    """A panel in a window opening through which the ducts pass. It stands there all year: what the window
    kept and let in is charged to the collector, by day and by night."""

    area: Annotated[float, Of("area", "0.01 m2", "10 m2", "a window", "6 ft2")] = Field(
        description="of the panel, and of the window that it takes the place of"
    )
    insulation: Annotated[
        float, Of("thermal_resistance", "0 m2K/W", "10 m2K/W", "1 in of foam is R-4 to R-6")
    ] = usual(
        "0 m2K/W", description="thermal resistance of the panel without its air films; a bare sheet has none"
    )
    window_u_value: PaneUValue = usual("2.8 W/m2K", description="of the window, with frame")
    window_solar_factor: Share = usual(0.75, description="share of the sun on its glass that entered")
    window_frame_share: Share = usual(0.3, description="share of its area that is frame")
    window_shading_factor: Share = usual(0.9, description="what fixed shading and dirt left")
    azimuth: Bearing | None = Field(None, description="where it looks; as the collector if left out")
