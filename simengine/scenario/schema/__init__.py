"""The scenario file's schema: every key, its kind, bounds, default and meaning."""

from simengine.scenario.schema.root import SCHEMA, Inputs

__all__ = ["SCHEMA", "Inputs"]
