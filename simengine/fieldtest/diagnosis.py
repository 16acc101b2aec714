"""What is wrong with a log: each fault is named, with column and time, before a number is taken from it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from simengine.constants import SPECIFIC_HEAT_AIR, ZERO_CELSIUS
from simengine.fieldtest.log import Array, gaps
from simengine.fieldtest.prepare import Trial
from simengine.fieldtest.sections import runs
from simengine.fieldtest.sunlight import clear_sky, sky_path

SUNNY = 250.0
"""Sun on the plane from which a collector with a running fan must warm its air [W/m2]."""
FROZEN_TIME, FROZEN_ROWS = 1800.0, 15
"""A reading that stands still for as long and as many rows is frozen [s], [-]."""
MANY_GAPS = 0.05
HOT_ROOM = ZERO_CELSIUS + 50.0
"""No room's air is as warm [K]."""
COLD_ROOM = ZERO_CELSIUS - 3.0
"""Nor as cold, while a collector is tested [K]."""
SHIFTS = np.arange(-2.5, 2.51, 0.25)
"""Clock errors that are tried [h]."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault."""

    name: str
    grave: bool  # nothing can be taken from the log
    sentence: str


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
    if units_off and not outdoors_alone:
        # a wrong unit looks like swapped sensors and like no heat as well
        found = [fault for fault in found if fault.name not in ("swapped", "too_much_heat")]
    elif any(fault.name == "swapped" for fault in found):
        # outdoor air as hot as the outlet looks like another unit
        found = [fault for fault in found if fault.name not in UNITS]
    return sorted(found, key=lambda fault: not fault.grave)


def _running(trial: Trial) -> np.ndarray:
    flow = trial.log["flow"]
    most = float(np.nanmax(flow, initial=0.0))
    return np.asarray(np.isfinite(flow) & (flow > max(0.2 * most, 1.0e-3)))


def _sunny(trial: Trial) -> np.ndarray:
    return np.asarray(np.nan_to_num(trial.log["irradiance"]) > SUNNY)


def stagnation(trial: Trial) -> Iterator[Fault]:
    """Yield a fault where the fan never ran in sun."""
    both = _running(trial) & _sunny(trial)
    if int(both.sum()) * trial.log.step < 1200.0:
        yield Fault(
            "stagnation",
            True,
            "the fan ran for less than 20 min in sun: a temperature without flow says how hot the box gets, "
            "and nothing about the heat it gives; log the flow and both air temperatures with the fan "
            "running",
        )


def units(trial: Trial) -> Iterator[Fault]:
    """Yield a fault for a temperature that fits the other scale than the declared one."""
    for role in ("ambient", "inlet", "outlet", "supply", "absorber"):
        section = getattr(trial.given, role)
        if section is None or not trial.log.has(role):
            continue
        raw = trial.log.raw[role]
        if section.unit == "degC" and _fits(trial, role, (raw - 32.0) / 1.8 + ZERO_CELSIUS):
            yield _unit_fault("fahrenheit", role, section.column, "Fahrenheit", "degF", raw)
        if section.unit == "degF" and _fits(trial, role, raw + ZERO_CELSIUS):
            yield _unit_fault("celsius", role, section.column, "Celsius", "degC", raw)


def _unit_fault(name: str, role: str, column: str, scale: str, unit: str, raw: Array) -> Fault:
    middle = float(np.nanmedian(raw))
    return Fault(
        name,
        True,
        f'{role}: "{column}" with a median of {middle:.0f} looks like {scale}; if so, declare unit = '
        f'"{unit}"',
    )


def _fits(trial: Trial, role: str, other: Array) -> bool:
    """Whether a column is impossible as declared, and fits in the other unit."""
    log = trial.log
    declared = float(np.nanmedian(log[role]))
    changed = float(np.nanmedian(other))
    if role == "ambient":
        low, high = _season(trial)
        return not low <= declared <= high and low <= changed <= high
    if role == "inlet":
        return not COLD_ROOM <= declared <= HOT_ROOM and COLD_ROOM <= changed <= HOT_ROOM
    rows = _running(trial) & _sunny(trial) & np.isfinite(log["inlet"] + log[role])
    if rows.sum() < 10:
        return False
    inlet = log["inlet"][rows]
    if float(np.median(inlet)) > HOT_ROOM:  # the inlet is in the wrong unit itself
        inlet = (inlet - ZERO_CELSIUS - 32.0) / 1.8 + ZERO_CELSIUS
    rise, other_rise = log[role][rows] - inlet, other[rows] - inlet
    most = _most_rise(trial, rows)
    return bool(not -3.0 <= np.median(rise) <= most and -3.0 <= np.median(other_rise) <= most)


def _most_rise(trial: Trial, rows: np.ndarray) -> float:
    """Return the rise that all of the sun would make [K], with some room for the absorber."""
    sun = trial.log["irradiance"][rows] * trial.bench.resolved.parts.collector.aperture
    return float(np.median(sun / (trial.log["flow"][rows] * SPECIFIC_HEAT_AIR))) + 5.0


def _season(trial: Trial) -> tuple[float, float]:
    """Return the coldest and the warmest that the weather file has in these weeks, and 5 K beyond [K]."""
    data = trial.bench.resolved.series.data
    index: Any = data.index
    months = np.asarray(index.month)
    month = int(trial.log.times[0].astype("datetime64[M]").astype(np.int64)) % 12
    near = np.isin(months, [month + 1, (month + 1) % 12 + 1, (month - 1) % 12 + 1])
    air = data["temp_air"].to_numpy()[near] + ZERO_CELSIUS
    return float(air.min()) - 5.0, float(air.max()) + 5.0


def swapped(trial: Trial) -> Iterator[Fault]:
    """Yield a fault where two thermometers seem to have changed places."""
    log = trial.log
    rows = _running(trial) & _sunny(trial) & np.isfinite(log["inlet"] + log["outlet"] + log["ambient"])
    if rows.sum() < 10:
        return
    inlet, outlet, ambient = (log[name][rows] for name in ("inlet", "outlet", "ambient"))
    if float(np.median(outlet - inlet)) < -2.0 and float(np.median(ambient - inlet)) > 2.0:
        yield _swap_fault("ambient", "outlet", "it would be warmer outdoors than in the air that was heated")
        return
    if float(np.median(outlet - inlet)) < -2.0:
        yield _swap_fault("inlet", "outlet", "air leaves the collector colder than it enters, in sun")
        return
    most = _most_rise(trial, rows)
    low, high = _season(trial)
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


def clock(trial: Trial) -> Iterator[Fault]:
    """Yield a fault where the sun of the log comes earlier or later than the sky's."""
    if trial.given.irradiance is None:
        return
    read = np.nan_to_num(trial.log["irradiance"])
    if trial.given.irradiance.plane == "horizontal":
        read = np.nan_to_num(np.maximum(trial.log.raw["irradiance"], 0.0))
    if (read > 150.0).sum() * trial.log.step < 4.0 * 3600.0:
        return
    misses = np.array([_misfit(trial, read, float(hours)) for hours in SHIFTS])
    best = int(np.argmin(misses))
    shift, none = float(SHIFTS[best]), float(misses[np.argmin(np.abs(SHIFTS))])
    if abs(shift) >= 0.5 and misses[best] < 0.6 * none:
        way = "behind" if shift > 0.0 else "ahead"
        yield Fault(
            "clock",
            True,
            f"the sun on the plane fits the sky best with the clock {abs(shift):.2g} h {way} of the declared "
            "one: summer time, or a wrong utc_offset? set it right by clock_offset or utc_offset",
        )


def _misfit(trial: Trial, read: Array, hours: float) -> float:
    """Return how far the bright part of the readings is from a clear sky of a shifted clock [-]."""
    path = sky_path(trial.log, trial.site, trial.plane, 3600.0 * hours)
    if trial.given.irradiance is not None and trial.given.irradiance.plane == "horizontal":
        clear = np.maximum(910.0 * path.cosine - 30.0, 0.0)
    else:
        clear = clear_sky(path, trial.plane).total
    high = (clear > 100.0) & (read > 20.0)
    if high.sum() < 30:
        return np.inf
    ratio = read[high] / clear[high]
    level = float(np.quantile(ratio, 0.7))
    bright = ratio > 0.75 * level
    outside = float(np.sum(read[~high & (read > 20.0)])) / max(float(read.sum()), 1.0)
    return float(np.std(ratio[bright]) / level) + outside


def too_much_heat(trial: Trial) -> Iterator[Fault]:
    """Yield a fault where more heat comes out than sun goes in."""
    log = trial.log
    rows = _running(trial) & _sunny(trial) & np.isfinite(log["inlet"] + log["outlet"])
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
