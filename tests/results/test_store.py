"""Saving is all or nothing, keeps what it should keep, and never overwrites unasked."""

import csv
import json
import time
from pathlib import Path
from types import ModuleType

import pytest
import xarray as xr

from simengine.errors import InputError
from simengine.results import Provenance, Result, open_result, store


def test_what_is_saved_is_what_is_opened(result: Result, tmp_path: Path) -> None:
    folder = result.save(tmp_path / "new" / "year")
    again = open_result(folder)
    assert again.summary == result.summary
    xr.testing.assert_identical(again.hours, result.hours)


def test_the_file_opens_with_plain_xarray(result: Result, tmp_path: Path) -> None:
    folder = result.save(tmp_path / "year")
    with xr.open_dataset(folder / "hours.nc") as hours:
        assert hours["delivered"].attrs["units"] == "W"
        assert hours.sizes["time"] == 8760


def test_the_folder_holds_the_named_files_and_the_extra_ones(result: Result, tmp_path: Path) -> None:
    folder = result.save(tmp_path / "year", extra={"run.log": "a line\n"})
    assert {path.name for path in folder.iterdir()} == {"summary.json", "hours.nc", "months.csv", "run.log"}
    assert (folder / "run.log").read_text() == "a line\n"


def test_the_months_table_has_a_row_a_month_and_house(result: Result, tmp_path: Path) -> None:
    with (result.save(tmp_path / "year") / "months.csv").open(newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert len(rows) == 24
    assert rows[0]["house"] == "standard" and rows[0]["month"] == "1"
    assert float(rows[0]["fan_hours"]) == 248.0


def test_a_failure_in_the_middle_leaves_nothing(
    result: Result, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise OSError("no space left")

    monkeypatch.setattr(xr.Dataset, "to_netcdf", fail)
    with pytest.raises(OSError, match="no space left"):
        result.save(tmp_path / "year")
    assert list(tmp_path.iterdir()) == []


def test_a_failed_replacement_leaves_the_old_result(
    result: Result, made_up: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = result.save(tmp_path / "year")

    def fail(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(xr.Dataset, "to_netcdf", fail)
    with pytest.raises(KeyboardInterrupt):
        other(made_up).save(folder, replace=True)
    assert [path.name for path in tmp_path.iterdir()] == ["year"]
    assert json.loads((folder / "summary.json").read_text()) == result.summary


def test_the_same_result_is_kept_untouched(result: Result, tmp_path: Path) -> None:
    folder = result.save(tmp_path / "year")
    written = (folder / "summary.json").stat().st_mtime_ns
    result.save(folder)
    assert (folder / "summary.json").stat().st_mtime_ns == written
    assert store.held(folder, store.identity(result.summary)) == result.summary


def test_another_result_is_not_overwritten(result: Result, made_up: ModuleType, tmp_path: Path) -> None:
    folder = result.save(tmp_path / "year")
    with pytest.raises(InputError, match=r"a result of another scenario already; .*--replace"):
        other(made_up).save(folder)


def test_a_folder_of_ones_own_is_not_overwritten(result: Result, tmp_path: Path) -> None:
    (tmp_path / "year").mkdir()
    (tmp_path / "year" / "letter.txt").write_text("mine")
    with pytest.raises(InputError, match="something that is no result"):
        result.save(tmp_path / "year")


def test_replace_moves_the_old_one_and_drops_the_one_before(
    result: Result, made_up: ModuleType, tmp_path: Path
) -> None:
    folder = result.save(tmp_path / "year")
    for _ in range(2):
        other(made_up).save(folder, replace=True)
    assert {path.name for path in tmp_path.iterdir()} == {"year", "year.previous"}
    first = store.read_summary(tmp_path / "year.previous")
    assert first is not None and first["scenario"]["sha256"] == "d" * 64


def test_a_foreign_previous_folder_is_not_destroyed(
    result: Result, made_up: ModuleType, tmp_path: Path
) -> None:
    folder = result.save(tmp_path / "year")
    (tmp_path / "year.previous").mkdir()
    (tmp_path / "year.previous" / "letter.txt").write_text("mine")
    with pytest.raises(InputError, match="no result"):
        other(made_up).save(folder, replace=True)
    assert (tmp_path / "year.previous" / "letter.txt").read_text() == "mine"


def test_an_empty_folder_is_free_and_a_file_is_not(result: Result, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    assert result.save(tmp_path / "empty") == tmp_path / "empty"
    (tmp_path / "note").write_text("mine")
    with pytest.raises(InputError, match="not a folder"):
        result.save(tmp_path / "note", replace=True)


def test_the_current_folder_is_not_moved_away(
    result: Result, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "letter.txt").write_text("mine")
    monkeypatch.chdir(tmp_path)
    with pytest.raises(InputError, match="current folder"):
        result.save(tmp_path, replace=True)


@pytest.mark.parametrize("content", ["", "[]", "{}", "not json"])
def test_a_folder_without_a_result_says_so(content: str, tmp_path: Path) -> None:
    (tmp_path / "summary.json").write_text(content)
    with pytest.raises(InputError, match="holds no result"):
        open_result(tmp_path)


def test_torn_hours_are_an_input_error(result: Result, tmp_path: Path) -> None:
    folder = result.save(tmp_path / "year")
    content = (folder / "hours.nc").read_bytes()
    (folder / "hours.nc").write_bytes(content[: len(content) // 3])
    with pytest.raises(InputError, match=r"hours\.nc"):
        open_result(folder)


def test_saving_is_quick(result: Result, tmp_path: Path) -> None:
    start = time.perf_counter()
    result.save(tmp_path / "year")
    assert time.perf_counter() - start < 2.0  # 0.2 s are usual; the rest is room for a busy machine


def other(made_up: ModuleType) -> Result:
    """Return a result of another scenario."""
    return Result.of(made_up.record(provenance=Provenance("0.0", "a" * 64, "d" * 64, "c" * 64)))
