"""A block of lanes gives in each what a single lane gives, bit for bit, and does it in one instruction."""

import math

import numpy as np
import pytest

from simengine import vector
from simengine.vector import BLOCKS, WIDTH, any_of, block, first_of, lanes_in, same_in, where

numba = pytest.importorskip("numba")
pytestmark = pytest.mark.skipif(not BLOCKS, reason="there are no blocks without the compiler")

compiled = numba.njit(error_model="numpy", _nrt=False)


@compiled
def _sums(a, b, table, out, lane):
    x, y = a[lane], b[lane]
    larger, smaller = max(x, y), min(x, 1.0)
    out[0, lane] = x + y
    out[1, lane] = x - 2.0 * y
    out[2, lane] = x * y / (1.0 + abs(y))
    out[3, lane] = math.sqrt(abs(x)) - larger
    out[4, lane] = where((x > y) & (x >= 0.0), smaller, -y)
    out[5, lane] = where((x < y) | (x == 1.0), same_in(lane, 3.0), larger)
    out[6, lane] = where(x != y, 1.0, 0.0)
    out[7, lane] = table[int(min(max(x, 0.0), 3.0)), lane]
    out[0, lane] += 0.5
    out[1, lane] *= y
    return any_of(x > 100.0)


@compiled
def _one_by_one(a, b, table, out):
    found = False
    for lane in range(a.size):
        found = _sums(a, b, table, out, lane) | found
    return found


@compiled
def _together(a, b, table, out):
    return _sums(a, b, table, out, block())


@compiled
def _counts():
    return first_of(block()), lanes_in(block()), first_of(5), lanes_in(5)


# mathematics: the operations of IEEE 754 are the same whether they are done one by one or side by side
@pytest.mark.parametrize("seed", range(4))
def test_each_lane_is_what_it_is_alone(seed):
    rng = np.random.default_rng(seed)
    a, b = rng.normal(size=WIDTH), rng.normal(size=WIDTH)
    a[0], a[1], b[2] = 1.0, 0.0, np.nan
    a[3] = b[3]
    table = rng.normal(size=(4, WIDTH))
    alone, together = np.zeros((8, WIDTH)), np.zeros((8, WIDTH))
    assert _one_by_one(a, b, table, alone) == _together(a, b, table, together)
    assert np.array_equal(alone, together, equal_nan=True)


def test_any_lane_counts():
    out, table = np.zeros((8, WIDTH)), np.zeros((4, WIDTH))
    for lane in range(WIDTH):
        a = np.zeros(WIDTH)
        assert not _together(a, a, table, out)
        a[lane] = 101.0
        assert _together(a, np.zeros(WIDTH), table, out)


def test_a_block_knows_its_lanes():
    assert _counts() == (0, WIDTH, 5, 1)


def test_it_is_one_instruction_for_all_lanes():
    arguments = (np.ones(WIDTH), np.ones(WIDTH), np.ones((4, WIDTH)), np.ones((8, WIDTH)))
    _together(*arguments)
    code = _together.inspect_llvm(_together.signatures[0])
    for name in ("fadd", "fdiv", "fcmp"):
        wide = [line for line in code.splitlines() if f" {name} " in line and f"<{WIDTH} x double>" in line]
        assert wide, name
    assert "fdiv double" not in code


def test_plain_numbers_are_plain_without_the_compiler():
    assert vector.where(True, 1.0, 2.0) == 1.0 and vector.where(False, 1.0, 2.0) == 2.0
    assert vector.any_of(True) and vector.same_in(3, 7.0) == 7.0
    assert (vector.first_of(3), vector.lanes_in(3)) == (3, 1)
    with pytest.raises(NotImplementedError):
        vector.block()
