"""A year of a glazed solar air collector on a house: heat, fuel and money, hour by hour.

The names below are the package's public face. Each is loaded when it is first used, so importing the
package brings in no frames, no plots and no sun library.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from simengine.results import Result, open_result
    from simengine.scenario import Scenario, load
    from simengine.simulate import point, run
    from simengine.weather import read_weather

__version__ = "0.1.0"

__all__ = ["Result", "Scenario", "__version__", "load", "open_result", "point", "read_weather", "run"]

_HOMES = {
    "Result": "simengine.results",
    "Scenario": "simengine.scenario",
    "load": "simengine.scenario",
    "open_result": "simengine.results",
    "point": "simengine.simulate",
    "read_weather": "simengine.weather",
    "run": "simengine.simulate",
}


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = getattr(import_module(_HOMES[name]), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *_HOMES})
