"""The weather command tells what a file holds, for people and for programs."""

import dataclasses
import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from simengine.cli import main
from simengine.weather import builtin, builtin_names, read_weather
from simengine.weather.writer import plain_text

YEAR = f"builtin:{builtin_names()[0]}"


def test_it_lists_a_year() -> None:
    outcome = CliRunner().invoke(main, ["weather", YEAR])
    assert outcome.exit_code == 0, outcome.stderr
    assert "heating degree days" in outcome.stdout and "Jan" in outcome.stdout


def test_json_is_strict_and_whole() -> None:
    outcome = CliRunner().invoke(main, ["weather", YEAR, "--json"])
    known = json.loads(outcome.stdout, parse_constant=lambda word: (_ for _ in ()).throw(ValueError(word)))
    assert len(known["months"]) == 12


def test_a_file_that_is_no_weather_ends_with_2_and_says_why(tmp_path: Path) -> None:
    path = tmp_path / "letter.csv"
    path.write_text("dear reader\n")
    outcome = CliRunner().invoke(main, ["weather", str(path)])
    assert outcome.exit_code == 2
    assert outcome.stdout == ""
    assert "letter.csv" in outcome.stderr


def weather(*words: str) -> Result:
    return CliRunner().invoke(main, ["weather", *words])


def test_the_picture_goes_where_it_is_wanted_and_never_over_another(tmp_path: Path) -> None:
    page = tmp_path / "year.html"
    assert weather(YEAR, "--plot", "--out", str(page)).exit_code == 0
    assert "<svg" in page.read_text(encoding="utf-8")
    again = weather(YEAR, "--plot", "--out", str(page))
    assert again.exit_code == 2 and "is there already" in again.stderr
    assert weather(YEAR, "--plot", "--out", str(page), "--replace").exit_code == 0


def test_without_a_name_the_picture_lies_among_the_results(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert weather(YEAR, "--plot").exit_code == 0
    assert (tmp_path / "results" / "greensboro-weather.html").is_file()


def test_a_wrong_clock_is_mended_on_request_logged_and_kept(tmp_path: Path) -> None:
    series = builtin("greensboro")
    late = tmp_path / "late.csv"
    late.write_text(plain_text(dataclasses.replace(series, utc_offset=series.utc_offset + 0.5)))
    assert "off the file's time label" in weather(str(late)).stdout
    mended = tmp_path / "mended.csv.gz"
    told = weather(str(late), "--mend", "--out", str(mended))
    assert "clock mended on request" in told.stdout
    assert abs(read_weather(mended).closure_shift) < 0.01
    assert "clock mended on request" in weather(str(mended)).stdout


def test_a_warmer_year_is_labelled_wherever_it_goes(tmp_path: Path) -> None:
    out = tmp_path / "warm.csv"
    told = weather(YEAR, "--warmer", "2 K", "--out", str(out))
    assert "warmer by 2 K (what-if)" in told.stdout
    found = read_weather(out)
    assert found.station.endswith("(what-if)")
    assert any("what-if" in finding.message for finding in found.findings)
    assert "--warmer" in weather(YEAR, "--warmer", "2 degF cold").stderr


def test_a_place_is_fetched_written_and_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, pvgis_service: tuple[list[str], str]
) -> None:
    asked, address = pvgis_service
    for name in ("XDG_CACHE_HOME", "LOCALAPPDATA", "HOME"):
        monkeypatch.setenv(name, str(tmp_path / "cache"))
    monkeypatch.setattr("pvlib.iotools.pvgis.URL", address)
    out = tmp_path / "year.csv"
    for _ in range(2):
        told = weather("--at", "40.0,8.0", "--out", str(out), "--replace")
        assert told.exit_code == 0, told.stderr
    assert len(asked) == 1 and "lat=40.0" in asked[0]
    assert len(read_weather(out).data) == 8760
    assert "(c) European Union" in told.stdout


def test_no_network_is_told_in_one_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("XDG_CACHE_HOME", "LOCALAPPDATA", "HOME"):
        monkeypatch.setenv(name, str(tmp_path / "cache"))
    monkeypatch.setattr("pvlib.iotools.pvgis.URL", "http://127.0.0.1:9/")
    told = weather("--at", "-33.9,18.4", "--out", str(tmp_path / "year.csv"))
    assert told.exit_code == 2
    assert told.stderr.count("\n") == 1 and "can't be reached" in told.stderr
    assert not (tmp_path / "year.csv").exists()


@pytest.mark.parametrize(
    ("words", "reason"),
    [
        ([], "name one year"),
        ([YEAR, "--at", "40,8"], "name one year"),
        (["--at", "north"], "latitude,longitude"),
        (["--at", "140,8"], "a latitude of"),
        ([YEAR, "--out", "year.xls"], "accepted: a name that ends in"),
        ([YEAR, "--out", "https://example.org/year.csv"], "another machine"),
    ],
)
def test_what_cannot_be_meant_ends_with_2(words: list[str], reason: str) -> None:
    told = weather(*words)
    assert told.exit_code == 2
    assert reason in told.stderr
