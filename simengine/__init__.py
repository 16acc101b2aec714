"""A year of a glazed solar air collector on a house: heat, fuel and money, hour by hour.

The names below are the package's public face. Each is loaded when it is first used, so importing the
package brings in no frames, no plots and no sun library.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from simengine.batch.spread import run_spread
    from simengine.batch.sweep import open_sweep, sweep
    from simengine.fieldtest import field_test
    from simengine.results import Result, open_result
    from simengine.scenario import Scenario, load
    from simengine.simulate import point, run
    from simengine.weather import read_weather

__version__ = "0.1.0"

__all__ = [
    "Result",
    "Scenario",
    "__version__",
    "field_test",
    "load",
    "open_result",
    "open_sweep",
    "point",
    "read_weather",
    "run",
    "run_spread",
    "sweep",
]

_HOMES = {
    "Result": "simengine.results",
    "Scenario": "simengine.scenario",
    "field_test": "simengine.fieldtest",
    "load": "simengine.scenario",
    "open_result": "simengine.results",
    "open_sweep": "simengine.batch.sweep",
    "point": "simengine.simulate",
    "read_weather": "simengine.weather",
    "run": "simengine.simulate",
    "run_spread": "simengine.batch.spread",
    "sweep": "simengine.batch.sweep",
}


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = getattr(import_module(_HOMES[name]), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *_HOMES})
