"""Each fault of a scenario file gives one exact line: place, key, what is wrong, what is accepted."""

from collections.abc import Callable
from pathlib import Path

import pytest

from simengine.errors import ScenarioError
from simengine.scenario import Scenario, load

SITE_KEYS = (
    "weather, mend_clock, warmer, elevation, terrain, collector_height, wind_shelter, ground_reflectance, "
    "sun_factor, snow, horizon, horizon_file, declination, trees, overhang, fins, walls, normals"
)
FLOWS = 'accepted: e.g. "110 cfm", "0.06 kg/s", "3 cfm/ft2", "0.02 kg/s.m2"'
TOML = 'accepted: lines such as width = "4 ft", [fan], # a remark'
OIL = "gal, L, m3, kWh, MWh, GJ, MJ, MMBtu, therm"

ONE_FAULT = [
    (
        'tilt = "90 deg"',
        'tilt = "135 deg"',
        'collector.tilt: "135 deg" is above 90 deg; accepted: 0 deg to 90 deg (from horizontal: 0 lies flat, '
        "90 stands upright)",
    ),
    (
        'tilt = "90 deg"',
        "tilt = 90",
        'collector.tilt: "90" has no unit; accepted: deg, rad, e.g. "60 deg"',
    ),
    (
        'width = "5 ft"',
        'width = "-5 ft"',
        'collector.width: "-5 ft" is below 0.1 m; accepted: 0.1 m to 30 m (a collector that people build)',
    ),
    (
        'width = "5 ft"',
        'width = "5 ftt"',
        'collector.width: "5 ftt": unknown unit "ftt", the nearest is "ft"; accepted: m, cm, mm, in, ft, '
        'e.g. "6 in"',
    ),
    (
        'start = "105 degF"',
        'start = "105 F"',
        'control.start: "105 F": the unit "F" is not clear; accepted: "degF"',
    ),
    (
        'stop = "80 degF"',
        'stop = "115 degF"',
        "control.stop: the fan would stop where it starts; accepted: stop below start",
    ),
    (
        'kind = "snap_switch"',
        'kind = "snapswitch"',
        'control: kind "snapswitch" is not known, the nearest is "snap_switch"; accepted: snap_switch, '
        "differential, pv_module, none",
    ),
    ('flow = "105 cfm"', "flow = 105", f'fan.flow: "105" has no unit where a flow of air is due; {FLOWS}'),
    (
        'flow = "105 cfm"',
        'flow = "0 cfm"',
        'fan.flow: "0 cfm" is not above zero; accepted: a flow of air, ' + FLOWS.removeprefix("accepted: "),
    ),
    (
        "heat_to_air = 0.9 ",
        "heat_to_air = 90 ",
        'fan.heat_to_air: "90" is above 1; accepted: 0 to 1 (a share of the whole)',
    ),
    (
        "heat_to_air = 0.9 ",
        "heat_to_air = true ",
        'fan.heat_to_air: "true" where a share is due; accepted: e.g. "85 %"',
    ),
    (
        "minimum_on",
        "minimum_no",
        'control.minimum_no: unknown key "minimum_no", the nearest is "minimum_on"; accepted: sensor, '
        "time_constant, room_limit, room_limit_band, minimum_on, minimum_off, months, hours, low_speed, "
        "kind, start, stop, second_start, second_stop, full_speed_at",
    ),
    (
        'terrain = "suburban"',
        'terrain = "subarban"',
        'site.terrain: "subarban" is no terrain, the nearest is "suburban"; accepted: city, suburban, open, '
        "flat",
    ),
    (
        "wind_shelter = 0.8",
        'tilt = "8 deg"',
        f'site.tilt: unknown key "tilt", it belongs in [collector]; accepted: {SITE_KEYS}',
    ),
    (
        'weather = "builtin:greensboro"',
        'weather = "https://example.org/year.csv"',
        'site.weather: "https://example.org/year.csv" is remote, and nothing is fetched from there; '
        'accepted: "builtin:NAME", or a path relative to the scenario file',
    ),
    (
        'weather = "builtin:greensboro"',
        "weather = '\\\\server\\year.csv'",
        'site.weather: "\\\\server\\year.csv" is remote, and nothing is fetched from there; '
        'accepted: "builtin:NAME", or a path relative to the scenario file',
    ),
    (
        'leaf_out = "04-15"',
        'leaf_out = "02-30"',
        'site.trees.1.leaf_out: "02-30" is no day of the year; accepted: month and day, e.g. "04-20"',
    ),
    (
        "[[90, 8], [135, 6]",
        "[[90, 80], [135, 600]",
        'site.horizon: "600 deg" is above 90 deg; accepted: -5 deg to 90 deg (90 is overhead)',
    ),
    (
        "months = [10, 11,",
        "hours = [[7, 25]]\nmonths = [10, 11,",
        'control.hours: "[[7, 25]]" where windows of the day are due; accepted: pairs of different hours '
        "from 0 to 24, e.g. [[7, 9], [16.5, 22]]",
    ),
    (
        "months = [10, 11,",
        "months = [13, 11,",
        'control.months: "[13, 11, 12, 1, 2, 3, 4, 5]" where months are due; accepted: different numbers '
        "1 to 12, e.g. [10, 11, 12, 1, 2, 3, 4]",
    ),
    (
        'price = "3.75 USD/gal"',
        'price = "3.75 USD/cord"',
        f"heating.price: heating_oil is not sold by the cord; accepted: a price per {OIL}",
    ),
    (
        'price = "3.75 USD/gal"',
        "price = 3.75",
        'heating.price: "3.75" where a price is due; accepted: a price per unit, e.g. "2.79 USD/gal"',
    ),
    (
        'price = "0.14 USD/kWh"',
        'price = "0.14 EUR/kWh"',
        "electricity.price: is in EUR, but other money is in USD; accepted: one currency; nothing is "
        "converted",
    ),
    (
        "efficiency = 0.82",
        "efficiency = 2.5",
        "heating: an efficiency of 2.5 for heating_oil; accepted: up to 1.1; more is a heat pump's",
    ),
    (
        "date = 2026-06-01",
        "date = 2026",
        'date: "2026" is no date; accepted: year-month-day, e.g. 2026-05-01',
    ),
    (
        "schema = 1 ",
        "schema = 7 ",
        'schema: "7" is out of range; accepted: 1 (version of this file\'s meaning)',
    ),
    (
        'mounting = "wall"',
        'mounting = "open"',
        'collector: mounting and wall_resistance do not go together; accepted: mounting = "wall" or "roof" '
        "with wall_resistance",
    ),
    (
        'construction = "fibre_cement_board"',
        'construction = "fibre_cement_bord"',
        'collector.back.layers.2.construction: "fibre_cement_bord" is no layer, the nearest is '
        '"fibre_cement_board"; accepted: '
        "polyiso_foil_faced, mineral_wool_board, fibrous_glass_board, expanded_polystyrene, "
        "extruded_polystyrene, softwood_board, plywood, oriented_strand_board, wood_fibre_board, "
        "gypsum_board, fibre_cement_board",
    ),
    (
        'arrangement = "behind"',
        'arrangement = "through"',
        'collector.arrangement: is "through", but the absorber has no holes; accepted: a perforated '
        "construction, or [collector.absorber.perforation]",
    ),
    (
        'crown_width = "20 ft"',
        'crown_width = "100 ft"',
        "site.trees.1.distance: the crown reaches over the collector; accepted: a distance above half the "
        "crown_width",
    ),
]


@pytest.mark.parametrize(("old", "new", "line"), ONE_FAULT)
def test_one_fault_is_one_exact_line(spoilt: Callable[..., Path], old: str, new: str, line: str) -> None:
    path = spoilt(old, new)
    with pytest.raises(ScenarioError) as caught:
        load(path)
    (found,) = caught.value.problems
    where, _, rest = found.removeprefix(f"{path}:").partition(": ")
    assert rest == line
    number, column = (int(part) for part in where.split(":"))
    place = path.read_text(encoding="utf-8").split("\n")[number - 1][column - 1 :]
    key = line.partition(":")[0].split(".")[-1]
    assert place.startswith((key, "[")), "the place is the key's, or its section's"


@pytest.mark.parametrize(
    ("old", "new", "where", "line"),
    [
        (
            "[fan]",
            "[fan",
            ":84:5: ",
            f"TOML: Expected ']' at the end of a table declaration in \"[fan\"; {TOML}",
        ),
        ("[fan]", "[fan]\nflow = ", ":85:8: ", f'TOML: Invalid value in "flow ="; {TOML}'),
        (
            "[fan]",
            "[site]",
            ":84:6: ",
            f"TOML: Cannot declare ('site',) twice in \"[site]\"; {TOML}",
        ),
    ],
)
def test_a_toml_error_has_its_place(
    spoilt: Callable[..., Path], old: str, new: str, where: str, line: str
) -> None:
    path = spoilt(old, new)
    with pytest.raises(ScenarioError) as caught:
        load(path)
    assert caught.value.problems == (f"{path}{where}{line}",)


def test_all_problems_come_at_once_in_the_order_of_the_file(demo_text: str, tmp_path: Path) -> None:
    path = tmp_path / "many.toml"
    spoilt = demo_text
    for old, new in [
        ('terrain = "suburban"', 'terrain = "moon"'),
        ('width = "5 ft"', "width = 5"),
        ("[fan]", "[fans]"),
        ('stop = "80 degF"', 'stop = "115 degF"'),
        ("efficiency = 0.82", 'efficiency = "much"'),
    ]:
        spoilt = spoilt.replace(old, new)
    path.write_text(spoilt, encoding="utf-8")
    with pytest.raises(ScenarioError) as caught:
        load(path)
    keys = [problem.removeprefix(f"{path}:").split(": ")[1] for problem in caught.value.problems]
    assert keys == ["site.terrain", "collector.width", "fans", "control.stop", "heating.efficiency"]


def test_a_missing_key_is_told_with_an_example(spoilt: Callable[..., Path]) -> None:
    path = spoilt('tilt = "90 deg"', "")
    with pytest.raises(ScenarioError) as caught:
        load(path)
    (line,) = caught.value.problems
    assert line == f'{path}:45:1: collector.tilt: is missing; accepted: tilt = "60 deg" (from horizontal)'


def test_an_empty_scenario_lists_what_is_due() -> None:
    with pytest.raises(ScenarioError) as caught:
        Scenario.from_dict({})
    assert caught.value.problems == (
        "(scenario): collector: is missing; accepted: [collector] (the glazed box)",
        "(scenario): control: is missing; accepted: [control] (when it runs)",
        "(scenario): fan: is missing; accepted: [fan] (what moves the air)",
        "(scenario): schema: is missing; accepted: schema = 1 (version of this file's meaning)",
        '(scenario): title: is missing; accepted: title = "My collector" (what the result is called)',
    )


def test_control_characters_of_the_input_never_reach_the_line(tmp_path: Path) -> None:
    path = tmp_path / "x.toml"
    path.write_text('title = "a"\n"\\u001b[31mred\\u0007" = "\\u001b[0m"\n', encoding="utf-8")
    with pytest.raises(ScenarioError) as caught:
        load(path)
    assert all(problem.isprintable() for problem in caught.value.problems)
    assert any("\\x1b[31mred\\x07" in problem for problem in caught.value.problems)


def test_long_input_is_quoted_short(spoilt: Callable[..., Path]) -> None:
    path = spoilt('terrain = "suburban"', f'terrain = "{"x" * 5000}"')
    with pytest.raises(ScenarioError) as caught:
        load(path)
    assert caught.value.problems[0].count("x") <= 81 + str(path).count("x")


def test_very_many_problems_end(spoilt: Callable[..., Path]) -> None:
    path = spoilt("[site]\n", "[site]\n" + "\n".join(f"k{n} = 1" for n in range(1000)) + "\n")
    with pytest.raises(ScenarioError) as caught:
        load(path)
    assert len(caught.value.problems) == 201
    assert caught.value.problems[-1].endswith(": 800 more problems")
