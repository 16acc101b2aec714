"""netCDF by CF: bounds, units, standard names, UTC years turned, damage refused."""

from dataclasses import replace
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest
import xarray as xr

from simengine.errors import WeatherError
from simengine.weather import WeatherSeries, read_weather


def read(folder: Path, data: bytes) -> WeatherSeries:
    path = folder / "made.nc"
    path.write_bytes(data)
    return read_weather(path)


@pytest.mark.parametrize("bounds", [True, False])
@pytest.mark.parametrize("kelvin", [True, False])
def test_the_year_comes_back(
    tmp_path: Path, made: ModuleType, year: WeatherSeries, bounds: bool, kelvin: bool
) -> None:
    found = read(tmp_path, made.netcdf_bytes(year, bounds=bounds, kelvin=kelvin))
    for name in ("ghi", "dni", "dhi", "temp_air", "pressure", "wind_speed"):
        np.testing.assert_allclose(found.data[name], year.data[name], atol=1e-9)
    assert found.data.index.equals(year.data.index)
    assert (found.utc_offset, found.step) == (-5.0, 3600)
    assert abs(found.closure_shift) < 0.02


def test_labels_at_the_end_are_told_by_their_bounds(
    tmp_path: Path, made: ModuleType, year: WeatherSeries
) -> None:
    (tmp_path / "a.nc").write_bytes(made.netcdf_bytes(year))
    with xr.open_dataset(tmp_path / "a.nc") as source:
        late = source.load()
    edges = late["time_bnds"]
    late = late.assign_coords(time=late["time"] + np.timedelta64(1, "h"))
    late["time_bnds"] = (("time", "nv"), edges.to_numpy())
    late["time"].attrs["bounds"] = "time_bnds"
    late["time"].encoding["units"] = "seconds since 1970-01-01"
    late.to_netcdf(tmp_path / "b.nc", engine="h5netcdf")
    found = read_weather(tmp_path / "b.nc")
    assert found.data.index.equals(year.data.index)
    assert abs(found.closure_shift) < 0.02


def test_a_year_in_utc_is_turned(tmp_path: Path, made: ModuleType, year: WeatherSeries) -> None:
    universal = replace(year, data=year.data.set_axis(year.data.index), utc_offset=0.0)
    rolled = replace(universal, data=universal.data.apply(lambda values: np.roll(values.to_numpy(), 5)))
    (tmp_path / "a.nc").write_bytes(made.netcdf_bytes(rolled))
    with xr.open_dataset(tmp_path / "a.nc") as source:
        changed = source.load()
    changed.attrs["utc_offset_h"] = -5.0
    changed["time"].encoding["units"] = "seconds since 1970-01-01"
    changed.to_netcdf(tmp_path / "b.nc", engine="h5netcdf")
    found = read_weather(tmp_path / "b.nc")
    assert found.utc_offset == -5.0
    np.testing.assert_allclose(found.data["dni"], year.data["dni"], atol=1e-9)


def test_classic_netcdf_is_read_too(tmp_path: Path, made: ModuleType, year: WeatherSeries) -> None:
    (tmp_path / "a.nc").write_bytes(made.netcdf_bytes(year))
    with xr.open_dataset(tmp_path / "a.nc") as source:
        data = source.load()
    data["time"].encoding["units"] = "seconds since 1970-01-01"
    data.to_netcdf(tmp_path / "b.nc", engine="scipy")
    np.testing.assert_allclose(read_weather(tmp_path / "b.nc").data["ghi"], year.data["ghi"], atol=1e-9)


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        (lambda data: data.drop_vars("tas"), "temp_air: not in the file"),
        (lambda data: data.drop_attrs(), "no latitude"),
        (lambda data: data.rename(time="t"), "no time axis"),
        (lambda data: data.isel(time=slice(0, 8000)), "8000 rows where 8760"),
        (lambda data: data.isel(time=slice(None, None, 7)), "a step of 25200 s"),
        (lambda data: data.assign(ghi=data["ghi"].assign_attrs(units="furlong")), "unit 'furlong'"),
        (lambda data: data.assign(ghi=data["ghi"].expand_dims(x=2)), "not one number for each time"),
        (lambda data: data.assign_attrs(latitude="north"), "'north' is not a number"),
    ],
)
def test_errors_say_what_is_wrong(
    tmp_path: Path, made: ModuleType, year: WeatherSeries, change: object, reason: str
) -> None:
    assert callable(change)
    (tmp_path / "a.nc").write_bytes(made.netcdf_bytes(year, bounds=False))
    with xr.open_dataset(tmp_path / "a.nc") as source:
        data = change(source.load())
    data.to_netcdf(tmp_path / "b.nc", engine="h5netcdf")
    with pytest.raises(WeatherError, match=reason):
        read_weather(tmp_path / "b.nc")
