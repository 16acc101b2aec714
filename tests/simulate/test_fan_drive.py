"""When the fan may run and how fast: season, hours of the day, and a PV module that drives it."""

from dataclasses import replace

import numpy as np
import pvlib
import pytest
from scipy.optimize import brentq

from simengine.control.spec import ControlRule, Module
from simengine.errors import InputError
from simengine.simulate import Resolved
from simengine.simulate.fan_drive import allowed, drive, module_speed
from tests.engine.drive import greensboro

RULE = ControlRule(start=313.0, stop=303.0)
MODULE = Module(1.3, 21.6, 1.15, 17.4, 36, 12.0, 12.0)
"""An invented 20 W module on an invented fan of 12 V and 12 W."""
COLD = 273.15
CELL_EXCESS = 25.0 / 800.0  # [K m2/W] common practice
SUNS = np.array([60.0, 150.0, 300.0, 500.0, 800.0])


def hours_that(rule: ControlRule) -> set[int]:
    """Return the hours of the day in which a rule ever lets the fan run."""
    free = allowed(rule, greensboro().series)
    return set(np.asarray(greensboro().series.data.index.hour)[free > 0.0].tolist())


# ---- season and schedule: definitions --------------------------------------------------------------------


def test_without_season_and_schedule_the_fan_may_always_run() -> None:
    assert allowed(RULE, greensboro().series).min() == 1.0


@pytest.mark.parametrize(
    ("windows", "hours"),
    [
        (((6.0, 9.0),), {6, 7, 8}),
        (((6.0, 9.0), (17.0, 22.0)), {6, 7, 8, 17, 18, 19, 20, 21}),
        (((22.0, 6.0),), {22, 23, 0, 1, 2, 3, 4, 5}),
        (((0.0, 24.0),), set(range(24))),
        (((8.5, 9.5),), {9}),
    ],
)
def test_a_schedule_opens_the_hours_that_begin_in_its_windows(windows, hours) -> None:
    assert hours_that(replace(RULE, hours=windows)) == hours


def test_season_and_schedule_hold_together() -> None:
    free = allowed(replace(RULE, months=(1, 12), hours=((6.0, 9.0),)), greensboro().series)
    index = greensboro().series.data.index
    assert free.sum() == 3 * (31 + 31)
    assert set(np.asarray(index.month)[free > 0.0].tolist()) == {1, 12}


def test_every_lane_is_driven_alike(resolved: Resolved) -> None:
    rows = drive(replace(RULE, months=(1,)), greensboro(), resolved, 3)
    assert rows.shape == (8760, 3)
    assert rows.flags.c_contiguous
    assert np.array_equal(rows[:, 0], rows[:, 2])


# ---- a module and its fan --------------------------------------------------------------------------------


def speeds(module: Module, suns=SUNS, ambient: float = COLD) -> np.ndarray:
    suns = np.asarray(suns, dtype=float)
    return module_speed(module, suns, np.full(suns.shape, ambient))


def curve_of(module: Module, sun: float, cell: float) -> tuple:
    """Return the single-diode parameters of a module at work (pvlib, De Soto)."""
    rise = 0.0005 * module.short_circuit_current
    fitted, _ = pvlib.ivtools.sdm.fit_desoto(
        v_mp=module.best_voltage,
        i_mp=module.best_current,
        v_oc=module.open_circuit_voltage,
        i_sc=module.short_circuit_current,
        alpha_sc=rise,
        beta_voc=-0.0032 * module.open_circuit_voltage,
        cells_in_series=module.cells,
        root_kwargs={"method": "lm"},
    )
    names = ("a_ref", "I_L_ref", "I_o_ref", "R_sh_ref", "R_s")
    return pvlib.pvsystem.calcparams_desoto(sun, cell, rise, *(fitted[name] for name in names))


@pytest.mark.parametrize("sun", [150.0, 300.0, 500.0])
def test_the_fan_turns_where_its_line_meets_the_curve_of_the_module(sun) -> None:
    # independent solution: pvlib's explicit curve, met with I = 1 A n^2 at V = 12 V n by Brent's method
    cell = CELL_EXCESS * sun
    curve = curve_of(MODULE, sun, cell)
    voltages = np.linspace(0.0, 21.6, 4001)
    current = pvlib.pvsystem.i_from_v(voltages, *curve)
    expected = brentq(lambda n: np.interp(12.0 * n, voltages, current) - n * n, 0.0, 1.5)
    assert speeds(MODULE, [sun])[0] == pytest.approx(expected, abs=1e-4)


def test_the_curve_goes_through_the_figures_of_the_label() -> None:
    # definition: at 1000 W/m2 and 25 degC a fan of 17.4 V and 1.15 A just reaches its full speed
    fitting = replace(MODULE, fan_voltage=17.4, fan_power=17.4 * 1.15)
    ambient = 298.15 - CELL_EXCESS * 1000.0
    assert speeds(fitting, [1000.0], ambient)[0] == pytest.approx(1.0, abs=1e-4)
    larger = replace(fitting, fan_power=1.03 * fitting.fan_power)
    assert 0.95 < speeds(larger, [1000.0], ambient)[0] < 1.0


def test_in_dim_sun_the_current_sets_the_speed() -> None:
    # mathematics: far left of the knee I = I_sc G / 1000, so that n = sqrt(I_sc G / (1000 I_full))
    sun = np.array([120.0, 200.0, 300.0])
    expected = np.sqrt(1.3 * sun / 1000.0 / 1.0)
    assert speeds(MODULE, sun) == pytest.approx(expected, rel=0.03)


def test_the_fan_does_not_start_before_its_current_is_there() -> None:
    # definition: a tenth of 1 A, of a module that gives 1.3 A at 1000 W/m2: at 77 W/m2
    assert speeds(MODULE, [0.0, 70.0]).tolist() == [0.0, 0.0]
    assert speeds(MODULE, [85.0])[0] > 0.2
    assert speeds(replace(MODULE, start_share=0.5), [300.0])[0] == 0.0
    assert speeds(replace(MODULE, start_share=0.0), [20.0])[0] > 0.0


def test_more_sun_never_turns_slower_and_never_above_full() -> None:
    found = speeds(MODULE, np.linspace(0.0, 1200.0, 121))
    assert np.all(np.diff(found) >= 0.0)
    assert found[0] == 0.0
    assert found[-1] == pytest.approx(1.0, abs=1e-9)


def test_a_bigger_module_never_turns_slower() -> None:
    small = speeds(MODULE)
    big = speeds(replace(MODULE, short_circuit_current=2.6, best_current=2.3))
    assert np.all(big >= small)
    assert big[0] > small[0]


def test_a_label_that_no_module_has_is_refused() -> None:
    with pytest.raises(InputError, match="no silicon module"):
        speeds(replace(MODULE, cells=10))


def test_the_module_runs_by_day_and_looks_where_it_is_told(resolved: Resolved) -> None:
    here = greensboro()
    rule = replace(RULE, module=MODULE)
    own = drive(rule, here, resolved, 1)[:, 0]
    hour = np.asarray(here.series.data.index.hour)
    assert own[(hour < 4) | (hour > 21)].max() == 0.0
    assert 0.2 < np.mean(own > 0.0) < 0.5
    east = drive(replace(rule, module=replace(MODULE, azimuth=90.0)), here, resolved, 1)[:, 0]
    west = drive(replace(rule, module=replace(MODULE, azimuth=270.0)), here, resolved, 1)[:, 0]
    assert east[hour < 11].sum() > 1.5 * west[hour < 11].sum()
    flat = drive(replace(rule, module=replace(MODULE, tilt=0.0)), here, resolved, 1)[:, 0]
    summer = np.asarray(here.series.data.index.month) == 6
    assert flat[summer].sum() > own[summer].sum()  # than upright on a wall
