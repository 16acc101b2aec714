"""What one sheet of the cover does to sunlight, from whichever data it carries."""

import numpy as np

from simengine.collector.fresnel import FloatArray, PaneOptics, clear_pane, lit
from simengine.collector.spec import AngleTable, Pane, RatedOptics
from simengine.errors import InputError


def rated_pane(angles: FloatArray, rated: RatedOptics, shape: PaneOptics, normal: PaneOptics) -> PaneOptics:
    """Return the optics of a coated or tinted sheet from its rated normal figures.

    The transmittance follows the clear sheet's, scaled to the rated value. The reflectance runs from
    the rated value to 1 as the clear sheet's does; where the clear sheet reflects less than at normal
    incidence (one polarisation near the Brewster angle) the dip is scaled so that it never passes 0.

    Parameters
    ----------
    angles : incidence from the normal [deg], shape [n_angles]
    rated : figures at normal incidence [-]
    shape : clear sheet at the angles [-], shape [2, n_angles]
    normal : clear sheet at normal incidence [-], shape [2, 1]

    Returns
    -------
    shares by polarisation [-], shape [2, n_angles]

    Raises InputError where the rated figures are negative or sum to more than 1.
    Good for thin coatings and light tints; a dark tint darkens faster off the normal than this says.
    Source: common practice where only normal figures are known.

    >>> zero = np.array([0.0]); glass = clear_pane(zero, 1.526, 0.1)
    >>> float(rated_pane(zero, RatedOptics(0.69, 0.11, 0.12), glass, glass).transmittance.mean().round(4))
    0.69
    """
    _check_shares("rated pane", rated.transmittance, rated.reflectance_outside)
    _check_shares("rated pane", rated.transmittance, rated.reflectance_inside)
    clear_normal = normal.reflectance_outside
    climb = (shape.reflectance_outside - clear_normal) / (1.0 - clear_normal)

    def scaled(at_normal: float) -> FloatArray:
        dip = np.minimum(1.0 - at_normal, at_normal * (1.0 - clear_normal) / np.maximum(clear_normal, 1e-9))
        return at_normal + climb * np.where(climb < 0.0, dip, 1.0 - at_normal)

    outside, inside = scaled(rated.reflectance_outside), scaled(rated.reflectance_inside)
    transmittance = rated.transmittance * shape.transmittance / normal.transmittance
    # Near the Brewster angle the scaled figure of an almost clear sheet could pass what is not reflected.
    transmittance = np.minimum(transmittance, 1.0 - np.maximum(outside, inside))
    return PaneOptics(np.where(lit(angles), transmittance, 0.0), outside, inside)


def tabulated_pane(angles: FloatArray, table: AngleTable) -> PaneOptics:
    """Return the optics of a sheet that was measured (or computed) angle by angle.

    Parameters
    ----------
    angles : incidence from the normal [deg], shape [n_angles]
    table : rising angles from 0 [deg] with transmittance and reflectance [-]

    Returns
    -------
    shares [-], the same for both polarisations, shape [2, n_angles]

    Raises InputError where the table does not rise from 0 to at most 90 or holds impossible shares.
    Source: linear interpolation; 90 deg is taken as all reflected.

    >>> table = AngleTable((0.0, 60.0), (0.8, 0.7), (0.15, 0.22))
    >>> tabulated_pane(np.array([30.0, 75.0]), table).transmittance[0].round(3).tolist()
    [0.75, 0.35]
    """
    rising = all(low < high for low, high in zip(table.angles, table.angles[1:], strict=False))
    if not table.angles or table.angles[0] != 0.0 or not rising or table.angles[-1] > 90.0:
        raise InputError("angle table: angles that rise from 0 to at most 90 deg are accepted")
    if not len(table.angles) == len(table.transmittance) == len(table.reflectance):
        raise InputError("angle table: as many transmittances and reflectances as angles are accepted")
    for passed, thrown in zip(table.transmittance, table.reflectance, strict=True):
        _check_shares("angle table", passed, thrown)
    rows = zip(table.angles, table.transmittance, table.reflectance, strict=True)
    rows_to_grazing = [*(row for row in rows if row[0] < 90.0), (90.0, 0.0, 1.0)]
    at, passing, thrown_back = (np.array(column) for column in zip(*rows_to_grazing, strict=True))
    reached = lit(angles)
    transmittance = np.where(reached, np.interp(angles, at, passing), 0.0)
    reflectance = np.where(reached, np.interp(angles, at, thrown_back), 1.0)
    both = np.stack((reflectance, reflectance))
    return PaneOptics(np.stack((transmittance, transmittance)), both, both)


def pane_optics(pane: Pane, angles: FloatArray) -> PaneOptics:
    """Return the optics of a sheet by whichever data it carries: angle table, rating, or n and K.

    Parameters
    ----------
    pane : the sheet
    angles : incidence from the normal [deg], shape [n_angles]

    Returns
    -------
    shares by polarisation [-], shape [2, n_angles]

    >>> pane_optics(Pane("low-iron", 0.004, extinction=4.0), np.array([0.0])).transmittance.round(3)[0]
    array([0.902])
    """
    if pane.angle_table is not None:
        return tabulated_pane(angles, pane.angle_table)
    absorption = pane.extinction * pane.thickness
    clear = clear_pane(angles, pane.refractive_index, absorption)
    if pane.rated is None:
        return clear
    normal = clear_pane(np.zeros(1), pane.refractive_index, absorption)
    return rated_pane(angles, pane.rated, clear, normal)


def _check_shares(what: str, transmittance: float, reflectance: float) -> None:
    if transmittance < 0.0 or reflectance < 0.0 or transmittance + reflectance > 1.0 + 1e-9:
        raise InputError(
            f"{what}: transmittance {transmittance:g} and reflectance {reflectance:g} are shares of "
            "the same light; none below 0 and a sum of at most 1 are accepted"
        )
