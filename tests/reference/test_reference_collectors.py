"""Three reference collectors against another code of the same equations, through the step of the year.

Invented collectors; the figures are those of an independent solution of the same relations. Its c_p is 1007
J/kgK where this package has 1006, which moves an efficiency by less than 0.0005.
"""

from dataclasses import replace

import numpy as np
import pytest

from simengine.collector.network import FlowTable, Network
from simengine.collector.spec import Perforation
from simengine.collector.steady import steady_point
from simengine.engine.ledger import Column
from tests.collector.by_hand import numbers
from tests.reference.reference_collectors import (
    ABSORBED,
    AREA,
    INLET,
    SUNNY,
    back_lost,
    back_pass,
    march_on,
    member,
    reference,
    started,
    through_flow,
    two_pass,
)

FIGURES = [
    # collector, flux [kg/s m2], efficiency [-], outlet [C], mean plate [C]
    pytest.param(back_pass, 0.01, 0.288249, 42.8997, 66.6678, id="R1 back pass, 0.01"),
    pytest.param(back_pass, 0.03, 0.442801, 31.7259, 51.5000, id="R1 back pass, 0.03"),
    pytest.param(two_pass, 0.01, 0.373334, None, 67.2444, id="R3 two pass, 0.01"),
    pytest.param(two_pass, 0.03, 0.491861, None, 46.3566, id="R3 two pass, 0.03"),
    pytest.param(through_flow, 0.01, 0.432299, None, 62.7798, id="R2 through flow, 0.01"),
    pytest.param(through_flow, 0.03, 0.586609, None, 39.8047, id="R2 through flow, 0.03"),
]


def settled(network: Network, table: FlowTable) -> tuple[np.ndarray, np.ndarray]:
    """March constant weather to its end; return ledger and nodes of a last half hour of one-minute steps."""
    fixed = member(network, table, SUNNY, ABSORBED, INLET)
    state = started(fixed, INLET)
    march_on(fixed, state, 40, 1800.0)
    _, ledger = march_on(fixed, state, 30, 60.0)
    return ledger, state.nodes[0, :, :, 0]


# independent solution; the same relations: efficiency +-0.002, temperatures +-0.3 K
@pytest.mark.parametrize(("collector", "flux", "efficiency", "outlet", "plate"), FIGURES)
def test_reference_collector_through_the_step_of_the_year(collector, flux, efficiency, outlet, plate):
    ledger, nodes = settled(*collector(flux))
    assert ledger[Column.COLLECTED] / ledger[Column.INCIDENT] == pytest.approx(efficiency, abs=0.002)
    assert nodes[1].mean() - 273.15 == pytest.approx(plate, abs=0.3)
    if outlet is not None:
        assert ledger[Column.OUTLET] / 1800.0 - 273.15 == pytest.approx(outlet, abs=0.3)


@pytest.mark.parametrize(("collector", "flux", "efficiency", "outlet", "plate"), FIGURES)
def test_reference_collector_as_a_steady_point(collector, flux, efficiency, outlet, plate):
    point = steady_point(*collector(flux), SUNNY, ABSORBED, INLET)
    assert point.efficiency == pytest.approx(efficiency, abs=0.002)
    assert point.nodes[1].mean() - 273.15 == pytest.approx(plate, abs=0.3)
    if outlet is not None:
        assert point.outlet - 273.15 == pytest.approx(outlet, abs=0.3)


@pytest.mark.parametrize("collector", [back_pass, two_pass, through_flow])
def test_a_steady_march_is_the_steady_point(collector):
    network, table = collector(0.02)
    ledger, nodes = settled(network, table)
    point = steady_point(network, table, SUNNY, ABSORBED, INLET)
    assert np.abs(nodes - point.nodes).max() < 1e-6
    assert ledger[Column.OUTLET] / 1800.0 == pytest.approx(point.outlet, abs=1e-6)
    assert ledger[Column.COLLECTED] / 1800.0 == pytest.approx(point.useful_gain, rel=1e-7)
    assert abs(ledger[Column.STORED]) < 1e-6 * ledger[Column.INCIDENT]
    assert ledger[Column.RESIDUAL] < 1e-9 and ledger[Column.HOUSE_RESIDUAL] < 1e-9


@pytest.mark.parametrize("collector", [back_pass, two_pass, through_flow])
def test_a_march_without_sun_at_one_temperature_stays_there(collector):
    network, table = collector(0.02)
    fixed = member(
        network, table, SUNNY._replace(ambient=INLET, sky=INLET, incident=0.0), 0.0 * ABSORBED, INLET
    )
    state = started(fixed, INLET)
    _, ledger = march_on(fixed, state, 30, 60.0)
    assert np.abs(state.nodes[0] - INLET).max() < 1e-9
    assert abs(ledger[Column.COLLECTED]) < 1e-6


def as_the_package_has_it(arrangement: str, flux: float) -> tuple[Network, FlowTable]:
    """Return a reference collector with the package's own relations: films, gaps, mixed convection."""
    made = reference(arrangement, 3, depth=0.05 if arrangement == "through" else 0.025)
    if arrangement == "through":
        sheet = replace(made.absorber, perforation=Perforation(0.2, effectiveness=0.80))
        made = replace(made, absorber=sheet)
    network, table = numbers(made, flux * AREA)
    return back_lost(network), table


# independent solution; the package's default relations: +-0.02 and +-2 K, through flow +-0.01 and +-1 K.
# Through flow is given films of 3 and 4 W/m2K and no depths; 50 mm spaces come to about these.
WITH_DEFAULTS = [
    ("behind", 0.01, 0.288, 66.7),
    ("behind", 0.03, 0.443, 51.5),
    ("two_pass", 0.01, 0.373, 67.2),
    ("two_pass", 0.03, 0.492, 46.4),
    ("through", 0.01, 0.432, 62.8),
    ("through", 0.03, 0.587, 39.8),
]


@pytest.mark.parametrize(("arrangement", "flux", "efficiency", "plate"), WITH_DEFAULTS)
def test_efficiency_with_the_default_relations(arrangement, flux, efficiency, plate):
    point = steady_point(*as_the_package_has_it(arrangement, flux), SUNNY, ABSORBED, INLET)
    assert point.efficiency == pytest.approx(efficiency, abs=0.01 if arrangement == "through" else 0.02)


def with_mark(row: tuple[str, float, float, float]) -> object:
    known = pytest.mark.xfail(
        raises=AssertionError,
        reason="buoyancy under the glass, which the reference leaves out: the plate is 2.7 K colder",
    )
    return pytest.param(*row, marks=known) if row[:2] == ("two_pass", 0.01) else row


@pytest.mark.parametrize(
    ("arrangement", "flux", "efficiency", "plate"), [with_mark(row) for row in WITH_DEFAULTS]
)
def test_plate_temperature_with_the_default_relations(arrangement, flux, efficiency, plate):
    point = steady_point(*as_the_package_has_it(arrangement, flux), SUNNY, ABSORBED, INLET)
    assert point.nodes[1].mean() - 273.15 == pytest.approx(
        plate, abs=1.0 if arrangement == "through" else 2.0
    )


def test_two_passes_without_buoyancy_under_the_glass_are_within_two_kelvin():
    """The reason given for the one plate that is not: independent solution, 67.2 C +-2 K and 0.373 +-0.02."""
    network, table = as_the_package_has_it("two_pass", 0.01)
    network.nusselt[0] = 1.0
    point = steady_point(network, table, SUNNY, ABSORBED, INLET)
    assert point.nodes[1].mean() - 273.15 == pytest.approx(67.2, abs=2.0)
    assert point.efficiency == pytest.approx(0.373, abs=0.02)


def efficiency(segments: int) -> float:
    return steady_point(*back_pass(0.02, segments), SUNNY, ABSORBED, INLET).efficiency


def test_number_of_segments_does_not_matter_beyond_fifty():
    assert abs(efficiency(200) - efficiency(50)) < 0.0005  # independent solution: 1.3e-6


def test_one_exponential_segment_costs_little():
    assert efficiency(1) - efficiency(200) == pytest.approx(-0.0035, abs=0.0005)  # independent solution


def test_efficiency_and_losses_make_up_the_optics():
    """Mathematics: eta + losses / G = (tau alpha), to 1e-6."""
    point = steady_point(*back_pass(0.02), SUNNY, ABSORBED, INLET)
    assert point.efficiency + sum(point.losses) / (800.0 * AREA) == pytest.approx(0.8461, abs=1e-6)
