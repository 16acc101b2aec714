"""The pinned versions are plain, complete, and hold for every system."""

import re
import tomllib
from pathlib import Path

import pytest
from packaging.markers import default_environment
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name


def requirements(lines: list[str]) -> list[Requirement]:
    return [Requirement(line) for line in lines if line.strip() and not line.startswith("#")]


@pytest.fixture(scope="module")
def pins(repository: Path) -> list[Requirement]:
    return requirements((repository / ".ci" / "constraints.txt").read_text(encoding="utf-8").splitlines())


def asked_for(repository: Path) -> list[Requirement]:
    project = tomllib.loads((repository / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return requirements(project["dependencies"] + project["optional-dependencies"]["dev"])


def test_each_pin_is_one_exact_version_without_an_address(pins: list[Requirement]) -> None:
    for pin in pins:
        assert pin.url is None
        assert re.fullmatch(r"==[\w.+!]+", str(pin.specifier)), str(pin)


@pytest.mark.parametrize("python", ["3.11", "3.12", "3.13", "3.14"])
@pytest.mark.parametrize("system", ["linux", "darwin", "win32"])
def test_all_that_the_project_asks_for_is_pinned_once(
    pins: list[Requirement], repository: Path, python: str, system: str
) -> None:
    place = {**default_environment(), "python_version": python, "sys_platform": system}
    valid = [pin for pin in pins if pin.marker is None or pin.marker.evaluate(place)]
    names = [canonicalize_name(pin.name) for pin in valid]
    assert len(names) == len(set(names))
    assert not {canonicalize_name(wanted.name) for wanted in asked_for(repository)} - set(names)


def test_pinned_versions_satisfy_the_stated_bounds(pins: list[Requirement], repository: Path) -> None:
    versions = [(canonicalize_name(pin.name), str(pin.specifier).removeprefix("==")) for pin in pins]
    for wanted in asked_for(repository):
        name = canonicalize_name(wanted.name)
        assert all(wanted.specifier.contains(version) for pinned, version in versions if pinned == name), name
