"""Every number of the network is read back from the row in which it was written."""

import numpy as np
import pytest

from simengine.collector import network as rows
from simengine.collector.network import AirFlow, Box, Path, Weather
from tests.collector.by_hand import collector, numbers


def numbered(count: int, *axes: int) -> np.ndarray:
    """Return rows 1, 2, ... in the last place of the other axes, and no number anywhere else."""
    table = np.full((count, *axes), np.nan)
    table[(slice(None), *(-1 for _ in axes))] = np.arange(1.0, count + 1.0)
    return table


def test_fields_are_read_in_their_order_from_their_own_lane():
    assert rows.read_box(numbered(len(Box._fields), 3), 2) == Box(*np.arange(1.0, len(Box._fields) + 1.0))
    assert rows.read_air_flow(numbered(11, 3), 2) == AirFlow(*np.arange(1.0, 12.0))
    assert rows.read_path(numbered(6, 2, 3), 1, 2) == Path(*np.arange(1.0, 7.0))


def test_weather_is_read_in_its_order():
    table = np.arange(12.0).reshape(4, 3)
    assert rows.read_weather(table, 1) == Weather(1.0, 4.0, 7.0, 10.0)


@pytest.mark.parametrize("kind", [Box, Path, AirFlow, Weather])
def test_each_field_alone(kind):
    """Field k alone is set: only field k is read back."""
    count = len(kind._fields)
    reader = {
        Box: rows.read_box,
        Path: rows.read_path,
        AirFlow: rows.read_air_flow,
        Weather: rows.read_weather,
    }[kind]
    for number, name in enumerate(kind._fields):
        values = np.zeros(count)
        values[number] = 1.0
        table = values.reshape((count,) + (1,) * (2 if kind is Path else 1))
        found = reader(table, 0, 0) if kind is Path else reader(table, 0)
        assert {field for field, value in found._asdict().items() if value != 0.0} == {name}


@pytest.mark.parametrize("arrangement", ["behind", "in_front", "both_sides", "two_pass", "through", "tubes"])
@pytest.mark.parametrize("panes", [1, 2])
def test_shapes_fit_together(arrangement, panes):
    network, table = numbers(collector(arrangement, 5, panes))
    assert network.box.shape == (len(Box._fields), 1)
    assert network.path.shape == (len(Path._fields), 5, 1)
    assert network.capacity.shape == (panes + rows.NODES_BEHIND_PANES, 1)
    assert network.exchange.shape == (panes + 1, 1)
    assert network.gap.shape == (panes + 1, 2, 5, 1)
    assert network.gas.shape == (panes + 1, 2, 7, 1)
    assert network.nusselt.shape[:2] == (panes + 1, 1)
    assert table.flow.shape == (2, len(AirFlow._fields), 1)
    assert table.film.shape == (2, 2, 5, 1)


def test_arrays_are_all_of_one_layout_so_that_the_march_compiles_once():
    network, table = numbers(collector("through"))
    for array in (*network[2:], *table):
        assert array.dtype == np.float64 and array.flags.c_contiguous and array.flags.writeable
