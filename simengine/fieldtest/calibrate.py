"""The few figures of a scenario that a log can tell, by bounded least squares with their covariance."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.optimize import least_squares

from simengine.errors import InputError
from simengine.fieldtest.log import Array
from simengine.fieldtest.model_answer import Comparison, measured_leak
from simengine.fieldtest.scatter import found_covariance, stacked, stated_covariance, whitening
from simengine.fieldtest.unknowns import Unknown, unknowns
from simengine.scenario.schema.field_test import FieldTest

TOLD = 0.75
"""A factor whose band (k = 2) is wider than this share of itself is not told by the log [-]."""
TOLD_LEAK = 0.25
"""The same for the share of leaking air, absolute [-]."""
LEAST_BLOCKS = 12
STEP = 0.2
"""Step of the numerical slopes, in what an unknown is known by beforehand, or in 0.05 [-]."""


@dataclass(frozen=True)
class Fit:
    """What was found."""

    unknowns: list[Unknown]
    values: dict[str, float]
    covariance: Array  # [unknown, unknown]
    told: list[str]  # factors that the log tells
    held: dict[str, str]  # factors that it does not, with the reason
    scatter: dict[str, float]  # of block means by signal [K]
    blocks: int
    left_over: dict[str, list[Array]]  # [K] readings less fitted model, by signal and section

    def deviation(self, name: str) -> float:
        """Return the standard uncertainty of an unknown [of its own unit]."""
        at = [u.name for u in self.unknowns].index(name)
        return float(np.sqrt(self.covariance[at, at]))

    def correlation(self, first: str, second: str) -> float:
        """Return the correlation of two unknowns [-]."""
        names = [u.name for u in self.unknowns]
        a, b = names.index(first), names.index(second)
        return float(self.covariance[a, b] / np.sqrt(self.covariance[a, a] * self.covariance[b, b]))


def calibrate(compared: Comparison, given: FieldTest) -> Fit:
    """Return the fit of a scenario to a log.

    Parameters
    ----------
    compared : log and collector
    given : the scenario's [field_test]

    Returns
    -------
    Fit

    Raises
    ------
    InputError if too little of the log can be compared.

    Source: least squares on block means of the readings. What sensors, wind and sky may be off by, and the
    figures that the log does not tell, are unknowns as well, each tied to its stated value by its standard
    uncertainty (an estimate with normal priors; JCGM 102 in linear form, from memory). The scatter of the
    blocks is what the fit leaves, between signals and from block to block; see `scatter`.
    """
    held: dict[str, str] = {}
    while True:
        asked = unknowns(compared.log, given, compared.bench, frozenset(held))
        fit = _fit(compared, given, asked, held)
        untold = _least_told(fit)
        if untold is None:
            return fit
        held[untold] = _why(fit, untold)


def _fit(compared: Comparison, given: FieldTest, asked: list[Unknown], held: dict[str, str]) -> Fit:
    names = [u.name for u in asked]
    blocks = stacked(compared.left_over({})).shape[0] if compared.sections else 0
    if blocks < LEAST_BLOCKS:
        raise InputError(
            f"{compared.log.name}: only {blocks} blocks of 5 min with the fan running can be "
            f"compared with the model; accepted: {LEAST_BLOCKS} or more"
        )
    noise = {name: getattr(given, name).noise for name in compared.sections[0].read}
    covariance = stated_covariance(noise, given.inlet.noise, compared.size)
    point = np.array([u.start for u in asked])
    for _ in range(2):  # with the scatter as stated, then as found
        residual = _residuals(compared, given, asked, whitening(covariance))
        point = _least(residual, point, asked)
        values = dict(zip(names, point.tolist(), strict=True))
        left = compared.left_over(values)
        covariance = found_covariance(left, len(asked))
    jacobian = _slopes(residual, point, asked)
    scatter = dict(zip(left, np.sqrt(np.diag(covariance)).tolist(), strict=True))
    told = [u.name for u in asked if u.group == "factor" and u.deviation is None]
    reasons = {
        u.name: held.get(u.name, NOT_IN_LOG[u.name])
        for u in asked
        if u.group == "factor" and u.deviation is not None
    }
    return Fit(
        asked, values, np.asarray(np.linalg.pinv(jacobian.T @ jacobian)), told, reasons, scatter, blocks, left
    )


def _least(residual: Callable[[Array], Array], start: Array, asked: list[Unknown]) -> Array:
    """Return the point of least squares within the bounds."""
    low, high = np.array([u.low for u in asked]), np.array([u.high for u in asked])

    def jacobian(point: Array) -> Array:
        return _slopes(residual, point, asked, central=False)

    found = least_squares(
        residual,
        np.clip(start, low + 1.0e-9, high - 1.0e-9),
        bounds=(low, high),
        x_scale=[u.deviation or 0.1 for u in asked],
        jac=jacobian,
        xtol=1.0e-5,
        ftol=1.0e-5,
        gtol=1.0e-5,
    )
    return np.asarray(found.x)


NOT_IN_LOG = {
    "cover_transmittance": "",
    "back_loss": "the log does not tell it",
    "effectiveness": "one flow and no absorber thermometer: it acts on the outlet as the cover does",
    "leakage": "there is one flow meter: two, at both ends, tell it",
    "duct_loss": "there is no thermometer at the end of the supply duct, or the duct runs inside",
}
"""Why a factor cannot be asked of a log without the column that tells it."""


def _residuals(
    compared: Comparison, given: FieldTest, asked: list[Unknown], whiten: Array
) -> Callable[[Array], Array]:
    leak = measured_leak(compared.log, given.flow.place, compared.bench.pulls)

    def residual(point: Array) -> Array:
        values = dict(zip((u.name for u in asked), point.tolist(), strict=True))
        rows = [(stacked(compared.left_over(values)) @ whiten.T).ravel()]
        if leak is not None:
            ratio, small, large = leak
            noise = max(float(ratio.std()) / np.sqrt(ratio.size), 1.0e-4)
            kept = float(ratio.mean()) * values.get(small, 1.0) / values.get(large, 1.0)
            rows.append(np.array([(1.0 - kept - values["leakage"]) / noise]))
        tied = [(values[u.name] - u.start) / u.deviation for u in asked if u.deviation is not None]
        return np.concatenate([*rows, np.array(tied)])

    return residual


def _slopes(
    residual: Callable[[Array], Array], at: Array, asked: list[Unknown], central: bool = True
) -> Array:
    """Return the Jacobian by differences; one-sided ones serve on the way."""
    columns = []
    here = at if central else residual(at)
    for number, unknown in enumerate(asked):
        step = STEP * (unknown.deviation or 0.05)
        up, down = at.copy(), at.copy()
        up[number] += step
        down[number] -= step
        if central:
            columns.append((residual(up) - residual(down)) / (2.0 * step))
        else:
            columns.append((residual(up) - here) / step)
    return np.stack(columns, axis=1)


def _least_told(fit: Fit) -> str | None:
    """Return the factor that the log tells least, None where it tells all that it is asked."""
    worst, name = 1.0, None
    for told in fit.told:
        if told == "cover_transmittance":
            continue
        limit = TOLD_LEAK if told == "leakage" else TOLD * abs(fit.values[told])
        ratio = 2.0 * fit.deviation(told) / limit
        if ratio > worst:
            worst, name = ratio, told
    return name


def _why(fit: Fit, name: str) -> str:
    band = 2.0 * fit.deviation(name)
    twins = [other for other in fit.told if other != name and abs(fit.correlation(name, other)) > 0.8]
    reason = f"its band would be ±{band:.2f} (k = 2)"
    return f"{reason}; it cannot be told from {' and '.join(twins)}" if twins else reason
