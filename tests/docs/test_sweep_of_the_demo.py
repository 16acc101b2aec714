"""The page and the extract of the demo's sweep say where they come from, and belong together."""

import re
from pathlib import Path

import numpy as np
import xarray as xr

from simengine.data_files import data_path
from simengine.scenario import load

LARGEST = 1_000_000  # bytes: the repository stays small
WHOLE = 20_000


def test_the_extract_is_small_and_names_its_origin(repository: Path) -> None:
    path = repository / "notebooks" / "sweep_of_the_demo.nc"
    assert path.stat().st_size < LARGEST
    page = (repository / "docs" / "sweep_of_the_demo.md").read_text(encoding="utf-8")
    with xr.open_dataset(path, engine="h5netcdf") as members:
        source = str(members.attrs["source"])
        assert re.search(r"^\d+ members.*\d{4}-\d\d-\d\d, commit [0-9a-f]{7,}$", source)
        assert re.fullmatch(r"[0-9a-f]{64}", str(members.attrs["plan_sha256"]))
        assert "invented" in members.attrs["scenario"]
        assert source in page
        assert ("thinned-out" in page) == (members.sizes["member"] != WHOLE)


def test_its_members_have_the_values_of_the_scenario(repository: Path) -> None:
    sweep = load(data_path("scenarios", "sweep_demo.toml")).inputs.sweep
    assert sweep is not None
    with xr.open_dataset(repository / "notebooks" / "sweep_of_the_demo.nc", engine="h5netcdf") as members:
        assert members["house"].values.tolist() == ["standard", "low_energy"]
        keys = [name for name in members.variables if "." in str(name)]
        assert set(keys) <= set(sweep.vary)
        for key in keys:
            given = [str(value) for value in sweep.vary[str(key)].term("values")]
            found = np.unique(members[key].values)
            if members[key].dtype.kind not in "fi":
                assert set(found.tolist()) <= set(given)
            else:
                assert found.size <= len(given)
        assert np.isfinite(members["offset_kwh"].values).all()
