"""Fixing rails: where the wall screws of a box go, as high as the box allows."""

from __future__ import annotations

import math
from itertools import pairwise

from nookwright.stages.design.design import Box, Rail, Upright

RAIL_MM = 90.0
"""Height of a fixing rail, square to its length, screwed to the wall. Common practice, no source."""

SHORTEST_RAIL_MM = 100.0
"""A rail shorter than this is left out. Common practice, no source."""


def ceiling_at(box: Box, x_mm: float) -> float:
    """Return the height of the underside of a box's own top at x. [mm]"""
    t = box.board.thickness_mm
    level = box.level_top_mm - t if box.level_top_mm is not None else math.inf
    return min(level, box.rake.lowered(t).at(x_mm) if box.rake else math.inf)


def fixing_rails(box: Box, uprights: tuple[Upright, ...]) -> tuple[Rail, ...]:
    """Return the rails right under a box's top: one in each bay, raked where the top is.

    A rail ends at every upright that stands at its height, and where a raked board turns into a level top.

    Args:
        box: the box.
        uprights: its sides and dividers, left to right.
    """
    floor = box.z0_mm + box.board.thickness_mm
    high = [u for u in uprights if _at_rail_height(box, u)]
    rails: list[Rail] = []
    for left, right in pairwise(high):
        x0, x1 = left.x_mm + left.thickness_mm, right.x_mm
        kinks = [x for x in _kink(box) if x0 + SHORTEST_RAIL_MM < x < x1 - SHORTEST_RAIL_MM]
        for start, end in pairwise([x0, *kinks, x1]):
            heads = ceiling_at(box, start), ceiling_at(box, end)
            height = RAIL_MM * math.hypot(1.0, (heads[1] - heads[0]) / (end - start)) if end > start else 0.0
            if end - start >= SHORTEST_RAIL_MM and min(heads) - height >= floor:
                rails.append(
                    Rail(x0_mm=start, x1_mm=end, head_left_mm=heads[0], head_right_mm=heads[1], height_mm=height)
                )
    return tuple(rails)


def _at_rail_height(box: Box, upright: Upright) -> bool:
    """Return whether an upright stands where a rail would run."""
    return upright.kind == "side" or upright.z1_left_mm > ceiling_at(box, upright.x_mm) - 1.5 * RAIL_MM


def _kink(box: Box) -> tuple[float, ...]:
    """Return where the underside of a box's raked board meets that of its level top. [mm]"""
    if box.rake is None or box.level_top_mm is None:
        return ()
    under = box.rake.lowered(box.board.thickness_mm)
    return ((box.level_top_mm - box.board.thickness_mm - under.height_at_0_mm) / under.slope,)
