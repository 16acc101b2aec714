"""A logged test of a built collector: its efficiency with uncertainty, and the model fitted to it."""

from simengine.fieldtest.answer import answer
from simengine.fieldtest.card import CheckCard, check_card
from simengine.fieldtest.fitted_file import write_fitted
from simengine.fieldtest.outcome import FieldTestResult, field_test

__all__ = ["CheckCard", "FieldTestResult", "answer", "check_card", "field_test", "write_fitted"]
