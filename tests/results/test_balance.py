"""The ledger has the same names in summary, dataset, nomenclature and page, and its terms add up."""

import pytest

from simengine.nomenclature import QUANTITIES
from simengine.report import figures
from simengine.report.page import page
from simengine.results import Result
from simengine.results.balance import COLLECTOR_TERMS, HOUSE_TERMS, left_open
from simengine.results.summary import ENERGIES

HOUSES = ("standard", "low_energy")
TERMS = {key for key, _ in (*COLLECTOR_TERMS, *HOUSE_TERMS)}
NAMED_OTHERWISE = {"cover_loss_kwh", "fan_kwh"}
"""Energies whose name the public contract gives them: the sum of two variables, and `fan_power`."""


@pytest.mark.parametrize("key", sorted(ENERGIES))
def test_an_energy_of_the_summary_is_the_sum_of_the_hours_of_its_name(result: Result, key: str) -> None:
    for house in HOUSES:
        hours = sum(float(result.hours[part].sel(house=house).sum()) for part in ENERGIES[key])
        assert result.summary["houses"][house][key] == pytest.approx(hours / 1000.0, abs=1e-9)
    if key not in NAMED_OTHERWISE:
        assert ENERGIES[key] == (key.removesuffix("_kwh"),)


@pytest.mark.parametrize("key", sorted(TERMS | set(ENERGIES)))
def test_every_energy_is_in_the_nomenclature_under_both_names(key: str) -> None:
    assert key in QUANTITIES and key in ENERGIES
    assert set(ENERGIES[key]) <= set(QUANTITIES)


def test_the_page_draws_the_terms_of_the_collector_and_no_others() -> None:
    gains = [(key, 1.0) for _, key in figures.GAINS]
    losses = [(key, -1.0) for _, key in figures.LOSSES]
    assert {*gains, *losses, ("delivered_kwh", -1.0)} == set(COLLECTOR_TERMS)


@pytest.mark.parametrize("house", HOUSES)
def test_the_bars_of_the_page_are_the_numbers_of_the_summary(result: Result, house: str) -> None:
    block = result.summary["houses"][house]
    bars = {bar.label: bar.kwh for bar in figures.ledger(block)}
    for label, key in (*figures.GAINS, *figures.LOSSES):
        assert bars.get(label, 0.0) == pytest.approx(block[key], abs=1e-3 * block["incident_kwh"])
    assert bars["Brought into the house"] == block["delivered_kwh"]
    assert bars["  of it heating saved"] == block["offset_kwh"]


def test_the_ledger_ends_with_the_fuel_that_is_not_burnt(result: Result) -> None:
    assert "Heating saved leaves 12.3 gal of heating oil unburnt." in page(result.summary)


@pytest.mark.parametrize("house", HOUSES)
def test_both_ledgers_of_the_invented_year_close(result: Result, house: str) -> None:
    block = result.summary["houses"][house]
    assert left_open(block, COLLECTOR_TERMS) < 1e-12
    assert left_open(block, HOUSE_TERMS) < 1e-12


@pytest.mark.parametrize("key", sorted(TERMS))
def test_no_term_may_be_left_out(result: Result, key: str) -> None:
    block = result.summary["houses"]["low_energy"]
    size = block["incident_kwh"]
    terms = COLLECTOR_TERMS if key in dict(COLLECTOR_TERMS) else HOUSE_TERMS
    wrong = left_open({**block, key: block[key] + 0.01 * size}, terms)
    assert wrong > 1e-3


def test_an_empty_ledger_is_closed() -> None:
    assert left_open(dict.fromkeys((key for key, _ in COLLECTOR_TERMS), 0.0), COLLECTOR_TERMS) == 0.0
