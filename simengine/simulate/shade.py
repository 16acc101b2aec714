"""What stands around the collector and shades it, out of the scenario's site."""

from typing import Literal

import numpy as np

from simengine import sun
from simengine.collector.spec import Collector
from simengine.scenario.assembly import Site


def shade(site: Site, collector: Collector) -> sun.Shade | None:
    """Return everything that shades the collector, or None."""
    box = {"width": collector.width, "height": collector.length}
    shades: list[sun.Shade] = []
    if site.horizon:
        shades.append(
            sun.Horizon(*(tuple(float(v) for v in column) for column in zip(*site.horizon, strict=True)))
        )
    for tree in site.trees:
        foliage = sun.Foliage(tree.leaf_out, tree.leaf_fall, tree.in_leaf, tree.bare)
        shades.append(
            sun.Crown(
                tree.bearing,
                tree.distance,
                tree.height,
                tree.crown_width,
                tree.base_height,
                foliage,
                site.collector_height,
            )
        )
    for strip in site.strips:
        if strip.side == "above":
            shades.append(sun.Overhang(**box, depth=strip.depth, gap=strip.gap))
        else:
            side: Literal["left", "right"] = "left" if strip.side == "left" else "right"
            shades.append(sun.SideFin(side, **box, depth=strip.depth, gap=strip.gap))
    rise = collector.length * float(np.sin(np.radians(collector.tilt)))
    shades += [
        sun.NeighbouringWall(wall.bearing, wall.distance, wall.height, rise, wall.left, wall.right)
        for wall in site.walls
    ]
    return sun.Surroundings(tuple(shades)) if shades else None
