"""What is settled before the march: which houses there are, and the wall that a collector stands on."""

from dataclasses import replace

import pytest

from simengine.scenario import Scenario
from simengine.simulate import Resolved, resolve
from simengine.simulate.resolve import LEAST_CONDUCTANCE, house_behind, wall_conductance


def test_both_built_in_houses_are_always_there_and_the_own_one_comes_first(
    demo: Scenario, resolved: Resolved
) -> None:
    assert [house.name for house in resolved.houses] == ["standard", "low_energy"]
    own = {"name": "mine", "floor_area": "100 m2", "opaque_conductance": "120 W/K"}
    with_own = resolve(demo.changed({"house": own}))
    assert [house.name for house in with_own.houses] == ["mine", "standard", "low_energy"]


def test_pressure_is_the_mean_of_the_year(resolved: Resolved) -> None:
    assert resolved.pressure == pytest.approx(resolved.series.data["pressure"].mean())
    # the standard atmosphere at the airport's 270 m: 98.1 kPa; from memory, weather moves a year by under 1 %
    assert resolved.pressure == pytest.approx(98_100.0, rel=0.01)


def test_a_site_higher_than_its_station_has_thinner_air(demo: Scenario, resolved: Resolved) -> None:
    # ICAO standard atmosphere, from memory: 1500 m stands at 84,556 Pa, 270 m at 98,126 Pa
    high = resolve(demo.changed({"site.elevation": "1500 m"}), resolved.series)
    assert high.pressure / resolved.pressure == pytest.approx(84_556.0 / 98_126.0, rel=2e-3)
    # a fan moves the same volume and less mass
    assert high.parts.fan_volume_flow == pytest.approx(resolved.parts.fan_volume_flow, rel=1e-9)
    assert high.parts.fan.mass_flow < 0.88 * resolved.parts.fan.mass_flow


def test_the_wall_behind_the_collector_by_hand(resolved: Resolved) -> None:
    # ISO 6946: A/(R + R_si + R_se), R_si 0.13 m2K/W for heat flowing sideways, R_se 0.04; from memory, 0.1 %
    collector = resolved.parts.collector
    back = replace(collector.back, wall_resistance=2.0, outside_film=0.04)
    walled = replace(collector, back=back)
    assert wall_conductance(walled) == pytest.approx(collector.aperture / 2.17, rel=1e-3)
    assert wall_conductance(replace(collector, back=replace(back, wall_resistance=None))) == 0.0


def test_a_house_behind_a_collector_is_less_by_its_wall(resolved: Resolved) -> None:
    collector, house = resolved.parts.collector, resolved.houses[0]
    behind = house_behind(house, collector)
    lost = house.opaque_conductance - behind.opaque_conductance
    assert lost == pytest.approx(wall_conductance(collector))
    assert replace(behind, opaque_conductance=house.opaque_conductance) == house


def test_a_house_keeps_some_conductance_behind_the_largest_collector(resolved: Resolved) -> None:
    huge = replace(resolved.parts.collector, width=5000.0)
    assert house_behind(resolved.houses[1], huge).opaque_conductance == LEAST_CONDUCTANCE


def test_a_collector_in_the_open_leaves_the_house_alone(resolved: Resolved) -> None:
    collector = resolved.parts.collector
    free = replace(collector, back=replace(collector.back, wall_resistance=None))
    assert house_behind(resolved.houses[0], free) == resolved.houses[0]
