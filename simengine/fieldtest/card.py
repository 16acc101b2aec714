"""The field check card: what a thermometer pair should show, for people without a logger."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from simengine.constants import ZERO_CELSIUS
from simengine.simulate.operating_point import Conditions, figures

if TYPE_CHECKING:
    from simengine.simulate.resolve import Resolved

SUNS = (300.0, 500.0, 700.0, 900.0)
"""Sun on the plane [W/m2]."""
OUTSIDE = (-15.0, -5.0, 5.0, 15.0)
"""Outdoor air [degC]."""
ROOM = ZERO_CELSIUS + 20.0
WIND = 2.0
INCIDENCE = 30.0
"""Slant of the sun at which the card holds [deg]; within 45 deg of square it moves it by a few percent."""
FLOW_UNSURE, SUN_UNSURE, MODEL_UNSURE, THERMOMETERS = 0.08, 0.05, 0.05, 0.7
"""Standard uncertainties of a check by hand: flow, sun [-], the model [-], and the difference of two
household
thermometers [K] (common practice; a judgement)."""

LOW_READING = (
    "The flow is not the design flow: a higher one lowers the rise with no loss of heat. Measure it before "
    "anything else.",
    "The sun is slanting, hazy or partly shaded: read the meter in the plane of the glass, at the glass.",
    "Cold air leaks in before the fan: feel along the joints, or look with smoke on a windy day.",
    "The glass is dirty or wet inside; a film of dust costs a few percent, condensation more.",
    "Air takes a short cut past the absorber, or the absorber stands off its seals.",
    "The back is wet or its insulation has slumped.",
    "The outlet thermometer sits in a dead corner or behind the duct; the inlet one is warmed by the sun.",
    "The collector is still warming up: wait 15 minutes of steady sun.",
)
"""What a low reading usually means, most frequent first (common practice)."""

HIGH_READING = (
    "The flow is below the design flow: a filter, a closed damper, a crushed duct. The rise looks fine "
    "and the "
    "heat is not there.",
    "The outlet thermometer sees the sun or touches metal.",
)
"""What a high reading usually means (common practice)."""


@dataclass(frozen=True)
class CheckCard:
    """Rise to expect by sun and outdoor air, with a fair band."""

    title: str
    mass_flow: float  # [kg/s] design
    volume_flow: float  # [m3/s] at the fan
    suns: tuple[float, ...]  # [W/m2]
    outside: tuple[float, ...]  # [K]
    rise: Any  # [outside, sun] K
    band: Any  # [outside, sun] K, k = 2
    outlet: Any  # [outside, sun] K
    tested: str  # "fitted to a test of 2026-02-14, 9 periods", or nothing

    def as_dict(self) -> dict[str, Any]:
        """Return the card as plain numbers."""
        return {
            "title": self.title,
            "mass_flow_kg_s": self.mass_flow,
            "volume_flow_m3_s": self.volume_flow,
            "inlet_c": ROOM - ZERO_CELSIUS,
            "irradiance_w_m2": list(self.suns),
            "outside_c": [value - ZERO_CELSIUS for value in self.outside],
            "rise_k": self.rise.tolist(),
            "band_k": self.band.tolist(),
            "tested": self.tested,
            "low_reading": list(LOW_READING),
            "high_reading": list(HIGH_READING),
        }


def check_card(resolved: "Resolved") -> CheckCard:
    """Return the card of a scenario.

    Parameters
    ----------
    resolved : the scenario at hand

    Returns
    -------
    CheckCard; the band is k = 2 of a careful check by hand

    Source: steady points of the model at room air of 20 degC, wind of 2 m/s, sun 30 deg off square.
    """
    outside = tuple(value + ZERO_CELSIUS for value in OUTSIDE)
    rise, outlet = np.zeros((len(outside), len(SUNS))), np.zeros((len(outside), len(SUNS)))
    for row, ambient in enumerate(outside):
        for column, sun in enumerate(SUNS):
            found = figures(
                resolved,
                Conditions(irradiance=sun, incidence=INCIDENCE, ambient=ambient, inlet=ROOM, wind=WIND),
            )
            rise[row, column], outlet[row, column] = found["temperature_rise"], found["outlet_temperature"]
    share = np.hypot(np.hypot(FLOW_UNSURE, SUN_UNSURE), MODEL_UNSURE)
    parts = resolved.parts
    mark = parts.tested
    tested = "" if mark is None else f"fitted to a test of {mark.date}, {mark.periods} periods"
    return CheckCard(
        resolved.scenario.title,
        parts.fan.mass_flow,
        parts.fan_volume_flow,
        SUNS,
        outside,
        rise,
        2.0 * np.hypot(share * np.abs(rise), THERMOMETERS),
        outlet,
        tested,
    )
