"""Tests mirror the package: a test file stands in the folder of its room and is named after its module."""

from pathlib import Path

from tests.contracts.package import MODULES, PACKAGE

TESTS = PACKAGE.parent / "tests"

BESIDE = {
    "benchmarks": "speed",
    "contracts": "what no room can hold alone",
    "docs": "the manual does what it says",
    "laws": "what holds of the whole, whatever the numbers",
    "notebooks": "each runs",
    "reference": "the whole against solutions of other codings and published cases",
    "reliability": "hostile input, and machines that fail",
}
"""Folders that stand beside the rooms, and what they hold."""

WHOLE_ROOM = {
    "batch/test_members": "a member of any sweep against its single run",
    "cli/test_help": "every command at once",
    "cli/test_main": "the group of commands, which is the room itself",
    "economics/test_heaters": "fuels, tariffs and savings together, by hand sums",
    "economics/test_words": "every number of the room that can be missing",
    "engine/test_convergence": "the order of the whole march",
    "engine/test_passive_flow": "passive flow through state, step and ledger",
    "fieldtest/test_card_figures": "the card against a second coding of the collector",
    "fieldtest/test_periods_and_line": "periods, line and regression on one made log",
    "fieldtest/test_study": "the whole reduction on seeded logs",
    "fieldtest/test_uncertainty": "what is propagated anywhere in the room, by worked examples",
    "fieldtest/test_whole_logs": "the whole reduction from the file on",
    "report/test_browser": "every page in a browser",
    "scenario/test_builds": "from the file to the parts, over all builds",
    "scenario/test_heaters": "from the file to heaters and fuels",
    "scenario/test_problems_in_lists": "problems where a section stands many times",
    "scenario/test_spaces": "from the file to the spaces",
    "scenario/test_spoilt": "reader and schema under any value",
    "simulate/test_coarse_steps": "whole years at the longest steps",
    "simulate/test_ledger": "whole years by the names of their ledger",
    "simulate/test_spaces": "whole years over every way of the air",
    "simulate/test_weather_kinds": "whole years over every kind of weather",
    "weather/test_checks": "every check from the file on",
    "weather/test_files_elsewhere": "files that are not part of the project",
    "weather/test_survey": "every reader under damage",
}
"""Test files that hold a whole room to something, and what."""


def rooms() -> dict[str, set[str]]:
    """Return the names of modules and folders that stand anywhere in each room."""
    found: dict[str, set[str]] = {"": set()}
    for path in MODULES:
        room, *rest = path.relative_to(PACKAGE).with_suffix("").parts
        found.setdefault(room if rest else "", set()).update(rest or [room])
    return found


def unmatched() -> set[str]:
    """Return the test files that no module answers to."""
    known, found = rooms(), set()
    for path in TESTS.rglob("test_*.py"):
        folder = path.relative_to(TESTS).parent.as_posix()
        if folder in BESIDE:
            continue
        name = path.stem.removeprefix("test_")
        if name not in known.get("" if folder == "." else folder, set()):
            found.add(path.relative_to(TESTS).with_suffix("").as_posix())
    return found


def test_each_test_file_has_its_module_or_holds_a_whole_room() -> None:
    assert not unmatched() - set(WHOLE_ROOM), "name it after its module, or say what it holds"
    assert not set(WHOLE_ROOM) - unmatched()


def test_each_folder_is_a_room_or_stands_beside() -> None:
    folders = {
        path.parent.relative_to(TESTS).parts[0] for path in TESTS.rglob("test_*.py") if path.parent != TESTS
    }
    assert folders <= set(rooms()) | set(BESIDE)
    assert set(BESIDE) <= folders


def test_each_room_has_its_tests() -> None:
    assert not {room for room in rooms() if room and not list(Path(TESTS / room).glob("test_*.py"))}
