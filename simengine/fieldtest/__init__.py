"""A logged test of a built collector: its efficiency with uncertainty, and the model fitted to it."""
