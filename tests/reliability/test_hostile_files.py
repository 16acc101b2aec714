"""Files from anybody: too large, nested, linked elsewhere or full of formulas, each ends in one line."""

import csv
import gzip
import io
import json
import os
import shutil
import time
import zipfile
from dataclasses import replace
from pathlib import Path
from typing import Any

import h5py
import numpy as np
import pytest
from click.testing import CliRunner

from simengine.cli import main
from simengine.data_files import data_path
from simengine.errors import InputError, ScenarioError, WeatherError
from simengine.results import Result, open_result, store
from simengine.scenario import load
from simengine.weather import WeatherSeries, builtin, read_weather
from simengine.weather.plain_hdf5 import require_plain
from simengine.weather.writer import plain_text

LARGEST = 1000


@pytest.fixture(scope="module")
def saved(result: Result, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return result.save(tmp_path_factory.mktemp("saved") / "year")


@pytest.fixture
def copied(saved: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(saved, tmp_path / "year"))


def one_line(error: InputError) -> str:
    (line,) = error.problems
    assert line.isprintable() and len(line) < 600
    return line


# ---- results ---------------------------------------------------------------


def linked(file: h5py.File) -> None:
    file["delivered_too"] = h5py.ExternalLink("other.nc", "/delivered")


def pointed(file: h5py.File) -> None:
    file["delivered_too"] = h5py.SoftLink("/delivered")


def outside(file: h5py.File) -> None:
    file.create_dataset("outside", (10,), "f8", external=[("other.bin", 0, 80)])


def virtual(file: h5py.File) -> None:
    layout = h5py.VirtualLayout((10,), "f8")
    layout[:] = h5py.VirtualSource("other.nc", "delivered", (10,))
    file.create_virtual_dataset("virtual", layout)


def objects(file: h5py.File) -> None:
    file.create_dataset("objects", (3,), h5py.vlen_dtype(np.dtype("i4")))


def references(file: h5py.File) -> None:
    file.create_dataset("references", (3,), h5py.ref_dtype)


def opaque(file: h5py.File) -> None:
    file.create_dataset("opaque", data=np.array([b"abc"], dtype="V3"))


def compound(file: h5py.File) -> None:
    file.create_dataset("pairs", (3,), np.dtype([("a", "f8"), ("b", "f8")]))


def huge(file: h5py.File) -> None:
    file.create_dataset("huge", (10**12,), "f8", chunks=(10**6,), compression="gzip")


def calendar(file: h5py.File) -> None:
    file["time"].attrs["calendar"] = "360_day"  # read with a further library, where that is installed


SPOILS = (linked, pointed, outside, virtual, objects, references, opaque, compound, huge, calendar)


@pytest.mark.parametrize("spoil", SPOILS, ids=lambda spoil: spoil.__name__)
def test_a_result_that_holds_more_than_numbers_is_refused(spoil: Any, copied: Path) -> None:
    with h5py.File(copied / "hours.nc", "a") as file:
        spoil(file)
    with pytest.raises(InputError) as told:
        open_result(copied)
    assert "hours.nc" in one_line(told.value)


def test_a_weather_file_with_a_link_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "weather.nc"
    with h5py.File(path, "w") as file:
        file["time"] = h5py.ExternalLink(str(tmp_path / "secret.h5"), "/time")
    with pytest.raises(WeatherError, match="link elsewhere"):
        read_weather(path)


def test_more_groups_than_any_file_has_are_refused() -> None:
    held = io.BytesIO()
    with h5py.File(held, "w") as file:
        for number in range(2001):
            file.create_group(f"g{number}")
    with pytest.raises(InputError, match="more than 2000"):
        require_plain(held, "many", LARGEST)


def test_a_file_of_our_own_is_plain(saved: Path) -> None:
    with (saved / "hours.nc").open("rb") as source:
        require_plain(source, "hours.nc", store.LARGEST_HOURS)
        assert source.tell() == 0


@pytest.mark.parametrize(
    "text",
    [
        "[" * 100_000,
        '{"houses": ' * 50_000,
        " " * (store.LARGEST_SUMMARY + 1),
        "\x00",
        '{"houses": NaN',
        "\ud800".encode("utf-8", "surrogatepass").decode("latin-1"),
    ],
    ids=["lists", "tables", "large", "nul", "cut", "no text"],
)
def test_a_summary_that_is_none_is_no_result(text: str, copied: Path) -> None:
    (copied / "summary.json").write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match="holds no result"):
        open_result(copied)


@pytest.mark.parametrize(
    "houses", [5, None, [], {"standard": 5}, {"standard": {}}, {"a": {"months": "x"}}, "abc"]
)
def test_a_summary_with_odd_content_ends_compare_in_one_line(houses: Any, tmp_path: Path) -> None:
    folder = tmp_path / "odd"
    folder.mkdir()
    (folder / "summary.json").write_text(json.dumps({"houses": houses}))
    outcome = CliRunner().invoke(main, ["compare", str(folder)])
    assert outcome.exit_code in (0, 2)
    assert "Traceback" not in outcome.stderr and len(outcome.stderr.splitlines()) <= 1


# ---- tables ----------------------------------------------------------------

FORMULAS = ("=1+1", "+1", "-1", "@SUM(A1)", '=HYPERLINK("x")', "\t=1")


def harmless(text: str) -> bool:
    """Tell whether no cell of a table begins as a formula; numbers may begin with a sign."""
    for row in csv.reader(io.StringIO(text)):
        for cell in row:
            bare = cell.lstrip(" \t\r")
            if bare[:1] in tuple("=+-@"):
                try:
                    float(bare)
                except ValueError:
                    return False
    return True


@pytest.mark.parametrize("name", FORMULAS)
def test_no_cell_of_the_months_is_a_formula(name: str, result: Result) -> None:
    year = result.summary["houses"]["standard"]
    text = store.months_table({"houses": {name: year}})
    assert harmless(text) and len(list(csv.reader(io.StringIO(text)))) == 13


@pytest.fixture(scope="module")
def greensboro() -> WeatherSeries:
    return builtin("greensboro")


@pytest.mark.parametrize("name", FORMULAS)
def test_no_cell_of_a_weather_table_is_a_formula(name: str, greensboro: WeatherSeries) -> None:
    series = replace(greensboro, station=f"Hill, {name},{name}", data=greensboro.data.iloc[:1])
    head = "\n".join(plain_text(series).splitlines()[:12])
    assert harmless(head)


# ---- scenarios and weather -------------------------------------------------


def test_a_scenario_larger_than_any_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "large.toml"
    path.write_bytes(b"#" * 1_000_001)
    with pytest.raises(ScenarioError, match="larger than 1 MB"):
        load(path)


DEEP = {
    "lists": "x = " + "[" * 20_000,
    "tables": "x = " + "{a=" * 20_000,
    "keys": "a" + ".a" * 200_000 + " = 1",
    "quoted keys": '"a"' + ' . "a"' * 100_000 + " = 1",
    "headers": "[a" + ".a" * 200_000 + "]",
    "many": "\n".join("[[a]]" for _ in range(150_000)),
    "no dots": "a" * 900_000 + " = 1",
    "quotes": "'\"" * 400_000,
    "dots": "a = '" + "." * 900_000 + "'",
    "figures": "a = " + "9" * 900_000,
}


@pytest.mark.parametrize("body", DEEP.values(), ids=DEEP)
def test_a_scenario_that_is_nested_deeply_is_refused(body: str, tmp_path: Path) -> None:
    path = tmp_path / "deep.toml"
    path.write_text(body)
    started = time.perf_counter()
    with pytest.raises(ScenarioError):
        load(path)
    assert time.perf_counter() - started < 5.0


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no such files")
def test_a_pipe_or_device_is_no_scenario(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    for path in (tmp_path / "pipe", Path(os.devnull)):
        with pytest.raises(ScenarioError):
            load(path)


def zipped(members: dict[str, bytes]) -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in members.items():
            archive.writestr(name, data)
    return held.getvalue()


WEATHER = gzip.decompress(data_path("weather", "greensboro.csv.gz").read_bytes())


@pytest.mark.parametrize(
    "packed",
    [
        zipped({"inner.zip": zipped({"a.csv": WEATHER})}),
        zipped({"inner.csv": zipped({"a.csv": WEATHER})}),
        gzip.compress(gzip.compress(WEATHER)),
        zipped({"a.csv": gzip.compress(WEATHER)}),
    ],
    ids=["zip in zip", "zip called table", "gzip in gzip", "gzip in zip"],
)
def test_an_archive_in_an_archive_is_refused(packed: bytes, tmp_path: Path) -> None:
    path = tmp_path / "nested"
    path.write_bytes(packed)
    with pytest.raises(WeatherError) as told:
        read_weather(path)
    one_line(told.value)


@pytest.mark.parametrize("name", ["../../escaped.csv", "/escaped.csv", "C:\\escaped.csv", "..\\escaped.csv"])
def test_a_member_that_wants_out_is_read_and_written_nowhere(name: str, tmp_path: Path) -> None:
    folder = tmp_path / "a" / "b"
    folder.mkdir(parents=True)
    (folder / "year.zip").write_bytes(zipped({name: WEATHER}))
    assert len(read_weather(folder / "year.zip").data) == 8760
    assert [path.name for path in tmp_path.rglob("*") if path.is_file()] == ["year.zip"]


def test_what_a_weather_file_says_is_fit_to_print(greensboro: WeatherSeries, tmp_path: Path) -> None:
    text = plain_text(replace(greensboro, station="Hill"))
    spoilt = text.replace("station: Hill", "station: Hi\x1b[2Jll" + "x" * 900, 1)
    path = tmp_path / "odd.csv"
    path.write_text("# info: \x07\u202eodd\n" + spoilt, encoding="utf-8")
    series = read_weather(path)
    told = [series.station, *map(str, series.findings)]
    assert all(line.isprintable() and len(line) < 500 for line in told)
    path.write_text(spoilt.replace("# label: start", "# label: at noon", 1), encoding="utf-8")
    with pytest.raises(WeatherError, match=r"^odd\.csv:\d+: label 'at noon'; start, middle, end"):
        read_weather(path)
