"""A sheet for one drawing: its view, and which way the paper lies."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.drawings.sheet import Issue, body, chosen_scale
from nookwright.drawings.view import View, fitted
from nookwright.geometry.frame import Point2

OFF_MM = 8.0
"""From the thing drawn to its first dimension line, on paper. Our choice. [mm]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Canvas:
    """A sheet's view, and which way the paper lies."""

    view: View
    landscape: bool


def canvas(low: Point2, high: Point2, issue: Issue, *, sides_mm: float, below_mm: float, above_mm: float) -> Canvas:
    """Return the view at the larger scale of the two ways to lay the paper, the lying one when they are equal."""
    size = (high[0] - low[0], high[1] - low[1])
    found: list[tuple[int, bool, Canvas]] = []
    for landscape in (True, False):
        area = body(issue.paper, landscape=landscape, scaled=True)
        area = area.inset(left=sides_mm, right=sides_mm, top=above_mm, bottom=below_mm)
        scale = chosen_scale(size, (area.width, area.height))
        found.append((scale, not landscape, Canvas(view=fitted(low, high, area, scale=scale), landscape=landscape)))
    return min(found, key=lambda one: one[:2])[2]
