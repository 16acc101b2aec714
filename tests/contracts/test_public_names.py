"""The package's public face is there on purpose: listed, sorted, and each name resolves."""

import importlib

import pytest

import simengine
from simengine.errors import SimengineError


def test_names_are_sorted_and_listed() -> None:
    assert list(simengine.__all__) == sorted(simengine.__all__)
    assert set(simengine.__all__) <= set(dir(simengine))


@pytest.mark.parametrize("name", simengine.__all__)
def test_each_name_resolves(name: str) -> None:
    assert getattr(simengine, name) is not None


@pytest.mark.parametrize(
    ("name", "home"),
    [
        ("Result", "simengine.results"),
        ("Scenario", "simengine.scenario"),
        ("field_test", "simengine.fieldtest"),
        ("load", "simengine.scenario"),
        ("open_result", "simengine.results"),
        ("open_sweep", "simengine.batch.sweep"),
        ("point", "simengine.simulate"),
        ("read_weather", "simengine.weather"),
        ("run", "simengine.simulate"),
        ("run_spread", "simengine.batch.spread"),
        ("sweep", "simengine.batch.sweep"),
    ],
)
def test_each_name_is_the_very_object_of_its_home(name: str, home: str) -> None:
    assert getattr(simengine, name) is getattr(importlib.import_module(home), name)


def test_unknown_name_is_an_ordinary_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'no_such_name'"):
        simengine.no_such_name  # noqa: B018


def test_every_error_of_the_package_is_of_one_family() -> None:
    errors = importlib.import_module("simengine.errors")
    raised = [
        item
        for item in vars(errors).values()
        if isinstance(item, type) and item.__module__ == errors.__name__
    ]
    assert raised
    assert all(issubclass(item, SimengineError) for item in raised)
