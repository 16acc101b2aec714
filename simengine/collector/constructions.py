"""Generic parts by key: panes, absorbers, layers and linings with typical figures."""

from collections.abc import Mapping
from dataclasses import replace

from simengine.collector.data.absorbers import ABSORBERS
from simengine.collector.data.entry import Entry, Lining, Part
from simengine.collector.data.layers import LAYERS, LININGS
from simengine.collector.data.panes import PANES
from simengine.collector.spec import Absorber, Layer, Pane
from simengine.errors import InputError, RangeError

__all__ = [
    "ABSORBERS",
    "LAYERS",
    "LININGS",
    "PANES",
    "Entry",
    "Lining",
    "absorber",
    "layer",
    "lining",
    "pane",
]


def pane(key: str, thickness: float | None = None) -> Pane:
    """Return a typical pane.

    Parameters
    ----------
    key : name in `PANES`
    thickness : another thickness [m]; only plain sheets take one, since a rating holds for its own

    Returns
    -------
    the pane

    Raises InputError for an unknown key or a thickness where none is taken, RangeError where it is not
    above 0.

    >>> pane("clear_float_4mm").thickness
    0.004
    """
    found = _find(PANES, "pane", key)
    if thickness is None:
        return found
    if found.rated is not None or found.angle_table is not None:
        raise InputError(f"pane {key}: its figures hold for its own thickness; leave the thickness out")
    return replace(found, thickness=_positive(f"pane {key}", thickness))


def absorber(key: str) -> Absorber:
    """Return a typical absorber.

    Parameters
    ----------
    key : name in `ABSORBERS`

    Returns
    -------
    the absorber

    Raises InputError for an unknown key.

    >>> round(absorber("flat_black_aluminium_sheet").heat_capacity)  # 0.7 mm of 2700 kg/m3, 900 J/kgK
    1701
    """
    return _find(ABSORBERS, "absorber", key)


def layer(key: str, thickness: float | None = None) -> Layer:
    """Return a typical layer of the back.

    Parameters
    ----------
    key : name in `LAYERS`
    thickness : [m]; None takes the usual one

    Returns
    -------
    the layer

    Raises InputError for an unknown key, RangeError where the thickness is not above 0.

    >>> board = layer("polyiso_foil_faced", 0.0254)
    >>> round(board.thickness / board.conductivity, 2)  # R-6: 1.06 m2K/W
    1.06
    """
    found = _find(LAYERS, "layer", key)
    return found if thickness is None else replace(found, thickness=_positive(f"layer {key}", thickness))


def lining(key: str) -> Lining:
    """Return a typical inner face of the back.

    Parameters
    ----------
    key : name in `LININGS`

    Returns
    -------
    the lining

    Raises InputError for an unknown key.

    >>> lining("bare_aluminium_foil").emittance
    0.05
    """
    return _find(LININGS, "lining", key)


def _find(table: Mapping[str, Entry[Part]], what: str, key: str) -> Part:
    if key not in table:
        raise InputError(f"{what}: {key[:80]!r} is not known; accepted: {', '.join(table)}")
    return table[key].part


def _positive(what: str, thickness: float) -> float:
    if not thickness > 0.0:
        raise RangeError(f"{what}: thickness {thickness:g} m cannot be; above 0 is accepted")
    return thickness
