"""Straight lines on a surface: which ways there are, and where a line and the places along it lie."""

from __future__ import annotations

import numpy as np

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.inputs.survey import Line, SurfaceName, Way
from nookwright.stages.survey.shape import Axes, Shape

WAYS: dict[str, tuple[int, int]] = {
    "right": (0, 1),
    "left": (0, -1),
    "back": (1, 1),
    "out": (1, -1),
    "up": (2, 1),
    "down": (2, -1),
}
"""For each way: the axis it runs along (0 = x, 1 = y, 2 = z) and its sign."""


def ways_along(surface: SurfaceName, shape: Shape) -> tuple[str, ...]:
    """Return the ways that run along a surface; up and down a slope follow its steepest rise."""
    across = shape.axes(surface)[0]
    return tuple(way for way, (axis, _) in WAYS.items() if axis != across or surface in shape.slopes)


def along(line: Line, distances_mm: Vector, *, axes: Axes, start: Vector, end: Vector | None, plane: Vector) -> Matrix:
    """Return places along a line, on the surface's plane.

    Args:
        line: the line.
        distances_mm: from its beginning. [mm]
        axes: of its surface, see `Shape.axes`.
        start: the spot it begins at or beside. [mm]
        end: the spot it runs towards; None when it runs a way.
        plane: the surface's offset [mm] and two tilts.

    Returns:
        The places, one a row. [mm]
    """
    across, p, q = axes
    normal = np.zeros(3)
    normal[across], normal[p], normal[q] = 1.0, -plane[1], -plane[2]
    normal /= np.sqrt(normal @ normal)
    run = vector_of(line.towards) if end is None else end - start
    run = run - (run @ normal) * normal
    begin = start + line.aside_mm * vector_of(line.aside)
    begin[across] = plane[0] + plane[1] * begin[p] + plane[2] * begin[q]
    places: Matrix = begin + distances_mm[:, None] * run / np.sqrt(run @ run)
    return places


def vector_of(way: Way | str) -> Vector:
    """Return a way as a unit vector in the room."""
    axis, sign = WAYS[way]
    vector = np.zeros(3)
    vector[axis] = sign
    return vector
