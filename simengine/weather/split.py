"""Global, beam and diffuse: the third from the other two, or both from the global alone."""

import numpy as np

from simengine.weather.geometry import SunPath
from simengine.weather.record import Floats
from simengine.weather.series import Finding

LOWEST_COSINE = 0.05
"""Below it [-] (sun under 3 deg) beam isn't derived by division; the radiation is all diffuse."""


def erbs_diffuse_fraction(clearness: Floats) -> Floats:
    """Return the diffuse share of global radiation [-] for a clearness index [-].

    Hourly relation of Erbs, Klein and Duffie (1982), from memory; checked against pvlib in the tests.

    Examples
    --------
    >>> round(float(erbs_diffuse_fraction(np.array([0.5]))[0]), 3)
    0.659
    """
    k = clearness
    middle = 0.9511 - 0.1604 * k + 4.388 * k**2 - 16.638 * k**3 + 12.336 * k**4
    return np.where(k <= 0.22, 1.0 - 0.09 * k, np.where(k <= 0.8, middle, 0.165))


def complete_radiation(columns: dict[str, Floats], sun: SunPath) -> list[Finding]:
    """Fill in whole missing radiation columns, and single values where the other two are there.

    Parameters
    ----------
    columns : dict[str, Floats]
        Changed in place.
    sun : SunPath
        Of the same intervals.
    """
    size = sun.hour_angle.size
    given = [name for name in ("ghi", "dni", "dhi") if np.any(np.isfinite(columns.get(name, np.array([]))))]
    for name in ("ghi", "dni", "dhi"):
        if name not in given:
            columns[name] = np.full(size, np.nan)
    if len(given) < 2:
        return _from_global(columns, sun) if given == ["ghi"] else []
    return _from_two(columns, sun, given)


def _from_two(columns: dict[str, Floats], sun: SunPath, given: list[str]) -> list[Finding]:
    cosine, share = sun.sunlit()
    horizontal = np.where(share > 0.0, cosine, 0.0)
    ghi, dni, dhi = (columns[name] for name in ("ghi", "dni", "dhi"))
    high = horizontal > LOWEST_COSINE
    rebuilt = {
        "ghi": dhi + dni * horizontal,
        "dhi": np.maximum(ghi - dni * horizontal, 0.0),
        "dni": np.where(high, np.maximum(ghi - dhi, 0.0) / np.maximum(horizontal, LOWEST_COSINE), 0.0),
    }
    findings = []
    for name, values in rebuilt.items():
        rows = np.isnan(columns[name]) & np.isfinite(values)
        count = int(np.count_nonzero(rows))
        if not count:
            continue
        columns[name] = np.where(rows, values, columns[name])
        others = " and ".join(other for other in rebuilt if other != name)
        what = f"{count} missing values" if name in given else "not in the file,"
        findings.append(Finding("warning", f"{name}: {what} rebuilt from {others}"))
    return findings


def _from_global(columns: dict[str, Floats], sun: SunPath) -> list[Finding]:
    columns["dni"], columns["dhi"] = beam_and_diffuse(columns["ghi"], sun)
    return [
        Finding("warning", "dni, dhi: not in the file, split from ghi by the relation of Erbs et al. (1982)")
    ]


def beam_and_diffuse(ghi: Floats, sun: SunPath) -> tuple[Floats, Floats]:
    """Return beam at normal incidence and diffuse [W/m2] for the global [W/m2], after Erbs et al. (1982)."""
    cosine, share = sun.sunlit()
    outside = sun.normal * cosine * share
    clearness = ghi / np.maximum(outside, 1.0)
    fraction = erbs_diffuse_fraction(np.clip(clearness, 0.0, 1.0))
    dhi = np.where(cosine > LOWEST_COSINE, fraction, 1.0) * ghi
    beam = np.minimum((ghi - dhi) / np.maximum(cosine, LOWEST_COSINE), sun.normal * share)
    return beam, ghi - beam * cosine
