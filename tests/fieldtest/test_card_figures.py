"""The card's figures against a second coding of the collector, at three of its points."""

import numpy as np
import pytest

from simengine.collector.absorbed import absorbed_sun
from simengine.data_files import data_path
from simengine.fieldtest.card import INCIDENCE, OUTSIDE, ROOM, SUNS, WIND, check_card
from simengine.heat_transfer.wind import WIND_RELATIONS
from simengine.scenario import load
from simengine.simulate import resolve
from simengine.simulate.operating_point import Conditions
from tests.reference.blind_steady import Box, Outdoors


@pytest.mark.parametrize(("row", "column"), [(0, 3), (1, 1), (3, 2)])
def test_rise_on_the_card_is_that_of_a_blind_coding(row: int, column: int) -> None:
    # independent solution: `blind_steady`, a root finder by an author who had not seen the package's coding;
    # sun in each layer is the package's own (held elsewhere), three segments against polynomials: 1 %
    resolved = resolve(load(data_path("scenarios", "demo.toml")))
    collector, flow = resolved.parts.collector, resolved.parts.fan.mass_flow
    ambient, sun = OUTSIDE[row] + 273.15, SUNS[column]
    one, none = np.array([sun]), np.zeros(1)
    taken = absorbed_sun(collector, np.array([INCIDENCE]), one, none, none)
    given = Conditions(irradiance=sun, incidence=INCIDENCE, ambient=ambient, inlet=ROOM, wind=WIND)
    film = WIND_RELATIONS[collector.wind_relation](WIND, collector.length)
    outdoors = Outdoors(ambient, given.sky_temperature, film, resolved.pressure)
    layers = np.concatenate([taken.pane[:, 0], taken.absorber])
    second = Box(collector, outdoors, layers, ROOM, flow).solve()
    assert check_card(resolved).rise[row, column] == pytest.approx(second.outlet - ROOM, rel=0.01)
