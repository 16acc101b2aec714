"""How a kernel is compiled for the compiled functions that call it: as a part, that never runs by itself.

By default numba makes every function fit to run, and to be called from Python: the code of a kernel is made
ready anew at each level of calls, though only that of the outermost function is ever run. A part stays as it
was spelled. It is optimised and made ready once, within the function that Python calls, and gives the same
bits there. A named tuple is handed to it in one piece: numba hands over every number in it by itself.

All this leans on the inside of numba, so it is used with versions that it was tried with, and no others.
"""

import functools
from collections.abc import Callable
from typing import Any

import numba
from numba.core import types
from numba.core.codegen import JITCodeLibrary
from numba.core.compiler import Compiler, DefaultPassBuilder
from numba.core.compiler_machinery import PassManager, register_pass
from numba.core.imputils import user_function
from numba.core.lowering import Lower
from numba.core.typed_passes import NativeLowering
from numba.extending import models, register_model

TRIED = ("0.68",)
"""Versions of numba that this was tried with; others compile in their own way, which takes twice as long."""

SUITS = numba.__version__.startswith(tuple(f"{version}." for version in TRIED))
"""Whether this version is one of them."""


def call_as_part(kernel: Any, function: Callable[..., Any], options: dict[str, Any]) -> None:
    """Let compiled code take up a kernel as a part; Python calls the kernel as before.

    Parameters
    ----------
    kernel : the compiled function
    function : what it was compiled from
    options : what it was compiled with, for `numba.njit`
    """

    @functools.cache
    def part() -> Any:
        only_compiled = {"no_cpython_wrapper": True, "no_cfunc_wrapper": True}
        return numba.njit(pipeline_class=_PartCompiler, **only_compiled, **options)(function)

    kernel.get_call_template = lambda args, kws: part().get_call_template(args, kws)
    kernel.get_overload = lambda sig: part().get_overload(sig)


class _Part(JITCodeLibrary):  # type: ignore[misc]
    """The code of a part as it was spelled, and which others it calls."""

    _shared_module: Any

    def add_linking_library(self, library: Any) -> None:
        called = library._linking_libraries if isinstance(library, _Part) else []
        for each in (*called, library):
            if each not in self._linking_libraries:
                self._linking_libraries.append(each)  # behind all that it calls itself

    def _optimize_functions(self, ll_module: Any) -> None:
        ll_module.data_layout = self._codegen._data_layout

    def finalize(self) -> None:
        self._raise_if_finalized()
        self._finalized = True

    def _get_module_for_linking(self) -> Any:
        """Return this code and all that it calls, for the function that Python calls."""
        self._ensure_finalized()
        if self._shared_module is None:
            whole = self._shareable()
            for library in reversed(self._linking_libraries):  # what is not called yet would be left out
                others = library._shareable if isinstance(library, _Part) else library._get_module_for_linking
                whole.link_in(others(), preserve=True)
            self._shared_module = whole
        return self._shared_module

    def _shareable(self) -> Any:
        module = self._final_module.clone()
        for function in module.functions:
            if not function.is_declaration and function.linkage.name == "external":
                function.linkage = "linkonce_odr"
        return module

    def get_pointer_to_function(self, name: str) -> int:
        self._ensure_finalized()
        return 0  # it has no address, for it is not to be called from Python

    @property
    def codegen(self) -> Any:
        return _NoEnvironment


class _NoEnvironment:
    """A part has no environment of Python objects: what would need one, such as `print`, is refused."""

    @staticmethod
    def set_env(name: str, env: Any) -> None:
        """Keep nothing."""


def _refuse(*arguments: Any, **named: Any) -> Any:
    raise NotImplementedError("a kernel cannot use Python's objects, as `print` does")


class _InOnePiece(types.Type):  # type: ignore[misc]
    """An argument that is handed over as it is."""

    def __init__(self, kind: Any) -> None:
        self.kind = kind
        super().__init__(f"in one piece({kind})")


@register_model(_InOnePiece)
class _InOnePieceModel(models.PrimitiveModel):  # type: ignore[misc]
    def __init__(self, manager: Any, front: Any) -> None:
        super().__init__(manager, front, manager.lookup(front.kind).get_value_type())


class _PartLower(Lower):  # type: ignore[misc]
    def __init__(self, context: Any, library: Any, fndesc: Any, *others: Any, **named: Any) -> None:
        fndesc.argtypes = tuple(
            _InOnePiece(kind) if isinstance(kind, types.NamedTuple) else kind for kind in fndesc.argtypes
        )  # callers ask here how to hand over
        super().__init__(context, library, fndesc, *others, **named)
        self.context.get_env_manager = _refuse


@register_pass(mutates_CFG=True, analysis_only=False)
class _PartLowering(NativeLowering):  # type: ignore[misc]
    _name = "part_lowering"

    @property
    def lowering_class(self) -> Any:
        return _PartLower

    def run_pass(self, state: Any) -> bool:
        state.library = _Part(state.targetctx.codegen(), state.func_id.func_qualname)
        super().run_pass(state)
        lowered = state.cr
        given = tuple(state.typemap[f"arg.{name}"] for name in lowered.fndesc.args)
        state.targetctx._defns[lowered.cfunc].append(user_function(lowered.fndesc, [state.library]), given)
        return True


class _PartCompiler(Compiler):  # type: ignore[misc]
    def define_pipelines(self) -> Any:
        passes = PassManager("part")
        for each, description in DefaultPassBuilder.define_nopython_pipeline(self.state).passes:
            passes.add_pass(_PartLowering if each is NativeLowering else each, description)
        passes.finalize()
        return [passes]
