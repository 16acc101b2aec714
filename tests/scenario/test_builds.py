"""Every build that a scenario can describe arrives as the numbers a person works out by hand."""

import math

import pytest

from simengine.airflow.circuit import losses
from simengine.airflow.parts import PerforatedSheet
from simengine.data_files import data_path
from simengine.errors import ScenarioError
from simengine.scenario import Scenario, load
from simengine.scenario.assemble_perforation import screen
from simengine.units import parse

INCH, FOOT = 0.0254, 0.3048  # [m] definitions
CFM = FOOT**3 / 60.0
TUBES = {"diameter": "60 mm", "pitch": "75 mm"}


@pytest.fixture(scope="module")
def demo() -> Scenario:
    return load(data_path("scenarios", "demo.toml"))


@pytest.fixture(scope="module")
def metric() -> Scenario:
    return load(data_path("scenarios", "demo_metric.toml"))


@pytest.mark.parametrize("arrangement", ["behind", "in_front", "both_sides", "two_pass", "tubes"])
def test_every_way_of_the_air_can_be_asked_for(demo: Scenario, arrangement: str) -> None:
    changes: dict[str, object] = {"collector.arrangement": arrangement}
    if arrangement == "tubes":
        changes["collector.absorber.tubes"] = TUBES
    parts = demo.changed(changes).assemble()
    assert parts.collector.arrangement == arrangement
    assert parts.air_path.box


def test_no_cover_is_a_bare_absorber(demo: Scenario) -> None:
    bare = demo.changed({"collector.cover": None, "collector.front_gap": None}).assemble()
    assert bare.collector.panes == () and bare.collector.pane_gaps == ()
    still_there = demo.changed({"collector.cover": None}).assemble()  # a gap under no cover means nothing
    assert still_there.collector.panes == ()


def test_tubes_keep_their_size(demo: Scenario) -> None:
    changes = {"collector.arrangement": "tubes", "collector.absorber.tubes": TUBES}
    tubes = demo.changed(changes).assemble().collector.absorber.tubes
    assert tubes is not None
    assert (tubes.diameter, tubes.pitch) == pytest.approx((0.060, 0.075))


def test_ribs_widen_the_surface_offered_to_the_air(demo: Scenario) -> None:
    flat = demo.assemble().collector.absorber
    assert (flat.front_area, flat.rear_area) == (1.0, 1.0)
    ribbed = demo.changed({"collector.absorber.rear_area": 1.3, "collector.absorber.front_area": "110 %"})
    sheet = ribbed.assemble().collector.absorber
    assert (sheet.front_area, sheet.rear_area) == pytest.approx((1.1, 1.3))


def test_the_paint_is_a_construction_or_its_figures(demo: Scenario) -> None:
    selective = demo.changed({"collector.absorber.construction": "selective_aluminium_sheet"}).assemble()
    assert selective.collector.absorber.emittance_front == 0.05
    assert selective.collector.absorber.absorptance == 0.94  # the file's own figure stays
    dull = demo.changed({"collector.absorber.fall_off": "same_at_all_angles"}).assemble()
    assert dull.collector.absorber.fall_off == "same_at_all_angles"


def test_screens_in_layers(metric: Scenario) -> None:
    two = metric.changed({"collector.absorber.perforation.layers": 2}).assemble().collector.absorber
    assert two.perforation is not None
    assert (two.perforation.layers, two.perforation.effectiveness) == (2, 0.75)


def test_a_screen_by_its_wires(metric: Scenario) -> None:
    wires = {"wire_diameter": "0.28 mm", "wire_pitch": "1.5 mm"}
    sheet = metric.changed({"collector.absorber.perforation": wires}).assemble().collector.absorber
    assert sheet.perforation is not None
    # geometry: (1 - 0.28 / 1.5)^2 of a woven screen is open
    assert sheet.perforation.porosity == pytest.approx((1.0 - 0.28 / 1.5) ** 2)
    flow = metric.assemble()
    flux = flow.fan.mass_flow / flow.collector.aperture
    assert sheet.perforation.rated_flow == pytest.approx(flux)
    # common practice: measured screens stand around 0.6 to 0.85; none counts for more than 0.75 by its wires
    assert sheet.perforation.effectiveness == 0.75 < screen(0.28e-3, 1.5e-3, flux, 101325.0)[0]
    coarse = {"wire_diameter": "0.2 mm", "wire_pitch": "8 mm"}
    sheet = metric.changed({"collector.absorber.perforation": coarse}).assemble().collector.absorber
    by_relation = screen(0.2e-3, 8.0e-3, flux, 101325.0)[0]
    assert by_relation < 0.75 and sheet.perforation is not None
    assert sheet.perforation.effectiveness == pytest.approx(by_relation)


def test_the_exponent_of_a_screen_follows_its_relation_to_other_flows() -> None:
    # mathematics: NTU = NTU_0 (m / m_0)^-n is the tangent of the relation at m_0
    effectiveness, exponent = screen(0.28e-3, 1.5e-3, 0.02, 101325.0)
    for ratio in (0.8, 1.2):
        scaled = 1.0 - math.exp(math.log(1.0 - effectiveness) * ratio**-exponent)
        assert scaled == pytest.approx(screen(0.28e-3, 1.5e-3, 0.02 * ratio, 101325.0)[0], abs=0.002)


def test_a_leak_is_the_power_law_through_its_test(demo: Scenario) -> None:
    given = {"flow": "20 cfm", "pressure": "50 Pa", "exponent": 0.6, "box_pressure": "-12 Pa"}
    leak = demo.changed({"collector.leak": given}).assemble(101325.0).collector.leak
    assert leak is not None
    density = 101325.0 / (287.05 * 293.15)  # ideal gas at 20 degC
    assert leak.coefficient * 50.0**0.6 == pytest.approx(20.0 * CFM * density)
    assert (leak.exponent, leak.box_pressure) == (0.6, -12.0)
    assert demo.assemble().collector.leak is None


def test_the_pressure_in_the_box_follows_from_the_place_of_the_fan(demo: Scenario) -> None:
    pushed = demo.changed({"collector.leak.flow": "20 cfm"}).assemble(101325.0)
    drawn = demo.changed({"collector.leak.flow": "20 cfm", "fan.place": "hot_side"}).assemble(101325.0)
    by_part = losses(pushed.air_path.parts, pushed.fan.mass_flow, 101325.0)
    after = sum(loss.pressure for loss in by_part if "supply" in loss.name)
    box = sum(loss.pressure for loss in by_part if "space" in loss.name)
    # energy along the path: what lies between the middle of the box and the room
    assert pushed.collector.leak is not None and drawn.collector.leak is not None
    assert pushed.collector.leak.box_pressure == pytest.approx(after + 0.5 * box)
    assert drawn.collector.leak.box_pressure < 0.0


def test_a_sealed_unit_is_one_with_gas_or_one_that_says_so(demo: Scenario) -> None:
    panes = [{"gap": "12 mm", "gas": "argon"}, {"gap": "12 mm"}, {"gap": "12 mm", "sealed": True}, {}]
    assert demo.changed({"collector.cover": panes}).assemble().sealed_gaps == (True, False, True)


def test_the_path_of_the_air_in_the_box(demo: Scenario, metric: Scenario) -> None:
    def box(changes: dict[str, object], scenario: Scenario = demo) -> float:
        parts = scenario.changed(changes).assemble(101325.0)
        return sum(loss.pressure for loss in losses(parts.air_path.box, 0.05, 101325.0))

    front, rear = box({"collector.arrangement": "in_front"}), box({"collector.arrangement": "behind"})
    # a wide channel: friction in a narrower space is larger, two passes cost both and the turn
    assert front > rear
    assert box({"collector.arrangement": "two_pass"}) > front + rear
    assert box({"collector.arrangement": "both_sides"}) < 0.5 * (front + rear)
    # tubes: one duct of the same area and hydraulic diameter as all of them
    tubes = demo.changed({"collector.arrangement": "tubes", "collector.absorber.tubes": TUBES}).assemble()
    (bank,) = tubes.air_path.box
    number = tubes.collector.width / 0.075
    assert bank.area == pytest.approx(number * math.pi / 4.0 * 0.060**2)
    assert bank.hydraulic_diameter == pytest.approx(0.060)
    # the screen of the metric demo costs nothing by itself, holes do
    assert not any(isinstance(part, PerforatedSheet) for part in metric.assemble().air_path.box)
    holes = load(data_path("scenarios", "demo_us.toml")).assemble()
    assert any(isinstance(part, PerforatedSheet) for part in holes.air_path.box)


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        (
            {"collector.cover": None, "collector.arrangement": "in_front"},
            'collector.arrangement: is "in_front", but there is no cover for air to run under; accepted: '
            "[[collector.cover]], or one of behind, tubes",
        ),
        (
            {"collector.front_gap": None},
            "collector: the space between cover and absorber is not known; accepted: [collector.front_gap] "
            'with depth = "1 in", or no cover',
        ),
        (
            {"collector.arrangement": "tubes"},
            'collector.arrangement: is "tubes", but nothing is known of them; accepted: '
            '[collector.absorber.tubes] with diameter = "2.6 in", pitch = "2.7 in"',
        ),
        (
            {"collector.absorber.tubes": {"diameter": "80 mm", "pitch": "75 mm"}},
            "collector.absorber.tubes.pitch: the tubes overlap; accepted: a pitch of at least the diameter",
        ),
        (
            {"collector.absorber.rear_area": 0.8},
            'collector.absorber.rear_area: "0.8" is below 1; accepted: 1 to 10 (1 is flat, 1.57 half-round '
            "waves, 2 and more fins)",
        ),
        (
            {"collector.absorber.perforation": {"wire_diameter": "0.3 mm", "wire_pitch": "0.5 mm"}},
            "collector.absorber.perforation.wire_diameter: the wires leave no mesh; accepted: wire_diameter "
            "up to half of wire_pitch",
        ),
        (
            {
                "collector.absorber.perforation": {
                    "wire_diameter": "0.3 mm",
                    "wire_pitch": "1.5 mm",
                    "hole_diameter": "1 mm",
                    "pitch": "9 mm",
                }
            },
            "collector.absorber.perforation.wire_diameter: holes and wires are both given; accepted: one of "
            "the two",
        ),
        (
            {"collector.leak": {"pressure": "50 Pa"}},
            'collector.leak.flow: is missing; accepted: flow = "5 cfm" (through all cracks in the test; a '
            "volume flow is meant at 20 degC)",
        ),
        (
            {"collector.leak": {"flow": "20 cfm", "exponent": 0.4}},
            'collector.leak.exponent: "0.4" is below 0.5; accepted: 0.5 to 1 (0.5 holes, 1 hair cracks)',
        ),
        (
            {"collector.room_humidity": "120 %"},
            'collector.room_humidity: "120 %" is above 1; accepted: 0.05 to 1 (a room in winter 0.3 to 0.5)',
        ),
        (
            {"collector.absorber.fall_off": "round"},
            'collector.absorber.fall_off: "round" is no fall-off; accepted: flat_black_seventh_order, '
            "flat_black_fourth_order, same_at_all_angles",
        ),
        (
            {"collector.arrangement": "both sides"},
            'collector.arrangement: "both sides" is no arrangement, the nearest is "both_sides"; accepted: '
            "behind, in_front, both_sides, two_pass, through, tubes",
        ),
    ],
)
def test_one_fault_is_one_exact_line(demo: Scenario, changes: dict[str, object], line: str) -> None:
    with pytest.raises(ScenarioError) as caught:
        demo.changed(changes)
    assert caught.value.problems == (f"(changed): {line}",)


def test_every_new_key_is_listed_in_both_unit_systems(demo: Scenario) -> None:
    changes = {
        "collector.arrangement": "tubes",
        "collector.absorber.tubes": TUBES,
        "collector.leak": {"flow": "20 cfm", "box_pressure": "0.05 in.wg"},
    }
    listed = {row.key: (row.si, row.us) for row in demo.changed(changes).resolved()}
    assert listed["collector.absorber.tubes.diameter"] == ("60 mm", "2.362 in")
    assert listed["collector.leak.flow"] == ("33.98 m3/h", "20 cfm")
    assert listed["collector.leak.pressure"] == ("50 Pa", "0.2007 in.wg")
    assert listed["collector.leak.box_pressure"] == ("12.45 Pa", "0.05 in.wg")
    assert listed["collector.leak.pressure_in_box"] == ("12.45 Pa", "0.05 in.wg")
    assert listed["collector.room_humidity"] == ("0.4", "0.4")
    assert parse("0.05 in.wg", "pressure") == pytest.approx(0.05 * INCH * 1000.0 * 9.80665)
