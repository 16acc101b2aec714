"""The comparative test cell of ANSI/ASHRAE Standard 140, light against heavy: a loose band and an order.

Cell and ranges are from memory of the standard: 8 x 6 x 2.7 m, two south windows of 3 x 2 m, UA about
104 W/K, 200 W internal, 0.5 air changes, heated below 20 degC, vented above 27 degC (there: cooled). Its
weather is Denver's typical year, which cannot be had here. One capacity can't be inside every band.
"""

import os
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from simengine.engine.march import march_house
from simengine.house.spec import House, Window
from simengine.simulate.forcing import Place, demand_rows, place, zone_rows
from simengine.weather import read_weather
from tests.engine.drive import demo, greensboro

KWH = 3.6e6
FLOOR, WALL = 48.0, 63.6  # [m2]
OPAQUE = 0.514 * WALL + 0.318 * FLOOR + 0.039 * FLOOR  # [W/K] walls, roof, floor (from memory)
SOUTH = (Window(180.0, 12.0, 0.787, frame_share=0.0, shading_factor=1.0),)  # clear double panes

# heat capacity per area of each inner layer [J/m2K] by its area (layers from memory of the standard)
LIGHT = {9_600.0: WALL, 8_000.0: FLOOR, 19_500.0: FLOOR}  # plasterboard, plasterboard, timber
HEAVY = {140_000.0: WALL, 8_000.0: FLOOR, 112_000.0: FLOOR}  # concrete block, plasterboard, slab
FOLDER = os.environ.get("SIMENGINE_WEATHER_FILES", "")
NEAREST = "boulder_co_tmy3.epw.zip"


def cell(layers: dict[float, float]) -> House:
    """Return the cell; capacity and mass area as ISO 13790 clause 12.3.1 sums them (from memory)."""
    capacity = sum(per_area * area for per_area, area in layers.items())
    squares = sum(per_area**2 * area for per_area, area in layers.items())
    return House(
        "cell",
        FLOOR,
        129.6,
        OPAQUE,
        36.0,
        18.44,
        SOUTH,
        (200.0,) * 24,
        (293.15,) * 24,
        vent_limit=300.15,
        heat_capacity_per_area=capacity / FLOOR,
        mass_area_ratio=capacity**2 / squares / FLOOR,
        air_capacity_factor=1.0,
    )


@cache
def need(heavy: bool, elsewhere: str = "") -> float:
    """Return the heating of a year [MWh], the second of two passes."""
    there = nearest(elsewhere) if elsewhere else greensboro()
    house = (cell(HEAVY if heavy else LIGHT),)
    zones, demand = zone_rows(house), demand_rows(there, house)
    state = np.full((4, 1), 293.15)
    for _ in range(2):
        hours = np.zeros((there.ambient.size, 4, 1))
        plan = np.full(there.ambient.size, 4, dtype=np.int64)
        march_house(zones, demand, there.ambient, plan, 3600.0, state, hours)
    return float(hours[:, 0].sum()) / KWH / 1000.0


def nearest(file: str) -> Place:
    return place(read_weather(Path(file)), demo().parts.site, "berdahl_martin")


def test_the_cell_loses_what_the_standard_says() -> None:
    # 104.3 W/K in all with 12 m2 of window at 3.0 and 18.44 W/K of air (from memory of the standard, 0.3 %)
    assert pytest.approx(104.3, rel=0.003) == OPAQUE + 36.0 + 18.44
    light, heavy = cell(LIGHT), cell(HEAVY)
    assert heavy.heat_capacity_per_area > 7.0 * light.heat_capacity_per_area
    assert light.mass_area_ratio == pytest.approx(2.9, abs=0.1)


def test_the_heavy_cell_needs_far_less_than_the_light_one() -> None:
    # the order and its size: a third or less in the standard's sunny winter, here cloudier and milder
    assert 0.15 < need(True) / need(False) < 0.75


@pytest.mark.skipif(
    not Path(FOLDER, NEAREST).is_file(),
    reason="the nearest real year to Denver's is not part of the project; SIMENGINE_WEATHER_FILES names a "
    "folder that holds it",
)
@pytest.mark.parametrize(
    ("heavy", "low", "high"),
    [
        # range of the standard's own comparison, from memory: 4.0 to 5.7 and 1.2 to 2.0 MWh, in Denver; a
        # fifth more on either side for another place and one capacity
        pytest.param(False, 0.8 * 4.0, 1.2 * 5.7, id="case 600, light"),
        pytest.param(True, 0.8 * 1.2, 1.2 * 2.0, id="case 900, heavy"),
    ],
)
def test_near_denver_both_lie_in_a_loose_band(heavy, low, high) -> None:
    assert low < need(heavy, str(Path(FOLDER, NEAREST))) < high
