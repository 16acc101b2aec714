"""Temperatures that fit another unit than the declared one."""

from collections.abc import Iterator

import numpy as np

from simengine.constants import ZERO_CELSIUS
from simengine.fieldtest.faults import Fault, most_rise, running, season, sunny
from simengine.fieldtest.log import Array
from simengine.fieldtest.prepare import Trial

HOT_ROOM = ZERO_CELSIUS + 50.0
"""No room's air is as warm [K]."""
COLD_ROOM = ZERO_CELSIUS - 3.0
"""Nor as cold, while a collector is tested [K]."""


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
        low, high = season(trial)
        return not low <= declared <= high and low <= changed <= high
    if role == "inlet":
        return not COLD_ROOM <= declared <= HOT_ROOM and COLD_ROOM <= changed <= HOT_ROOM
    rows = running(trial) & sunny(trial) & np.isfinite(log["inlet"] + log[role])
    if rows.sum() < 10:
        return False
    inlet = log["inlet"][rows]
    if float(np.median(inlet)) > HOT_ROOM:  # the inlet is in the wrong unit itself
        inlet = (inlet - ZERO_CELSIUS - 32.0) / 1.8 + ZERO_CELSIUS
    rise, other_rise = log[role][rows] - inlet, other[rows] - inlet
    most = most_rise(trial, rows)
    return bool(not -3.0 <= np.median(rise) <= most and -3.0 <= np.median(other_rise) <= most)
