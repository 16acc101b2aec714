"""What the compiler has to know of blocks: kinds of values with a number in every lane, and their arithmetic.

Only what kernels need is taught. A plain number turns into one for all lanes where the two meet. All of it
is spelled as one instruction on a vector of the compiler's own intermediate language, so that each lane
comes out as a plain number would, bit for bit.
"""

import math
import operator
from collections.abc import Callable, Sequence
from typing import Any

from numba.core import cgutils, types
from numba.core.typing.templates import AbstractTemplate, infer_global, signature
from numba.extending import lower_builtin, lower_cast, models, register_model
from numba.np.arrayobj import getitem_array_tuple, make_array

Build = Callable[..., Any]
"""Spells a function: (builder, *values) -> value."""

FIRST = {"target": "cpu"}
"""Lets the compiler ask here before it asks its dozens of functions on texts, lists and dates."""

ir = cgutils.ir
INT, DOUBLE, BYTE = ir.IntType(64), ir.DoubleType(), ir.IntType(8)


class _Wide(types.Type):  # type: ignore[misc]
    """A value in every lane."""

    plain: Any = types.Number

    def unify(self, typingctx: Any, other: Any) -> Any:
        return self if isinstance(other, self.plain) else None


class Vector(_Wide):
    """Floats."""


class Places(_Wide):
    """Integers: places in a table."""


class Mask(_Wide):
    """Truth values."""

    plain = types.Boolean


class Block(types.Type):  # type: ignore[misc]
    """So many lanes from a first one on, as the index of an array."""


VECTOR, PLACES, MASK, BLOCK = Vector("vector"), Places("places"), Mask("mask"), Block("block")


def teach(
    width: int,
    where: Build,
    any_of: Build,
    first_of: Build,
    lanes_in: Build,
    same_in: Build,
    block: Build,
) -> None:
    """Teach the compiler blocks of so many lanes.

    Parameters
    ----------
    width : lanes of a block [-]
    where, any_of, first_of, lanes_in, same_in, block : the functions of `vector` that are to take them
    """
    doubles, bits, places = (ir.VectorType(kind, width) for kind in (DOUBLE, ir.IntType(1), INT))
    for kind, shape in ((Vector, doubles), (Places, places), (Mask, bits), (Block, INT)):
        _store_as(kind, shape)
    _teach_casts(doubles, places, bits)
    _teach_arithmetic(doubles, places, width)
    _teach(where, (MASK, VECTOR, VECTOR), VECTOR, lambda builder, c, a, b: builder.select(c, a, b))
    _teach(where, (types.boolean, types.float64, types.float64), types.float64, ir.IRBuilder.select)
    _teach(any_of, (MASK,), types.boolean, lambda builder, mask: _any(builder, mask, width))
    _teach(any_of, (types.boolean,), types.boolean, lambda builder, value: value)
    for kind, lanes in ((types.int64, 1), (BLOCK, width)):
        _teach(first_of, (kind,), types.int64, lambda builder, lane: lane)
        _teach(lanes_in, (kind,), types.int64, lambda builder, lane, lanes=lanes: ir.Constant(INT, lanes))
    _teach(same_in, (types.int64, types.float64), types.float64, lambda builder, lane, value: value)
    _teach(same_in, (BLOCK, types.float64), VECTOR, lambda b, lane, value: _spread(b, value, doubles))
    _teach(block, (), BLOCK, lambda builder: ir.Constant(INT, 0))
    _teach_arrays(doubles, places, width)


def _store_as(kind: Any, shape: Any) -> None:
    class Model(models.PrimitiveModel):  # type: ignore[misc]
        def __init__(self, manager: Any, front: Any) -> None:
            super().__init__(manager, front, shape)

    register_model(kind)(Model)


def _teach(function: Any, wanted: Sequence[Any], result: Any, build: Build) -> None:
    """Let compiled code call a function on values of these kinds."""

    class Template(AbstractTemplate):  # type: ignore[misc]
        metadata = FIRST

        def generic(self, args: Any, kws: Any) -> Any:
            fits = len(args) == len(wanted) and all(map(_fits, wanted, args))
            wide = not any(isinstance(kind, _Wide) for kind in wanted) or any(a in wanted for a in args)
            return signature(result, *wanted) if fits and wide else None

    infer_global(function)(Template)

    def lower(context: Any, builder: Any, sig: Any, args: Any) -> Any:
        return build(builder, *args)

    lower_builtin(function, *(type(kind) for kind in wanted))(lower)


def _fits(wanted: Any, given: Any) -> bool:
    """Return whether a value of the kind given may stand where one of another is wanted."""
    if given == wanted:
        return True
    if isinstance(wanted, Vector):
        return isinstance(given, types.Number | Places)
    if isinstance(wanted, Places):
        return isinstance(given, types.Integer)
    if isinstance(wanted, Mask | types.Boolean):
        return isinstance(given, types.Boolean)
    if isinstance(wanted, types.Integer):
        return isinstance(given, types.Integer)
    return isinstance(wanted, types.Float) and isinstance(given, types.Number)


def _teach_casts(doubles: Any, places: Any, bits: Any) -> None:
    @lower_cast(types.Number, Vector)  # type: ignore[untyped-decorator]
    def _number(context: Any, builder: Any, fromty: Any, toty: Any, value: Any) -> Any:
        return _spread(builder, context.cast(builder, value, fromty, types.float64), doubles)

    @lower_cast(types.Number, Places)  # type: ignore[untyped-decorator]
    def _count(context: Any, builder: Any, fromty: Any, toty: Any, value: Any) -> Any:
        return _spread(builder, context.cast(builder, value, fromty, types.int64), places)

    @lower_cast(types.Boolean, Mask)  # type: ignore[untyped-decorator]
    def _truth(context: Any, builder: Any, fromty: Any, toty: Any, value: Any) -> Any:
        return _spread(builder, value, bits)

    @lower_cast(Places, Vector)  # type: ignore[untyped-decorator]
    def _places(context: Any, builder: Any, fromty: Any, toty: Any, value: Any) -> Any:
        return builder.sitofp(value, doubles)


def _spread(builder: Any, value: Any, shape: Any) -> Any:
    """Return a value in all lanes."""
    empty = ir.Constant(shape, ir.Undefined)
    first = builder.insert_element(empty, value, ir.Constant(ir.IntType(32), 0))
    zeros = ir.Constant(ir.VectorType(ir.IntType(32), shape.count), [0] * shape.count)
    return builder.shuffle_vector(first, empty, zeros)


def _any(builder: Any, mask: Any, width: int) -> Any:
    whole = ir.IntType(width)
    return builder.icmp_unsigned("!=", builder.bitcast(mask, whole), ir.Constant(whole, 0))


def _teach_arithmetic(doubles: Any, places: Any, width: int) -> None:
    for functions, name in (
        ((operator.add, operator.iadd), "fadd"),
        ((operator.sub, operator.isub), "fsub"),
        ((operator.mul, operator.imul), "fmul"),
        ((operator.truediv, operator.itruediv), "fdiv"),
    ):
        for function in functions:
            _teach(function, (VECTOR, VECTOR), VECTOR, getattr(ir.IRBuilder, name))
    _teach(operator.add, (PLACES, PLACES), PLACES, ir.IRBuilder.add)
    for function, sign in (
        (operator.gt, ">"),
        (operator.ge, ">="),
        (operator.lt, "<"),
        (operator.le, "<="),
        (operator.eq, "=="),
    ):
        _teach(function, (VECTOR, VECTOR), MASK, lambda b, x, y, sign=sign: b.fcmp_ordered(sign, x, y))
    _teach(operator.ne, (VECTOR, VECTOR), MASK, lambda b, x, y: b.fcmp_unordered("!=", x, y))
    _teach(operator.and_, (MASK, MASK), MASK, ir.IRBuilder.and_)
    _teach(operator.or_, (MASK, MASK), MASK, ir.IRBuilder.or_)
    _teach(operator.neg, (VECTOR,), VECTOR, ir.IRBuilder.fneg)
    _teach(max, (VECTOR, VECTOR), VECTOR, lambda b, x, y: b.select(b.fcmp_ordered(">", y, x), y, x))
    _teach(min, (VECTOR, VECTOR), VECTOR, lambda b, x, y: b.select(b.fcmp_ordered("<", y, x), y, x))
    _teach(int, (VECTOR,), PLACES, lambda builder, value: builder.fptosi(value, places))
    _teach(abs, (VECTOR,), VECTOR, _intrinsic(f"llvm.fabs.v{width}f64", doubles))
    _teach(math.sqrt, (VECTOR,), VECTOR, _intrinsic(f"llvm.sqrt.v{width}f64", doubles))


def _intrinsic(name: str, doubles: Any) -> Build:
    def build(builder: Any, value: Any) -> Any:
        kind = ir.FunctionType(doubles, [doubles])
        return builder.call(cgutils.get_or_insert_function(builder.module, kind, name), [value])

    return build


# ---- arrays -----------------------------------------------------------------------------------------


def _kinds(index: Any) -> tuple[Any, ...]:
    return tuple(index.types) if isinstance(index, types.BaseTuple) else (index,)


def _settled(array: Any, index: Any) -> Any:
    """Return the kinds of an index that a block is in; None where another index is asked for."""
    kinds = _kinds(index)
    if not isinstance(array, types.Array) or array.layout != "C" or len(kinds) != array.ndim:
        return None
    if not any(isinstance(kind, Block) for kind in kinds):
        return None
    if not all(isinstance(kind, Block | Places | types.Integer | types.IntEnumMember) for kind in kinds):
        return None
    plain = [kind if isinstance(kind, Block | Places) else types.intp for kind in kinds]
    return types.Tuple(plain) if isinstance(index, types.BaseTuple) else plain[0]


@infer_global(operator.getitem)
class _Get(AbstractTemplate):  # type: ignore[misc]
    metadata = FIRST

    def generic(self, args: Any, kws: Any) -> Any:
        array, index = args
        settled = _settled(array, index)
        return None if settled is None else signature(VECTOR, array, settled)


@infer_global(operator.setitem)
class _Set(AbstractTemplate):  # type: ignore[misc]
    metadata = FIRST

    def generic(self, args: Any, kws: Any) -> Any:
        array, index, _ = args
        settled = _settled(array, index)
        return None if settled is None else signature(types.none, array, settled, VECTOR)


def _teach_arrays(doubles: Any, places: Any, width: int) -> None:
    row = doubles.as_pointer()

    def load(context: Any, builder: Any, sig: Any, args: Any) -> Any:
        if not isinstance(sig.return_type, Vector):  # an index without a block
            return getitem_array_tuple(context, builder, sig, args)
        address, apart = _address(context, builder, sig, args, places, width)
        if apart is None:
            return builder.load(builder.bitcast(address, row), align=8)
        value = ir.Constant(doubles, ir.Undefined)
        for lane in range(width):
            number = ir.Constant(ir.IntType(32), lane)
            place = builder.gep(address, [builder.extract_element(apart, number)])
            element = builder.load(builder.bitcast(place, DOUBLE.as_pointer()), align=8)
            value = builder.insert_element(value, element, number)
        return value

    def store(context: Any, builder: Any, sig: Any, args: Any) -> Any:
        address, apart = _address(context, builder, sig, args, places, width)
        if apart is not None:
            raise NotImplementedError("lanes are stored side by side only")
        builder.store(args[2], builder.bitcast(address, row), align=8)
        return context.get_dummy_value()

    lower_builtin(operator.getitem, types.Array, Block)(load)
    lower_builtin(operator.getitem, types.Array, types.Tuple)(load)
    lower_builtin(operator.setitem, types.Array, Block, Vector)(store)
    lower_builtin(operator.setitem, types.Array, types.Tuple, Vector)(store)


def _address(
    context: Any, builder: Any, sig: Any, args: Any, places: Any, width: int
) -> tuple[Any, Any | None]:
    """Return where the first lane's element is, and how far from there that of each lane [byte].

    The second is None where they lie side by side. Addresses stay pointers throughout, so that the compiler
    can follow whose they are.
    """
    array, kinds = sig.args[0], _kinds(sig.args[1])
    index = cgutils.unpack_tuple(builder, args[1]) if isinstance(sig.args[1], types.BaseTuple) else [args[1]]
    struct = make_array(array)(context, builder, args[0])
    strides = list(cgutils.unpack_tuple(builder, struct.strides, array.ndim))
    lanes, offset, apart = ir.Constant(places, list(range(width))), ir.Constant(INT, 0), None
    gathers = any(isinstance(kind, Places) for kind in kinds) or not isinstance(kinds[-1], Block)
    if isinstance(kinds[-1], Block) and array.ndim > 1:  # a row is a block
        strides[-2] = ir.Constant(INT, 8 * width)
    strides[-1] = ir.Constant(INT, 8)
    for axis, (kind, place) in enumerate(zip(kinds, index, strict=True)):
        step = strides[axis]
        if not isinstance(kind, Places):
            offset = builder.add(offset, builder.mul(place, step))
        if gathers and isinstance(kind, Block | Places):
            part = builder.mul(place if isinstance(kind, Places) else lanes, _spread(builder, step, places))
            apart = part if apart is None else builder.add(apart, part)
    return builder.gep(builder.bitcast(struct.data, BYTE.as_pointer()), [offset]), apart
