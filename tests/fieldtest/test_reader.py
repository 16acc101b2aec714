"""A log is read by its map, and every fault has file, line and column."""

import numpy as np
import pytest

from simengine.errors import InputError, ScenarioError
from simengine.fieldtest import rows as rows_module
from simengine.fieldtest.log import TestLog
from simengine.fieldtest.reader import parse_log, read_log
from simengine.scenario import Scenario
from tests.fieldtest.bench import tables

HEAD = "time,T_out,T_in,T_exit,T_room_end,T_plate,sun,wind,m_exit,m_in"
ROW = "2.5,20,35,34,50,800,1.5,0.055,0.054"


def log_of(*rows: str, head: str = HEAD, **changed: object) -> TestLog:
    data = tables()
    data["field_test"].update(changed)
    given = Scenario.from_dict(data).inputs.field_test
    assert given is not None
    return parse_log("log.csv", "\n".join([head, *rows]) + "\n", given, 101325.0, -5.0)


def minutes(*stamps: str) -> list[str]:
    return [f"2026-02-14 {stamp},{ROW}" for stamp in stamps]


def test_si_whatever_the_unit() -> None:
    log = log_of(*minutes("09:00", "09:01"))
    assert log["inlet"].tolist() == pytest.approx([293.15, 293.15])
    assert log["flow"].tolist() == pytest.approx([0.055, 0.055])
    assert (log.step, len(log), log.date) == (60.0, 2, "2026-02-14")


def test_holes_are_kept_as_holes() -> None:
    log = log_of(*minutes("09:00", "09:01", "09:04"))
    assert np.isnan(log["outlet"]).tolist() == [False, False, True, True, False]


def test_an_empty_field_is_a_hole_and_a_semicolon_goes_with_a_decimal_comma() -> None:
    head = HEAD.replace(",", ";")
    first = "2026-02-14 09:00;2,5;20;35;34;50;800;1,5;0,055;0,054"
    second = "2026-02-14 09:01;;20;35;34;50;800;1,5;0,055;0,054"
    log = log_of(first, second, head=head)
    assert log["ambient"][0] == pytest.approx(275.65)
    assert np.isnan(log["ambient"][1])


@pytest.mark.parametrize(("label", "shift"), [("instant", 0), ("start", 30), ("end", -30)])
def test_a_mean_stands_for_its_middle(label: str, shift: int) -> None:
    log = log_of(*minutes("09:00", "09:01"), label=label)
    assert (log.times[0] - np.datetime64("2026-02-14T09:00:00")).astype(int) == shift


def test_a_clock_is_set_right() -> None:
    log = log_of(*minutes("09:00", "09:01"), clock_offset="-1 h")
    assert str(log.times[0]) == "2026-02-14T08:00:00"


@pytest.mark.parametrize(
    ("rows", "place", "words"),
    [
        (["2026-02-14 09:00,2.5,x,35,34,50,800,1,1,1"] * 2, "log.csv:2:22: T_in", "no number"),
        (["2026-02-14 09:00,2.5,1_0,35,34,50,800,1,1,1"] * 2, "log.csv:2:22: T_in", "no number"),
        (["2026-02-14 09:00,2.5,1e99,35,34,50,800,1,1,1"] * 2, "log.csv:2:22", "no number"),
        (["14.02.2026 09:00," + ROW] * 2, "log.csv:2:1: time", "no time"),
        (["2026-02-14 09:00,1,2"] * 2, "log.csv:2:21", "3 fields where the titles have 10"),
        (minutes("09:01", "09:00"), "log.csv:3:1", "does not rise"),
        (minutes("09:00", "09:00"), "log.csv:3:1", "does not rise"),
        (minutes("09:00", "11:30"), "log.csv:3:1", "apart"),
        (minutes("09:00"), "log.csv:1:1", "two or more"),
    ],
)
def test_a_fault_has_its_line_and_column(rows: list[str], place: str, words: str) -> None:
    with pytest.raises(InputError) as refused:
        log_of(*rows)
    assert refused.value.problems[0].startswith(place)
    assert words in refused.value.problems[0]
    assert "accepted" in refused.value.problems[0]


def test_missing_columns_are_all_named() -> None:
    with pytest.raises(InputError) as refused:
        log_of(*minutes("09:00", "09:01"), head=HEAD.replace("T_in,", "X,").replace("sun", "Y"))
    assert len(refused.value.problems) == 2


def test_limits_of_size(monkeypatch: pytest.MonkeyPatch, tmp_path) -> None:
    monkeypatch.setattr(rows_module, "LARGEST", 10)
    path = tmp_path / "log.csv"
    path.write_text("time,a\n" * 10)
    given = Scenario.from_dict(tables()).inputs.field_test
    with pytest.raises(InputError, match="larger than"):
        read_log(path, given, 101325.0, 0.0)
    with pytest.raises(InputError, match="does not exist"):
        read_log(tmp_path / "no.csv", given, 101325.0, 0.0)
    path.write_bytes(b"ti\xff\n")
    with pytest.raises(InputError, match=r"log.csv:1:3: .*UTF-8"):
        read_log(path, given, 101325.0, 0.0)


@pytest.mark.parametrize(
    ("section", "changed", "words"),
    [
        ("inlet", {"unit": "F"}, "no unit of this column"),
        ("inlet", {"column": "T_out"}, "the same column"),
        ("flow", {"unit": "m/s"}, "size of its duct"),
        ("flow", {"unit": "Pa"}, "curve of the fan"),
        ("flow", {"unit": "Pa", "curve": [["10 Pa", "50 cfm"], ["5 Pa", "90 cfm"]]}, "no fan curve"),
        ("second_flow", {"place": "outlet"}, "same end"),
    ],
)
def test_a_map_that_does_not_go_together_is_refused(section: str, changed: dict, words: str) -> None:
    data = tables()
    data["field_test"][section].update(changed)
    with pytest.raises(ScenarioError, match=words):
        Scenario.from_dict(data)


@pytest.mark.parametrize(
    "stamp", ["2026-02-14T09:00-03", "2026-02-14 09:00+05", "2026-02-14 09:0Z", "2026-02-30 09:00"]
)
def test_a_time_with_a_zone_or_no_such_day_is_told(stamp: str) -> None:
    with pytest.raises(InputError, match=r"^log\.csv:3:1: time: "):
        log_of(*minutes("09:00"), f"{stamp},{ROW}")
