"""What a run leaves behind: labelled hours, the months and the year, and their files."""

from simengine.results.record import Provenance, Record
from simengine.results.result import Result, open_result

__all__ = ["Provenance", "Record", "Result", "open_result"]
