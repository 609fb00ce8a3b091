"""Flat outlines: distance to the boundary, points along it."""

from __future__ import annotations

import math

from nookwright.geometry.frame import Point2


def distance_to_boundary_mm(point: Point2, corners: tuple[Point2, ...]) -> float:
    """Return how far a point lies from the nearest side of an outline, on either side of it.

    Args:
        point: the point. [mm]
        corners: corners in order; the last joins the first. [mm]

    Returns:
        Distance, never below 0. [mm]

    Example:
        >>> distance_to_boundary_mm((1.0, 1.0), ((0, 0), (4, 0), (4, 3), (0, 3)))
        1.0
    """
    turned = corners[1:] + corners[:1]
    return min(_distance_to_segment_mm(point, a, b) for a, b in zip(corners, turned, strict=True))


def _distance_to_segment_mm(point: Point2, a: Point2, b: Point2) -> float:
    """Return the distance from a point to the segment a-b, in mm."""
    run, rise = b[0] - a[0], b[1] - a[1]
    along = ((point[0] - a[0]) * run + (point[1] - a[1]) * rise) / (run * run + rise * rise)
    share = min(1.0, max(0.0, along))
    return math.hypot(point[0] - a[0] - share * run, point[1] - a[1] - share * rise)


def points_along(corners: tuple[Point2, ...], spacing_mm: float) -> tuple[Point2, ...]:
    """Return the corners of an outline and evenly spaced points on its sides.

    Args:
        corners: corners in order; the last joins the first. [mm]
        spacing_mm: greatest distance between neighbouring points. [mm]

    Returns:
        The points in order round the outline, starting at the first corner. [mm]

    Example:
        >>> points_along(((0, 0), (4, 0), (4, 3)), 3.0)[:3]
        ((0.0, 0.0), (2.0, 0.0), (4.0, 0.0))
    """
    points: list[Point2] = []
    for (x1, y1), (x2, y2) in zip(corners, corners[1:] + corners[:1], strict=True):
        steps = max(1, math.ceil(math.hypot(x2 - x1, y2 - y1) / spacing_mm))
        points += [(x1 + (x2 - x1) * i / steps, y1 + (y2 - y1) * i / steps) for i in range(steps)]
    return tuple(points)
