"""When the fan may run, and how fast: season, schedule, and a PV module that drives it."""

from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from simengine import sun
from simengine.control.spec import ControlRule, Module
from simengine.errors import InputError
from simengine.simulate.forcing import Place
from simengine.simulate.resolve import Resolved
from simengine.simulate.shade import shade

if TYPE_CHECKING:
    from simengine.weather import WeatherSeries

Array = NDArray[np.float64]

CELL_EXCESS = 25.0 / 800.0
"""Cells above outdoor air per sun on the module [K m2/W]: 25 K at 800 W/m2 (common practice)."""
CURRENT_COEFFICIENT = 0.0005
"""Rise of the short-circuit current of silicon [1/K] (common practice)."""
VOLTAGE_COEFFICIENT = -0.0032
"""Fall of its open-circuit voltage [1/K] (common practice)."""
HALVINGS = 40
DARK = 1.0
"""Less sun than this on the module gives no current worth counting [W/m2]."""


def drive(rule: ControlRule, here: Place, resolved: Resolved, lanes: int) -> Array:
    """Return the factor on the fan's speed [interval, lane], 0 where it may not run.

    Parameters
    ----------
    rule : months, hours of the day and module
    here : sun and sky of the place
    resolved : the scenario; its collector's plane is the module's where that has none
    lanes : number of houses

    Returns
    -------
    array, C-contiguous
    """
    parts = resolved.parts
    box = (parts.collector.tilt, parts.collector.azimuth, parts.collector.width, parts.collector.length)
    looks = (rule.module, parts.site, parts.run.sky, box) if rule.module is not None else None
    hangs_on = ("drive", rule.months, rule.hours, lanes, looks)
    return here.kept.once(hangs_on, lambda: _drive(rule, here, resolved, lanes))  # type: ignore[no-any-return]


def _drive(rule: ControlRule, here: Place, resolved: Resolved, lanes: int) -> Array:
    factor = allowed(rule, here.series)
    if rule.module is not None:
        factor *= module_speed(rule.module, _on_module(rule.module, here, resolved), here.ambient)
    return np.ascontiguousarray(np.repeat(factor[:, None], lanes, axis=1))


def allowed(rule: ControlRule, series: "WeatherSeries") -> Array:
    """Return 1 in the intervals in which season and schedule let the fan run, else 0 [interval].

    An interval counts as the moment at which it begins, in local standard time. A window that ends
    before it begins reaches past midnight.
    """
    index: Any = series.data.index
    free = np.isin(np.asarray(index.month), rule.months)
    if rule.hours:
        hour = np.asarray(index.hour + index.minute / 60.0)
        within = [
            (hour >= begin) & (hour < end) if begin < end else (hour >= begin) | (hour < end)
            for begin, end in rule.hours
        ]
        free &= np.logical_or.reduce(within)
    return free.astype(np.float64)


def module_speed(module: Module, irradiance: Array, ambient: Array) -> Array:
    """Return how fast a module turns its fan [interval], as a share of full speed, at most 1.

    Parameters
    ----------
    module : label of the module, and voltage of the fan at full speed
    irradiance : on the module [W/m2]
    ambient : outdoor air [K]

    Returns
    -------
    array; 0 where the short-circuit current cannot start the fan

    Source: single-diode curve after De Soto et al. (2006) through pvlib, met with the fan's own line
    I = I_full n^2 at V = V_full n, which makes its power n^3 (fan laws; common practice).
    """
    import pvlib

    rise = CURRENT_COEFFICIENT * module.short_circuit_current
    fitted = _fitted(module, rise)
    lit = np.maximum(irradiance, DARK)
    cell = ambient - 273.15 + CELL_EXCESS * lit
    curve = pvlib.pvsystem.calcparams_desoto(
        lit,
        cell,
        rise,
        fitted["a_ref"],
        fitted["I_L_ref"],
        fitted["I_o_ref"],
        fitted["R_sh_ref"],
        fitted["R_s"],
    )
    full = _full_current(module)
    low, high = np.zeros_like(lit), np.ones_like(lit)
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        given = pvlib.pvsystem.i_from_v(middle * module.fan_voltage, *curve)
        more = given > full * middle * middle
        low, high = np.where(more, middle, low), np.where(more, high, middle)
    short = pvlib.pvsystem.i_from_v(0.0, *curve)
    turns = (irradiance > DARK) & (short >= module.start_share * full)
    return np.where(turns, low, 0.0)


def _fitted(module: Module, rise: float) -> dict[str, float]:
    """Return the parameters of the single-diode curve through the figures of the label."""
    import pvlib

    try:
        with np.errstate(
            over="ignore", invalid="ignore"
        ):  # the search may stray far; its end is checked below
            fitted, _ = pvlib.ivtools.sdm.fit_desoto(
                v_mp=module.best_voltage,
                i_mp=module.best_current,
                v_oc=module.open_circuit_voltage,
                i_sc=module.short_circuit_current,
                alpha_sc=rise,
                beta_voc=VOLTAGE_COEFFICIENT * module.open_circuit_voltage,
                cells_in_series=module.cells,
                root_kwargs={"method": "lm"},  # the default method of the library does not find its way
            )
    except RuntimeError as error:
        fitted = {"R_s": -1.0}
        cause: Exception | None = error
    else:
        cause = None
    if not (fitted["R_s"] > 0.0 and fitted.get("R_sh_ref", 0.0) > 0.0):
        raise InputError(
            "control: no silicon module has these four figures on its label; accepted: e.g. 36 cells with "
            "21.7 V and 3.45 A open and shorted, 17.4 V and 3.15 A at its best"
        ) from cause
    return dict(fitted)


def _full_current(module: Module) -> float:
    """Return the current of the fan at full speed [A]."""
    return module.fan_power / module.fan_voltage


def _on_module(module: Module, here: Place, resolved: Resolved) -> Array:
    collector = resolved.parts.collector
    tilt = collector.tilt if module.tilt is None else module.tilt
    azimuth = collector.azimuth if module.azimuth is None else module.azimuth
    plane = sun.plane_irradiance(
        here.series,
        here.position,
        tilt,
        azimuth,
        horizon=shade(resolved.parts.site, resolved.parts.collector),
        model=resolved.parts.run.sky,
        ground_reflectance=here.ground,
    )
    return plane.total
