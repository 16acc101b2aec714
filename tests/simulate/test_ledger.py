"""The ledger of a year closes by its names, from the sun on the glass to the heat of the house."""

from typing import Any

import pytest

from simengine.engine.ledger import BOX_TERMS, HOUSE_TERMS, Column
from simengine.results import balance
from simengine.results.summary import ENERGIES
from simengine.scenario import Scenario
from simengine.simulate import run
from simengine.simulate.hours import MEANS

NEVER_OFF: dict[str, Any] = {
    "control.start": "-15 degC",
    "control.stop": "-20 degC",
    "control.room_limit": "45 degC",
    "control.months": None,
}
"""The fan runs day and night, so that it draws heat from the house."""

OPEN: dict[str, Any] = {"collector.mounting": "open", "collector.wall_resistance": None}
CELLAR: dict[str, Any] = {"floor_area": "70 m2", "ground_conductance": "45 W/K", "door_flow": "60 m3/h"}

BUILDS: dict[str, dict[str, Any]] = {
    "on a wall": {},
    "leaks out, fan never off": {"collector.leak": {"flow": "40 cfm"}, **NEVER_OFF},
    "leaks in, back in the open": {
        "collector.leak": {"flow": "40 cfm"},
        "fan.place": "hot_side",
        **OPEN,
    },
    "fresh air": {"air.intake": "outdoors"},
    "from the cellar": {**OPEN, "second_space": CELLAR, "air.intake": "second_space"},
    "no damper, a bare panel": {"damper": {"kind": "none"}, "window_panel": {"area": "0.5 m2"}},
}


@pytest.mark.parametrize("build", BUILDS)
def test_every_house_closes_by_the_names_of_the_summary(demo: Scenario, build: str) -> None:
    summary = run(demo.changed(BUILDS[build])).summary
    for name, house in summary["houses"].items():
        # first law: at most 1e-6 of the sum of the terms' sizes
        assert balance.left_open(house, balance.COLLECTOR_TERMS) < 1e-6, name
        assert balance.left_open(house, balance.HOUSE_TERMS) < 1e-6, name
        assert house["fan_heat_kwh"] > 0.0
        if "leak" in build:
            assert house["leak_loss_kwh"] > 0.0
        assert (house["fresh_air_kwh"] > 0.0) == (build == "fresh air")
        assert (house["carried_kwh"] != 0.0) == (build == "from the cellar")
        if "never off" in build or "no damper" in build:
            assert house["night_loss_kwh"] > 0.1 * house["delivered_kwh"]


@pytest.mark.parametrize(
    ("marched", "told"), [(BOX_TERMS, balance.COLLECTOR_TERMS), (HOUSE_TERMS, balance.HOUSE_TERMS)]
)
def test_the_summary_tells_every_term_that_the_march_balances(
    marched: tuple[tuple[int, float], ...], told: tuple[tuple[str, float], ...]
) -> None:
    names = {int(column): name for name, column in MEANS.items()}
    counted = {(names[column], sign) for column, sign in marched}
    said = {(part, sign) for key, sign in told for part in ENERGIES[key]}
    # the march counts from what is absorbed, the summary from what falls on the glass
    sun = {("incident", 1.0), ("reflected", -1.0)} & said
    assert said - sun == counted - {("absorbed", 1.0)}
    assert bool(sun) == ((int(Column.ABSORBED), 1.0) in marched)
