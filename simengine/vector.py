"""One lane or many at once: a kernel that is given a block of lanes works in the processor's wide registers.

`array[..., lane]` is a float where `lane` is an integer, and a vector of `WIDTH` floats where it is a block of
lanes. Arithmetic, comparisons, `max`, `min`, `abs`, `math.sqrt` and the functions below take both, so one
source serves both, and gives the same bits. Without the compiler a lane is always an integer.
"""

import math
import operator
from collections.abc import Callable
from typing import Any, cast

from simengine.compiled import COMPILER_AVAILABLE


def _switched_off() -> bool:
    from numba import config

    return bool(config.DISABLE_JIT)


WIDTH = 8
"""Lanes of a block: one wide register, or two or four of narrower processors."""


BLOCKS = COMPILER_AVAILABLE and not _switched_off()
"""Whether there are blocks at all: without the compiler a lane is always an integer."""


def where(condition: bool, chosen: float, other: float) -> float:
    """Return one of two values, lane by lane; both are worked out.

    >>> where(2.0 > 1.0, 3.0, 4.0)
    3.0
    """
    return chosen if condition else other


def any_of(condition: bool) -> bool:
    """Return whether a condition holds in any lane."""
    return bool(condition)


def first_of(lane: int) -> int:
    """Return the number of the first lane."""
    return lane


def lanes_in(lane: int) -> int:
    """Return how many lanes there are."""
    return 1


def same_in(lane: int, value: float) -> float:
    """Return a value in all lanes."""
    return value


def block() -> int:
    """Return the block of the first `WIDTH` lanes; only compiled code knows blocks."""
    raise NotImplementedError


if COMPILER_AVAILABLE:
    import llvmlite.ir as ir
    from numba.core import cgutils, types
    from numba.core.typing.templates import AbstractTemplate, infer_global, signature
    from numba.extending import lower_builtin, lower_cast, models, register_model
    from numba.np.arrayobj import getitem_array_tuple, make_array

    _DOUBLES = ir.VectorType(ir.DoubleType(), WIDTH)
    _BITS = ir.VectorType(ir.IntType(1), WIDTH)
    _PLACES = ir.VectorType(ir.IntType(64), WIDTH)

    class _Wide(types.Type):  # type: ignore[misc]
        """A value in every lane; a plain number turns into one where the two meet."""

        def unify(self, typingctx: Any, other: Any) -> Any:
            return self if isinstance(other, types.Number) else None

    class Vector(_Wide):
        """Floats."""

    class Places(_Wide):
        """Integers."""

    class Mask(_Wide):
        """Truth values."""

        def unify(self, typingctx: Any, other: Any) -> Any:
            return self if isinstance(other, types.Boolean) else None

    class Block(types.Type):  # type: ignore[misc]
        """So many lanes from a first one on."""

    vector, places, mask, lanes = Vector("vector"), Places("places"), Mask("mask"), Block("block")

    def _model(kind: Any, shape: Any) -> None:
        class Model(models.PrimitiveModel):  # type: ignore[misc]
            def __init__(self, manager: Any, front: Any) -> None:
                super().__init__(manager, front, shape)

        register_model(kind)(Model)

    _model(Vector, _DOUBLES)
    _model(Places, _PLACES)
    _model(Mask, _BITS)
    _model(Block, ir.IntType(64))

    def _spread(builder: Any, value: Any, shape: Any) -> Any:
        """Return a value in all lanes."""
        empty = ir.Constant(shape, ir.Undefined)
        first = builder.insert_element(empty, value, ir.Constant(ir.IntType(32), 0))
        zeros = ir.Constant(ir.VectorType(ir.IntType(32), WIDTH), [0] * WIDTH)
        return builder.shuffle_vector(first, empty, zeros)

    @lower_cast(types.Number, Vector)  # type: ignore[untyped-decorator]
    def _number_to_vector(context: Any, builder: Any, fromty: Any, toty: Any, value: Any) -> Any:
        return _spread(builder, context.cast(builder, value, fromty, types.float64), _DOUBLES)

    @lower_cast(types.Number, Places)  # type: ignore[untyped-decorator]
    def _number_to_places(context: Any, builder: Any, fromty: Any, toty: Any, value: Any) -> Any:
        return _spread(builder, context.cast(builder, value, fromty, types.int64), _PLACES)

    @lower_cast(types.Boolean, Mask)  # type: ignore[untyped-decorator]
    def _truth_to_mask(context: Any, builder: Any, fromty: Any, toty: Any, value: Any) -> Any:
        return _spread(builder, builder.trunc(value, ir.IntType(1)) if value.type.width > 1 else value, _BITS)

    @lower_cast(Places, Vector)  # type: ignore[untyped-decorator]
    def _places_to_vector(context: Any, builder: Any, fromty: Any, toty: Any, value: Any) -> Any:
        return builder.sitofp(value, _DOUBLES)

    def _register(function: Any, given: tuple[Any, ...], result: Any, build: Callable[..., Any]) -> None:
        """Let compiled code call a function on lanes; plain numbers among its arguments are spread."""
        kinds = tuple(type(kind) for kind in given)

        def fits(wanted: Any, kind: Any) -> bool:
            if kind == wanted:
                return True
            if wanted is vector:
                return isinstance(kind, types.Number) or kind is places
            if wanted is places:
                return isinstance(kind, types.Integer)
            return wanted is mask and isinstance(kind, types.Boolean)

        class Template(AbstractTemplate):  # type: ignore[misc]
            def generic(self, args: Any, kws: Any) -> Any:
                enough = len(args) == len(given) and not kws and any(a in given for a in args)
                if enough and all(fits(w, k) for w, k in zip(given, args, strict=True)):
                    return signature(result, *given)
                return None

        infer_global(function)(Template)

        def lower(context: Any, builder: Any, sig: Any, args: Any) -> Any:
            return build(builder, *args)

        lower_builtin(function, *kinds)(lower)

    def _compare(sign: str) -> Callable[..., Any]:
        if sign == "!=":
            return lambda builder, a, b: builder.fcmp_unordered(sign, a, b)
        return lambda builder, a, b: builder.fcmp_ordered(sign, a, b)

    def _larger(builder: Any, a: Any, b: Any) -> Any:
        return builder.select(builder.fcmp_ordered(">", b, a), b, a)

    def _smaller(builder: Any, a: Any, b: Any) -> Any:
        return builder.select(builder.fcmp_ordered("<", b, a), b, a)

    def _intrinsic(name: str) -> Callable[..., Any]:
        def build(builder: Any, *args: Any) -> Any:
            kind = ir.FunctionType(_DOUBLES, [_DOUBLES] * len(args))
            function = cgutils.get_or_insert_function(builder.module, kind, f"llvm.{name}.v{WIDTH}f64")
            return builder.call(function, args)

        return build

    for _function, _name in (
        (operator.add, "fadd"),
        (operator.sub, "fsub"),
        (operator.mul, "fmul"),
        (operator.truediv, "fdiv"),
        (operator.iadd, "fadd"),
        (operator.isub, "fsub"),
        (operator.imul, "fmul"),
    ):
        _register(
            _function,
            (vector, vector),
            vector,
            lambda builder, a, b, _name=_name: getattr(builder, _name)(a, b),
        )
    _register(operator.add, (places, places), places, lambda builder, a, b: builder.add(a, b))
    for _function, _sign in (
        (operator.gt, ">"),
        (operator.ge, ">="),
        (operator.lt, "<"),
        (operator.le, "<="),
        (operator.eq, "=="),
        (operator.ne, "!="),
    ):
        _register(_function, (vector, vector), mask, _compare(_sign))
    _register(operator.and_, (mask, mask), mask, lambda builder, a, b: builder.and_(a, b))
    _register(operator.or_, (mask, mask), mask, lambda builder, a, b: builder.or_(a, b))
    _register(operator.neg, (vector,), vector, lambda builder, a: builder.fneg(a))
    _register(max, (vector, vector), vector, _larger)
    _register(min, (vector, vector), vector, _smaller)
    _register(abs, (vector,), vector, _intrinsic("fabs"))
    _register(math.sqrt, (vector,), vector, _intrinsic("sqrt"))
    _register(math.copysign, (vector, vector), vector, _intrinsic("copysign"))
    _register(int, (vector,), places, lambda builder, a: builder.fptosi(a, _PLACES))
    _register(where, (mask, vector, vector), vector, lambda builder, c, a, b: builder.select(c, a, b))

    def _any(builder: Any, condition: Any) -> Any:
        bits = builder.bitcast(condition, ir.IntType(WIDTH))
        return builder.icmp_unsigned("!=", bits, ir.Constant(ir.IntType(WIDTH), 0))

    _register(any_of, (mask,), types.boolean, _any)

    # --- plain numbers ---------------------------------------------------------------------------------
    class _WherePlain(AbstractTemplate):  # type: ignore[misc]
        def generic(self, args: Any, kws: Any) -> Any:
            if len(args) == 3 and isinstance(args[0], types.Boolean):
                if all(isinstance(a, types.Number) for a in args[1:]):
                    return signature(types.float64, types.boolean, types.float64, types.float64)
            return None

    infer_global(where)(_WherePlain)

    @lower_builtin(where, types.Boolean, types.Float, types.Float)  # type: ignore[untyped-decorator]
    def _where_plain(context: Any, builder: Any, sig: Any, args: Any) -> Any:
        return builder.select(args[0], args[1], args[2])

    def _of_plain(function: Any, given: Any, result: Any, build: Callable[..., Any]) -> None:
        class Template(AbstractTemplate):  # type: ignore[misc]
            def generic(self, args: Any, kws: Any) -> Any:
                fits = len(args) == len(given) and all(
                    context_ok(g, a) for g, a in zip(given, args, strict=True)
                )
                return signature(result, *given) if fits else None

        def context_ok(g: Any, a: Any) -> bool:
            if isinstance(g, Block):
                return isinstance(a, Block)
            if isinstance(g, types.Boolean):
                return isinstance(a, types.Boolean)
            if isinstance(g, types.Integer):
                return isinstance(a, types.Integer)
            return isinstance(a, types.Number)

        infer_global(function)(Template)

        def lower(context: Any, builder: Any, sig: Any, args: Any) -> Any:
            return build(builder, *args)

        lower_builtin(function, *(type(g) for g in given))(lower)

    def _int64(value: int) -> Any:
        return ir.Constant(ir.IntType(64), value)

    _of_plain(any_of, (types.boolean,), types.boolean, lambda builder, c: c)
    _of_plain(first_of, (types.int64,), types.int64, lambda builder, lane: lane)
    _of_plain(first_of, (lanes,), types.int64, lambda builder, lane: lane)
    _of_plain(lanes_in, (types.int64,), types.int64, lambda builder, lane: _int64(1))
    _of_plain(lanes_in, (lanes,), types.int64, lambda builder, lane: _int64(WIDTH))
    _of_plain(same_in, (types.int64, types.float64), types.float64, lambda builder, lane, v: v)
    _of_plain(same_in, (lanes, types.float64), vector, lambda builder, lane, v: _spread(builder, v, _DOUBLES))
    _of_plain(block, (), lanes, lambda builder: _int64(0))

    # --- arrays ----------------------------------------------------------------------------------------
    def _indices(index: Any) -> tuple[Any, ...]:
        return tuple(index.types) if isinstance(index, types.BaseTuple) else (index,)

    def _settled(array: Any, index: Any) -> Any:
        """Return the kinds of an index that a block of lanes is in, or None."""
        kinds = _indices(index)
        if not isinstance(array, types.Array) or array.layout != "C" or len(kinds) != array.ndim:
            return None
        if not any(isinstance(kind, Block) for kind in kinds):
            return None
        if not all(isinstance(kind, Block | Places | types.Integer | types.IntEnumMember) for kind in kinds):
            return None
        plain = [kind if isinstance(kind, Block | Places) else types.intp for kind in kinds]
        return types.Tuple(plain) if isinstance(index, types.BaseTuple) else plain[0]

    class _Get(AbstractTemplate):  # type: ignore[misc]
        def generic(self, args: Any, kws: Any) -> Any:
            array, index = args
            settled = _settled(array, index)
            return None if settled is None else signature(vector, array, settled)

    class _Set(AbstractTemplate):  # type: ignore[misc]
        def generic(self, args: Any, kws: Any) -> Any:
            array, index, _ = args
            settled = _settled(array, index)
            return None if settled is None else signature(types.none, array, settled, vector)

    infer_global(operator.getitem)(_Get)
    infer_global(operator.setitem)(_Set)

    def _address(context: Any, builder: Any, array_type: Any, array: Any, kinds: Any, index: Any) -> Any:
        """Return the address of the first lane, and how far from it each lane's element is (None: in a row)."""
        struct = make_array(array_type)(context, builder, array)
        strides = cgutils.unpack_tuple(builder, struct.strides, array_type.ndim)
        offset, apart = _int64(0), None
        for axis, (kind, place) in enumerate(zip(kinds, index, strict=True)):
            last = axis == array_type.ndim - 1
            step = _int64(8) if last else strides[axis]
            if isinstance(kind, Places):
                part = builder.mul(place, _spread(builder, step, _PLACES))
                apart = part if apart is None else builder.add(apart, part)
                continue
            offset = builder.add(offset, builder.mul(place, step))
            if isinstance(kind, Block) and not last:
                count = ir.Constant(_PLACES, list(range(WIDTH)))
                part = builder.mul(count, _spread(builder, step, _PLACES))
                apart = part if apart is None else builder.add(apart, part)
        if apart is not None and isinstance(kinds[-1], Block):
            apart = builder.add(apart, ir.Constant(_PLACES, [8 * lane for lane in range(WIDTH)]))
        first = builder.gep(builder.bitcast(struct.data, ir.IntType(8).as_pointer()), [offset])
        return first, apart

    def _load(context: Any, builder: Any, sig: Any, args: Any) -> Any:
        kinds = _indices(sig.args[1])
        if not isinstance(sig.return_type, Vector):
            return getitem_array_tuple(context, builder, sig, args)
        index = (
            cgutils.unpack_tuple(builder, args[1]) if isinstance(sig.args[1], types.BaseTuple) else [args[1]]
        )
        address, apart = _address(context, builder, sig.args[0], args[0], kinds, index)
        if apart is None:
            return builder.load(builder.bitcast(address, _DOUBLES.as_pointer()), align=8)
        value = ir.Constant(_DOUBLES, ir.Undefined)
        for lane in range(WIDTH):
            number = ir.Constant(ir.IntType(32), lane)
            place = builder.gep(address, [builder.extract_element(apart, number)])
            element = builder.load(builder.bitcast(place, ir.DoubleType().as_pointer()), align=8)
            value = builder.insert_element(value, element, number)
        return value

    def _store(context: Any, builder: Any, sig: Any, args: Any) -> Any:
        kinds = _indices(sig.args[1])
        index = (
            cgutils.unpack_tuple(builder, args[1]) if isinstance(sig.args[1], types.BaseTuple) else [args[1]]
        )
        address, apart = _address(context, builder, sig.args[0], args[0], kinds, index)
        assert apart is None
        builder.store(args[2], builder.bitcast(address, _DOUBLES.as_pointer()), align=8)
        return context.get_dummy_value()

    for _kind in (types.BaseTuple, Block):
        lower_builtin(operator.getitem, types.Array, _kind)(_load)
        lower_builtin(operator.setitem, types.Array, _kind, Vector)(_store)
