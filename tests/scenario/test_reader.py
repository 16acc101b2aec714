"""Bytes of any habit become one text; what is no scenario file is refused in one line."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from simengine.errors import ScenarioError
from simengine.scenario import load
from simengine.scenario.reader import LARGEST, decode, parse_toml, read_bytes


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_any_line_end_and_byte_mark_is_read_the_same(
    demo_text: str, tmp_path: Path, ending: str, mark: bytes
) -> None:
    path = tmp_path / "demo.toml"
    path.write_bytes(mark + demo_text.replace("\n", ending).encode())
    plain = tmp_path / "plain.toml"
    plain.write_text(demo_text, encoding="utf-8")
    assert load(path).sha256 == load(plain).sha256


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_places_do_not_depend_on_the_line_end(demo_text: str, tmp_path: Path, ending: str) -> None:
    path = tmp_path / "bad.toml"
    path.write_bytes(demo_text.replace('tilt = "90 deg"', "tilt = 90").replace("\n", ending).encode())
    with pytest.raises(ScenarioError, match=r":48:1: collector\.tilt: "):
        load(path)


def test_a_byte_that_is_no_utf8_is_told_with_its_place() -> None:
    with pytest.raises(ScenarioError) as caught:
        decode(b"schema = 1\ntitle = 'caf\xe9'\n", "a.toml")
    assert caught.value.problems == (
        "a.toml:2:13: this byte is not UTF-8 text; accepted: a file saved as UTF-8",
    )


def test_utf16_of_an_editor_is_refused_in_one_line(tmp_path: Path) -> None:
    path = tmp_path / "wide.toml"
    path.write_text("schema = 1", encoding="utf-16")
    with pytest.raises(ScenarioError, match="saved as UTF-8"):
        load(path)


def test_a_file_above_one_megabyte_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "large.toml"
    path.write_bytes(b"#" * (LARGEST + 1))
    with pytest.raises(ScenarioError, match="larger than 1 MB"):
        load(path)


@pytest.mark.parametrize("name", ["", "missing.toml", "a\x00b.toml", "x" * 5000, "\x1b[31m.toml"])
def test_no_such_file_is_one_printable_line(tmp_path: Path, name: str) -> None:
    with pytest.raises(ScenarioError) as caught:
        read_bytes(tmp_path / name)
    (line,) = caught.value.problems
    assert line.isprintable()
    assert "; accepted: " in line


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="permissions do not bind this user")
def test_an_unreadable_file_is_one_line(tmp_path: Path) -> None:
    path = tmp_path / "secret.toml"
    path.write_text("schema = 1", encoding="utf-8")
    path.chmod(0)
    with pytest.raises(ScenarioError, match="cannot be read"):
        load(path)


@pytest.mark.parametrize("text", ["a = " + "[" * 5000, "a" + ".a" * 5000 + " = 1", "a = " + "9" * 5000])
def test_toml_that_would_exhaust_a_reader_is_one_line(text: str) -> None:
    try:
        parse_toml(text, "a.toml")
    except ScenarioError as error:
        assert len(error.problems) == 1
        assert error.problems[0].startswith("a.toml:1:")


def test_deep_tables_are_refused_without_a_traceback(tmp_path: Path) -> None:
    path = tmp_path / "deep.toml"
    path.write_text("[" + ".".join("a" * 3000) + "]\nk = 1\n", encoding="utf-8")
    with pytest.raises(ScenarioError):
        load(path)


def test_loading_brings_in_no_frames_no_sun_and_no_compiler() -> None:
    heavy = ("pandas", "pvlib", "numba", "scipy", "xarray", "matplotlib")
    code = (
        "import sys; from simengine.data_files import data_path; from simengine.scenario import load;"
        "load(data_path('scenarios', 'demo.toml')).resolved();"
        f"print([name for name in {heavy!r} if name in sys.modules])"
    )
    root = Path(__file__).parents[2]
    done = subprocess.run([sys.executable, "-c", code], cwd=root, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
