"""The built wheel works from any folder: data inside, demo runs, nothing needed from the repository."""

import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest


def python(site: Path, folder: Path, *arguments: str, **variables: str) -> str:
    """Run Python in a folder where only the unpacked wheel offers the package."""
    environment = {**os.environ, "PYTHONPATH": str(site), "PYTHONSAFEPATH": "1", "MPLCONFIGDIR": str(folder)}
    environment |= variables
    done = subprocess.run(
        [sys.executable, *arguments], cwd=folder, env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(repository: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder)]
    done = subprocess.run([*command, str(repository)], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return next(folder.glob("simengine-*.whl"))


@pytest.fixture(scope="module")
def site(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A pure wheel is installed by unpacking it; the libraries come from the running environment."""
    folder = tmp_path_factory.mktemp("site")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder)
    return folder


def test_wheel_holds_the_package_its_data_and_nothing_else(wheel: Path, repository: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    assert {name.split("/")[0].split("-")[0] for name in names} == {"simengine"}
    for kind in ("scenarios", "weather"):
        files = [path for path in (repository / kind).iterdir() if path.is_file() and path.suffix != ".py"]
        here = {f"simengine/_data/{kind}/{path.name}" for path in files}
        assert here
        assert here <= set(names)
    assert "simengine/py.typed" in names


def test_command_is_declared(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        declared = next(name for name in archive.namelist() if name.endswith("entry_points.txt"))
        assert "simengine = simengine.cli:main" in archive.read(declared).decode()


def test_built_in_files_are_found_from_another_folder(site: Path, tmp_path: Path) -> None:
    code = (
        "import json, simengine, simengine.weather as weather\n"
        "from simengine.data_files import data_names, data_path\n"
        "print(json.dumps([simengine.__file__, str(data_path('scenarios', 'demo.toml')),\n"
        "    list(data_names('weather')), len(weather.builtin(weather.builtin_names()[0]).data)]))"
    )
    package, demo, weather_files, rows = json.loads(python(site, tmp_path, "-c", code))
    assert Path(package).is_relative_to(site)
    assert Path(demo).is_relative_to(site)
    assert weather_files
    assert rows in (8760, 8784)


def test_a_point_of_the_demo_from_another_folder(site: Path, tmp_path: Path) -> None:
    demo = site / "simengine" / "_data" / "scenarios" / "demo.toml"
    told = python(site, tmp_path, "-m", "simengine", "point", str(demo), NUMBA_DISABLE_JIT="1")
    assert "Air that leaves the collector" in told
    assert not list(tmp_path.glob("results*"))


@pytest.mark.slow  # it compiles anew, for half a minute
def test_demo_runs_from_another_folder(site: Path, tmp_path: Path) -> None:
    demo = site / "simengine" / "_data" / "scenarios" / "demo.toml"
    python(site, tmp_path, "-m", "simengine", "run", str(demo), "--quiet")
    written = {path.name for path in (tmp_path / "results" / "demo").iterdir()}
    assert {"summary.json", "hours.nc", "months.csv", "report.html", "run.log"} <= written
