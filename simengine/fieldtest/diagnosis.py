"""What is wrong with a log: each fault is named, with column and time, before a number is taken from it."""

from collections.abc import Callable, Iterator

import numpy as np

from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.fieldtest.fault_clock import clock
from simengine.fieldtest.fault_units import units
from simengine.fieldtest.faults import Fault, most_rise, running, season, sunny
from simengine.fieldtest.log import gaps
from simengine.fieldtest.prepare import Trial
from simengine.fieldtest.sections import runs

FROZEN_TIME, FROZEN_ROWS = 1800.0, 15
"""A reading that stands still for as long and as many rows is frozen [s], [-]."""


UNITS = ("fahrenheit", "celsius")


def diagnose(trial: Trial) -> list[Fault]:
    """Return every fault that is found, the grave ones first.

    Parameters
    ----------
    trial : the log with its sun and its collector
    """
    found = [fault for check in CHECKS.values() for fault in check(trial)]
    units_off = [fault for fault in found if fault.name in UNITS]
    outdoors_alone = all(fault.sentence.startswith("ambient") for fault in units_off)
    outlet_alone = all(fault.name == "celsius" and fault.sentence.startswith("outlet") for fault in units_off)
    if units_off and outlet_alone:
        # an outlet that is too cold in the declared unit may be in the other one, or it may be the inlet
        found = [fault for fault in found if fault.name != "too_much_heat"]
    elif units_off and not outdoors_alone:
        # a wrong unit looks like swapped sensors and like no heat as well
        found = [fault for fault in found if fault.name not in ("swapped", "too_much_heat")]
    elif any(fault.name == "swapped" for fault in found):
        # outdoor air as hot as the outlet looks like another unit
        found = [fault for fault in found if fault.name not in UNITS]
    return sorted(found, key=lambda fault: not fault.grave)


def stagnation(trial: Trial) -> Iterator[Fault]:
    """Yield a fault where the fan never ran in sun."""
    both = running(trial) & sunny(trial)
    if int(both.sum()) * trial.log.step < 1200.0:
        yield Fault(
            "stagnation",
            True,
            "the fan ran for less than 20 min in sun: a temperature without flow says how hot the box gets, "
            "and nothing about the heat it gives; log the flow and both air temperatures with the fan "
            "running",
        )


def swapped(trial: Trial) -> Iterator[Fault]:
    """Yield a fault where two thermometers seem to have changed places."""
    log = trial.log
    rows = running(trial) & sunny(trial) & np.isfinite(log["inlet"] + log["outlet"] + log["ambient"])
    if rows.sum() < 10:
        return
    inlet, outlet, ambient = (log[name][rows] for name in ("inlet", "outlet", "ambient"))
    if float(np.median(outlet - inlet)) < -2.0 and float(np.median(ambient - inlet)) > 2.0:
        yield _swap_fault("ambient", "outlet", "it would be warmer outdoors than in the air that was heated")
        return
    if float(np.median(outlet - inlet)) < -2.0:
        yield _swap_fault("inlet", "outlet", "air leaves the collector colder than it enters, in sun")
        return
    most = most_rise(trial, rows)
    low, high = season(trial)
    if float(np.median(outlet - inlet)) > most and float(np.median(outlet - ambient)) <= most:
        if low <= float(np.median(inlet)) <= high:
            yield _swap_fault("ambient", "inlet", "air warms by more than all of the sun could make it")
        return
    if log.has("supply"):
        drop = log["outlet"][rows] - log["supply"][rows]
        if float(np.nanmedian(drop)) < -1.0:
            yield _swap_fault("outlet", "supply", "air would warm up on its way through the duct")


def _swap_fault(first: str, second: str, why: str) -> Fault:
    return Fault("swapped", True, f"{first} and {second} look swapped: {why}")


def frozen(trial: Trial) -> Iterator[Fault]:
    """Yield a fault for a sensor that stands still while others move."""
    log = trial.log
    least = max(FROZEN_ROWS, round(FROZEN_TIME / log.step))
    for role, values in log.raw.items():
        if role == "wind":
            continue
        still = np.zeros(len(log), dtype=bool)
        still[1:] = (np.diff(values) == 0.0) & np.isfinite(values[1:])
        if role == "irradiance":
            still &= values > 20.0
        moves = _moves(trial, role)
        for first, end in runs(still):
            if end - first >= least and moves[first:end].any():
                begins, ends = (str(log.times[at])[:16].replace("T", " ") for at in (first - 1, end - 1))
                yield Fault(
                    "frozen",
                    True,
                    f"{role} stands still at {values[first]:g} from {begins} to {ends}, while other readings "
                    "move: a frozen sensor or a logger that repeats itself",
                )
                break


def _moves(trial: Trial, role: str) -> np.ndarray:
    """Return in which rows another thermometer, or the sun, differs from the row before."""
    others = [values for name, values in trial.log.raw.items() if name not in (role, "wind")]
    moving = np.zeros(len(trial.log), dtype=bool)
    for values in others:
        moving[1:] |= np.nan_to_num(np.abs(np.diff(values))) > 0.0
    return moving


def too_much_heat(trial: Trial) -> Iterator[Fault]:
    """Yield a fault where more heat comes out than sun goes in."""
    log = trial.log
    rows = running(trial) & sunny(trial) & np.isfinite(log["inlet"] + log["outlet"])
    if rows.sum() < 10 or trial.given.irradiance is None:
        return
    aperture = trial.bench.resolved.parts.collector.aperture
    gain = log["flow"][rows] * SPECIFIC_HEAT_AIR * (log["outlet"][rows] - log["inlet"][rows])
    share = float(np.median(gain / (log["irradiance"][rows] * aperture)))
    if share > 1.0:
        yield Fault(
            "too_much_heat",
            True,
            f"the air takes up {share:.2f} times the sun on the glass: flow, sun meter, a thermometer "
            f"that sees "
            "the sun, or the aperture is wrong",
        )


def holes(trial: Trial) -> Iterator[Fault]:
    """Yield a note on rows that lack a reading."""
    needed = [n for n in ("ambient", "inlet", "outlet", "flow", "irradiance") if n in trial.log.columns]
    share, longest = gaps(trial.log, tuple(needed))
    if share > 0.0:
        yield Fault(
            "gaps",
            share > 0.9,
            f"{100.0 * share:.1f} % of the rows lack a reading, the longest hole is "
            f"{longest / 60.0:.0f} min; "
            "the model bridges 10 min, steady periods bridge nothing",
        )


def no_meter(trial: Trial) -> Iterator[Fault]:
    """Yield a note where the sun was not measured."""
    if trial.given.irradiance is None:
        yield Fault(
            "no_sun_meter",
            False,
            "no sun was measured: a clear sky is taken instead, with 15 % of uncertainty, and clouds "
            "count as a "
            "poor collector. Weak evidence: lend a sun meter",
        )


CHECKS: dict[str, Callable[[Trial], Iterator[Fault]]] = {
    check.__name__: check
    for check in (stagnation, units, swapped, frozen, clock, too_much_heat, holes, no_meter)
}
"""Every check by name."""
