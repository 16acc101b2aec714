"""The new scenario loads as it is, shows every key, and its remarks are valid when they are taken in."""

import re
from pathlib import Path

import pytest

from simengine.scenario import load, template
from simengine.scenario.schema import Inputs
from simengine.scenario.schema.walk import all_keys


def test_it_loads(tmp_path: Path) -> None:
    path = tmp_path / "new.toml"
    path.write_text(template(), encoding="utf-8")
    assert load(path).assemble().collector.aperture == pytest.approx(4 * 8 * 0.3048**2)


def test_every_key_of_the_schema_is_in_it() -> None:
    text = template()
    for key in all_keys(Inputs):
        last = key.rpartition(".")[2]
        assert re.search(rf"^(# )?(\[*.*\b{last}\]+|{last} = )", text, re.MULTILINE), key


def test_optional_keys_with_a_default_mean_the_same_when_taken_in(tmp_path: Path) -> None:
    bare, full = tmp_path / "bare.toml", tmp_path / "full.toml"
    bare.write_text(template(), encoding="utf-8")
    full.write_text(taken_in(template()), encoding="utf-8")
    assert load(full).sha256 == load(bare).sha256


def taken_in(text: str) -> str:
    """Take the mark off remarks that set a default, as long as their section is not a remark itself."""
    lines, live = [], True
    for line in text.splitlines():
        if re.match(r"(# )?\[", line):
            live = not line.startswith("#")
        default = line.startswith("# ") and line.endswith("(default)")
        lines.append(line.removeprefix("# ") if live and default else line)
    return "\n".join(lines)
