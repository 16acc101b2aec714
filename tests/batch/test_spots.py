"""Candidate places: each is its own scenario, ranked by heat, sun and money, and disagreement is told."""

from pathlib import Path
from typing import Any

import pytest

from simengine.batch.spots import AS_IT_STANDS, places, ranked
from simengine.data_files import data_path
from simengine.errors import InputError
from simengine.report.shown import Shown
from simengine.report.spots import listing
from simengine.scenario import Scenario, load
from simengine.simulate import run

SPOTS: list[dict[str, Any]] = [
    {"name": "low rack", "tilt": "20 deg", "azimuth": "180 deg", "mounting": "open", "trees": []},
    {
        "name": "under the firs",
        "horizon": [[0, 50]],
        "duct_length": "9 m",
        "changes": {"economics.first_cost": "2000 USD"},
    },
]


@pytest.fixture(scope="module")
def scenario() -> Scenario:
    demo = load(data_path("scenarios", "demo.toml"))
    return demo.changed({"run.step": "300 s", "spots": SPOTS})


@pytest.fixture(scope="module")
def found(scenario: Scenario) -> dict[str, Any]:
    return ranked(scenario)


def test_each_place_has_what_it_names_and_the_rest_of_the_file(scenario: Scenario) -> None:
    as_is, rack, firs = (place.scenario.assemble() for place in places(scenario))
    assert as_is.collector == scenario.assemble().collector
    assert (rack.collector.tilt, rack.collector.back.wall_resistance, rack.site.trees) == (20.0, None, ())
    assert rack.site.horizon == as_is.site.horizon
    assert firs.site.horizon == ((0.0, 50.0),) and firs.site.trees == as_is.site.trees
    assert [duct.length for duct in (*firs.supply_ducts, *firs.return_ducts)] == [9.0, 9.0]
    assert firs.collector.tilt == 90.0


def test_a_place_is_run_like_the_scenario_it_stands_for(scenario: Scenario, found: dict[str, Any]) -> None:
    place = next(place for place in places(scenario) if place.name == "low rack")
    year = run(place.scenario).summary["houses"]["standard"]
    row = next(row for row in found["houses"]["standard"]["spots"] if row["name"] == "low rack")
    assert row["offset_kwh"] == pytest.approx(year["offset_kwh"], rel=1e-12)
    assert row["net_saving"] == year["fuel"]["net_saving"]
    assert sum(month["offset_kwh"] for month in row["months"]) == pytest.approx(row["offset_kwh"])


def test_the_order_is_that_of_the_figures(found: dict[str, Any]) -> None:
    for house in found["houses"].values():
        heats = [row["offset_kwh"] for row in house["spots"]]
        assert heats == sorted(heats, reverse=True)
        assert [row["rank_heat"] for row in house["spots"]] == [1, 2, 3]
        by_sun = sorted(house["spots"], key=lambda row: -row["sun_kwh_m2"])
        assert [row["name"] for row in by_sun] == house["order"]["sun"]
        by_money = sorted(house["spots"], key=lambda row: -row[house["money_by"]])
        assert [row["name"] for row in by_money] == house["order"]["money"]


def test_where_the_sun_is_most_is_not_where_the_heat_is(found: dict[str, Any]) -> None:
    """Geometry: a flat rack has most sun in summer; an upright wall has it when heat is wanted."""
    house = found["houses"]["low_energy"]
    assert house["order"]["sun"][0] == "low rack"
    assert house["order"]["heat"][0] == AS_IT_STANDS
    assert "sun and heat disagree" in house["differs"]
    assert house["months"][5]["sun"] == "low rack"
    assert house["months"][5]["heat"] is None, "nobody saves heating in June there"


def test_the_listing_tells_places_months_and_disagreement(found: dict[str, Any]) -> None:
    text = listing(found, Shown("si"))
    assert "Sun and heat disagree" in text
    assert all(name in text for name in ("low rack", "under the firs", AS_IT_STANDS))
    assert "Heating saved, kWh" in text and "Bare sun, kWh/m²" in text
    assert all(line.isprintable() for line in text.splitlines())


@pytest.mark.parametrize(
    ("spots", "reason"),
    [
        ([], "no candidate places"),
        ([{"name": "a"}, {"name": "a"}], "'a' is there twice"),
        ([{"name": "a", "changes": {"collector.tilt": "135 deg"}}], "spots.a: collector.tilt"),
        ([{"name": "a", "horizon_file": "none.csv"}], "none.csv"),
    ],
)
def test_places_that_are_none_are_told(scenario: Scenario, spots: list[dict[str, Any]], reason: str) -> None:
    with pytest.raises(InputError, match=reason):
        ranked(scenario.changed({"spots": spots}))


def test_a_faulty_place_in_a_file_has_its_line(tmp_path: Path) -> None:
    text = data_path("scenarios", "demo.toml").read_text(encoding="utf-8")
    path = tmp_path / "spots.toml"
    path.write_text(f'{text}\n[[spots]]\nname = "a"\ntilt = "135 deg"\n', encoding="utf-8")
    with pytest.raises(InputError, match=r'spots.toml:\d+:1: spots.1.tilt: "135 deg" is above 90 deg'):
        load(path)
