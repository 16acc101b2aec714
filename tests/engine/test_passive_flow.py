"""Air that moves by itself in the march: closed forms, a march of 2000 segments, dampers, the ledger."""

import itertools
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from simengine.airflow.spec import PassivePath
from simengine.airflow.thermosiphon import heated_column_flow, reverse_night_flow
from simengine.constants import GAS_CONSTANT_DRY_AIR, GRAVITY, SPECIFIC_HEAT_AIR, STANDARD_PRESSURE
from simengine.engine.ledger import Column
from simengine.engine.state import BLOCKED, DRIFT, NOW, RUNNING
from tests.engine.drive import (
    BOX,
    NEVER,
    SNAP,
    go,
    plan_of,
    real_member,
    side_by_side,
    start,
    steps,
    window,
)
from tests.engine.passive import (
    FLAP,
    HOUR,
    LEAKY,
    PATHS,
    PORT,
    ROOM,
    UNDAMPED,
    cooled,
    drifting,
    flow_of,
    heated,
    port_loss,
    power_of,
    rested,
)

PLAIN = replace(BOX, width=1.0, length=2.0, edge_conductance=0.0)
DAY = PassivePath(2.0, 0.0, port_loss(10.0))
WEIGHT = STANDARD_PRESSURE / GAS_CONSTANT_DRY_AIR  # [kg K/m3]


# ---- by day ----------------------------------------------------------------------------------------------


def heated_column(heat: float, height: float, riser: float, loss_coefficient: float) -> float:
    """Return the flow through an evenly heated column of ideal gas, cut into 2000 pieces [kg/s]."""
    density = WEIGHT / ROOM
    along = (np.arange(2000) + 0.5) / 2000

    def surplus(flow: float) -> float:
        rise = heat / (flow * SPECIFIC_HEAT_AIR)
        lift = height * (1.0 / ROOM - float(np.mean(1.0 / (ROOM + rise * along))))
        lift += riser * (1.0 / ROOM - 1.0 / (ROOM + rise))
        return GRAVITY * WEIGHT * lift - loss_coefficient * flow**2 / (2.0 * density * PORT**2)

    return float(brentq(surplus, 1e-6, 1.0, xtol=1e-14))


def day_flow(heat: float, path: PassivePath, segments: int = 30) -> float:
    whole = heated(heat, path, replace(PLAIN, segments=segments))
    ran = go(whole, steps(40, 6), start(whole))
    assert power_of(ran, Column.DELIVERED) == pytest.approx(heat, rel=0.003)
    return flow_of(ran)


@pytest.mark.parametrize("heat", [5.0, 40.0, 300.0, 1000.0])
def test_the_day_flow_is_that_of_a_column_of_2000_pieces(heat) -> None:
    # independent solution, ideal gas; the march stops its search at 0.1 %
    assert day_flow(heat, DAY) == pytest.approx(heated_column(heat, 2.0, 0.0, 10.0), rel=0.002)


@pytest.mark.parametrize("riser", [-1.0, 0.5, 2.0])
def test_warm_air_in_the_duct_above_the_box_drives_and_below_it_brakes(riser) -> None:
    # independent solution
    flow = day_flow(300.0, replace(DAY, riser=riser))
    assert flow == pytest.approx(heated_column(300.0, 2.0, riser, 10.0), rel=0.002)


def test_a_gentle_day_flow_is_that_of_the_closed_form() -> None:
    # mathematics: m' = (rho^2 A^2 g H Q / (K T c_p))^(1/3), Boussinesq, which a rise of 2 K allows
    closed = heated_column_flow(5.0, 2.0, PORT, 10.0, WEIGHT / ROOM, ROOM)
    assert 5.0 / (closed * SPECIFIC_HEAT_AIR) < 3.0
    assert day_flow(5.0, DAY) == pytest.approx(closed, rel=0.006)


def test_the_cube_of_a_gentle_day_flow_is_proportional_to_the_heat() -> None:
    # mathematics: eight times the heat, twice the flow, +-0.1 % of the search and 0.8 % of the expansion
    ratio = day_flow(8.0, DAY) / day_flow(1.0, DAY)
    assert ratio == pytest.approx(2.0, rel=0.01)
    exact = heated_column(8.0, 2.0, 0.0, 10.0) / heated_column(1.0, 2.0, 0.0, 10.0)
    assert ratio == pytest.approx(exact, rel=0.002)


def test_the_day_flow_hardly_hangs_on_the_number_of_segments() -> None:
    flows = [day_flow(300.0, DAY, segments) for segments in (4, 8, 32)]
    assert flows == pytest.approx([flows[-1]] * 3, rel=0.003)


# ---- by night --------------------------------------------------------------------------------------------


def cooled_column(outside: float, height: float, conductance: float) -> tuple[float, float]:
    """Return flow [kg/s] and heat [W] of a column marched down through 2000 pieces."""
    density, pieces = WEIGHT / ROOM, 2000

    def march(flow: float) -> tuple[float, float]:
        t, weight = ROOM, 0.0
        step = conductance / pieces / (flow * SPECIFIC_HEAT_AIR)
        for _ in range(pieces):
            middle = (t + 0.5 * step * outside) / (1.0 + 0.5 * step)
            t -= step * (middle - outside)
            weight += WEIGHT / middle / pieces
        return GRAVITY * height * (weight - density) - 10.0 * flow**2 / (2.0 * density * PORT**2), t

    flow = float(brentq(lambda m: march(m)[0], 1e-4, 0.1, xtol=1e-12))
    return flow, flow * SPECIFIC_HEAT_AIR * (ROOM - march(flow)[1])


@pytest.mark.parametrize(("outside", "conductance"), [(263.15, 10.0), (263.15, 4.0), (283.15, 10.0)])
@pytest.mark.parametrize("segments", [4, 20])
def test_the_night_flow_is_that_of_a_march_of_2000_pieces(outside, conductance, segments) -> None:
    # independent solution; the walls stand at the temperature outside, so that a segment is exact
    whole = cooled(conductance, outside, replace(DAY, box_height=1.5), replace(PLAIN, segments=segments))
    ran = go(whole, steps(40, 6), start(whole))
    flow, heat = cooled_column(outside, 1.5, conductance)
    assert flow_of(ran) == pytest.approx(flow, rel=0.003)
    assert power_of(ran, Column.NIGHT_LOSS) == pytest.approx(heat, rel=0.003)
    assert ran.state.control[DRIFT, 0] < 0.0


def test_the_night_flow_of_an_opening_without_a_damper() -> None:
    # 6 in ports 1.5 m apart, sum K 10, 10 W/K, room 20, outside -10 degC: 172.553 W +-1 %
    # (derived: log-mean solution against a march of 2000 segments)
    whole = cooled(10.0, 263.15, replace(DAY, box_height=1.5), PLAIN)
    ran = go(whole, steps(40, 6), start(whole))
    assert power_of(ran, Column.NIGHT_LOSS) == pytest.approx(172.553, rel=0.01)
    closed = reverse_night_flow(ROOM, 263.15, 1.5, PORT, 10.0, 10.0)
    assert flow_of(ran) == pytest.approx(closed.mass_flow, rel=0.003)


def test_a_riser_above_the_box_is_as_warm_as_the_room_at_night() -> None:
    losses = []
    for riser in (0.0, 3.0):
        whole = cooled(10.0, 263.15, replace(DAY, riser=riser), PLAIN)
        losses.append(power_of(go(whole, steps(40, 6), start(whole)), Column.NIGHT_LOSS))
    assert losses[0] == pytest.approx(losses[1], rel=1e-3)


# ---- dampers ---------------------------------------------------------------------------------------------


def steady(sun: float, path, ambient: float = 275.0):
    whole = drifting(sun, path, ambient=ambient)
    return go(whole, steps(40, 6), start(whole))


def test_a_tight_flap_opens_by_day_and_holds_at_night() -> None:
    day, night = steady(600.0, FLAP), steady(0.0, FLAP)
    assert flow_of(day) > 0.005
    assert night.total(Column.AIR_MASS) == night.total(Column.NIGHT_LOSS) == 0.0


def test_a_motorised_damper_holds_day_and_night() -> None:
    for sun in (0.0, 600.0):
        ran = steady(sun, None)
        assert ran.total(Column.AIR_MASS) == ran.total(Column.DRIFT_ON) == 0.0


def test_a_leaky_flap_loses_less_than_none_and_more_than_a_tight_one() -> None:
    losses = [steady(0.0, path).total(Column.NIGHT_LOSS) for path in (FLAP, LEAKY, UNDAMPED)]
    assert losses[0] == 0.0 < losses[1] < 0.6 * losses[2]


def test_a_heavier_flap_lets_less_air_pass_and_opens_later() -> None:
    flows = [flow_of(steady(300.0, replace(FLAP, opening_pressure=p))) for p in (0.0, 0.3, 1.0, 20.0)]
    assert flows == sorted(flows, reverse=True)
    assert flows[-1] == 0.0


def test_passive_flow_is_no_time_of_the_fan_and_takes_no_power() -> None:
    ran = steady(600.0, UNDAMPED)
    assert ran.total(Column.FAN_ON) == ran.total(Column.FAN_STARTS) == 0.0
    assert ran.total(Column.FAN_POWER) == ran.total(Column.FAN_HEAT) == 0.0
    assert power_of(ran, Column.DRIFT_ON) == pytest.approx(1.0)


def test_passive_flow_by_day_goes_on_above_the_room_limit() -> None:
    # a flap knows nothing of the room
    warm = replace(SNAP, room_limit=293.0)
    whole = drifting(600.0, UNDAMPED, warm, ambient=290.0)
    ran = go(whole, steps(40, 6), start(whole))
    assert ran.state.control[BLOCKED, 0] == 1.0
    assert ran.total(Column.FAN_ON) < 60.0
    assert flow_of(ran) > 0.005


def test_where_the_fan_runs_nothing_moves_by_itself() -> None:
    whole = drifting(900.0, UNDAMPED, SNAP, ambient=275.0)
    ran = go(whole, steps(40, 6), start(whole))
    assert ran.state.control[RUNNING, 0] == 1.0
    assert ran.hours[-1, Column.DRIFT_ON, 0] == 0.0
    assert flow_of(ran) == pytest.approx(0.055)


# ---- laws ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("rule", [SNAP, NEVER], ids=["with fan", "passive only"])
@pytest.mark.parametrize("path", PATHS)
def test_the_ledger_closes_at_every_step_of_a_winter_week(path, rule) -> None:
    whole = rested(real_member(BOX, rule), BOX, PATHS[path])
    first, last = 24 * 10, 24 * 17
    ran = go(window(whole, first, last), plan_of(whole, step=90.0)[first:last], start(whole))
    assert ran.hours[:, Column.RESIDUAL].max() < 1e-9
    assert ran.hours[:, Column.HOUSE_RESIDUAL].max() < 1e-9
    assert (ran.total(Column.DRIFT_ON) > 0.0) == (path != "motorised")
    lost = ran.total(Column.NIGHT_LOSS) > 0.01 * ran.total(Column.DELIVERED)
    assert lost == (path in ("none", "leaky flap"))
    on = ran.hours[:, Column.FAN_ON, 0] + ran.hours[:, Column.DRIFT_ON, 0]
    assert on.max() < HOUR * (1.0 + 1e-12)


@pytest.mark.parametrize("path", ["none", "tight flap", "leaky flap"])
@pytest.mark.parametrize("rule", [SNAP, NEVER], ids=["with fan", "passive only"])
def test_halving_the_step_hardly_moves_two_months_with_passive_flow(path, rule) -> None:
    whole = rested(real_member(BOX, rule), BOX, PATHS[path])
    last = 24 * 59
    part, plan = window(whole, 0, last), plan_of(whole, step=90.0)[:last]
    coarse, fine = (go(part, count * plan, start(part)) for count in (1, 2))
    assert fine.total(Column.DELIVERED) == pytest.approx(coarse.total(Column.DELIVERED), rel=0.003)
    scale = coarse.total(Column.DELIVERED)
    assert fine.total(Column.NIGHT_LOSS) == pytest.approx(
        coarse.total(Column.NIGHT_LOSS), rel=0.01, abs=0.001 * scale
    )


@pytest.mark.slow
@pytest.mark.parametrize("path", ["none", "leaky flap"])
def test_halving_the_step_hardly_moves_a_year_with_passive_flow(path) -> None:
    whole = rested(real_member(BOX, SNAP), BOX, PATHS[path])
    plan = plan_of(whole, step=90.0)
    coarse, fine = (go(whole, count * plan, start(whole)).total(Column.DELIVERED) for count in (1, 2))
    assert fine == pytest.approx(coarse, rel=0.003)


def test_a_member_drifts_the_same_alone_and_in_company() -> None:
    one, other = drifting(300.0, UNDAMPED), drifting(300.0, LEAKY)
    both = side_by_side(one, other)
    together = go(both, steps(40, 6), start(both))
    for lane, alone in enumerate((one, other)):
        ran = go(alone, steps(40, 6), start(alone))
        assert np.array_equal(ran.hours[:, :, 0], together.hours[:, :, lane])
        assert np.array_equal(ran.state.nodes[NOW, :, :, 0], together.state.nodes[NOW, :, :, lane])


@pytest.mark.parametrize("sun", [0.0, 40.0, 200.0, 800.0])
@pytest.mark.parametrize("constant", ["light", "heavy"])
def test_flow_and_temperature_do_not_chase_each_other(sun, constant) -> None:
    # a light absorber follows its sun within a fraction of a step: in steady weather the flow must settle
    box = replace(BOX, absorber=replace(BOX.absorber, heat_capacity=300.0 if constant == "light" else 5000.0))
    whole = drifting(sun, UNDAMPED, ambient=265.0, hours=48, box=box)
    ran = go(whole, steps(40, 48), start(whole))
    flow = ran.hours[-6:, Column.AIR_MASS, 0] / HOUR
    assert np.ptp(flow) < 0.004 * flow.max() + 1e-6


def test_a_stack_twice_as_high_never_delivers_less() -> None:
    heat = [steady(500.0, replace(UNDAMPED, riser=r)).total(Column.DELIVERED) for r in (0.0, 1.0, 2.0, 4.0)]
    assert all(b >= a for a, b in itertools.pairwise(heat))
