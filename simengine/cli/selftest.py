"""`simengine selftest`: versions, permissions, the compiler's cache, and answers that are known."""

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
        ("known answer, air", _weight_of_air),
        ("known answer, stagnation", _stagnation),
        ("known answer, cooling", _cooling),
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
    from simengine.compiled import cache_folder, refusal

    folder = cache_folder()
    refused = refusal(folder)
    if refused:
        raise LookupError(f"{folder} {refused}; it is not used, so every run compiles anew")
    _writable(folder)
    return f"{folder}, the user's own, can be written"


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


def _weight_of_air() -> str:
    """Compare the density of dry air at 20 degC and 1 atm with the gas law, 1.2041 kg/m3."""
    from simengine.air.properties import density
    from simengine.constants import STANDARD_PRESSURE

    found = float(density(293.15, STANDARD_PRESSURE))
    if abs(found - 1.2041) > 2e-4:
        raise ArithmeticError(f"air of 20 degC weighs {found:.4f} kg/m3 instead of 1.2041")
    return f"air of 20 degC weighs {found:.4f} kg/m3, as it should"


def _stagnation() -> str:
    """Compare the hottest absorber without flow with S / U over the surroundings."""
    from simengine.simulate.known_answers import STAGNATION, stagnation_point

    found = stagnation_point()
    if abs(found - STAGNATION) > 0.01:
        raise ArithmeticError(
            f"an absorber in the sun stands at {found:.2f} degC instead of {STAGNATION:.2f}"
        )
    return f"an absorber in the sun without flow stands at {found:.2f} degC, as it should"


def _cooling() -> str:
    """Compare one node that cools for one time constant with exp(-1)."""
    from simengine.simulate.known_answers import COOLED, cooling_node

    found = cooling_node()
    if abs(found - COOLED) > 1e-4:
        raise ArithmeticError(f"a cooling node keeps {found:.5f} of its excess instead of {COOLED:.5f}")
    return f"a node keeps {found:.5f} of its excess after one time constant, as it should"
