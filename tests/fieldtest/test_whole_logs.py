"""Whole tests through the command and the fit: logs with a fault, and every way to measure sun and flow."""

import json
import math
import re
from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from pvlib.irradiance import erbs, get_total_irradiance

from simengine.cli import main
from simengine.data_files import data_path
from simengine.fieldtest.calibrate import calibrate
from simengine.fieldtest.diagnosis import diagnose
from simengine.fieldtest.log import TestLog
from simengine.fieldtest.prepare import trial
from simengine.fieldtest.reader import parse_log
from simengine.fieldtest.sunlight import sky_path
from simengine.report.field_test import STANDARD_INLETS, STANDARD_POINTS
from simengine.scenario import Scenario, load
from simengine.simulate import resolve
from simengine.simulate.course import Course
from simengine.simulate.measured import Bench, Factors
from simengine.sun.position import site_of
from tests.fieldtest.bench import OFFSET, STEP, Day, day, log_text, tables, truth
from tests.fieldtest.made_logs import light_of, plane_of

DEMO = data_path("scenarios", "demo.toml")
LINES = data_path("scenarios", "demo_log.csv").read_text(encoding="utf-8").splitlines()
TITLES = LINES[1].split(",")


def spoilt(**columns) -> str:
    """Return the demo's log with some columns changed: a function of the row's figures by title."""
    out = LINES[:2]
    for line in LINES[2:]:
        row = dict(zip(TITLES, line.split(","), strict=True))
        out.append(
            ",".join(str(columns.get(title.split()[0], lambda r, t=title: r[t])(row)) for title in TITLES)
        )
    return "\n".join(out) + "\n"


def answered(text: str, folder: Path, scenario: str | None = None):
    log = folder / "log.csv"
    log.write_text(text, encoding="utf-8")
    name = DEMO
    if scenario is not None:
        name = folder / "other.toml"
        name.write_text(scenario, encoding="utf-8")
    return CliRunner().invoke(main, ["fieldtest", str(log), str(name), "--json", "--quiet"])


def notes(text: str, folder: Path) -> str:
    outcome = answered(text, folder)
    return outcome.stderr + (" ".join(json.loads(outcome.stdout)["notes"]) if outcome.exit_code == 0 else "")


@pytest.mark.parametrize(
    ("columns", "words"),
    [
        ({"inlet": lambda r: r["outlet"], "outlet": lambda r: r["inlet"]}, ("inlet", "outlet", "swapped")),
        ({"outlet": lambda r: LINES[200].split(",")[TITLES.index("outlet")]}, ("outlet", "stands still")),
        ({"duct": lambda r: "0"}, ("nothing about the heat it gives",)),
    ],
)
def test_a_fault_is_named_by_the_command(columns: dict, words: tuple[str, ...], tmp_path: Path) -> None:
    told = notes(spoilt(**columns), tmp_path)
    assert all(word in told for word in words), told


@pytest.mark.parametrize("hours", [-1, 1])
def test_a_clock_an_hour_off_is_named_by_the_command(hours: int, tmp_path: Path) -> None:
    def moved(row: dict[str, str]) -> str:
        stamp = np.datetime64(row["time"].replace(" ", "T")) + np.timedelta64(hours * 60, "m")
        return str(stamp).replace("T", " ")

    told = notes(spoilt(time=moved), tmp_path)
    found = re.search(r"clock ([0-9.]+) h (ahead|behind)", told)
    assert found is not None, told
    assert abs(float(found[1]) - 1.0) <= 0.25  # the search goes by quarters of an hour
    assert found[2] == ("ahead" if hours > 0 else "behind")


@pytest.mark.parametrize("role", ["ambient", "inlet", "outlet"])
def test_fahrenheit_declared_celsius_is_named_by_the_command(role: str, tmp_path: Path) -> None:
    log = str(data_path("scenarios", "demo_log.csv"))  # its thermometers read in degF
    words = [log, str(DEMO), "--quiet", "--set", f"field_test.{role}.unit=degC"]
    outcome = CliRunner().invoke(main, ["fieldtest", *words])
    assert outcome.exit_code == 2
    assert role in outcome.stderr
    assert "Fahrenheit" in outcome.stderr


def test_the_demo_log_has_no_fault(tmp_path: Path) -> None:
    outcome = answered("\n".join(LINES) + "\n", tmp_path)
    assert outcome.exit_code == 0
    assert json.loads(outcome.stdout)["notes"] == []


def test_points_that_the_standards_ask_for() -> None:
    # row 8.08, published, read: at least four inlet temperatures, four points at each, 16 in all
    assert STANDARD_INLETS >= 4
    assert STANDARD_POINTS == 16
    told = CliRunner().invoke(main, ["fieldtest", str(data_path("scenarios", "demo_log.csv")), str(DEMO)])
    assert "ask for 16 or more: 4 inlet temperatures, 4 points at each" in " ".join(told.stdout.split())


# ---- ways to measure the flow -----------------------------------------------------------------------------
def cubic_feet(row: dict[str, str]) -> float:
    """Return the demo's flow [cfm]: the middle of a 6 in duct, whose mean is 0.85 of it."""
    return 0.85 * float(row["duct speed"]) * math.pi / 16.0  # 0.19635 ft2


@lru_cache
def site_pressure() -> float:
    return resolve(load(DEMO)).pressure


def fan_pressure(row: dict[str, str]) -> float:
    """Return the pressure of a fan with a straight curve, 250 Pa to 200 cfm in standard air [Pa]."""
    # fan laws: pressure in proportion to density; ideal gas at the site, 1.2014 kg/m3 standard air
    kelvin = (float(row["inlet"]) - 32.0) / 1.8 + 273.15
    density = site_pressure() / (287.05 * kelvin)
    return density / 1.2014 * 250.0 * (1.0 - cubic_feet(row) / 200.0)


WAYS = {
    "volume": ('unit = "cfm"', cubic_feet, ""),
    "traverse": (
        'unit = "fpm"',
        lambda row: 0.85 * float(row["duct speed"]),
        'diameter = "6 in"\nprofile_factor = 1.0\n',
    ),
    "curve": ('unit = "Pa"', fan_pressure, 'curve = [["0 Pa", "200 cfm"], ["250 Pa", "0 cfm"]]\n'),
}


def with_flow(unit: str, more: str, column: str) -> str:
    text = DEMO.read_text(encoding="utf-8")
    first, last = text.index("[field_test.flow]"), text.index("# ---- Money")
    section = f'[field_test.flow]\ncolumn = {column}\n{unit}\nplace = "inlet"\n{more}systematic = "5 %"\n\n'
    return text[:first] + section + text[last:]


@pytest.mark.parametrize("way", WAYS)
def test_the_same_flow_by_another_meter_gives_the_same_heat(way: str, tmp_path: Path) -> None:
    # independent: area and straight line by hand; the same air, so the same heat
    unit, reading, more = WAYS[way]
    whole = json.loads(answered("\n".join(LINES) + "\n", tmp_path).stdout)
    if way == "traverse":
        shares = (0.8, 1.1, 1.1)  # three places whose mean is the duct's
        titles = ["a", "b", "c"]
        rows = [",".join([*TITLES[:-1], *titles])]
        for line in LINES[2:]:
            *rest, _ = line.split(",")
            mean = reading(dict(zip(TITLES, line.split(","), strict=True)))
            rows.append(",".join([*rest, *(f"{mean * share:.3f}" for share in shares)]))
        text, column = "\n".join(rows) + "\n", json.dumps(titles)
    else:
        text = spoilt(duct=lambda r: f"{reading(r):.4f}")
        column = '"duct speed"'
    outcome = answered(text, tmp_path, with_flow(unit, more, column))
    assert outcome.exit_code == 0, outcome.stderr
    other = json.loads(outcome.stdout)
    one, two = (sum(hour["measured_wh"] for hour in found["hours_of_heat"]) for found in (whole, other))
    assert two == pytest.approx(one, rel=0.005)


# ---- a level sun meter, and none --------------------------------------------------------------------------
def level_log(bench: Bench, seed: int) -> tuple[str, object]:
    """Return a log whose sun is read on the level, and what is true; the plane's sun is pvlib's."""
    random = np.random.default_rng(seed)
    course, true = day(random), truth(random)
    path = sky_path(
        TestLog("made", course.times, STEP, OFFSET, {}), site_of(bench.resolved.series), plane_of(bench)
    )
    cosine = np.maximum(path.cosine, 0.0)
    cloud = course.irradiance / np.maximum(course.irradiance.max(), 1.0)
    ghi = 0.72 * path.extraterrestrial * cosine * np.where(cloud < 0.35, 0.4, 1.0)
    zenith = np.degrees(np.arccos(np.clip(path.cosine, -1.0, 1.0)))
    parts = erbs(ghi, zenith, 45)
    plane = plane_of(bench)
    # the sun's azimuth from its slant on the plane is not needed: pvlib's beam by the angle of incidence
    sky = get_total_irradiance(plane.tilt, plane.azimuth, zenith, 180.0, parts["dni"], ghi, parts["dhi"])
    slant = np.maximum(np.cos(np.radians(path.incidence)), 0.0)
    total = parts["dni"] * slant + sky["poa_sky_diffuse"] + sky["poa_ground_diffuse"] * plane.ground / 0.25
    course = Day(course.times, np.maximum(np.asarray(total), 20.0), *list(vars(course).values())[2:])
    sun = light_of(bench, course)
    whole = Course(
        STEP, course.ambient, course.sky, course.wind, course.inlet, course.flow, sun.incidence, *sun[:3]
    )
    answer = bench.follow(whole, Factors(*(getattr(true, name) for name in Factors._fields)))
    rows = log_text(course, answer._asdict(), true, random).splitlines()
    place = rows[0].split(",").index("sun")
    reading = ghi / (1.0 + 0.02 * random.standard_normal()) + 5.0 * random.standard_normal(ghi.size)
    out = [rows[0]]
    for row, value in zip(rows[1:], reading, strict=True):
        cells = row.split(",")
        cells[place] = f"{value:.1f}"
        out.append(",".join(cells))
    return "\n".join(out) + "\n", true


def level_errors(bench: Bench, seeds: range) -> dict[str, list[bool]]:
    data = tables()
    data["field_test"]["irradiance"]["plane"] = "horizontal"
    level = Scenario.from_dict(data)
    resolved = resolve(level)
    held: dict[str, list[bool]] = {}
    for seed in seeds:
        text, true = level_log(bench, seed)
        log = parse_log("made.csv", text, level.inputs.field_test, resolved.pressure, OFFSET)
        fit = calibrate(trial(resolved, log).comparison(), level.inputs.field_test)
        for name in fit.told:
            away = abs(fit.values[name] - getattr(true, name))
            held.setdefault(name, []).append(away <= 2.0 * fit.deviation(name))
    return held


@pytest.mark.parametrize(
    ("seeds", "least"),
    # of n draws at a probability of 0.95 fewer come less than once in a thousand (binomial, mathematics)
    [(range(3), 1), pytest.param(range(40), 32, marks=pytest.mark.slow)],
)
def test_a_level_meter_tells_the_truth_within_its_bands(bench: Bench, seeds: range, least: int) -> None:
    for name, held in level_errors(bench, seeds).items():
        print(name, sum(held), "of", len(held))  # pytest -m slow -s shows the figures
        assert sum(held) >= least, (name, held)


def test_without_a_sun_meter_the_answer_is_called_weak(tmp_path: Path) -> None:
    text = DEMO.read_text(encoding="utf-8")
    first, last = text.index("[field_test.irradiance]"), text.index("[field_test.flow]")
    outcome = answered("\n".join(LINES) + "\n", tmp_path, text[:first] + text[last:])
    assert outcome.exit_code == 0, outcome.stderr
    found = json.loads(outcome.stdout)
    assert any("weak" in note.lower() for note in found["notes"]), found["notes"]
    with_meter = json.loads(answered("\n".join(LINES) + "\n", tmp_path).stdout)
    assert found["notes"] != with_meter["notes"]
    factors, sure = found["fit"]["factors"], with_meter["fit"]["factors"]
    assert factors["cover_transmittance"]["band"] > sure["cover_transmittance"]["band"]


def test_diagnosis_of_a_level_log_finds_nothing(bench: Bench) -> None:
    data = tables()
    data["field_test"]["irradiance"]["plane"] = "horizontal"
    level = Scenario.from_dict(data)
    resolved = resolve(level)
    log = parse_log("made.csv", level_log(bench, 1)[0], level.inputs.field_test, resolved.pressure, OFFSET)
    assert {fault.name for fault in diagnose(trial(resolved, log))} <= {"gaps"}
