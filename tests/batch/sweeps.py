"""A small sweep that takes little time, for the tests of sweeps; invented, as everything here."""

from typing import Any

from simengine.data_files import data_path
from simengine.scenario import Scenario, load

VARY: dict[str, Any] = {
    "fan.flow": ["80 cfm", "120 cfm"],
    "collector.tilt": ["60 deg", "90 deg"],
    "economics.first_cost": ["0 USD", "900 USD"],
}


def small(**sweep: Any) -> Scenario:
    """Return a quick scenario with a sweep of eight members."""
    quick = {"run.step": "30 min", "collector.segments": 1, "sweep": {"vary": VARY, **sweep}}
    return load(data_path("scenarios", "demo.toml")).changed(quick)
