"""One scenario the whole way: the only room that knows all the others below it."""

from simengine.simulate.bill import calibrated_alone, calibrated_scenario
from simengine.simulate.cover_label import cover_label
from simengine.simulate.fan_at_flow import flow_of
from simengine.simulate.loop_facts import loop_facts
from simengine.simulate.notes import build_cautions
from simengine.simulate.operating_point import Conditions, point
from simengine.simulate.point_report import point_report
from simengine.simulate.point_table import point_table
from simengine.simulate.resolve import Resolved, resolve
from simengine.simulate.year import run, run_resolved

__all__ = [
    "Conditions",
    "Resolved",
    "build_cautions",
    "calibrated_alone",
    "calibrated_scenario",
    "cover_label",
    "flow_of",
    "loop_facts",
    "point",
    "point_report",
    "point_table",
    "resolve",
    "run",
    "run_resolved",
]
