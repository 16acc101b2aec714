"""Laws that hold for any collector: no sun no gain, more of the good never gives less, limits, mirror."""

from dataclasses import replace
from functools import cache

import numpy as np
import pandas as pd
import pytest

from simengine.collector.absorbed import absorbed_sun
from simengine.collector.network import Forcing
from simengine.collector.spec import Collector, Layer
from simengine.engine.ledger import Column
from simengine.engine.state import MASS, NOW, ROOM
from simengine.sun import PlaneIrradiance, SunPosition, plane_irradiance
from simengine.weather import WeatherSeries
from tests.engine.drive import (
    ALWAYS,
    BOX,
    NEVER,
    SNAP,
    Ran,
    frozen,
    go,
    go_house,
    made_demand,
    made_forcing,
    member,
    plan_of,
    real_forcing,
    real_member,
    start,
    started,
    steps,
    window,
)

MARCH = slice(59 * 24, 90 * 24)
WEEK = slice(10 * 24, 17 * 24)


def part(collector: Collector, rule, when: slice, forcing: Forcing | None = None) -> Ran:
    """March a part of the real year."""
    whole = real_member(collector, rule)
    if forcing is not None:
        whole = whole._replace(forcing=forcing)
    cut = window(whole, when.start, when.stop)
    plan = plan_of(real_member(BOX, rule))[when]  # one plan for all
    return go(cut, plan, started(cut) if rule is ALWAYS else start(cut))


def net(ran: Ran) -> float:
    return ran.total(Column.DELIVERED) - ran.total(Column.NIGHT_LOSS)


def never_falls(values: list[float], slack: float = 0.0) -> bool:
    return bool(np.all(np.diff(values) >= -slack * np.abs(values[:-1])))


# ---- sun -------------------------------------------------------------------------------------------------


def test_without_sun_there_is_no_gain() -> None:
    forcing = real_forcing(BOX)
    dark = Forcing(forcing.weather * np.array([1.0, 1.0, 1.0, 0.0]), np.zeros_like(forcing.absorbed))
    ran = part(BOX, SNAP, WEEK, dark)
    assert ran.total(Column.FAN_STARTS) == 0.0
    assert ran.total(Column.DELIVERED) == 0.0
    assert ran.total(Column.INCIDENT) == 0.0


def test_without_sun_a_running_fan_only_loses() -> None:
    dark = member(BOX, made_forcing(np.zeros(12), 273.15), ALWAYS)
    ran = go(dark, steps(60, 12), started(dark))
    assert net(ran) < 0.0
    assert ran.hours[-1, Column.DELIVERED, 0] == 0.0  # what the box held at the start is gone by then
    assert ran.hours[-1, Column.NIGHT_LOSS, 0] > 0.0


@pytest.mark.parametrize(("rule", "when"), [(ALWAYS, WEEK), (SNAP, MARCH)], ids=["always on", "snap switch"])
def test_more_sun_never_gives_less(rule, when) -> None:
    forcing = real_forcing(BOX)
    heat = []
    for share in (0.7, 0.85, 1.0, 1.15):
        more = Forcing(forcing.weather * np.array([1.0, 1.0, 1.0, share]), forcing.absorbed * share)
        heat.append(net(part(BOX, rule, when, more)))
    assert never_falls(heat)
    assert heat[-1] > heat[0]


def test_delivered_heat_lies_between_nothing_and_the_optical_limit() -> None:
    ran = part(BOX, SNAP, MARCH)
    days = ran.hours[:, :, 0].reshape(-1, 24, ran.hours.shape[1]).sum(axis=1)
    limit = days[:, Column.ABSORBED] + days[:, Column.FAN_HEAT]
    assert np.all(days[:, Column.DELIVERED] >= 0.0)
    assert np.all(days[:, Column.DELIVERED] <= limit)
    assert 0.1 < ran.total(Column.DELIVERED) / ran.total(Column.INCIDENT) < 0.6


# ---- collector: flow and schedule of the fan held fixed ----------------------------------------------------


def test_a_better_insulated_back_in_the_open_never_delivers_less() -> None:
    heat = []
    for conductivity in (0.2, 0.1, 0.05, 0.025, 0.0125):
        layer = Layer("wool", 0.05, conductivity, 60.0, 840.0, "mineral_wool")
        ran = part(replace(BOX, back=replace(BOX.back, layers=(layer,))), ALWAYS, WEEK)
        heat.append((net(ran), ran.total(Column.DELIVERED), -ran.total(Column.HEATING)))
    for column in zip(*heat, strict=True):
        assert never_falls(list(column))
    assert heat[-1][0] > heat[0][0]


def test_tighter_edges_never_deliver_less() -> None:
    heat = [net(part(replace(BOX, edge_conductance=ua), ALWAYS, WEEK)) for ua in (4.0, 2.0, 1.0, 0.0)]
    assert never_falls(heat)


def test_a_bigger_collector_in_the_sun_never_makes_the_house_heat_more() -> None:
    sun = np.array([300.0, 500.0, 650.0, 700.0, 650.0, 500.0, 300.0])
    need = []
    for width in (0.6, 1.2, 1.8, 2.4, 4.8):
        sunny = member(replace(BOX, width=width), made_forcing(sun, 275.0), ALWAYS)
        need.append(go(sunny, steps(60, 7), started(sunny)).total(Column.HEATING))
    assert never_falls([-value for value in need])
    assert need[-1] < need[0]


def test_a_bigger_collector_with_a_snap_switch_saves_more_in_a_month() -> None:
    need = [
        part(replace(BOX, width=width), SNAP, MARCH).total(Column.HEATING) for width in (0.8, 1.2, 1.8, 2.7)
    ]
    assert never_falls([-value for value in need])


# ---- house -------------------------------------------------------------------------------------------------


def test_with_a_fan_that_never_runs_the_house_marches_as_it_does_alone() -> None:
    whole = real_member(BOX, NEVER)
    cut, plan = window(whole, MARCH.start, MARCH.stop), plan_of(whole)[MARCH]
    ran = go(cut, plan, start(cut))
    hours, state = go_house(cut, plan)
    assert np.array_equal(ran.hours[:, Column.HEATING, 0], hours[:, 0, 0])
    assert np.array_equal(ran.hours[:, Column.VENTED, 0], hours[:, 1, 0])
    assert ran.hours[:, Column.ROOM, 0] == pytest.approx(hours[:, 2, 0], rel=1e-12)
    assert np.array_equal(ran.state.zone[NOW, (ROOM, MASS), 0], state[:2, 0])


def test_delivered_heat_saves_no_more_heating_than_it_is() -> None:
    with_it, without = (part(BOX, rule, MARCH) for rule in (SNAP, NEVER))
    saved = without.total(Column.HEATING) - with_it.total(Column.HEATING)
    assert 0.0 < saved < with_it.total(Column.DELIVERED)


# ---- mirror ------------------------------------------------------------------------------------------------


@cache
def mirrored_day() -> tuple[WeatherSeries, SunPosition]:
    """Return a made day whose sun is due south in the middle of interval 12: 25 hours, even about it."""
    hours = np.arange(25) - 12.0
    latitude, declination, hour_angle = np.radians(36.0), np.radians(-8.0), np.radians(15.0 * hours)
    height = np.arcsin(
        np.sin(latitude) * np.sin(declination) + np.cos(latitude) * np.cos(declination) * np.cos(hour_angle)
    )
    turn = np.arccos(
        np.clip(
            (np.sin(height) * np.sin(latitude) - np.sin(declination)) / (np.cos(height) * np.cos(latitude)),
            -1.0,
            1.0,
        )
    )
    up = height > 0.0
    azimuth = 180.0 + np.sign(hours) * np.degrees(turn)
    dni = np.where(up, 850.0 * np.sin(np.maximum(height, 0.0)) ** 0.4, 0.0)
    dhi = np.where(up, 40.0 + 60.0 * np.sin(np.maximum(height, 0.0)), 0.0)
    ghi = dni * np.maximum(np.sin(height), 0.0) + dhi
    index = pd.date_range("2001-03-01", periods=25, freq="h")
    data = pd.DataFrame({"ghi": ghi, "dni": dni, "dhi": dhi}, index=index)
    series = WeatherSeries(
        "made", "made", 36.0, 0.0, 0.0, 0.0, 3600, 10.0, data, (), 0.0, 0.0, "0" * 64, synthetic=True
    )
    position = SunPosition(
        90.0 - np.degrees(height), azimuth, np.full(25, 1361.0), np.where(up, 1.0, 0.0), hours + 12.0
    )
    return series, position


def plane(turned: float, model: str, tilt: float = 70.0) -> PlaneIrradiance:
    series, position = mirrored_day()
    return plane_irradiance(series, position, tilt, 180.0 + turned, model=model)


def absorbed(turned: float, model: str):
    sun = plane(turned, model)
    box = replace(BOX, tilt=70.0, azimuth=180.0 + turned)
    beam = sun.beam + sun.circumsolar
    return absorbed_sun(box, sun.incidence_angle, beam, sun.sky_diffuse, sun.ground_reflected)


@pytest.mark.parametrize("model", ["perez", "hay_davies", "isotropic"])
@pytest.mark.parametrize("turned", [20.0, 45.0, 90.0])
def test_planes_turned_east_and_west_take_up_the_mirrored_sun(turned, model) -> None:
    east, west = absorbed(-turned, model), absorbed(turned, model)
    assert plane(-turned, model).total[::-1] == pytest.approx(plane(turned, model).total, rel=1e-9, abs=1e-9)
    assert east.absorber[::-1] == pytest.approx(west.absorber, rel=1e-9, abs=1e-9)
    assert east.pane[0][::-1] == pytest.approx(west.pane[0], rel=1e-9, abs=1e-9)
    assert east.absorber.sum() > 1000.0


def linear_heat(turned: float) -> float:
    """Return the heat of a day and its aftermath with every conductance frozen and all else still [J]."""
    sun = absorbed(turned, "perez")
    total = plane(turned, "perez").total
    count = total.size + 96
    rows, weather = np.zeros((count, 2)), made_forcing(np.zeros(count), 293.15, colder_sky=0.0).weather
    rows[: total.size, 0], rows[: total.size, 1] = sun.pane[0], sun.absorber
    weather[: total.size, 3] = total
    whole = frozen(member(BOX, Forcing(weather, rows), ALWAYS, demand=made_demand(count, vent=293.15)))
    return net(go(whole, steps(20, count), started(whole)))


def test_planes_turned_east_and_west_deliver_the_same_in_a_linear_house() -> None:
    # time-invariant and linear: the sum of the answer hangs on the sum of what drives it alone
    for turned in (30.0, 75.0):
        assert linear_heat(-turned) == pytest.approx(linear_heat(turned), rel=1e-6)
