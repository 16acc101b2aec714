"""The file a practitioner writes, and every message about what is wrong in it."""

from simengine.scenario.assembly import Assembly
from simengine.scenario.json_schema import json_schema
from simengine.scenario.overrides import read_override
from simengine.scenario.scenario import Scenario, load
from simengine.scenario.template import template

__all__ = ["Assembly", "Scenario", "json_schema", "load", "read_override", "template"]
