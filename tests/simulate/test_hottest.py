"""Every part at its hottest against its material, and what a build asks to be careful about."""

from typing import Any

import numpy as np
import pytest

from simengine.data_files import data_path
from simengine.scenario import Scenario, load
from simengine.simulate import Conditions, build_cautions, cover_label, resolve
from simengine.simulate.design_point import limits
from simengine.simulate.forcing import collector_forcing, on_plane, place
from simengine.simulate.hottest import part_temperatures
from simengine.simulate.point_report import point_report

HOT = Conditions(irradiance=1000.0, ambient=303.15, sky=293.15, flow=0.0, wind=0.5)


def parts_of(scenario: Scenario) -> dict[str, dict[str, Any]]:
    return {row["part"]: row for row in point_report(scenario, HOT)["hottest_parts"]}


def test_hottest_parts_are_told_at_stagnation_only(demo: Scenario) -> None:
    assert point_report(demo, Conditions())["hottest_parts"] == []
    parts = parts_of(demo)
    assert {name.partition(":")[0] for name in parts} == {"absorber", "back", "pane 1", "lining of the back"}
    # common practice: the inside of a closed glazed box reaches 65 to 95 C and more
    assert 90.0 < parts["absorber: flat_black_aluminium_sheet"]["hottest_c"] < 180.0


def test_foam_behind_an_absorber_is_too_hot_and_a_selective_sheet_hotter_still(demo: Scenario) -> None:
    foam = demo.changed({"collector.back.layers": [{"construction": "expanded_polystyrene"}]})
    assert parts_of(foam)["back: expanded_polystyrene"]["exceeded"]
    selective = demo.changed({"collector.absorber.construction": "selective_aluminium_sheet"})
    plain, coated = (max(row["hottest_c"] for row in parts_of(s).values()) for s in (demo, selective))
    assert coated > plain + 10.0


def test_a_sealed_unit_is_held_against_its_seal(demo: Scenario) -> None:
    panes = [{"gap": "12 mm", "gas": "argon"}, {}]
    row = parts_of(demo.changed({"collector.cover": panes}))["seal between pane 1 and 2"]
    assert row["limit_c"] == 60.0  # ASTM E2188, 140 degF test; published, read
    assert row["exceeded"]


def test_a_layer_stands_between_the_faces_of_the_back(demo: Scenario) -> None:
    parts = demo.assemble()
    # pane, absorber, face of the back, mass, box, inner face of the pane
    nodes = np.array([[300.0, 350.0, 340.0, 320.0, 310.0, 304.0]])
    temperatures, materials = part_temperatures(parts, nodes)
    resistances = [layer.thickness / layer.conductivity for layer in parts.collector.back.layers]
    outer = 340.0 - 30.0 * resistances[0] / sum(resistances)
    assert temperatures["back: mineral_wool_board"] == pytest.approx([340.0])
    assert temperatures["back: fibre_cement_board"] == pytest.approx([outer])
    assert materials["lining of the back"] == "mineral_wool"
    assert next(values for part, values in temperatures.items() if part.startswith("pane 1")) == [304.0]


def test_the_hotter_of_the_years_worst_hour_and_the_design_point_counts(demo: Scenario) -> None:
    upright, sloped = (resolve(demo.changed({"collector.tilt": tilt})) for tilt in ("90 deg", "45 deg"))
    for here in (upright, sloped):
        there = place(here.series, here.parts.site, "berdahl_martin")
        rows = limits(here, collector_forcing(there, here, on_plane(there, here)))
        absorber = next(row for row in rows if row["part"].startswith("absorber"))
        alone = parts_of(here.scenario)["absorber: flat_black_aluminium_sheet"]["hottest_c"]
        assert absorber["hottest_c"] >= alone - 0.01


def test_the_label_of_a_cover(demo: Scenario) -> None:
    label = cover_label(resolve(demo))
    assert label is not None
    # from memory of EN 673: single 4 mm glass 5.8 +-0.1; solar transmittance of 4 mm clear 0.82 to 0.86
    assert label["u_value"] == pytest.approx(5.8, abs=0.1)
    assert 0.82 < label["solar_transmittance"] < 0.86
    sealed = [{"construction": "clear_float_4mm", "gap": "16 mm"}, {"construction": "clear_float_4mm"}]
    double = cover_label(resolve(demo.changed({"collector.cover": sealed})))
    assert double is not None
    assert double["u_value"] == pytest.approx(2.7, abs=0.05)  # from memory of EN 673:2011, 4-16-4 air
    assert cover_label(resolve(demo.changed({"collector.cover": None}))) is None


def through(holes: dict[str, object]) -> list[str]:
    base = load(data_path("scenarios", "demo_us.toml"))
    tight = {"collector.leak": None, "collector.absorber.perforation": holes}
    return build_cautions(resolve(base.changed(tight)))


def test_holes_within_the_relation_are_no_caution() -> None:
    assert through({"hole_diameter": "1/16 in", "pitch": "5/8 in"}) == []


def test_holes_outside_of_the_relation_say_so() -> None:
    # geometry: pi/(2 sqrt 3)/4 is 22.7 % open; the relation was fitted up to 5 %, and to Re 100 to 2000
    (text,) = through({"hole_diameter": "2 mm", "pitch": "4 mm"})
    assert "22.7 % open" in text
    assert "is a guess" in text and "0.6 to 0.85" in text


def test_a_screen_by_its_wires_counts_for_no_more_than_measured_ones() -> None:
    (text,) = through({"wire_diameter": "0.28 mm", "wire_pitch": "1.5 mm"})
    assert "no layer counts for more than 0.75" in text and "0.6 to 0.85" in text
    (text,) = through({"wire_diameter": "0.2 mm", "wire_pitch": "8 mm"})
    assert "upper bound" in text and "0.6 to 0.85" in text


def test_other_cautions_of_a_build(demo: Scenario) -> None:
    assert build_cautions(resolve(demo)) == []
    changes: dict[str, object] = {
        "collector.cover": None,
        "collector.wind_relation": "mcadams",
        "collector.leak": {"flow": "20 cfm", "box_pressure": "-10 Pa"},
    }
    told = " ".join(build_cautions(resolve(demo.changed(changes))))
    assert "no cover" in told and "contain radiation" in told and "draws outdoor air" in told
