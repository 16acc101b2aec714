"""The pinned versions are plain, complete, and hold for every system; files have hashes, bounds are true."""

import re
import tomllib
from importlib.metadata import PackageNotFoundError, requires, version
from itertools import product
from pathlib import Path

import pytest
from packaging.markers import default_environment
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

SYSTEMS = {"linux": ("posix", "Linux"), "darwin": ("posix", "Darwin"), "win32": ("nt", "Windows")}
PYTHONS = ("3.11.2", "3.11.9", "3.12.7", "3.13.1", "3.14.0")
PLACES = list(product(SYSTEMS, PYTHONS))


def place(system: str, python: str) -> dict[str, str]:
    """Return what markers ask for, on one system with one Python."""
    name, platform = SYSTEMS[system]
    return {
        **{key: str(value) for key, value in default_environment().items()},
        "sys_platform": system,
        "os_name": name,
        "platform_system": platform,
        "python_version": ".".join(python.split(".")[:2]),
        "python_full_version": python,
    }


def requirements(lines: list[str]) -> list[Requirement]:
    return [Requirement(line) for line in lines if line.strip() and not line.startswith("#")]


@pytest.fixture(scope="module")
def pins(repository: Path) -> list[Requirement]:
    return requirements((repository / ".ci" / "constraints.txt").read_text(encoding="utf-8").splitlines())


def asked_for(repository: Path) -> list[Requirement]:
    project = tomllib.loads((repository / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return requirements(project["dependencies"] + project["optional-dependencies"]["dev"])


def valid(pins: list[Requirement], system: str, python: str) -> list[tuple[str, str]]:
    """Return name and version of what is installed in one place."""
    here = place(system, python)
    return sorted(
        (canonicalize_name(pin.name), str(pin.specifier).removeprefix("=="))
        for pin in pins
        if pin.marker is None or pin.marker.evaluate(here)
    )


def test_each_pin_is_one_exact_version_without_an_address(pins: list[Requirement]) -> None:
    for pin in pins:
        assert pin.url is None
        assert re.fullmatch(r"==[\w.+!]+", str(pin.specifier)), str(pin)


@pytest.mark.parametrize(("system", "python"), PLACES)
def test_all_that_the_project_asks_for_is_pinned_once(
    pins: list[Requirement], repository: Path, system: str, python: str
) -> None:
    names = [name for name, _ in valid(pins, system, python)]
    assert len(names) == len(set(names))
    assert not {canonicalize_name(wanted.name) for wanted in asked_for(repository)} - set(names)


def test_pinned_versions_satisfy_the_stated_bounds(pins: list[Requirement], repository: Path) -> None:
    versions = [(canonicalize_name(pin.name), str(pin.specifier).removeprefix("==")) for pin in pins]
    for wanted in asked_for(repository):
        name = canonicalize_name(wanted.name)
        assert all(wanted.specifier.contains(version) for pinned, version in versions if pinned == name), name


# ---- hashes ----------------------------------------------------------------


@pytest.fixture(scope="module")
def hashed(repository: Path) -> dict[str, list[str]]:
    """What `pip install --require-hashes` is given: each requirement with its hashes."""
    text = (repository / ".ci" / "hashes.txt").read_text(encoding="utf-8").replace("\\\n", " ")
    lines = [line.split(" --hash=") for line in text.splitlines() if line and line[0] != "#"]
    return {line[0].strip(): [part.strip() for part in line[1:]] for line in lines}


def test_every_file_has_its_sha256(hashed: dict[str, list[str]]) -> None:
    assert len(hashed) > 100
    for pin, hashes in hashed.items():
        assert re.match(r"[\w.-]+(\[[\w,]+\])?==[\w.+!]+", pin), pin
        assert hashes, pin
        assert all(re.fullmatch(r"sha256:[0-9a-f]{64}", one) for one in hashes), pin
        assert len(set(hashes)) == len(hashes), pin


@pytest.mark.parametrize(("system", "python"), PLACES)
def test_hashed_and_plain_pins_agree(
    hashed: dict[str, list[str]], pins: list[Requirement], system: str, python: str
) -> None:
    plain = set(valid(pins, system, python))
    found = set(valid(requirements(list(hashed)), system, python))
    # a name that nothing asks for in this place may stand in the plain list
    assert not found - plain, "run .ci/pin"


def test_all_that_is_asked_for_has_hashes(repository: Path, hashed: dict[str, list[str]]) -> None:
    pinned = requirements(list(hashed))
    there = {canonicalize_name(one.name) for one in pinned}
    same = {(canonicalize_name(one.name), str(one.specifier).removeprefix("==")) for one in pinned}
    assert not needed(asked_for(repository), same) - there, "run .ci/pin"


def needed(wanted: list[Requirement], same: set[tuple[str, str]]) -> set[str]:
    """Return the names of what the requirements pull in, as far as it is installed here as pinned.

    Other versions, such as the oldest ones, may need what the pinned ones do not.
    """
    found: set[str] = set()
    left = [(one, "") for one in wanted]
    seen: set[tuple[str, str]] = set()
    while left:
        one, extra = left.pop()
        name = canonicalize_name(one.name)
        if one.marker is not None and not one.marker.evaluate({"extra": extra}):
            continue
        try:
            asked = [Requirement(line) for line in requires(name) or ()]
        except PackageNotFoundError:
            continue
        found.add(name)
        if (name, version(name)) not in same:
            continue
        for option in ("", *one.extras):
            if (name, option) not in seen:
                seen.add((name, option))
                left += [(another, option) for another in asked]
    return found


# ---- oldest versions -------------------------------------------------------


def test_the_oldest_versions_are_those_that_pyproject_states(repository: Path) -> None:
    lines = (repository / ".ci" / "lowest.txt").read_text(encoding="utf-8").splitlines()
    oldest = {
        canonicalize_name(one.name): str(one.specifier).removeprefix("==") for one in requirements(lines)
    }
    for wanted in everything(repository):
        (bound,) = wanted.specifier
        assert bound.operator == ">=", wanted
        # stubs count the day behind the version that they are for
        found, stated = Version(oldest[canonicalize_name(wanted.name)]), Version(bound.version)
        length = len(stated.release) if "stubs" in wanted.name else 9
        assert padded(found, length) == padded(stated, length), f"{wanted}, but {found}: run .ci/pin"


def padded(one: Version, length: int) -> tuple[int, ...]:
    return (*one.release, *(0,) * 9)[:length]


def everything(repository: Path) -> list[Requirement]:
    """Return all that pyproject.toml asks for, with every extra."""
    project = tomllib.loads((repository / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = project["optional-dependencies"].values()
    return requirements([*project["dependencies"], *(line for lines in extras for line in lines)])


def test_the_versions_here_are_no_older(repository: Path) -> None:
    for wanted in asked_for(repository):
        assert wanted.specifier.contains(version(wanted.name), prereleases=True), wanted
