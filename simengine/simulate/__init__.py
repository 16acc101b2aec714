"""One scenario the whole way: the only room that knows all the others below it."""

from simengine.simulate.operating_point import point
from simengine.simulate.resolve import Resolved, resolve
from simengine.simulate.year import run, run_resolved

__all__ = ["Resolved", "point", "resolve", "run", "run_resolved"]
