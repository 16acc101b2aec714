"""A kernel taken up as a part gives bit for bit what it gives by itself, whoever calls it."""

import math
from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np
import pytest

from simengine import compiled
from simengine.compiled import COMPILING

if not COMPILING:
    pytest.skip("nothing is compiled here", allow_module_level=True)

import numba

from simengine import compiled_parts

ROWS = np.array([[0.1, 0.2, 0.3], [1.7, -2.9, 5.3]])


class Pair(NamedTuple):
    """Numbers and an array."""

    rows: Any
    factor: float


class Both(NamedTuple):
    """A pair in a named tuple."""

    pair: Pair
    more: Any
    count: int


def _term(pair: Pair, place: int) -> float:
    return pair.factor * math.sin(pair.rows[1, place]) + pair.rows[0, place]


def _given() -> Both:
    return Both(Pair(ROWS, 1.0 / 3.0), ROWS.T.copy(), 3)


def _made(decorate: Callable[..., Any], outermost: Callable[..., Any]) -> Any:
    term = decorate(_term)

    def scaled(pair: Pair, by: float) -> Pair:
        return Pair(pair.rows, pair.factor * by)

    scale = decorate(scaled)

    def total(both: Both) -> float:
        found = 0.0
        for place in range(both.count):
            found += term(scale(both.pair, both.more[place, 1]), place) / 0.7
        return found * scale(both.pair, found).factor

    inner = decorate(total)

    def called(both: Both) -> float:
        return inner(both)  # type: ignore[no-any-return]

    return outermost(called)


@pytest.fixture(autouse=True)
def nothing_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """Compile anew in each test."""
    monkeypatch.setattr(compiled, "CACHE_REFUSED", "tests compile anew")


def test_the_version_at_hand_was_tried() -> None:
    assert compiled_parts.SUITS, "try whether parts suit this numba: run all tests, then add it to TRIED"


def test_parts_give_the_bits_of_numbas_own_way(monkeypatch: pytest.MonkeyPatch) -> None:
    found = _made(compiled.kernel, compiled.entry)(_given())
    monkeypatch.setattr(compiled_parts, "SUITS", False)
    assert found == _made(compiled.kernel, compiled.entry)(_given())
    assert found == pytest.approx(_made(lambda function: function, lambda function: function)(_given()))


def test_python_and_other_compiled_code_call_a_kernel_as_well() -> None:
    entered = _made(compiled.kernel, compiled.entry)(_given())
    called = _made(compiled.kernel, compiled.kernel)(_given())
    others = _made(compiled.kernel, numba.njit)(_given())
    assert entered == called == others


def test_for_compiled_callers_alone_nothing_is_made_that_python_could_call() -> None:
    kernels: list[Any] = []

    def noted(function: Any) -> Any:
        kernels.append(compiled.kernel(function))
        return kernels[-1]

    _made(noted, compiled.entry)(_given())
    assert len(kernels) == 3 and not any(kernel.overloads for kernel in kernels)


def test_a_kernel_that_needs_python_is_refused() -> None:
    kernel = compiled.kernel(lambda value: print(value, "as text"))

    def called(value: float) -> None:
        kernel(value)

    with pytest.raises(NotImplementedError, match="cannot use Python's objects"):
        compiled.entry(called)(1.0)
