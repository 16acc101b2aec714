"""`simengine selftest`: versions, permissions, the compiler's cache, and an answer that is known."""

import os
import platform
import tempfile
from collections.abc import Callable
from importlib import metadata
from pathlib import Path

import click

from simengine.cli.exits import DONE, INPUT_AT_FAULT
from simengine.cli.printing import show

LIBRARIES = ("numpy", "pandas", "scipy", "xarray", "pvlib", "numba", "h5netcdf", "pydantic", "jinja2")


@click.command("selftest", short_help="Can this installation do its work?")
def command() -> int:
    """Look whether this installation can do its work, and say what it cannot.

    Example: simengine selftest
    """
    from simengine import __version__

    show(f"simengine {__version__}, Python {platform.python_version()}, {platform.platform()}")
    show(", ".join(f"{name} {_version(name)}" for name in LIBRARIES))
    checks: tuple[tuple[str, Callable[[], str]], ...] = (
        ("compiler", _compiler),
        ("folder for compiled code", _cache),
        ("current folder", lambda: _writable(Path.cwd())),
        ("folder for temporary files", lambda: _writable(Path(tempfile.gettempdir()))),
        ("files that travel with the program", _data),
        ("known answer", _known_answer),
    )
    failed = 0
    for name, look in checks:
        try:
            show(f"ok     {name}: {look()}")
        except (OSError, LookupError, ArithmeticError, ImportError) as trouble:
            failed += 1
            show(f"FAILS  {name}: {trouble}")
    return INPUT_AT_FAULT if failed else DONE


def _version(name: str) -> str:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return "missing"


def _compiler() -> str:
    from simengine.compiled import COMPILER_AVAILABLE

    if not COMPILER_AVAILABLE:
        raise ImportError("numba is missing; runs are some hundred times slower")
    return "off by NUMBA_DISABLE_JIT" if os.environ.get("NUMBA_DISABLE_JIT") == "1" else "there"


def _cache() -> str:
    from simengine.compiled import cache_folder

    folder = cache_folder()
    existing = next(parent for parent in (folder, *folder.parents) if parent.is_dir())
    _writable(existing)
    return f"{folder}, can be written"


def _writable(folder: Path) -> str:
    with tempfile.TemporaryFile(dir=folder) as stream:
        stream.write(b"a line\n")
    return f"{folder}, can be written"


def _data() -> str:
    from simengine.data_files import KINDS, data_names

    counts = {kind: len(data_names(kind)) for kind in KINDS}
    empty = [kind for kind, count in counts.items() if count == 0]
    if empty:
        raise LookupError(f"none found for {', '.join(empty)}; install the package again")
    return ", ".join(f"{count} {kind}" for kind, count in counts.items())


def _known_answer() -> str:
    """Compare the density of dry air at 20 degC and 1 atm with the gas law, 1.2041 kg/m3."""
    from simengine.air.properties import density
    from simengine.constants import STANDARD_PRESSURE

    found = float(density(293.15, STANDARD_PRESSURE))
    if abs(found - 1.2041) > 2e-4:
        raise ArithmeticError(f"air of 20 degC weighs {found:.4f} kg/m3 instead of 1.2041")
    return f"air of 20 degC weighs {found:.4f} kg/m3, as it should"
