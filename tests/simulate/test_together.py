"""Several scenarios in one march are, each of them, what they are alone: bit for bit."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from simengine.data_files import data_path
from simengine.engine.ledger import Column
from simengine.errors import RunEnded
from simengine.results import Result
from simengine.results.summary import brief
from simengine.scenario import Scenario, load
from simengine.simulate import resolve, run, together
from simengine.simulate.blocks import Ride, march_year
from simengine.simulate.drive import Shared, drive_of
from simengine.simulate.together import run_together
from simengine.simulate.year import finished, finished_in_brief, first_temperature, member_of, record

QUICK = {"run.step": "30 min", "collector.segments": 1}
CHANGES = (
    {},
    {"fan.flow": "80 cfm"},
    {"economics.first_cost": "900 USD"},  # the march of the first one
    {"site.wind_shelter": 0.5},  # another forcing
    {"collector.arrangement": "both_sides"},
    {"site.warmer": "1 K", "site.sun_factor": 1.05},
)


@pytest.fixture(scope="module")
def scenarios() -> list[Scenario]:
    quick = load(data_path("scenarios", "demo.toml")).changed(QUICK)
    return [quick.changed(change) for change in CHANGES]


def test_each_is_what_it_is_alone(scenarios: list[Scenario], monkeypatch: pytest.MonkeyPatch) -> None:
    marched: list[int] = []

    def counted(rides: list[Ride], _: object) -> object:
        marched.append(sum(ride.lanes for ride in rides))
        return march_year(rides)

    monkeypatch.setattr(together, "march_year", counted)
    shared = Shared()
    found = run_together([shared.resolve(one) for one in scenarios], finished, shared)
    assert marched == [10]  # the five different ones share a layout
    for scenario, result in zip(scenarios, found, strict=True):
        alone = run(scenario)
        assert isinstance(result, Result)
        assert result.summary == alone.summary
        assert result.hours.identical(alone.hours)


def test_one_that_ends_early_harms_no_other(scenarios: list[Scenario]) -> None:
    def ended(resolved: together.Resolved, *rest: object) -> Result:
        if resolved.parts.money.economics and resolved.parts.money.economics.first_cost == 900.0:
            raise RunEnded("an invented reason")
        return finished(resolved, *rest)  # type: ignore[arg-type]

    first, bad = run_together([resolve(scenarios[0]), resolve(scenarios[2])], ended)
    assert isinstance(first, Result) and bad == "an invented reason"


@pytest.mark.parametrize("column", [Column.INCIDENT, Column.ROOM, Column.HEATING, Column.STORED])
@pytest.mark.parametrize("finish", [finished, finished_in_brief])
def test_a_ledger_that_breaks_is_no_result(scenarios: list[Scenario], finish: Any, column: int) -> None:
    whole = resolve(scenarios[0])
    drive = drive_of(whole)
    (ledger,) = march_year([Ride(member_of(whole, drive), drive, first_temperature(whole))])
    ledger[5000:, column, 1] = np.nan
    with pytest.raises(RunEnded, match="no finite state in the interval that starts 07-28 08:00"):
        finish(whole, drive, ledger)


def test_what_is_shared_is_what_each_works_out(scenarios: list[Scenario]) -> None:
    shared = Shared()
    for _ in range(2):
        for scenario in scenarios:
            resolved = shared.resolve(scenario)
            assert shared.drive(resolved).digest == drive_of(resolve(scenario)).digest


def test_a_sheet_of_another_emittance_takes_up_the_same_sun(scenarios: list[Scenario]) -> None:
    shared = Shared()
    one, other, darker = (
        shared.drive(shared.resolve(scenarios[0].changed({f"collector.absorber.{key}": value})))
        for key, value in (("emittance_front", 0.3), ("emittance_front", 0.8), ("absorptance", 0.8))
    )
    assert one is other
    assert darker.digest != one.digest


def test_months_are_those_of_the_record(scenarios: list[Scenario]) -> None:
    whole = resolve(scenarios[0])
    drive = drive_of(whole)
    (ledger,) = march_year([Ride(member_of(whole, drive), drive, first_temperature(whole))])
    short = record(whole, drive, ledger)
    assert brief(short) == brief(replace(short, months=None))


def test_few_things_are_kept(scenarios: list[Scenario]) -> None:
    shared = Shared()
    for shift in range(12):
        shared.drive(shared.resolve(scenarios[0].changed({"site.warmer": f"{shift / 10} K"})))
    assert len(shared.places.values) == shared.places.most == 8


def test_a_house_that_loses_more_needs_more(scenarios: list[Scenario]) -> None:
    plain, leaky = (resolve(scenarios[0].changed({"builtin_houses.heat_loss_factor": f})) for f in (1.0, 1.2))
    for before, after in zip(plain.houses, leaky.houses, strict=True):
        for name in ("opaque_conductance", "window_conductance", "ventilation_conductance"):
            assert getattr(after, name) == pytest.approx(1.2 * getattr(before, name), rel=1e-12)
