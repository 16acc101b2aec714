"""A test from log to answer: diagnosis, periods, line, regression, model and fit, in one object."""

import datetime
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.errors import InputError
from simengine.fieldtest.calibrate import Fit, calibrate
from simengine.fieldtest.diagnosis import diagnose
from simengine.fieldtest.dynamic import QuasiDynamic, quasi_dynamic, time_constant
from simengine.fieldtest.efficiency_line import (
    AngleModifier,
    EfficiencyLine,
    angle_modifier,
    efficiency_line,
)
from simengine.fieldtest.faults import Fault
from simengine.fieldtest.log import TestLog
from simengine.fieldtest.model_answer import Comparison
from simengine.fieldtest.periods import relaxed, steady_periods
from simengine.fieldtest.prepare import Trial, section_of, trial
from simengine.fieldtest.reader import read_log
from simengine.fieldtest.reduction import Reduced, reduce_periods
from simengine.fieldtest.sensors import Sensors
from simengine.fieldtest.tightness import Tightness, tightness
from simengine.simulate.resolve import Resolved, resolve

if TYPE_CHECKING:
    from simengine.scenario import Scenario


@dataclass(frozen=True)
class Hour:
    """Heat of one hour, measured and by the model."""

    start: str
    measured: float  # [Wh]
    model: float  # [Wh] with the scenario's figures
    fitted: float  # [Wh] with the fitted ones


@dataclass(frozen=True)
class FieldTestResult:
    """What a test tells."""

    scenario: "Scenario"
    log: TestLog
    faults: list[Fault]
    relaxed: list[str]
    periods: list[Reduced]
    line: EfficiencyLine | None
    modifier: AngleModifier | None
    time_constant: tuple[float, int] | None  # [s], from so many steps of the sun
    regression: QuasiDynamic | None
    tightness: Tightness | None
    fit: Fit
    hours: list[Hour]

    @property
    def compared(self) -> int:
        """How many periods the scenario is fitted to: the steady ones, or else blocks of 5 min."""
        return len(self.periods) or self.fit.blocks

    def changes(self) -> dict[str, Any]:
        """Return the [fitted] section that the test gives."""
        section: dict[str, Any] = {
            "test_date": datetime.date.fromisoformat(self.log.date),
            "periods": self.compared,
        }
        for name in self.fit.told:
            value = self.fit.values[name]
            section[name] = round(min(max(value, 0.0), 0.5) if name == "leakage" else value, 4)
        return {"fitted": section}

    def fitted_scenario(self) -> "Scenario":
        """Return the scenario with what the test found."""
        return self.scenario.changed(self.changes())


def field_test(log: Path | str, scenario: "Scenario") -> FieldTestResult:
    """Return what a logged test tells about a built collector.

    Parameters
    ----------
    log : a comma-separated file with one line of titles
    scenario : the checked scenario, with its [field_test]

    Returns
    -------
    FieldTestResult

    Raises
    ------
    InputError
        If the log cannot be read, or a fault was found that spoils every number; each has its line.
    """
    resolved = _plain(scenario)
    given = section_of(resolved.scenario)
    read = read_log(log, given, resolved.pressure, resolved.series.utc_offset)
    return tell(resolved, read, scenario)


def _plain(scenario: "Scenario") -> Resolved:
    """Return the scenario as it was before any earlier fit."""
    return resolve(scenario if scenario.inputs.fitted is None else scenario.changed({"fitted": None}))


def tell(resolved: Resolved, log: TestLog, scenario: "Scenario") -> FieldTestResult:
    """Return what a log in SI tells.

    Parameters
    ----------
    resolved : the scenario without an earlier fit
    log : what was measured, in SI
    scenario : the same as it was given
    """
    test = trial(resolved, log)
    faults = diagnose(test)
    grave = [fault for fault in faults if fault.grave]
    if grave:
        raise InputError(*(f"{log.name}: {fault.sentence}" for fault in grave))
    sensors = Sensors.of(test.given)
    aperture = resolved.parts.collector.aperture
    incidence = test.path.incidence
    periods = steady_periods(test.log, test.given.steady)
    reduced = reduce_periods(test.log, periods, sensors, aperture, incidence)
    line = efficiency_line(reduced)
    compared = test.comparison()
    fit = calibrate(compared, test.given)
    return FieldTestResult(
        scenario=scenario,
        log=test.log,
        faults=faults,
        relaxed=relaxed(test.given.steady),
        periods=reduced,
        line=line,
        modifier=angle_modifier(reduced, line),
        time_constant=time_constant(test.log),
        regression=quasi_dynamic(test.log, sensors, aperture, incidence),
        tightness=_tightness(test, sensors),
        fit=fit,
        hours=_hours(test, compared, fit),
    )


def _tightness(test: Trial, sensors: Sensors) -> Tightness | None:
    second = test.given.second_flow
    if second is None or not test.log.has("second_flow"):
        return None
    flow = test.log["flow"]
    running = (flow > 0.2 * np.nanmax(flow)).astype(np.float64)
    return tightness(test.log, sensors, (test.given.flow.place, second.place), test.bench.pulls, running)


def _hours(test: Trial, compared: Comparison, fit: Fit) -> list[Hour]:
    """Return the heat of every clock hour in which the fan ran, over the rows that were read."""
    log = test.log
    sums: dict[str, list[float]] = {}
    for section in compared.sections:
        outlets = (
            log["outlet"][section.rows],
            compared.follow(section, {}).outlet,
            compared.follow(section, fit.values).outlet
            + fit.values.get("outlet", 0.0),  # as it would be read
        )
        carried = section.course.flow * SPECIFIC_HEAT_AIR * section.course.step / 3600.0
        usable = np.isfinite(section.read["outlet"])
        stamps = log.times[section.rows].astype("datetime64[h]")
        for hour in np.unique(stamps[usable]):
            rows = usable & (stamps == hour)
            heat = [float((carried * (outlet - section.course.inlet))[rows].sum()) for outlet in outlets]
            entry = sums.setdefault(str(hour).replace("T", " ") + ":00", [0.0, 0.0, 0.0])
            for place, value in enumerate(heat):
                entry[place] += value
    return [Hour(start, *heat) for start, heat in sums.items()]
