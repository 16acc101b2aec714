"""Runs a fit over many logs and counts how often its bands hold."""

from typing import NamedTuple

import numpy as np

from simengine.fieldtest.calibrate import calibrate
from simengine.fieldtest.prepare import trial
from simengine.fieldtest.reader import parse_log
from simengine.simulate.measured import Bench, Factors
from tests.fieldtest.bench import OFFSET
from tests.fieldtest.made_logs import Made


class Figures(NamedTuple):
    """How one parameter fared."""

    count: int
    coverage: float  # [-] of the k = 2 bands
    bias: float  # mean of estimate less truth
    scatter: float  # standard deviation of estimate less truth
    half_width: float  # mean of the k = 2 half-widths


def errors_of(bench: Bench, logs: list[Made]) -> dict[str, Figures]:
    given = bench.resolved.scenario.inputs.field_test
    errors: dict[str, list[tuple[float, float]]] = {name: [] for name in Factors._fields}
    for made in logs:
        log = parse_log("made.csv", made.text, given, bench.resolved.pressure, OFFSET)
        test = trial(bench.resolved, log)
        fit = calibrate(test.comparison(), given)
        for name in fit.told:
            errors[name].append((fit.values[name] - getattr(made.true, name), 2.0 * fit.deviation(name)))
    return {name: _figures(np.array(pairs)) for name, pairs in errors.items()}


def _figures(pairs: np.ndarray) -> Figures:
    away, half = pairs[:, 0], pairs[:, 1]
    return Figures(
        len(pairs),
        float(np.mean(np.abs(away) <= half)),
        float(away.mean()),
        float(away.std(ddof=1)),
        float(half.mean()),
    )
