"""Steady periods, the efficiency line, its modifier, the regression and the time constant on made-up
exact logs."""

from types import SimpleNamespace

import numpy as np
import pytest
from uncertainties import ufloat

from simengine.fieldtest.dynamic import quasi_dynamic, time_constant
from simengine.fieldtest.efficiency_line import angle_modifier, efficiency_line
from simengine.fieldtest.log import TestLog
from simengine.fieldtest.periods import relaxed, steady_periods
from simengine.fieldtest.reduction import reduce_periods
from simengine.fieldtest.sensors import Sensors
from simengine.fieldtest.tightness import leak_share, tightness
from simengine.scenario.schema.field_test import Steady

CP, AREA, FLOW = 1006.0, 2.0, 0.05
ROWS = 480
STRAYS = {"irradiance": 120.0, "ambient": 4.0, "inlet": 2.0, "flow": 0.004}
START = np.datetime64("2026-02-14T09:00:00")


def sensors(systematic: float = 0.2, share: float = 0.02, noise: float = 0.05) -> Sensors:
    roles = ("ambient", "inlet", "outlet")
    return Sensors(
        {role: ufloat(0.0, systematic, role) for role in roles},
        {role: ufloat(1.0, share, role) for role in ("flow", "irradiance", "area")},
        {**dict.fromkeys(roles, noise), "flow": 0.005, "irradiance": 3.0},
    )


def log_of(
    sun: np.ndarray, inlet: np.ndarray, efficiency: np.ndarray, ambient: float = 275.0, step: float = 60.0
) -> TestLog:
    flow = np.full(sun.size, FLOW)
    rise = efficiency * sun * AREA / (flow * CP)
    times = START + (np.arange(sun.size) * round(step)).astype("timedelta64[s]")
    air = np.full(sun.size, ambient)
    columns = {"ambient": air, "inlet": inlet, "outlet": inlet + rise, "flow": flow, "irradiance": sun}
    return TestLog("made", times, step, -5.0, columns)


def levels(*values: float) -> np.ndarray:
    return np.repeat(np.array(values), ROWS // len(values))


def steady(**changed: object) -> Steady:
    return Steady.model_validate(changed)


def test_periods_lie_within_steady_stretches_and_after_the_time_before() -> None:
    inlet = levels(280.0, 300.0)
    log = log_of(np.full(ROWS, 800.0), inlet, np.full(ROWS, 0.5))
    found = steady_periods(log, steady())
    assert found
    for period in found:
        assert np.ptp(inlet[period.first - 15 : period.end]) == 0.0
        assert period.end - period.first == 10


@pytest.mark.parametrize(("column", "stray"), list(STRAYS.items()))
def test_a_column_that_strays_spoils_a_period(column: str, stray: float) -> None:
    log = log_of(np.full(ROWS, 800.0), np.full(ROWS, 293.0), np.full(ROWS, 0.5))
    swing = stray * np.sin(np.arange(ROWS) / 3.0)
    assert steady_periods(log, steady())
    assert not steady_periods(log.with_columns(**{column: log[column] + swing}), steady())


def test_wider_limits_are_said() -> None:
    assert relaxed(steady()) == []
    assert relaxed(steady(irradiance="80 W/m2")) == ["irradiance 80 W/m2 where the standards have 50 W/m2"]


def reduced_of(log: TestLog, incidence: np.ndarray | float = 20.0) -> list:
    found = steady_periods(log, steady())
    return reduce_periods(log, found, sensors(), AREA, np.broadcast_to(incidence, (ROWS,)))


def test_a_known_line_is_found_again_with_a_band_that_knows_the_sensors() -> None:
    inlet = levels(276.0, 290.0, 305.0, 320.0)
    sun = np.full(ROWS, 800.0)
    log = log_of(sun, inlet, 0.7 - 5.0 * (inlet - 275.0) / sun)
    line = efficiency_line(reduced_of(log))
    assert line is not None
    assert line.intercept.nominal_value == pytest.approx(0.7, abs=1e-6)
    assert line.loss.nominal_value == pytest.approx(5.0, abs=1e-5)
    # flow, sun and area are 2 % each and scale the intercept: sqrt(3) x 2 % of 0.7, and thermometers on top
    assert 0.0242 < line.intercept.std_dev < 0.035


def test_periods_at_one_inlet_give_no_line() -> None:
    log = log_of(np.full(ROWS, 800.0), np.full(ROWS, 293.0), np.full(ROWS, 0.5))
    assert efficiency_line(reduced_of(log)) is None


def test_certificate_powers_lie_on_their_own_curve() -> None:
    # rows 8.01, published, read: 729, 692, 608 W/m2 at 0, 10, 30 K; a line through the first two lies
    # above the third
    power = np.array([729.0, 692.0, 608.0])
    inlet = levels(275.0, 285.0, 305.0)
    log = log_of(np.full(ROWS, 1000.0), inlet, np.repeat(power / 1000.0, ROWS // 3))
    gains = [r.gain.nominal_value / AREA for r in reduced_of(log)]
    assert sorted({round(g, 1) for g in gains}) == pytest.approx([608.0, 692.0, 729.0], abs=0.6)


def test_a_known_modifier_is_found_again() -> None:
    inlet = levels(276.0, 290.0, 305.0, 320.0)
    incidence = levels(5.0, 30.0, 45.0, 60.0)[np.argsort(np.tile([0, 1, 2, 3], ROWS // 4), kind="stable")]
    incidence = np.linspace(5.0, 60.0, ROWS)
    lift = 1.0 / np.cos(np.radians(incidence)) - 1.0
    sun = np.full(ROWS, 800.0)
    log = log_of(sun, inlet, 0.7 * (1.0 - 0.12 * lift) - 5.0 * (inlet - 275.0) / sun)
    found = steady_periods(log, steady())
    reduced = reduce_periods(log, found, sensors(), AREA, incidence)
    line = SimpleNamespace(loss=ufloat(5.0, 0.1))
    modifier = angle_modifier(reduced, line)  # type: ignore[arg-type]
    assert modifier is not None
    assert modifier.b0.nominal_value == pytest.approx(0.12, abs=2e-3)  # means of a curve over 10 min


def test_regression_finds_line_capacity_and_modifier_of_a_made_up_collector() -> None:
    # q/A = 0.7 K G - 5 (T_i - T_a) - C dT_m/dt with C = 9 kJ/m2K, solved by a fine explicit step
    # (independent)
    loss, capacity, b0 = 5.0, 9000.0, 0.1
    rows = np.arange(ROWS)
    sun = 700.0 + 200.0 * np.sin(rows / 25.0)
    inlet = 293.0 + 12.0 * np.sin(rows / 70.0)
    incidence = np.linspace(10.0, 55.0, ROWS)
    lift = 1.0 / np.cos(np.radians(incidence)) - 1.0
    carried = FLOW * CP / AREA
    outlet, now = np.empty(ROWS), inlet[0] + 10.0
    for row in rows:
        sums = 0.0
        for part in range(60):
            at = min(row + part / 60.0, ROWS - 1.0)
            t_in = np.interp(at, rows, inlet)
            source = 0.7 * (1.0 - b0 * lift[row]) * np.interp(at, rows, sun) - loss * (t_in - 275.0)
            # m c (T_o - T_i) = source - C d((T_i + T_o)/2)/dt
            drift = 12.0 / 70.0 / 60.0 * np.cos(at / 70.0)
            now += (source - carried * (now - t_in) - 0.5 * capacity * drift) / (0.5 * capacity)
            sums += now
        outlet[row] = sums / 60.0
    log = log_of(sun, inlet, np.zeros(ROWS)).with_columns(outlet=outlet)
    found = quasi_dynamic(log, sensors(), AREA, incidence)
    assert found is not None
    assert found.intercept.nominal_value == pytest.approx(0.7, rel=0.01)
    assert found.loss.nominal_value == pytest.approx(loss, rel=0.03)
    assert found.capacity.nominal_value == pytest.approx(capacity, rel=0.1)
    assert found.b0.nominal_value == pytest.approx(b0, abs=0.015)


@pytest.mark.parametrize(
    ("constant", "row"),
    [
        (121.9, "row 8.03a: C/(U + m c) = 10.62 kJ/m2K over 87.1 W/m2K"),
        (62.2, "row 8.03b: the same by the mean temperature"),
    ],
)
def test_time_constant_of_a_step_is_read_off_the_log(constant: float, row: str) -> None:
    # mathematics: an exponential answer of that constant, read every 10 s
    step, size = 10.0, 400
    time = np.maximum((np.arange(size) - 100) * step, 0.0)
    sun = np.where(np.arange(size) >= 100, 800.0, 0.0)
    rise = 20.0 * (1.0 - np.exp(-time / constant))
    inlet = np.full(size, 293.0)
    log = log_of(sun, inlet, np.zeros(size), step=step).with_columns(outlet=inlet + rise)
    found = time_constant(log)
    assert found is not None
    assert found[0] == pytest.approx(constant, abs=step), row
    assert found[1] == 1


def test_no_step_no_time_constant() -> None:
    assert time_constant(log_of(np.full(ROWS, 800.0), np.full(ROWS, 293.0), np.full(ROWS, 0.5))) is None


def test_a_leak_is_the_difference_of_two_flows() -> None:
    assert leak_share(0.05, 0.045, draws_in=False) == pytest.approx(0.1)  # mathematics
    log = log_of(np.full(ROWS, 800.0), np.full(ROWS, 293.0), np.full(ROWS, 0.5))
    both = sensors()
    both.scale["second_flow"], both.noise["second_flow"] = ufloat(1.0, 0.02, "second"), 0.005
    log = log.with_columns(second_flow=0.95 * log["flow"])
    found = tightness(log, both, ("outlet", "inlet"), True, np.ones(ROWS))
    assert found.share.nominal_value == pytest.approx(0.05, abs=1e-9)
    assert found.share.std_dev == pytest.approx(0.95 * np.hypot(0.02, 0.02), rel=1e-3)  # JCGM 100, 5.1.2
    assert found.share.nominal_value < 2.0 * found.share.std_dev  # no leak is proven
