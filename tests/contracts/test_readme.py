"""The README's two commands stand where they are looked for, and its links lead somewhere."""

import re
import tomllib
from pathlib import Path

import pytest

BLOCK = re.compile(r"^<!-- command: (\w+) -->\n```bash\n(.*?)^```$", re.MULTILINE | re.DOTALL)


@pytest.fixture(scope="module")
def readme(repository: Path) -> str:
    return (repository / "README.md").read_text(encoding="utf-8")


def test_there_are_exactly_two_marked_commands(readme: str) -> None:
    assert [name for name, _ in BLOCK.findall(readme)] == ["run", "test"]
    assert readme.count("<!-- command:") == 2


@pytest.mark.parametrize("name", ["run", "test"])
def test_each_command_is_enough_by_itself(readme: str, name: str) -> None:
    lines = dict(BLOCK.findall(readme))[name].splitlines()
    assert lines[0] == "python3 -m venv --without-pip .venv"
    assert "-c .ci/constraints.txt" in lines[1]
    assert all(line.startswith(".venv/bin/") for line in lines[2:])


def test_run_command_runs_a_scenario_that_is_there(readme: str, repository: Path) -> None:
    scenarios = re.findall(r"scenarios/\S+\.toml", dict(BLOCK.findall(readme))["run"])
    assert scenarios
    assert all((repository / scenario).is_file() for scenario in scenarios)


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md", "CHANGELOG.md"])
def test_links_within_the_repository_lead_somewhere(document: str, repository: Path) -> None:
    text = (repository / document).read_text(encoding="utf-8")
    targets = [link for link in re.findall(r"\]\(([^)#]+)", text) if "://" not in link]
    assert not [target for target in targets if not (repository / target).exists()]


def test_marked_python_is_the_one_that_the_package_asks_for(readme: str, repository: Path) -> None:
    project = tomllib.loads((repository / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    oldest = project["requires-python"].removeprefix(">=")
    assert f"Python {oldest} or newer" in readme
