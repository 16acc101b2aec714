"""Layers of the back and the skins that line it."""

from simengine.collector.data.entry import Entry, Lining
from simengine.collector.spec import Layer

_ISO = "EN ISO 10456:2007 (from memory)"
_COMMON = "common practice"
_HEAT = "specific heat EN ISO 10456:2007 (from memory), the rest common practice"
_R6 = "R-6 per inch aged, common practice; specific heat EN ISO 10456:2007 (from memory)"

LAYERS: dict[str, Entry[Layer]] = {
    entry.part.name: entry
    for entry in (
        Entry(Layer("polyiso_foil_faced", 0.025, 0.024, 32.0, 1400.0, "polyiso_faced"), _R6),
        Entry(Layer("mineral_wool_board", 0.050, 0.036, 60.0, 1030.0, "mineral_wool"), _HEAT),
        Entry(Layer("fibrous_glass_board", 0.025, 0.034, 48.0, 1030.0, "fibrous_glass"), _HEAT),
        Entry(
            Layer("expanded_polystyrene", 0.050, 0.037, 18.0, 1450.0, "polystyrene"),
            _HEAT,
            "never within reach of stagnation heat",
        ),
        Entry(
            Layer("extruded_polystyrene", 0.050, 0.034, 35.0, 1450.0, "polystyrene"),
            _HEAT,
            "never within reach of stagnation heat",
        ),
        Entry(Layer("softwood_board", 0.018, 0.13, 500.0, 1600.0, "wood"), _ISO),
        Entry(Layer("plywood", 0.012, 0.13, 500.0, 1600.0, "wood"), _ISO),
        Entry(Layer("oriented_strand_board", 0.012, 0.13, 650.0, 1700.0, "wood"), _ISO),
        Entry(Layer("wood_fibre_board", 0.040, 0.045, 160.0, 2000.0, "wood"), _COMMON),
        Entry(Layer("gypsum_board", 0.0125, 0.21, 700.0, 1000.0, "gypsum_board"), _ISO),
        Entry(Layer("fibre_cement_board", 0.008, 0.35, 1300.0, 1000.0, "fibre_cement"), _COMMON),
    )
}

LININGS: dict[str, Entry[Lining]] = {
    entry.part.name: entry
    for entry in (
        Entry(Lining("bare_aluminium_foil", 0.05, 200.0, "aluminium"), _COMMON, "while it stays clean"),
        Entry(Lining("dull_aluminium_foil", 0.15, 200.0, "aluminium"), _COMMON, "dusty or weathered"),
        Entry(Lining("black_paint_on_foil", 0.90, 500.0, "paint"), _COMMON),
        Entry(Lining("black_paint_on_wood", 0.90, 4000.0, "wood"), _COMMON, "about 5 mm of wood follows"),
        Entry(Lining("bare_wood", 0.90, 4000.0, "wood"), _COMMON, "about 5 mm of wood follows"),
        Entry(Lining("galvanised_steel_sheet", 0.25, 1800.0, "steel"), _COMMON, "0.5 mm, dull zinc"),
        Entry(Lining("painted_steel_sheet", 0.90, 1800.0, "steel"), _COMMON, "0.5 mm"),
        Entry(Lining("glass_fleece", 0.90, 300.0, "mineral_wool"), _COMMON, "black facing of wool boards"),
    )
}
