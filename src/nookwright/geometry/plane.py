"""Points, lines and convex outlines in a plane."""

from __future__ import annotations

import math
from collections.abc import Sequence

from nookwright.geometry.frame import Point2

Line = tuple[float, float]
"""Intercept and gradient: y = intercept + gradient * x."""


def moved_edges(corners: tuple[Point2, ...], outward_mm: tuple[float, ...]) -> tuple[Point2, ...]:
    """Return the polygon whose edges are moved outward, each by its own amount.

    Args:
        corners: a counter-clockwise polygon without parallel neighbouring edges. [mm]
        outward_mm: one amount per edge; below 0 moves inward. [mm]

    Returns:
        The new corners, in the same order. [mm]
    """
    lines: list[tuple[float, float, float]] = []
    count = len(corners)
    for i, out in enumerate(outward_mm):
        (x1, y1), (x2, y2) = corners[i], corners[(i + 1) % count]
        length = math.hypot(x2 - x1, y2 - y1)
        nx, ny = (y2 - y1) / length, -(x2 - x1) / length
        lines.append((nx, ny, nx * x1 + ny * y1 + out))
    moved: list[Point2] = []
    for i in range(count):
        a1, b1, c1 = lines[i - 1]
        a2, b2, c2 = lines[i]
        det = a1 * b2 - a2 * b1
        moved.append(((c1 * b2 - c2 * b1) / det, (a1 * c2 - a2 * c1) / det))
    return tuple(moved)


def clipped(corners: tuple[Point2, ...], half_plane: tuple[float, float, float]) -> tuple[Point2, ...]:
    """Return the part of a convex polygon where a x + b y <= c.

    Args:
        corners: a convex polygon, counter-clockwise. [mm]
        half_plane: a, b and c.

    Returns:
        Its corners, counter-clockwise; empty when nothing is left. [mm]
    """
    a, b, c = half_plane
    beyond = [a * x + b * y - c for x, y in corners]
    kept: list[Point2] = []
    for i, corner in enumerate(corners):
        before, d0, d1 = corners[i - 1], beyond[i - 1], beyond[i]
        if (d0 > 0) != (d1 > 0):
            share = d0 / (d0 - d1)
            kept.append((before[0] + share * (corner[0] - before[0]), before[1] + share * (corner[1] - before[1])))
        if d1 <= 0:
            kept.append(corner)
    distinct = [p for i, p in enumerate(kept) if math.dist(p, kept[i - 1]) > 1e-6]
    return tuple(distinct) if len(distinct) >= 3 else ()


def clipped_below(corners: tuple[Point2, ...], line: Line) -> tuple[Point2, ...]:
    """Return the part of a convex polygon that lies on or below a line."""
    intercept, gradient = line
    return clipped(corners, (-gradient, 1.0, intercept))


def clipped_between(corners: tuple[Point2, ...], x0: float, x1: float) -> tuple[Point2, ...]:
    """Return the part of a convex polygon between two plumb lines."""
    return clipped(clipped(corners, (1.0, 0.0, x1)), (-1.0, 0.0, -x0))


def best_line(points: Sequence[Point2]) -> Line:
    """Return the least-squares straight line through points, as intercept and gradient."""
    n = len(points)
    mx, my = sum(x for x, _ in points) / n, sum(y for _, y in points) / n
    spread = sum((x - mx) ** 2 for x, _ in points)
    gradient = sum((x - mx) * (y - my) for x, y in points) / spread if spread > 0 else 0.0
    return my - gradient * mx, gradient


def line_below(points: Sequence[Point2]) -> Line:
    """Return the line of the points' own slope that lies below or on all of them, touching at least one."""
    _, gradient = best_line(points)
    return min(y - gradient * x for x, y in points), gradient


def line_above(points: Sequence[Point2]) -> Line:
    """Return the line of the points' own slope that lies above or on all of them, touching at least one."""
    _, gradient = best_line(points)
    return max(y - gradient * x for x, y in points), gradient


def spaced(start: float, end: float, step: float) -> tuple[float, ...]:
    """Return evenly spaced values from start to end, both included, no further apart than a step."""
    count = max(1, math.ceil(abs(end - start) / step - 1e-9))
    return tuple(start + (end - start) * i / count for i in range(count + 1))
