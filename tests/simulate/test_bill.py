"""The user's own house scaled to its bill through the march: a known house is found again."""

from dataclasses import replace

import pytest

from simengine.errors import InputError
from simengine.house.calibrate import FuelBill, scaled
from simengine.house.spec import House
from simengine.scenario import Scenario
from simengine.simulate import Resolved, calibrated_alone, calibrated_scenario, resolve, run_resolved
from simengine.simulate.bill import CONDUCTANCES
from simengine.simulate.forcing import Place, collector_forcing, on_plane, place, step_plan
from simengine.simulate.houses_alone import march_houses

OWN = {
    "name": "mine",
    "floor_area": "130 m2",
    "opaque_conductance": "160 W/K",
    "windows": [{"azimuth": "180 deg", "area": "9 m2"}, {"azimuth": "0 deg", "area": "6 m2"}],
    "air_changes": "0.6 1/h",
}


@pytest.fixture(scope="module")
def known(demo: Scenario) -> Resolved:
    """The house that nobody knows, but whose bill comes."""
    return resolve(demo.changed({"house": OWN}))


@pytest.fixture(scope="module")
def here(known: Resolved) -> Place:
    return place(known.series, known.parts.site, known.parts.run.clear_sky)


@pytest.fixture(scope="module")
def need(known: Resolved, here: Place) -> float:
    """Its need [kWh] in a year, marched."""
    forcing = collector_forcing(here, known, on_plane(here, known))
    plan = step_plan(forcing, 3600.0, known.parts.run.step)
    alone = march_houses(replace(known, houses=known.houses[:1]), here, plan)
    return float(alone[:, 0, 0].sum()) / 3.6e6


def billed(known: Resolved, need: float, house: House) -> Resolved:
    """Return a wrong house with the right bill."""
    bill = FuelBill(need / 0.84 / 0.8, 0.84, hot_water_share=0.2)
    parts = replace(known.parts, house=house, bill=bill)
    return replace(known, parts=parts, houses=(house, *known.houses[1:]))


@pytest.mark.parametrize("wrong", [0.55, 1.0, 1.7])
def test_a_known_house_is_found_from_its_own_bill_to_a_thousandth(
    known: Resolved, need: float, wrong: float
) -> None:
    # Mathematics: the bill is the known house's own need, by the same march.
    truth = known.houses[0]
    done, told = calibrated_alone(billed(known, need, scaled(truth, wrong)))
    for key in CONDUCTANCES:
        assert getattr(done.houses[0], key) == pytest.approx(getattr(truth, key), rel=1e-3)
    block = told["calibration"]
    assert isinstance(block, dict)
    assert block["factor"] == pytest.approx(1.0 / wrong, rel=1e-3)
    assert block["simulated_need_kwh"] == pytest.approx(block["space_heat_kwh"], rel=1e-4)
    assert block["years_simulated"] <= 8
    assert done.houses[1:] == known.houses[1:]


def test_a_run_scales_the_house_by_itself_and_says_so(known: Resolved, need: float) -> None:
    result = run_resolved(billed(known, need, scaled(known.houses[0], 1.5)))
    mine = result.summary["houses"]["mine"]
    assert mine["heating_without_kwh"] == pytest.approx(need, rel=2e-4)
    assert mine["calibration"]["factor"] == pytest.approx(1.0 / 1.5, rel=1e-3)
    assert any("hot water" in text for text in mine["calibration"]["assumptions"])
    assert "calibration" not in result.summary["houses"]["standard"]
    from simengine.report.shown import Shown
    from simengine.report.tables import console

    assert "its losses are scaled by 0.67" in " ".join(console(result.summary, Shown("si")).split())


def test_the_scenario_with_the_scaled_house_needs_what_the_bill_says(demo: Scenario, need: float) -> None:
    bill = {"amount": f"{need / 0.8:.3f} kWh", "efficiency": 0.8}
    asked = demo.changed({"house": {**OWN, "heat_loss_factor": 0.8, "bill": bill}})
    done, told = calibrated_alone(resolve(asked))
    written = calibrated_scenario(done, asked.folder)
    assert written.inputs.house is not None and written.inputs.house.bill is None
    assert written.inputs.house.heat_loss_factor == pytest.approx(1.0, rel=1e-3)
    assert told["heat_loss_factor"] == pytest.approx(written.inputs.house.heat_loss_factor)
    assert written.assemble().bill is None


def test_without_a_bill_there_is_nothing_to_scale_to(known: Resolved) -> None:
    with pytest.raises(InputError, match=r"house\.bill: is missing"):
        calibrated_alone(known)


def test_a_bill_that_no_such_house_can_have_is_refused(known: Resolved) -> None:
    with pytest.raises(InputError, match="is the floor area right"):
        calibrated_alone(billed(known, 1.0e6, known.houses[0]))
