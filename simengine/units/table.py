"""The closed table of units: every kind of quantity and every unit that may be written for it."""

from typing import Final

from simengine.units.counted import COUNTED
from simengine.units.geometry import GEOMETRY
from simengine.units.heat import HEAT
from simengine.units.kinds import Kind
from simengine.units.matter import FLOW, MATTER

KINDS: Final[dict[str, Kind]] = {kind.name: kind for kind in (*GEOMETRY, *HEAT, *MATTER, *FLOW, *COUNTED)}
"""Every kind of quantity by its name."""
