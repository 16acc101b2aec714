"""What is known of the sensors: one unknown for what each is off by, shared by all its readings."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from uncertainties import ufloat

if TYPE_CHECKING:
    from simengine.scenario.schema.field_test import FieldTest

AREA = 0.005
"""Standard uncertainty of the aperture, of itself [-] (common practice for a tape)."""
CLEAR_SKY = 0.15
"""Of a clear-sky estimate in the place of a meter [-] (common practice)."""


@dataclass(frozen=True)
class Sensors:
    """Systematic parts as quantities of the propagation, and the scatter of single readings."""

    offset: dict[str, Any]  # role -> quantity [K], 0 with its uncertainty
    scale: dict[str, Any]  # role -> quantity [-], 1 with its uncertainty
    noise: dict[str, float]  # role -> [K], [W/m2], [-] of a flow

    @classmethod
    def of(cls, given: "FieldTest") -> "Sensors":
        """Return the sensors that a scenario states."""
        offset, scale, noise = {}, {"area": ufloat(1.0, AREA, "area")}, {}
        for role in ("ambient", "inlet", "outlet", "supply", "absorber"):
            section = getattr(given, role)
            if section is not None:
                offset[role] = ufloat(0.0, section.systematic, role)
                noise[role] = section.noise
        for role in ("flow", "second_flow"):
            section = getattr(given, role)
            if section is not None:
                scale[role] = ufloat(1.0, section.systematic, role)
                noise[role] = section.noise
        sun = given.irradiance
        scale["irradiance"] = ufloat(1.0, CLEAR_SKY if sun is None else sun.systematic, "irradiance")
        noise["irradiance"] = 0.0 if sun is None else sun.noise
        return cls(offset, scale, noise)
