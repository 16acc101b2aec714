"""Each fault that spoils a log is found and named, and a sound log is called sound."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from simengine.errors import InputError
from simengine.fieldtest.diagnosis import CHECKS, diagnose
from simengine.fieldtest.outcome import field_test
from simengine.fieldtest.prepare import trial
from simengine.fieldtest.reader import parse_log
from simengine.scenario import Scenario
from simengine.simulate import resolve
from simengine.simulate.measured import Bench
from tests.fieldtest.bench import OFFSET, scenario, tables
from tests.fieldtest.made_logs import from_engine

Table = dict[str, list[str]]


@pytest.fixture(scope="module")
def sound(bench: Bench) -> list[str]:
    return [made.text for made in from_engine(bench, range(2))]


def taken_apart(text: str) -> Table:
    head, *rows = text.strip().split("\n")
    columns = zip(*(row.split(",") for row in rows), strict=True)
    return {title: list(values) for title, values in zip(head.split(","), columns, strict=True)}


def together(table: Table) -> str:
    rows = zip(*table.values(), strict=True)
    return "\n".join([",".join(table), *(",".join(row) for row in rows)]) + "\n"


def spoilt(text: str, how: Callable[[Table], None]) -> str:
    table = taken_apart(text)
    how(table)
    return together(table)


def found_in(bench: Bench, text: str) -> dict[str, str]:
    given = bench.resolved.scenario.inputs.field_test
    log = parse_log("log.csv", text, given, bench.resolved.pressure, OFFSET)
    found: dict[str, str] = {}
    for fault in diagnose(trial(bench.resolved, log)):
        found[fault.name] = found.get(fault.name, "") + fault.sentence + "\n"
    return found


def changed(titles: tuple[str, ...], change: Callable[[float], float]) -> Callable[[Table], None]:
    def how(table: Table) -> None:
        for title in titles:
            table[title] = [f"{change(float(value)):.3f}" for value in table[title]]

    return how


def exchanged(first: str, second: str) -> Callable[[Table], None]:
    def how(table: Table) -> None:
        table[first], table[second] = table[second], table[first]

    return how


def held_still(title: str, rows: slice) -> Callable[[Table], None]:
    def how(table: Table) -> None:
        table[title][rows] = [table[title][rows.start]] * (rows.stop - rows.start)

    return how


def moved_clock(hours: int) -> Callable[[Table], None]:
    def how(table: Table) -> None:
        stamps = np.array(table["time"], dtype="datetime64[s]") + np.timedelta64(hours, "h")
        table["time"] = np.datetime_as_string(stamps, unit="s").tolist()

    return how


def fahrenheit(value: float) -> float:
    return 1.8 * value + 32.0


def test_a_sound_log_has_no_fault(bench: Bench, sound: list[str]) -> None:
    for text in sound:
        assert found_in(bench, text) == {}


@pytest.mark.parametrize(
    ("name", "how", "words"),
    [
        ("swapped", exchanged("T_in", "T_exit"), ("inlet", "outlet", "swapped")),
        ("swapped", exchanged("T_exit", "T_room_end"), ("outlet", "supply", "swapped")),
        ("swapped", exchanged("T_out", "T_exit"), ("ambient", "outlet", "swapped")),
        (
            "fahrenheit",
            changed(("T_out", "T_in", "T_exit", "T_room_end", "T_plate"), fahrenheit),
            ("inlet", "Fahrenheit", "degF"),
        ),
        ("fahrenheit", changed(("T_in",), fahrenheit), ("inlet", "T_in", "Fahrenheit")),
        (
            "fahrenheit",
            changed(("T_out",), lambda v: fahrenheit(v + 6.0)),
            ("ambient", "T_out", "Fahrenheit"),
        ),
        ("fahrenheit", changed(("T_exit",), fahrenheit), ("outlet", "T_exit", "Fahrenheit")),
        ("frozen", held_still("T_exit", slice(200, 260)), ("outlet", "stands still", "11:50")),
        ("frozen", held_still("sun", slice(100, 180)), ("irradiance", "stands still")),
        (
            "stagnation",
            changed(("m_exit", "m_in"), lambda _: 0.0),
            ("without flow", "nothing"),
        ),
        ("too_much_heat", changed(("m_exit", "m_in"), lambda v: 4.0 * v), ("times the sun",)),
    ],
)
def test_a_fault_is_named(
    bench: Bench, sound: list[str], name: str, how: Callable[[Table], None], words: tuple[str, ...]
) -> None:
    for text in sound:
        faults = found_in(bench, spoilt(text, how))
        assert name in faults, faults
        assert all(word in faults[name] for word in words), faults


@pytest.mark.parametrize("hours", [-1, 1])
def test_a_clock_an_hour_off_is_found(hours: int, bench: Bench) -> None:
    # a day whose sun follows the sky exactly: the clear sky of the sun's own path, then the clock moved
    from simengine.fieldtest.log import TestLog
    from simengine.fieldtest.sunlight import clear_sky, sky_path
    from simengine.sun.position import site_of
    from tests.fieldtest.made_logs import plane_of

    text = from_engine(bench, range(1))[0].text
    table = taken_apart(text)
    times = np.array(table["time"], dtype="datetime64[s]")
    path = sky_path(TestLog("x", times, 60.0, OFFSET, {}), site_of(bench.resolved.series), plane_of(bench))
    random = np.random.default_rng(7)
    sun = clear_sky(path, plane_of(bench)).total * np.where(random.random(len(times)) < 0.15, 0.5, 1.0)
    table["sun"] = [f"{value:.0f}" for value in sun]
    assert "clock" not in found_in(bench, together(table))
    faults = found_in(bench, spoilt(together(table), moved_clock(hours)))
    assert "clock" in faults
    assert "1 h" in faults["clock"]


def test_holes_are_told_and_a_night_is_no_hole(bench: Bench, sound: list[str]) -> None:
    rows = sound[0].split("\n")
    told = found_in(bench, "\n".join([*rows[:200], *rows[230:]]))
    assert "30 min" in told["gaps"]
    assert "gaps" not in found_in(bench, "\n".join([*rows[:60], *rows[300:]]))


def test_a_log_of_stagnation_alone_is_refused_with_the_reason(sound: list[str], tmp_path: Path) -> None:
    log = tmp_path / "log.csv"
    log.write_text(spoilt(sound[0], changed(("m_exit", "m_in"), lambda _: 0.0)), encoding="utf-8")
    with pytest.raises(InputError, match="nothing about the heat it gives"):
        field_test(log, scenario())


def test_celsius_declared_fahrenheit_is_found(sound: list[str]) -> None:
    data = tables()
    for role in ("ambient", "inlet", "outlet"):
        data["field_test"][role]["unit"] = "degF"
    other = Scenario.from_dict(data)
    resolved = resolve(other)
    log = parse_log("log.csv", sound[0], other.inputs.field_test, resolved.pressure, OFFSET)
    assert any(fault.name == "celsius" for fault in diagnose(trial(resolved, log)))


def test_a_log_without_sun_meter_is_called_weak_evidence(sound: list[str]) -> None:
    data = tables()
    del data["field_test"]["irradiance"]
    other = Scenario.from_dict(data)
    resolved = resolve(other)
    log = parse_log("log.csv", sound[0], other.inputs.field_test, resolved.pressure, OFFSET)
    assert "no_sun_meter" in {fault.name for fault in diagnose(trial(resolved, log))}


def test_registry_gives_the_check_of_its_name() -> None:
    assert all(check.__name__ == name for name, check in CHECKS.items())
