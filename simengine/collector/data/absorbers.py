"""Absorbers: painted and selective sheets, perforated sheets, screens."""

from simengine.collector.data.entry import Entry
from simengine.collector.spec import Absorber, Perforation

_STEEL = 7850.0 * 470.0  # [J/m3K] density times specific heat
_ALUMINIUM = 2700.0 * 900.0  # [J/m3K]
_PAINT = "flat black paint 0.92-0.96, 0.90-0.95; metals' density and heat: common practice"
_COATING = "solar absorptance and emittance: common practice"
_SCREEN = "effective figures of two layers before a dark back; effectiveness 0.6-0.85: common practice"

ABSORBERS: dict[str, Entry[Absorber]] = {
    entry.part.name: entry
    for entry in (
        Entry(Absorber("flat_black_steel_sheet", 0.95, 0.92, 0.92, 0.0007 * _STEEL), _PAINT, "0.7 mm"),
        Entry(
            Absorber(
                "flat_black_aluminium_sheet", 0.95, 0.92, 0.92, 0.0007 * _ALUMINIUM, material="aluminium"
            ),
            _PAINT,
            "0.7 mm",
        ),
        Entry(
            Absorber(
                "black_front_bare_back_aluminium_sheet",
                0.95,
                0.92,
                0.10,
                0.0007 * _ALUMINIUM,
                material="aluminium",
            ),
            _PAINT,
            "0.7 mm",
        ),
        Entry(
            Absorber(
                "selective_aluminium_sheet", 0.95, 0.05, 0.10, 0.0005 * _ALUMINIUM, material="aluminium"
            ),
            _COATING,
            "0.5 mm; stands far hotter than paint when the fan is off",
        ),
        Entry(
            Absorber("selective_paint_steel_sheet", 0.92, 0.35, 0.92, 0.0007 * _STEEL, material="steel"),
            _COATING,
            "0.7 mm; the emittance hangs on the thickness of the paint",
        ),
        Entry(
            Absorber(
                "perforated_steel_sheet",
                0.95,
                0.92,
                0.92,
                0.0007 * _STEEL,
                perforation=Perforation(0.00823, 0.0016, 0.0168),
            ),
            "1.6 mm holes, 16.8 mm apart: Kutscher 1994 (from memory); " + _PAINT,
            "0.7 mm",
        ),
        Entry(
            Absorber(
                "vented_aluminium_sheet",
                0.93,
                0.92,
                0.92,
                0.0005 * _ALUMINIUM,
                material="aluminium",
                perforation=Perforation(0.10, effectiveness=0.70, rated_flow=0.02),
            ),
            _SCREEN,
            "0.5 mm soffit sheet, painted flat black",
        ),
        Entry(
            Absorber(
                "aluminium_insect_screen",
                0.90,
                0.88,
                0.88,
                250.0,
                angular=False,
                material="aluminium",
                perforation=Perforation(0.50, effectiveness=0.80, rated_flow=0.02),
            ),
            _SCREEN,
            "two layers, painted black",
        ),
        Entry(
            Absorber(
                "coated_glass_insect_screen",
                0.90,
                0.90,
                0.90,
                250.0,
                angular=False,
                material="pvc",
                perforation=Perforation(0.50, effectiveness=0.80, rated_flow=0.02),
            ),
            _SCREEN,
            "two layers; the vinyl coat softens and smells when hot",
        ),
    )
}
