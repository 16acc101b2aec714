"""The hours explain themselves: units, names and provenance travel with the arrays."""

from types import ModuleType

import numpy as np
import pytest

from simengine.nomenclature import QUANTITIES
from simengine.results import Result


def test_every_variable_carries_its_cf_attributes(result: Result) -> None:
    for name, variable in result.hours.data_vars.items():
        for attribute in ("units", "long_name", "cell_methods"):
            assert variable.attrs[attribute], f"{name} lacks {attribute}"


def test_dimensions_and_houses(result: Result) -> None:
    assert dict(result.hours.sizes) == {"time": 8760, "house": 2}
    assert result.hours["house"].values.tolist() == ["standard", "low_energy"]
    assert result.hours["delivered"].dims == ("house", "time")
    assert result.hours["plane_irradiance"].dims == ("time",)


def test_time_is_naive_utc_with_its_offset_as_a_number(result: Result) -> None:
    first = result.hours["time"].values[0]
    assert first == np.datetime64("2001-01-01T05:00")  # local midnight at UTC-5
    assert result.hours["time"].attrs["utc_offset_h"] == -5.0
    assert result.hours["time"].attrs["interval_s"] == 3600.0


def test_provenance_is_in_the_global_attributes(result: Result) -> None:
    for attribute in ("program_version", "scenario_sha256", "weather_sha256", "Conventions"):
        assert result.hours.attrs[attribute]


def test_every_quantity_of_the_invented_year_is_in_the_nomenclature(made_up: ModuleType) -> None:
    assert set(made_up.hourly()) <= set(QUANTITIES)


def test_the_hours_add_up_to_the_summary(result: Result) -> None:
    for index, year in enumerate(result.summary["houses"].values()):
        delivered = result.hours["delivered"].isel(house=index)
        assert float(delivered.sum()) / 1000.0 == pytest.approx(year["delivered_kwh"], rel=1e-12)
