"""The one compile decorator: every kernel passes here, and the cache can never serve stale code.

numba's own disk cache overlooks a change in a called function of another file. The cache folder is
therefore named by a digest of every kernel source and of the numba version. The cache holds pickles, so it
is used only where nobody but the user can write: elsewhere the run compiles anew and keeps nothing.
"""

import gc
import hashlib
import os
import signal
import stat
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

_Function = TypeVar("_Function", bound=Callable[..., Any])

KERNEL_ROOMS = ("air", "heat_transfer", "airflow", "collector", "house", "control", "engine")

try:
    import numba
except ImportError:  # the same source then runs uncompiled, some hundred times slower
    numba = None

COMPILER_AVAILABLE = numba is not None

COMPILING = COMPILER_AVAILABLE and not numba.config.DISABLE_JIT
"""Whether kernels are compiled in this process."""

if COMPILING:
    from simengine import compiled_parts


def cache_folder() -> Path:
    """Return the user's own folder for compiled code (not created yet)."""
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA") or str(Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        base = str(Path.home() / "Library" / "Caches")
    else:
        base = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "simengine" / "compiled" / _digest()


def _digest() -> str:
    package = Path(__file__).parent
    sources = [package / "compiled.py", package / "constants.py"]
    sources += [package / "compiled_parts.py", package / "vector.py", package / "vector_types.py"]
    for room in KERNEL_ROOMS:
        sources.extend(sorted((package / room).glob("*.py")))
    total = hashlib.sha256()
    for source in sources:
        total.update(source.name.encode())
        total.update(source.read_bytes())
    total.update(str(getattr(numba, "__version__", "none")).encode())
    return total.hexdigest()[:16]


def refusal(folder: Path) -> str:
    """Return why compiled code must not be kept in a folder; nothing where it may. The folder is made.

    Accepted is a folder of the user's own that is closed to others (mode 0700), with no folder above it that
    everybody may write to, such as one for temporary files, unless a closed one of the user's stands between.
    Where the system knows no owners and modes, the user's own profile folder is taken as it is.
    """
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if not hasattr(os, "getuid"):
            return ""
        status = folder.lstat()
        if stat.S_ISLNK(status.st_mode) or status.st_uid != os.getuid():
            return "is not the user's own"
        if status.st_mode & 0o077:
            return f"is open to others (mode {stat.S_IMODE(status.st_mode):04o}; 0700 is accepted)"
        for above in folder.resolve().parents:
            status = above.stat()
            if status.st_uid == os.getuid() and not status.st_mode & 0o077:
                return ""  # nobody else can come in here, wherever it lies
            if status.st_mode & stat.S_IWOTH:
                return f"lies in {above}, where everybody may write"
    except (OSError, RuntimeError) as trouble:
        return f"cannot be made or looked at ({getattr(trouble, 'strerror', None) or trouble})"
    return ""


def slowness() -> str:
    """Return one line on what makes this process slow; nothing where compiled code is there and is kept."""
    if numba is None:
        return (
            "numba cannot be imported: the run goes on uncompiled, some hundred times slower "
            "(a year takes many minutes instead of seconds)"
        )
    if CACHE_REFUSED:
        return (
            f"the folder for compiled code {_CACHE_FOLDER} {CACHE_REFUSED}: it is not used, "
            "so this run compiles anew (some twenty seconds)"
        )
    return ""


_CACHE_FOLDER = cache_folder()
CACHE_REFUSED = refusal(_CACHE_FOLDER) if COMPILER_AVAILABLE else ""
"""Why compiled code is not kept; nothing where it is."""


def kernel(function: _Function) -> _Function:
    """Compile a typed plain function; floats and arrays in, floats and arrays out, no memory taken.

    It is taken into every kernel that calls it. `NUMBA_DISABLE_JIT=1` runs the same source uncompiled.
    """
    return _compile(function, inline=True)


def entry(function: _Function) -> _Function:
    """Compile a function that Python calls on whole arrays; it lets other threads run meanwhile."""
    compiled = _compile(function, inline=False)
    by_need = "_compile_for_args"  # compiles, or loads what is kept, when a call finds nothing that fits
    if hasattr(compiled, by_need):
        setattr(compiled, by_need, unbroken(_unswept(getattr(compiled, by_need))))
    return compiled


def unbroken(work: Callable[..., Any]) -> Callable[..., Any]:
    """Let Ctrl-C wait until some work is done.

    A function whose compiling is broken off by an exception is left half made, and brings the process down
    when it is called again, as it would be after Ctrl-C in a notebook. A command ends soon all the same:
    `cli.interrupt` hears the signal in a thread of its own.

    Parameters
    ----------
    work : what is not to be broken off

    Returns
    -------
    the same work, for which signals wait
    """

    def whole(*arguments: Any, **named: Any) -> Any:
        if threading.current_thread() is not threading.main_thread():
            return work(*arguments, **named)  # exceptions of signals come to the main thread alone
        came: list[tuple[Any, ...]] = []
        before = signal.signal(signal.SIGINT, lambda *signalled: came.append(signalled))
        try:
            return work(*arguments, **named)
        finally:
            signal.signal(signal.SIGINT, signal.default_int_handler if before is None else before)
            if came and callable(before):
                before(*came[0])

    return whole


def _unswept(work: Callable[..., Any]) -> Callable[..., Any]:
    """Let Python not look for waste meanwhile: a tenth of compiling went there, and there is little."""

    def whole(*arguments: Any, **named: Any) -> Any:
        swept = gc.isenabled()
        gc.disable()
        try:
            return work(*arguments, **named)
        finally:
            if swept:
                gc.enable()

    return whole


def _compile(function: _Function, inline: bool) -> _Function:
    if numba is None:
        return function
    options = {
        "nogil": True,
        "error_model": "numpy",
        "fastmath": False,
        "forceinline": inline,
        "_nrt": False,  # kernels take no memory: arrays need not be counted (a third of the march's time)
    }
    before = numba.config.CACHE_DIR
    numba.config.CACHE_DIR = str(_CACHE_FOLDER)
    try:
        compiled: _Function = numba.njit(cache=not CACHE_REFUSED, no_cfunc_wrapper=True, **options)(function)
    finally:
        numba.config.CACHE_DIR = before
    if inline and COMPILING and compiled_parts.SUITS:
        compiled_parts.call_as_part(compiled, function, options)
    return compiled
