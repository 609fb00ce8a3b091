"""A solid as triangles, always in the same order, for drawing and for 3D files."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.geometry.frame import Point3
from nookwright.geometry.solid import Solid

_SAME_MM = 1e-6
"""Vertices nearer than this are one vertex; far below anything a saw can do. [mm]"""

Triangle = tuple[int, int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mesh:
    """Triangles over shared vertices, seen counter-clockwise from outside.

    Args:
        vertices: in rising order of x, then y, then z. [mm]
        triangles: three vertex numbers each, lowest first, in rising order.
    """

    vertices: tuple[Point3, ...]
    triangles: tuple[Triangle, ...]


def mesh_of(solid: Solid) -> Mesh:
    """Return a solid's triangles in an order that depends on its shape alone.

    Args:
        solid: the solid.

    Returns:
        Its mesh; vertices to 1e-6 mm. [mm]
    """
    raw = solid.manifold.to_mesh64()
    places = [(_snapped(x), _snapped(y), _snapped(z)) for x, y, z in raw.vert_properties[:, :3].tolist()]
    vertices = sorted(set(places))
    number = {place: i for i, place in enumerate(vertices)}
    triangles: list[Triangle] = []
    for corners in raw.tri_verts.tolist():
        a, b, c = (number[places[corner]] for corner in corners)
        if len({a, b, c}) == 3:
            triangles.append(min((a, b, c), (b, c, a), (c, a, b)))
    return Mesh(vertices=tuple(vertices), triangles=tuple(sorted(triangles)))


def _snapped(value_mm: float) -> float:
    """Return a coordinate on the grid on which vertices are compared; in mm and never minus zero."""
    return round(value_mm / _SAME_MM) * _SAME_MM + 0.0
