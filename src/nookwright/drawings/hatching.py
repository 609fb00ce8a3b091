"""Hatching: parallel lines clipped to an outline, worked out here because viewers differ in how they fill."""

from __future__ import annotations

import math
from collections.abc import Sequence

from nookwright.geometry.frame import Point2

PITCH_MM = 1.6
"""Distance between hatch lines on paper. Common practice, no source."""


def hatch_lines(
    outline: Sequence[Point2], *, pitch_mm: float = PITCH_MM, angle_deg: float = 45.0
) -> tuple[tuple[Point2, Point2], ...]:
    """Return the hatch lines inside an outline, which may be hollow but must not cross itself.

    The outline is turned so that hatch lines lie level; each level then enters and leaves it in turn.
    All outlines share one grid of lines, so that neighbours look like one area.

    Args:
        outline: its corners. [mm]
        pitch_mm: distance between lines. [mm]
        angle_deg: direction of the lines, counter-clockwise from the right as one sees it. [deg]
    """
    turn = math.radians(angle_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    turned = [(x * cos - y * sin, x * sin + y * cos) for x, y in outline]
    low, high = min(y for _, y in turned), max(y for _, y in turned)
    lines: list[tuple[Point2, Point2]] = []
    for step in range(math.ceil(low / pitch_mm), math.floor(high / pitch_mm) + 1):
        level = step * pitch_mm
        crossings = sorted(_crossings(turned, level))
        for left, right in zip(crossings[::2], crossings[1::2], strict=False):
            if right - left > 0.05:
                start = (left * cos + level * sin, -left * sin + level * cos)
                lines.append((start, (right * cos + level * sin, -right * sin + level * cos)))
    return tuple(lines)


def _crossings(outline: Sequence[Point2], level: float) -> list[float]:
    """Return where the outline's sides cross a level; a corner on it counts for the side below only."""
    found: list[float] = []
    for i, (x1, y1) in enumerate(outline):
        x2, y2 = outline[(i + 1) % len(outline)]
        if (y1 <= level) != (y2 <= level):
            found.append(x1 + (level - y1) / (y2 - y1) * (x2 - x1))
    return found
