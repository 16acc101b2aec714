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


EXACT = 1.0e-12
"""Stands for no uncertainty at all, which the propagation cannot follow."""


def unsure(value: float, deviation: float, tag: str | None = None) -> Any:
    """Return a value with its standard uncertainty, which may be zero.

    Parameters
    ----------
    value : [any unit]
    deviation : standard uncertainty [the same unit]
    tag : which sensor it is from
    """
    return ufloat(value, max(deviation, EXACT), tag)


@dataclass(frozen=True)
class Sensors:
    """Systematic parts as quantities of the propagation, and the scatter of single readings."""

    offset: dict[str, Any]  # role -> quantity [K], 0 with its uncertainty
    scale: dict[str, Any]  # role -> quantity [-], 1 with its uncertainty
    noise: dict[str, float]  # role -> [K], [W/m2], [-] of a flow

    @classmethod
    def of(cls, given: "FieldTest") -> "Sensors":
        """Return the sensors that a scenario states."""
        offset, scale, noise = {}, {"area": unsure(1.0, AREA, "area")}, {}
        for role in ("ambient", "inlet", "outlet", "supply", "absorber"):
            section = getattr(given, role)
            if section is not None:
                offset[role] = unsure(0.0, section.systematic, role)
                noise[role] = section.noise
        for role in ("flow", "second_flow"):
            section = getattr(given, role)
            if section is not None:
                scale[role] = unsure(1.0, section.systematic, role)
                noise[role] = section.noise
        sun = given.irradiance
        scale["irradiance"] = unsure(1.0, CLEAR_SKY if sun is None else sun.systematic, "irradiance")
        noise["irradiance"] = 0.0 if sun is None else sun.noise
        return cls(offset, scale, noise)
