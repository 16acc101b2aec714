"""What a scenario turns into, against numbers worked out by hand and rows of published tables."""

import pytest

from simengine.collector import constructions
from simengine.data_files import data_path
from simengine.errors import ScenarioError
from simengine.heat_transfer.perforated_plate import POROSITIES
from simengine.scenario import Scenario, load
from simengine.scenario.assemble_perforation import HOLES
from simengine.units import parse

INCH, FOOT = 0.0254, 0.3048  # [m] definitions


@pytest.fixture(scope="module")
def demo() -> Scenario:
    return load(data_path("scenarios", "demo.toml"))


@pytest.fixture(scope="module")
def metric() -> Scenario:
    return load(data_path("scenarios", "demo_metric.toml"))


@pytest.fixture(scope="module")
def us() -> Scenario:
    return load(data_path("scenarios", "demo_us.toml"))


@pytest.mark.parametrize(
    ("flow", "place", "pressure", "expected"),
    [
        # mathematics: 110 cfm = 0.05191 m3/s times p/(287.05 T), or 1.2014 kg/m3; three figures
        ("110 scfm", "room_side", 101325.0, 0.0624),
        ("110 scfm", "hot_side", 84556.0, 0.0624),
        ("110 cfm", "room_side", 101325.0, 0.0625),
        ("110 cfm", "hot_side", 101325.0, 0.0576),
        ("110 cfm", "hot_side", 84556.0, 0.0481),  # standard atmosphere at 1500 m
        ("0.05 kg/s", "hot_side", 84556.0, 0.0500),
    ],
)
def test_a_volume_flow_is_meant_at_the_fan(
    demo: Scenario, flow: str, place: str, pressure: float, expected: float
) -> None:
    changed = demo.changed({"fan.flow": flow, "fan.place": place})
    assert changed.assemble(pressure).fan.mass_flow == pytest.approx(expected, abs=5.1e-5)


def test_a_flow_per_area_counts_the_glazed_opening(demo: Scenario) -> None:
    whole = demo.changed({"fan.flow": "112.5 cfm"}).assemble()  # 37.5 ft2 x 3 cfm/ft2
    assert demo.changed({"fan.flow": "3 cfm/ft2"}).assemble().fan.mass_flow == pytest.approx(
        whole.fan.mass_flow
    )
    standard = demo.changed({"fan.flow": "3 scfm/ft2"}).assemble()
    # unit identity: 3 cfm/ft2 of standard air is 0.0183 kg/s m2 within 0.3 %
    assert standard.fan.mass_flow / standard.collector.aperture == pytest.approx(0.0183, rel=3e-3)


def test_the_volume_flow_at_the_fan_goes_with_the_mass_flow(demo: Scenario) -> None:
    parts = demo.changed({"fan.inlet_temperature": "45 degC"}).assemble(90_000.0)
    density = 90_000.0 / (287.05 * 318.15)  # ideal gas
    assert parts.fan_volume_flow == pytest.approx(parse("105 cfm", "volume_flow"))
    assert parts.fan.mass_flow == pytest.approx(density * parts.fan_volume_flow)


def test_the_box_of_the_demo(demo: Scenario) -> None:
    box = demo.assemble().collector
    assert (box.width, box.length) == pytest.approx((5 * FOOT, 7.5 * FOOT))
    assert (box.tilt, box.azimuth, box.arrangement, box.segments) == (90.0, 175.0, "behind", 3)
    assert box.front.depth_inlet == box.front.depth_outlet == pytest.approx(INCH)
    assert box.rear.depth_outlet == pytest.approx(1.25 * INCH)
    assert box.back.wall_resistance == pytest.approx(parse("R-13", "thermal_resistance"))
    # perimeter x depth / resistance, by hand: 25 ft x 5 in / R-4
    assert box.edge_conductance == pytest.approx(25 * FOOT * 5 * INCH / parse("R-4", "thermal_resistance"))


def test_a_typical_part_keeps_what_is_not_changed(demo: Scenario) -> None:
    box = demo.assemble().collector
    assert box.panes == (constructions.pane("clear_tempered_4mm"),)
    typical = constructions.absorber("flat_black_aluminium_sheet")
    assert box.absorber.absorptance == 0.94
    assert box.absorber.heat_capacity == typical.heat_capacity
    board = box.back.layers[0]
    assert board.thickness == pytest.approx(2 * INCH)
    assert board.conductivity == constructions.layer("mineral_wool_board").conductivity
    assert box.back.emittance == constructions.lining("glass_fleece").emittance


def test_a_layer_by_resistance_gets_the_thickness_that_has_it(metric: Scenario) -> None:
    layer = metric.assemble().collector.back.layers[0]
    assert layer.thickness / layer.conductivity == pytest.approx(1.5)


def test_an_open_edge_loses_nothing(demo: Scenario) -> None:
    assert demo.changed({"collector.edge": None}).assemble().collector.edge_conductance == 0.0


def test_figures_of_a_data_sheet_go_before_the_typical_ones(demo: Scenario) -> None:
    rated = {"transmittance": 0.6, "reflectance_outside": 0.2, "reflectance_inside": 0.1}
    pane = demo.changed({"collector.cover.1.rated": rated}).assemble().collector.panes[0]
    assert pane.rated is not None
    assert (pane.rated.transmittance, pane.rated.reflectance_inside) == (0.6, 0.1)
    coated = {"collector.cover.1.construction": "low_e_hard_coat_4mm"}
    assert demo.changed(coated).assemble().collector.panes[0].rated is not None
    by_glass = demo.changed({**coated, "collector.cover.1.extinction": "4 1/m"})
    assert by_glass.assemble().collector.panes[0].rated is None


def test_the_open_share_follows_from_the_holes(us: Scenario) -> None:
    sheet = us.assemble().collector.absorber.perforation
    assert sheet is not None
    # geometry: pi/(2 sqrt 3) (d/P)^2 of 1/16 in holes, 5/8 in apart = 0.00907
    assert sheet.porosity == pytest.approx(0.00907, abs=5e-6)
    for layout, relation in POROSITIES.items():
        assert HOLES[layout] * 0.1**2 == pytest.approx(relation(0.001, 0.010))


def test_a_pane_without_its_gap_is_refused(us: Scenario) -> None:
    with pytest.raises(ScenarioError, match=r"cover\.1 has no gap to the next pane"):
        us.changed({"collector.cover.1.gap": None})
    with pytest.raises(ScenarioError, match=r"cover\.2\.gap: leads to no further pane"):
        us.changed({"collector.cover.2.gap": "1 in"})


def test_the_snap_switch_works_on_levels_and_the_differential_on_differences(
    demo: Scenario, metric: Scenario
) -> None:
    snap, difference = demo.assemble().control, metric.assemble().control
    assert (snap.reference_weight, difference.reference_weight) == (0.0, 1.0)
    assert snap.start == pytest.approx(parse("105 degF", "temperature"))
    assert (difference.start, difference.stop) == (9.0, 3.0)
    assert snap.months == (1, 2, 3, 4, 5, 10, 11, 12)
    assert snap.minimum_on == 120.0


def test_ducts_are_told_apart_by_their_name(us: Scenario) -> None:
    parts = us.assemble()
    assert [duct.length for duct in parts.supply_ducts] == pytest.approx([6 * FOOT])
    assert [duct.length for duct in parts.return_ducts] == pytest.approx([8 * FOOT])
    assert parts.supply_ducts[0].insulation_resistance == pytest.approx(parse("R-8", "thermal_resistance"))


def test_the_site_of_the_examples(demo: Scenario, metric: Scenario, us: Scenario) -> None:
    tree = demo.assemble().site.trees[0]
    assert (tree.leaf_out, tree.leaf_fall) == (105, 305)  # 15 April, 1 November of a common year
    spruce = us.assemble().site.trees[0]
    assert spruce.in_leaf == spruce.bare == 0.15  # evergreen
    assert [strip.side for strip in (*us.assemble().site.strips, *metric.assemble().site.strips)] == [
        "left",
        "above",
    ]
    assert len(metric.assemble().site.ground_reflectance) == 12


def test_the_own_house_by_parts(us: Scenario) -> None:
    house = us.assemble().house
    assert house is not None
    square_foot = FOOT**2
    u_inside_out = 0.45 * 5.678263  # [W/m2K] unit identity of Btu/h ft2 degF
    walls = 1450 / parse("R-12", "thermal_resistance")
    attic = 0.9 * 840 / parse("R-30", "thermal_resistance")
    floor = 0.7 * 840 / parse("R-13", "thermal_resistance")
    bridges = 0.05 * (1450 + 0.9 * 840 + 0.7 * 840 + 130)
    # sums of A U b by hand, ISO 13789 (from memory)
    assert house.opaque_conductance == pytest.approx((walls + attic + floor + bridges) * square_foot)
    assert house.window_conductance == pytest.approx(130 * square_foot * u_inside_out, rel=1e-6)
    # a blower-door result of 9 1/h counts a twentieth (common practice), 1200 J/m3K (ISO 13790)
    volume = 1640 * square_foot * (98 * INCH)
    assert house.ventilation_conductance == pytest.approx(1200 * volume * 0.45 / 3600)


def test_the_own_house_by_its_heat_loss(metric: Scenario) -> None:
    house = metric.assemble().house
    assert house is not None
    assert (house.opaque_conductance, house.heat_capacity_per_area, house.mass_area_ratio) == (
        112.0,
        260e3,
        3.0,
    )
    assert house.window_conductance == pytest.approx(14 * 1.6)
    assert house.setpoint[0] == pytest.approx(290.15)
    assert house.setpoint[17] == pytest.approx(294.15)


def test_heat_recovery_counts_on_the_mechanical_part_only(metric: Scenario) -> None:
    changes = {
        "house.mechanical_ventilation": "0.4 1/h",
        "house.heat_recovery": 0.75,
        "house.air_changes": "0.03 1/h",
    }
    house = metric.changed(changes).assemble().house
    assert house is not None
    # n (1 - eta) by hand: 0.03 + 0.4 x 0.25 = 0.13
    assert house.ventilation_conductance == pytest.approx(1200 * 118 * 2.45 * 0.13 / 3600)


def test_the_fuel_bill_as_heat(us: Scenario, metric: Scenario) -> None:
    bill = us.assemble().bill
    assert bill is not None
    # 610 gal of 91,452 Btu/gal (EIA, published); 3412.14 Btu/kWh
    assert bill.fuel_heat == pytest.approx(610 * 91452 / 3412.14, rel=1e-5)
    assert (bill.efficiency, bill.hot_water_share) == (0.88, 0.15)
    by_litre = us.changed({"house.yearly_fuel": "2309.1 L"}).assemble().bill
    assert by_litre is not None
    assert by_litre.fuel_heat == pytest.approx(bill.fuel_heat, rel=1e-5)
    assert metric.assemble().bill is None
    with pytest.raises(
        ScenarioError, match=r"house\.yearly_fuel: is a mass, but propane is not sold that way"
    ):
        us.changed({"house.yearly_fuel": "900 kg"})
    with pytest.raises(ScenarioError, match=r"house\.yearly_fuel: is an amount of an unknown fuel"):
        us.changed({"heating": None})


def test_money_of_the_examples(demo: Scenario, metric: Scenario) -> None:
    money = demo.assemble().money
    assert money.electricity is not None and money.economics is not None
    (oil,) = money.heating
    assert (oil.price, oil.unit, oil.currency, oil.share) == (3.75, "gal", "USD", 1.0)
    assert (oil.price_date, oil.invented) == ("2026-05-01", True)
    assert (money.electricity.price, money.electricity.unit) == (0.14, "kWh")
    assert (money.economics.first_cost, money.economics.life, money.economics.basis) == (1100.0, 20, "real")
    nominal = metric.assemble().money.economics
    assert nominal is not None
    assert (nominal.currency, nominal.inflation, nominal.fuel_escalation) == ("EUR", 0.02, 0.025)


def test_a_scenario_without_money_has_none(demo: Scenario) -> None:
    money = demo.changed({"heating": None, "electricity": None, "economics": None}).assemble().money
    assert (money.heating, money.electricity, money.economics) == ((), None, None)


def test_a_heat_pump_by_outdoor_temperature(demo: Scenario) -> None:
    changes = {
        "heating.fuel": "electricity",
        "heating.efficiency": 3.0,
        "heating.price": "0.14 USD/kWh",
        "heating.emission_factor": "0.4 kg/kWh",
        "heating.cop_by_outdoor_temperature": [["-10 degC", 2.0], ["10 degC", 4.0]],
    }
    (use,) = demo.changed(changes).assemble().money.heating
    assert use.cop_by_outdoor_temperature is not None
    assert use.cop_by_outdoor_temperature.x == pytest.approx((263.15, 283.15))
    assert use.cop_by_outdoor_temperature.y == (2.0, 4.0)
    assert use.emission_factor == pytest.approx(0.4)
    falling = {**changes, "heating.cop_by_outdoor_temperature": [["10 degC", 2.0], ["0 degC", 4.0]]}
    with pytest.raises(ScenarioError, match="the COP pairs make no curve"):
        demo.changed(falling)


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        ({"house.elements": [{"name": "w", "area": "9 m2", "u_value": "1 W/m2K"}]}, "heat loss is not clear"),
        ({"house.opaque_conductance": None}, "heat loss is not clear"),
        ({"house.air_changes_at_50_pa": "9 1/h"}, "the air change is given twice"),
        ({"house.name": "standard"}, "belongs to a built-in house"),
        ({"house.vent_limit": "19 degC"}, "windows would open below the heating's setpoint"),
        ({"run.step": "7 s"}, "a step of 7 s does not fit into an hour"),
        ({"economics.life": "20.5 years"}, "is no whole number of years"),
        ({"economics.basis": "real"}, "inflation belongs to the nominal basis only"),
        ({"collector.edge.resistance": "R-4"}, "the edge is not clear"),
        ({"collector.front_gap.depth": "1 in"}, "the depth is not clear"),
        ({"collector.back.layers.1.thickness": "1 in"}, "thickness and resistance are both given"),
        ({"collector.absorber.perforation.rated_flow": None}, "an effectiveness holds at one flow only"),
        ({"collector.absorber.perforation.porosity": None}, "the open share is not known"),
        ({"collector.absorber.perforation.effectiveness": None}, "neither holes, wires nor an effectiveness"),
        ({"sweep": {"vary": {"collector.tlt": ["1 deg"]}}}, "is no key of a scenario, the nearest is"),
        (
            {"sweep": {"vary": {"collector.tilt": {"from": "1 deg", "to": "9 deg"}}}},
            "a range has no end of values",
        ),
        ({"sweep": {"vary": {}}}, "is empty"),
        ({"spots": [{"name": "a", "changes": {"nope": 1}}]}, "is no key of a scenario"),
        ({"heating.price_date": None}, "a price without a date says little"),
        ({"electricity.price": "3 EUR/L"}, "electricity is not sold by the L"),
    ],
)
def test_what_does_not_go_together_is_refused(
    metric: Scenario, changes: dict[str, object], line: str
) -> None:
    with pytest.raises(ScenarioError, match=line) as caught:
        metric.changed(changes)
    assert len(caught.value.problems) == 1
