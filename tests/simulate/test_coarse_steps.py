"""The longest steps that a scenario may ask for bring a year to its end, near that of the usual step."""

from functools import cache

import pytest

from simengine.data_files import data_path
from simengine.scenario import load
from simengine.simulate import run


@cache
def delivered(name: str, step: str) -> float:
    """Return the heat delivered to the standard house in a year [kWh]."""
    scenario = load(data_path("scenarios", name)).changed({"run.step": step})
    return float(run(scenario).summary["houses"]["standard"]["delivered_kwh"])


# law: whatever the step, a year has an answer, and the longer step the coarser one
@pytest.mark.parametrize(("step", "tolerance"), [("600 s", 0.005), ("1 h", 0.015)])
@pytest.mark.parametrize("name", ["demo.toml", "demo_metric.toml"])
def test_a_coarse_step_moves_the_year_little(name: str, step: str, tolerance: float) -> None:
    assert delivered(name, step) == pytest.approx(delivered(name, "90 s"), rel=tolerance)
