"""What the parts of a collector bear: temperature limits of materials, and the check against them."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from simengine.collector.fresnel import FloatArray
from simengine.constants import ZERO_CELSIUS
from simengine.errors import InputError


@dataclass(frozen=True, slots=True)
class MaterialLimit:
    """The temperature that a material bears for long, and where that is written."""

    material: str  # key
    words: str  # the material as a sentence names it
    limit_c: float  # [degC] long exposure
    source: str
    short_c: float | None = None  # [degC] now and then, where the source gives one


_COMMON = "common practice"

LIMITS: dict[str, MaterialLimit] = {
    limit.material: limit
    for limit in (
        MaterialLimit("glass", "annealed glass", 110.0, "glass makers' service tables (from memory)"),
        MaterialLimit("tempered_glass", "tempered glass", 220.0, "glass makers' tables (from memory)", 250.0),
        MaterialLimit("sealed_unit", "a sealed double pane", 60.0, "ASTM E2188, 140 degF test"),
        MaterialLimit("polycarbonate", "polycarbonate", 100.0, "UL 746B, 212 degF continuous"),
        MaterialLimit("acrylic", "acrylic", 50.0, "UL 746B, 122 degF continuous"),
        MaterialLimit("pvc", "PVC", 50.0, "UL 746B, continuous"),
        MaterialLimit("fep", "FEP film", 200.0, "resin data sheets (from memory)"),
        MaterialLimit("polyester", "polyester film", 105.0, "UL 746B (from memory)", 150.0),
        MaterialLimit("polystyrene", "polystyrene foam", 74.0, "ASTM C578, 165 degF"),
        MaterialLimit("polyiso_faced", "faced polyiso board", 93.0, "ASTM C1289, 200 degF (from memory)"),
        MaterialLimit("polyiso_unfaced", "unfaced polyiso foam", 149.0, "ASTM C591, 300 degF"),
        MaterialLimit("mineral_wool", "mineral fibre board", 982.0, "ASTM C612, 1800 degF, highest type"),
        MaterialLimit("fibrous_glass", "fibrous-glass duct board", 121.0, "UL 181, 250 degF (from memory)"),
        MaterialLimit("wood", "wood", 77.0, "Babrauskas et al. 2007, 170 degF, long exposure"),
        MaterialLimit("gypsum_board", "gypsum board", 52.0, "trade guidance, 125 degF (from memory)"),
        MaterialLimit("fibre_cement", "fibre-cement board", 150.0, _COMMON),
        MaterialLimit("silicone", "silicone sealant", 176.0, "sealant data sheets, 350 degF", 204.0),
        MaterialLimit(
            "flexible_duct", "polymer-core flexible duct", 60.0, "UL 181, 140 degF (from memory)", 82.0
        ),
        MaterialLimit("paint", "ordinary paint", 93.0, "paint data sheets, 200 degF, common practice"),
        MaterialLimit("stove_paint", "heat-resisting paint", 315.0, "paint data sheets, common practice"),
        MaterialLimit("steel", "coated steel", 200.0, "zinc coating, 392 degF (from memory)"),
        MaterialLimit("aluminium", "aluminium", 150.0, "loss of temper, common practice"),
        MaterialLimit("copper", "copper", 200.0, "softening, common practice"),
        MaterialLimit("epdm", "EPDM gasket", 120.0, _COMMON, 150.0),
        MaterialLimit("butyl", "butyl tape", 82.0, "tape data sheets, 180 degF, common practice"),
        MaterialLimit("foil_tape", "foil tape with acrylic glue", 120.0, "tape data sheets, common practice"),
    )
}
"""Long-exposure limits. A maker's own sheet for the very product goes before any of them."""


@dataclass(frozen=True, slots=True)
class LimitCheck:
    """One part at its hottest, held against its material."""

    part: str
    hottest_c: float  # [degC]
    limit_c: float  # [degC]
    exceeded: bool
    sentence: str
    index: int = 0  # of the hottest value in the series that was given


def material_limit(material: str) -> MaterialLimit:
    """Return the limit of a material.

    Parameters
    ----------
    material : key in `LIMITS`

    Returns
    -------
    limit [degC] with its source

    Raises InputError for an unknown material.

    >>> material_limit("wood").limit_c
    77.0
    """
    if material not in LIMITS:
        raise InputError(f"material: {material[:80]!r} is not known; accepted: {', '.join(LIMITS)}")
    return LIMITS[material]


def check_limits(
    temperatures: Mapping[str, float | FloatArray], materials: Mapping[str, str]
) -> tuple[LimitCheck, ...]:
    """Hold the hottest temperature of every part against what its material bears for long.

    Parameters
    ----------
    temperatures : by part [K], one number or a series each
    materials : key in `LIMITS` by part; every part of `temperatures` needs one

    Returns
    -------
    one check a part, those above their limit first and by how much

    Raises InputError for a part without material, an unknown material, or a temperature that is no number.

    >>> check_limits({"back board": 363.15}, {"back board": "polystyrene"})[0].sentence
    'back board reaches 90 degC: above the 74 degC that polystyrene foam bears (ASTM C578, 165 degF).'
    """
    checks = []
    for part, series in temperatures.items():
        if part not in materials:
            raise InputError(f"{part}: no material is given; accepted: {', '.join(LIMITS)}")
        values = np.atleast_1d(np.asarray(series, dtype=np.float64))
        if not values.size or not np.all(np.isfinite(values)):
            raise InputError(f"{part}: a temperature is missing or not a number; finite numbers are accepted")
        index = int(np.argmax(values))
        checks.append(_check(part, float(values.flat[index]) - ZERO_CELSIUS, materials[part], index))
    return tuple(sorted(checks, key=lambda check: check.limit_c - check.hottest_c))


def _check(part: str, hottest_c: float, material: str, index: int) -> LimitCheck:
    limit = material_limit(material)
    exceeded = hottest_c > limit.limit_c
    bound = f"{'above' if exceeded else 'within'} the {limit.limit_c:.0f} degC"
    sentence = f"{part} reaches {hottest_c:.0f} degC: {bound} that {limit.words} bears"
    if exceeded and limit.short_c is not None:
        where = "not even" if hottest_c > limit.short_c else "only"
        sentence += f", {where} for a short time ({limit.short_c:.0f} degC)"
    return LimitCheck(part, hottest_c, limit.limit_c, exceeded, f"{sentence} ({limit.source}).", index)
