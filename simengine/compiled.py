"""The one compile decorator: every kernel passes here, and the cache can never serve stale code.

numba's own disk cache overlooks a change in a called function of another file. The cache folder is
therefore named by a digest of every kernel source and of the numba version.
"""

import hashlib
import os
import sys
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
    for room in KERNEL_ROOMS:
        sources.extend(sorted((package / room).glob("*.py")))
    total = hashlib.sha256()
    for source in sources:
        total.update(source.name.encode())
        total.update(source.read_bytes())
    total.update(str(getattr(numba, "__version__", "none")).encode())
    return total.hexdigest()[:16]


_CACHE_FOLDER = cache_folder()


def kernel(function: _Function) -> _Function:
    """Compile a typed plain function; floats and arrays in, floats and arrays out, no memory taken.

    It is taken into every kernel that calls it. `NUMBA_DISABLE_JIT=1` runs the same source uncompiled.
    """
    return _compile(function, inline=True)


def entry(function: _Function) -> _Function:
    """Compile a function that Python calls on whole arrays; it lets other threads run meanwhile."""
    return _compile(function, inline=False)


def _compile(function: _Function, inline: bool) -> _Function:
    if numba is None:
        return function
    before = numba.config.CACHE_DIR
    numba.config.CACHE_DIR = str(_CACHE_FOLDER)
    try:
        # _nrt=False: kernels take no memory, so arrays need not be counted (a third of the march's time)
        compiled: _Function = numba.njit(
            cache=True, nogil=True, error_model="numpy", fastmath=False, forceinline=inline, _nrt=False
        )(function)
    finally:
        numba.config.CACHE_DIR = before
    return compiled
