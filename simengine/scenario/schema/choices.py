"""The names that a scenario may choose from, in one place; tests hold them to the other rooms' registries."""

from collections.abc import Mapping
from typing import Any, Final

ARRANGEMENTS: Final = ("behind", "in_front", "both_sides", "two_pass", "through", "tubes")
"""How air passes the absorber."""

BARE_ARRANGEMENTS: Final = ("behind", "tubes")
"""Those that need no cover, since no air runs in front of the absorber."""

FALL_OFFS: Final = ("flat_black_seventh_order", "flat_black_fourth_order", "same_at_all_angles")
"""How an absorber takes up less at slanting light."""

MOUNTINGS: Final = ("open", "wall", "roof")
"""What the back of the collector faces."""

SENSOR_PLACES: Final = ("absorber", "box_air", "outlet_air")
"""Where the collector's sensor sits."""

SURROUNDINGS: Final = ("outside", "unheated", "inside")
"""Where a duct runs."""

INTAKES: Final = ("room", "second_space", "outdoors")
"""Where the collector's air is taken from, in the order of the march's numbers."""

SUPPLIES: Final = ("room", "second_space")
"""Where it goes."""

LIES: Final = ("below", "beside")
"""Where a second space lies."""

INFILTRATIONS: Final = ("mean", "wind_and_stack")
"""How air comes in through leaks: at the same rate all year, or as wind and cold drive it."""

TERRAINS: Final = ("city", "suburban", "open", "flat")
"""Roughness of the neighbourhood."""

TRANSPOSITIONS: Final = ("perez", "hay_davies", "isotropic")
"""Models of the sky's diffuse light."""

CLEAR_SKIES: Final = ("berdahl_martin", "swinbank", "whillier", "clark_allen")
"""Relations for the temperature of a clear sky."""

WIND_RELATIONS: Final = ("watmuff", "mcadams", "mitchell", "iso_6946")
"""Relations for the wind coefficient."""

GASES: Final = ("air", "argon", "krypton")
"""Fills of a sealed gap."""

LAYOUTS: Final = ("triangular", "square")
"""Patterns of holes."""

SUN_PLANES: Final = ("collector", "horizontal")
"""How a sun meter lies."""

METER_PLACES: Final = ("inlet", "outlet")
"""Ends of the collector at which a flow is measured."""

LOG_LABELS: Final = ("instant", "start", "end")
"""What the time of a log's row stands for."""

FLOW_KINDS: Final = ("volume_flow", "mass_flow", "speed", "pressure")
"""Kinds of readings from which a flow is worked out."""

MASSES: Final[dict[str, tuple[float, float]]] = {
    "very_light": (80_000.0, 2.5),
    "light": (110_000.0, 2.5),
    "medium": (165_000.0, 2.5),
    "heavy": (260_000.0, 3.0),
    "very_heavy": (370_000.0, 3.5),
}
"""Heat capacity C_m/A_f [J/m2K] and mass area A_m/A_f [-] (ISO 13790:2008, table 12, from memory)."""


def pane_keys() -> Mapping[str, Any]:
    """Return the table of panes."""
    from simengine.collector.constructions import PANES

    return PANES


def absorber_keys() -> Mapping[str, Any]:
    """Return the table of absorbers."""
    from simengine.collector.constructions import ABSORBERS

    return ABSORBERS


def layer_keys() -> Mapping[str, Any]:
    """Return the table of layers."""
    from simengine.collector.constructions import LAYERS

    return LAYERS


def lining_keys() -> Mapping[str, Any]:
    """Return the table of linings."""
    from simengine.collector.constructions import LININGS

    return LININGS


def material_keys() -> Mapping[str, Any]:
    """Return the table of materials with a temperature limit."""
    from simengine.collector.limits import LIMITS

    return LIMITS


def fuel_keys() -> Mapping[str, Any]:
    """Return the table of fuels."""
    from simengine.economics.fuels import FUELS

    return FUELS


def kind_of_log_unit(unit: str) -> str:
    """Return the kind of reading that a flow column in a unit holds."""
    from simengine.units import KINDS

    return next(kind for kind in FLOW_KINDS if KINDS[kind].find(unit) is not None)
