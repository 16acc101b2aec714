"""What a sweep keeps of a member is, number by number and bit for bit, what its single run tells."""

from typing import Any

import pytest

from simengine.batch.measures import numbers_of
from simengine.batch.task import Base, Bench, Task
from simengine.scenario import Scenario
from simengine.simulate import run

QUICK = {"run.step": "30 min", "collector.segments": 1}
OPEN: dict[str, Any] = {"collector.mounting": "open", "collector.wall_resistance": None}
OWN = {
    "name": "mine",
    "floor_area": "120 m2",
    "opaque_conductance": "150 W/K",
    "windows": [{"azimuth": "180 deg", "area": "9 m2"}],
}
CELLAR = {"floor_area": "70 m2", "ground_conductance": "45 W/K", "door_flow": "60 m3/h", "coupling": "50 W/K"}
PUMP = {
    "name": "pump",
    "fuel": "electricity",
    "cop_by_outdoor_temperature": [["-15 degC", 2], ["10 degC", 4]],
}
NIGHT = [{"price": "0.30 USD/kWh", "from_hour": 22, "to_hour": 6}]
CURVED = {"shut_off_pressure": "80 Pa", "free_flow": "150 cfm", "efficiency": 0.1}
MODULE = {
    "kind": "pv_module",
    "open_circuit_voltage": "21.6 V",
    "short_circuit_current": "1.3 A",
    "best_voltage": "17.4 V",
    "best_current": "1.15 A",
}
PAIR = [{"construction": "clear_float_4mm", "gap": "16 mm"}, {"construction": "clear_float_4mm"}]

VARIED: tuple[dict[str, Any], ...] = (
    {},
    {"fan.flow": "80 cfm"},
    {"fan.flow": "140 cfm", "fan.power": "55 W"},
    {"collector.absorber.absorptance": 0.8, "collector.absorber.emittance_front": 0.2},
    {"collector.tilt": "60 deg"},
    {"collector.arrangement": "both_sides", "collector.front_gap.depth": "2 in"},
    {"collector.arrangement": "two_pass"},
    {"collector.width": "8 ft", "collector.wind_relation": "mitchell"},
    {"collector.cover": None, "site.wind_shelter": 0.5},
    {"collector.cover": PAIR},
    {"control.start": "95 degF", "control.room_limit": "70 degF", "control.months": [11, 12, 1, 2]},
    {"control.start": "149 degC", "control.stop": "148 degC"},  # it never runs
    {"economics.first_cost": "2500 USD", "economics.discount_rate": "6 %"},
    {"economics": None},
    {"heating": PUMP, "electricity.tariff": NIGHT},
    {"house": OWN, "site.warmer": "1 K"},
    {"house": {**OWN, "bill": {"amount": "700 gal"}}},
    {**OPEN, "second_space": CELLAR, "air.intake": "second_space"},
    {"damper": {"kind": "none"}, "window_panel": {"area": "0.5 m2"}},
    {"air.intake": "outdoors", "collector.leak": {"flow": "20 cfm"}},
    {"fan": CURVED, "run.clear_sky": "swinbank"},
    {"control": MODULE},
    {"site.snow": True, "site.horizon": None, "site.trees": None},
)


@pytest.fixture(scope="module")
def quick(demo: Scenario) -> Scenario:
    return demo.changed(QUICK)


def test_every_number_of_a_member_is_that_of_its_single_run(quick: Scenario) -> None:
    out = Bench(Base.of(quick)).work(Task(0, tuple(range(len(VARIED))), VARIED))
    for changes, outcome in zip(VARIED, out, strict=True):
        alone = numbers_of(run(quick.changed(changes)).summary)
        assert outcome.numbers is not None, (changes, outcome.reason)
        assert outcome.numbers.tobytes() == alone.tobytes(), changes
