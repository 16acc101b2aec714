"""Sheets for covers: glass, coated and tinted glass, plastics and films."""

from simengine.collector.data.entry import Entry
from simengine.collector.fresnel import extinction_from_transmittance
from simengine.collector.optics import tabulate
from simengine.collector.spec import Pane, RatedOptics

_COMMON = "common practice"
_GLASS = (
    "EN 572-1: density 2500 kg/m3, specific heat 720 J/kgK, conductivity 1.0 W/mK; EN 673: emittance "
    "0.837; n 1.526 (Duffie and Beckman, table 5.1.1); all from memory"
)
_PLASTIC_INDEX = "index: Duffie and Beckman, table 5.1.1 (from memory); the rest common practice"

_CLEAR = 22.7  # [1/m] 6 mm clear float passes 0.80 of the sun at normal incidence
_LOW_IRON = 4.0  # [1/m] Duffie and Beckman, section 5.2: "water white" glass (from memory)
_TABLE_ANGLES = tuple(float(angle) for angle in range(91))  # [deg] straight lines between


def _glass(name: str, thickness: float, extinction: float, material: str = "glass") -> Pane:
    return Pane(
        name,
        thickness,
        extinction=extinction,
        specific_heat=720.0,
        emittance_outside=0.837,
        emittance_inside=0.837,
        material=material,
    )


def _coated(name: str, rated: RatedOptics, emittance_outside: float, emittance_inside: float) -> Pane:
    return Pane(
        name,
        0.004,
        extinction=_CLEAR,
        specific_heat=720.0,
        emittance_outside=emittance_outside,
        emittance_inside=emittance_inside,
        rated=rated,
    )


def _plastic(
    name: str,
    thickness: float,
    index: float,
    transmittance: float,
    bulk: tuple[float, float, float],
    material: str,
) -> Pane:
    density, specific_heat, conductivity = bulk
    return Pane(
        name,
        thickness,
        refractive_index=index,
        extinction=extinction_from_transmittance(transmittance, thickness, index),
        density=density,
        specific_heat=specific_heat,
        conductivity=conductivity,
        emittance_outside=0.90,
        emittance_inside=0.90,
        material=material,
    )


_POLYCARBONATE = (1200.0, 1200.0, 0.20)  # [kg/m3], [J/kgK], [W/mK]
_SHEET = _plastic("polycarbonate_sheet", 0.003, 1.60, 0.83, _POLYCARBONATE, "polycarbonate")


def _multiwall(name: str, thickness: float, walls: int, mass: float, conductivity: float) -> Pane:
    wall = Pane("wall", 0.0005, refractive_index=_SHEET.refractive_index, extinction=_SHEET.extinction)
    return Pane(
        name,
        thickness,
        density=mass / thickness,
        specific_heat=_POLYCARBONATE[1],
        conductivity=conductivity,
        emittance_outside=0.90,
        emittance_inside=0.90,
        material="polycarbonate",
        angle_table=tabulate([wall] * walls, _TABLE_ANGLES),
    )


_MULTIWALL = "walls of 0.5 mm by n and K, ribs left out; mass and U-value common practice"
_OPAQUE = "taken as opaque to long-wave heat, which it is not quite"

PANES: dict[str, Entry[Pane]] = {
    entry.part.name: entry
    for entry in (
        Entry(_glass("clear_float_3mm", 0.003, _CLEAR), _GLASS, "annealed: cracks under uneven heat"),
        Entry(_glass("clear_float_4mm", 0.004, _CLEAR), _GLASS, "annealed: cracks under uneven heat"),
        Entry(_glass("clear_float_6mm", 0.006, _CLEAR), _GLASS, "annealed: cracks under uneven heat"),
        Entry(_glass("clear_tempered_3mm", 0.003, _CLEAR, "tempered_glass"), _GLASS),
        Entry(_glass("clear_tempered_4mm", 0.004, _CLEAR, "tempered_glass"), _GLASS),
        Entry(_glass("low_iron_4mm", 0.004, _LOW_IRON), _GLASS, "annealed: cracks under uneven heat"),
        Entry(_glass("low_iron_tempered_3mm", 0.0032, _LOW_IRON, "tempered_glass"), _GLASS, "3.2 mm"),
        Entry(_glass("low_iron_tempered_4mm", 0.004, _LOW_IRON, "tempered_glass"), _GLASS),
        Entry(
            _glass("tinted_grey_6mm", 0.006, extinction_from_transmittance(0.48, 0.006)),
            f"{_GLASS}; solar transmittance 0.48, {_COMMON}",
            "tinted through, so n and K hold; it runs hot",
        ),
        Entry(
            _coated("low_e_hard_coat_4mm", RatedOptics(0.70, 0.12, 0.11), 0.16, 0.837),
            f"solar figures and emittance {_COMMON}",
            "coated face outwards: the inner pane of a sealed unit",
        ),
        Entry(
            _coated("low_e_soft_coat_4mm", RatedOptics(0.58, 0.27, 0.22), 0.04, 0.837),
            f"solar figures and emittance {_COMMON}",
            "coated face outwards, sealed units only; it throws much of the sun back",
        ),
        Entry(
            _coated("antireflective_low_iron_4mm", RatedOptics(0.945, 0.04, 0.04), 0.837, 0.837),
            f"solar figures {_COMMON}",
            "off the normal it is better than the rating's angular shape says",
        ),
        Entry(_SHEET, _PLASTIC_INDEX, "softens and yellows; grows about 0.07 mm/m K"),
        Entry(
            _multiwall("twin_wall_polycarbonate_6mm", 0.006, 2, 1.3, 0.050), _MULTIWALL, "U about 3.5 W/m2K"
        ),
        Entry(
            _multiwall("twin_wall_polycarbonate_10mm", 0.010, 2, 1.7, 0.059), _MULTIWALL, "U about 3.0 W/m2K"
        ),
        Entry(
            _multiwall("triple_wall_polycarbonate_16mm", 0.016, 3, 2.7, 0.0635),
            _MULTIWALL,
            "U about 2.4 W/m2K",
        ),
        Entry(
            _plastic("acrylic_sheet", 0.003, 1.49, 0.86, (1190.0, 1470.0, 0.19), "acrylic"),
            _PLASTIC_INDEX,
            "too soft for a cover that can stand still in the sun",
        ),
        Entry(
            _plastic("fep_film", 50e-6, 1.34, 0.955, (2150.0, 1170.0, 0.20), "fep"),
            _PLASTIC_INDEX,
            f"50 micrometres; {_OPAQUE}",
        ),
        Entry(
            _plastic("polyester_film", 125e-6, 1.64, 0.86, (1390.0, 1200.0, 0.15), "polyester"),
            _COMMON,
            f"125 micrometres; {_OPAQUE}; only grades made for daylight last",
        ),
    )
}
