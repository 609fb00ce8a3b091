"""Solids: boards with bevelled edges, cut and joined; their volume, bounds and overlap.

The kernel is `manifold3d`: exact in topology, double precision in position. It is imported here and nowhere else.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from manifold3d import Error, Manifold, Mesh64, OpType, triangulate

from nookwright.geometry.frame import Frame, Point2, Point3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Solid:
    """A closed solid; two solids are compared by what they measure, not with `==`.

    Args:
        manifold: the kernel's own form of it. [mm]
    """

    manifold: Manifold

    @property
    def volume_mm3(self) -> float:
        """Its volume in mm3."""
        return float(self.manifold.volume())

    @property
    def empty(self) -> bool:
        """Whether nothing is left of it."""
        return bool(self.manifold.is_empty())

    @property
    def bounds(self) -> tuple[Point3, Point3]:
        """Its lowest and highest x, y and z, in mm."""
        x0, y0, z0, x1, y1, z1 = self.manifold.bounding_box()
        return (x0, y0, z0), (x1, y1, z1)

    def vertices(self) -> tuple[Point3, ...]:
        """Return its vertices in the kernel's order, in mm."""
        return tuple((x, y, z) for x, y, z in self.manifold.to_mesh64().vert_properties[:, :3].tolist())


def slab(*, near: tuple[Point2, ...], far: tuple[Point2, ...], near_mm: float, far_mm: float) -> Solid:
    """Return the solid between two outlines in parallel planes, in a board's own axes.

    The board lies as one looks at its face A: u to the right, v up, and the third axis towards the viewer, so that
    depth below face A runs along minus the third axis. Each side of `near` is parallel to the same side of `far`,
    so the edge between them is flat.

    Args:
        near: outline nearer the viewer, counter-clockwise. [mm]
        far: the outline farther away, corner for corner. [mm]
        near_mm: depth of `near` below face A. [mm]
        far_mm: depth of `far` below face A; greater than `near_mm`. [mm]

    Returns:
        The solid.

    Raises:
        ValueError: if a side of `far` runs against the same side of `near` (its bevels meet inside the board), or
            the outlines cross themselves.
    """
    count = len(near)
    for i in range(count):
        j = (i + 1) % count
        run = (near[j][0] - near[i][0]) * (far[j][0] - far[i][0]) + (near[j][1] - near[i][1]) * (far[j][1] - far[i][1])
        if run <= 0.0:
            message = f"the bevels beside edge {i} meet inside the board"
            raise ValueError(message)
    points = [(u, v, -near_mm) for u, v in near] + [(u, v, -far_mm) for u, v in far]
    near_cap = triangulate([np.array(near, dtype=np.float64)])
    far_cap = triangulate([np.array(far, dtype=np.float64)])
    triangles = [tuple(corner) for corner in near_cap.tolist()]
    triangles += [(a + count, c + count, b + count) for a, b, c in far_cap.tolist()]
    for i in range(count):
        j = (i + 1) % count
        triangles += [(i, i + count, j + count), (i, j + count, j)]
    manifold = Manifold(Mesh64(np.array(points, dtype=np.float64), np.array(triangles, dtype=np.uint64)))
    if manifold.status() != Error.NoError or manifold.volume() <= 0.0:
        message = f"the outlines do not bound a solid: {manifold.status()}"
        raise ValueError(message)
    return Solid(manifold=manifold)


def box(*, low: Point3, high: Point3) -> Solid:
    """Return the box between its lowest and highest corner, both in mm."""
    size = (high[0] - low[0], high[1] - low[1], high[2] - low[2])
    return Solid(manifold=Manifold.cube(size).translate(low))


def placed(solid: Solid, frame: Frame) -> Solid:
    """Return a solid given in a board's own axes, moved to where its frame stands in the room."""
    u, v, w, origin = frame.u, frame.v, frame.out_of_face, frame.origin
    matrix = np.array([[u[i], v[i], w[i], origin[i]] for i in range(3)], dtype=np.float64)
    return Solid(manifold=solid.manifold.transform(matrix))


def less(solid: Solid, taken: tuple[Solid, ...]) -> Solid:
    """Return a solid with others taken away from it."""
    if not taken:
        return solid
    return Solid(manifold=Manifold.batch_boolean([solid.manifold, *(one.manifold for one in taken)], OpType.Subtract))


def interference_mm3(first: Solid, second: Solid) -> float:
    """Return the volume that two solids both fill, in mm3."""
    return float((first.manifold ^ second.manifold).volume())


def bounds_overlap(first: Solid, second: Solid, least_mm: float) -> bool:
    """Tell whether the bounding boxes of two solids overlap by more than `least_mm` along every axis."""
    (low_1, high_1), (low_2, high_2) = first.bounds, second.bounds
    return all(min(high_1[i], high_2[i]) - max(low_1[i], low_2[i]) > least_mm for i in range(3))


_LOOKING_ALONG: dict[str, tuple[tuple[int, int, int], ...]] = {
    "x": ((0, 1, 0), (0, 0, 1), (1, 0, 0)),
    "y": ((1, 0, 0), (0, 0, 1), (0, -1, 0)),
    "z": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
}
"""For each axis the turn that lays the plane square to it level, its two other coordinates in order."""


def section(solid: Solid, *, axis: Literal["x", "y", "z"], at_mm: float) -> tuple[tuple[Point2, ...], ...]:
    """Return what a plane square to an axis cuts of a solid.

    Args:
        solid: the solid.
        axis: the axis.
        at_mm: where along it; between the solid's faces, for a face's own plane cuts anything or nothing. [mm]

    Returns:
        Outlines in the two other coordinates, in their order: counter-clockwise round the solid (seen with the
        first to the right and the second up), clockwise round a hole; empty when the plane misses it. [mm]
    """
    turn = np.array([(*row, 0) for row in _LOOKING_ALONG[axis]], dtype=np.float64)
    level = -at_mm if axis == "y" else at_mm
    cut = solid.manifold.transform(turn).slice(level).simplify(0.01)
    return tuple(tuple((float(a), float(b)) for a, b in outline) for outline in cut.to_polygons())
