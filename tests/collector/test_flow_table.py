"""Flow, films, effectiveness and leaks by fan speed."""

import math
from dataclasses import replace

import numpy as np
import pytest

from simengine.air.properties import dynamic_viscosity, prandtl, thermal_conductivity
from simengine.airflow.loop import AirLoop, given_flow_loop
from simengine.airflow.spec import Duct, Fan
from simengine.collector.flow_table import FILM_TEMPERATURE, build_flow_table, leak_shares
from simengine.collector.network import AirFlow, read_air_flow
from simengine.collector.spec import Absorber, Leak, Perforation, Tubes
from simengine.errors import InputError
from simengine.heat_transfer.forced_convection import channel_nusselt
from simengine.heat_transfer.mixed_convection import mixed
from simengine.heat_transfer.tube_flow import tube_nusselt
from tests.collector.by_hand import PRESSURE, SCREEN, collector, numbers

AREA = 2.88
VISCOSITY, CONDUCTIVITY = dynamic_viscosity(FILM_TEMPERATURE), thermal_conductivity(FILM_TEMPERATURE)


def channel_film(reynolds: float, depth: float) -> float:
    """Return the forced film of a flat channel [W/m2K]."""
    nusselt = channel_nusselt(reynolds, prandtl(FILM_TEMPERATURE), 2.0 * depth / 2.4)
    return nusselt * CONDUCTIVITY / (2.0 * depth)


def at_full(table) -> AirFlow:
    return read_air_flow(table.flow[-1], 0)


def screen(**changes) -> Absorber:
    return Absorber("screen", perforation=replace(SCREEN, **changes))


def sheet(**changes) -> Absorber:
    return Absorber("sheet", perforation=Perforation(0.00823, hole_diameter=1.6e-3, pitch=16.8e-3, **changes))


def test_loop_is_passed_on_row_by_row():
    loop = AirLoop(*(np.array([k, 10.0 + k]) * 0.01 for k in range(1, 6)), 0.3, 0.4)
    table = build_flow_table(collector(), loop, PRESSURE)
    flow = at_full(table)
    assert flow == AirFlow(0.11, 0.12, 0.13, 0.0, 1.0, 0.14, 0.15, 0.3, 0.4, 0.0, 0.0)
    assert read_air_flow(table.flow[0], 0)[:3] == (0.01, 0.02, 0.03)


def test_at_rest_no_film_is_forced_and_the_absorber_keeps_its_contact():
    for arrangement in ("behind", "in_front", "both_sides", "two_pass", "through", "tubes"):
        _, table = numbers(collector(arrangement))
        resting = table.film[0, 0] if arrangement == "tubes" else table.film[0]
        assert not resting.any()
        rest = read_air_flow(table.flow[0], 0)
        assert (rest.mass_flow, rest.contact, rest.leak_in, rest.leak_out) == (0.0, 1.0, 0.0, 0.0)


@pytest.mark.parametrize(
    ("arrangement", "front", "rear"),
    [("behind", 0.0, 1.0), ("in_front", 1.0, 0.0), ("both_sides", 0.5, 0.5), ("two_pass", 1.0, 1.0)],
)
def test_films_are_those_of_the_flow_in_each_space(arrangement, front, rear):
    """Without buoyancy the mixed film is the channel's forced one; 1 % is the fade above Re 1000."""
    _, table = numbers(collector(arrangement), 0.12)
    for space, share, depth in ((0, front, 0.025), (1, rear, 0.030)):
        found = table.film[-1, space, :, 0]
        if share == 0.0:
            assert not found.any()
            continue
        reynolds = 2.0 * share * 0.12 / (1.2 * VISCOSITY)
        nusselt = channel_nusselt(reynolds, prandtl(FILM_TEMPERATURE), 2.0 * depth / 2.4)
        for film in found:
            assert mixed(film, CONDUCTIVITY / depth) == pytest.approx(
                nusselt * CONDUCTIVITY / (2.0 * depth), rel=1e-2
            )


def test_films_of_a_screen_follow_the_local_flow():
    """What enters the stage beside the part of the still gap that the screen keeps."""
    _, table = numbers(collector("through", 4))
    film, contact = table.film[-1, :, :, 0], at_full(table).contact
    # the front stream thins while its gap narrows, the rear one grows: mean flows 7/8 ... 1/8
    for space, flows, depths in ((0, (7, 5, 3, 1), (55, 45, 35, 25)), (1, (1, 3, 5, 7), (25, 35, 45, 55))):
        for segment in range(4):
            depth, flow = depths[segment] / 1000.0, 0.06 * flows[segment] / 8.0
            forced = channel_film(2.0 * flow / (1.2 * VISCOSITY), depth)
            assert mixed(film[space, segment], contact * CONDUCTIVITY / depth) == pytest.approx(
                forced, rel=2e-3
            )


def test_a_stream_that_thins_to_nothing_still_conducts_to_the_glass():
    """The film of the last of many segments is that of slow laminar flow, not nothing."""
    _, table = numbers(collector("through", 60))
    for film, depth in ((table.film[-1, 0, -1, 0], 0.02), (table.film[-1, 1, 0, 0], 0.02)):
        assert film == pytest.approx(channel_film(0.0, depth), rel=2e-2)
        assert film > 2.0 * CONDUCTIVITY / depth


def test_films_of_a_bank_of_tubes():
    made = collector("tubes", absorber=Absorber("bank", tubes=Tubes(0.05, 0.06)))
    film = numbers(made, 0.12)[1].film[:, 1, :, 0]
    reynolds = 4.0 * (0.12 * 0.06 / 1.2) / (math.pi * 0.05 * VISCOSITY)
    forced = tube_nusselt(reynolds, prandtl(FILM_TEMPERATURE), 0.05 / 2.4) * CONDUCTIVITY / 0.05
    assert film[-1] == pytest.approx(np.full(3, forced), rel=1e-9)
    # mathematics: 3.66, the eigenvalue of a tube whose wall has one temperature, down to no flow at all
    assert film[0] == pytest.approx(np.full(3, 3.66 * CONDUCTIVITY / 0.05), rel=1e-3)


@pytest.mark.parametrize(
    ("flux", "effectiveness"),
    [(0.02, 0.7), (0.04, 1.0 - 0.3 ** (2.0**-0.5)), (0.005, 1.0 - 0.3**2.0)],  # NTU ~ flow ** -0.5
)
def test_given_effectiveness_holds_at_its_flow_and_scales_from_there(flux, effectiveness):
    _, table = numbers(collector("through", absorber=screen(rated_flow=0.02)), flux * AREA)
    assert at_full(table).effectiveness == pytest.approx(effectiveness, rel=1e-9)


def test_effectiveness_without_a_rated_flow_is_taken_as_it_stands():
    for flow in (0.02, 0.1):
        assert at_full(
            numbers(collector("through", absorber=screen()), flow)[1]
        ).effectiveness == pytest.approx(0.7)


def test_layers_add_their_transfer_units():
    two = at_full(numbers(collector("through", absorber=screen(layers=2)))[1]).effectiveness
    assert two == pytest.approx(1.0 - 0.3**2)


def test_perforated_sheet_by_its_holes():
    """Kutscher 1994, J. Heat Transfer 116 (from memory), worked by hand for 0.05 m/s through the sheet."""
    air = PRESSURE / (287.05 * FILM_TEMPERATURE)
    flow = 0.05 * air * AREA
    found = at_full(numbers(collector("through", absorber=sheet()), flow)[1]).effectiveness
    reynolds = 0.05 / 0.00823 * 1.6e-3 * air / VISCOSITY
    cross = 0.5 * flow / (air * 1.2 * 0.04) / 0.05  # mean velocity along the front over the suction velocity
    nusselt = 2.75 * (10.5**-1.2 * reynolds**0.43 + 0.011 * 0.00823 * reynolds * cross**0.48)
    units = nusselt * CONDUCTIVITY / 1.6e-3 * (1.0 - 0.00823) / (air * 1006.0 * 0.05)
    assert found == pytest.approx(1.0 - math.exp(-units), rel=1e-9)


def test_contact_of_the_sheet_fades_with_the_flow():
    flows = (1e-6, 1e-3, 1e-2, 0.1)
    contact = [at_full(numbers(collector("through"), flow)[1]).contact for flow in flows]
    assert contact[0] == pytest.approx(1.0, abs=1e-6) and contact[-1] < 1e-3
    assert (np.diff(contact) < 0.0).all()


@pytest.mark.parametrize(
    ("absorber", "message"),
    [
        (Absorber("plain"), "needs holes or an effectiveness"),
        (Absorber("bad", perforation=Perforation(0.2)), "hole_diameter and pitch"),
    ],
)
def test_a_sheet_that_says_nothing_of_its_holes_is_refused(absorber, message):
    with pytest.raises(InputError, match=message):
        numbers(collector("through", absorber=absorber))


def test_ducts_and_fan_reach_the_table():
    loop = given_flow_loop(Fan(0.05, 40.0, 0.6), (Duct(3.0, 0.15, 0.7),), ())
    flow = at_full(build_flow_table(collector(), loop, PRESSURE))
    assert (flow.mass_flow, flow.fan_power, flow.fan_heat) == (0.05, 40.0, 24.0)
    assert 0.9 < flow.supply_kept < 1.0 and flow.return_kept == 1.0


@pytest.mark.parametrize(
    ("pressure", "flow", "expected"),
    # power law 0.001 p^0.65 over the flow; at half the flow a quarter of the pressure
    [
        (10.0, 0.05, (0.0, 0.001 * 10.0**0.65 / 0.05)),
        (-10.0, 0.05, (0.001 * 10.0**0.65 / 0.05, 0.0)),
        (10.0, 0.025, (0.0, 0.001 * 2.5**0.65 / 0.025)),
        (10.0, 0.0, (0.0, 0.0)),
        (0.0, 0.05, (0.0, 0.0)),
        (1e6, 0.05, (0.0, 0.9)),
    ],
)
def test_leak_by_the_pressure_in_the_box(pressure, flow, expected):
    loop = given_flow_loop(Fan(0.05, 20.0))
    assert leak_shares(Leak(0.001, 0.65, pressure), loop, flow) == pytest.approx(expected, rel=1e-12)


def test_a_tight_box_does_not_leak_and_a_leaky_one_does():
    assert leak_shares(None, given_flow_loop(Fan(0.05, 20.0)), 0.05) == (0.0, 0.0)
    made = collector(leak=Leak(0.001, 0.65, -5.0))
    assert at_full(numbers(made, 0.05)[1]).leak_in == pytest.approx(0.001 * 5.0**0.65 / 0.05)
