"""Axes, angle sign, left and right: stated once.

One right-handed frame a room. Stand facing the back wall: x runs to the right along it, z runs up,
and y runs INTO the wall, so the room lies where y is below 0. The origin is spot `BL0`: the floor at the
back left corner. `out_mm` is the distance out from the back wall's line and equals -y.

Angles are in radians here, counter-clockwise seen against the axis they turn about. Left and right are
always those of someone facing the back wall from inside the room.
"""

from __future__ import annotations

from dataclasses import dataclass

Point2 = tuple[float, float]
Point3 = tuple[float, float, float]


def add(a: Point3, b: Point3) -> Point3:
    """Return a + b."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def scaled(a: Point3, by: float) -> Point3:
    """Return a times a number."""
    return (a[0] * by, a[1] * by, a[2] * by)


def cross(a: Point3, b: Point3) -> Point3:
    """Return the cross product a x b."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def dot(a: Point3, b: Point3) -> float:
    """Return the dot product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where a board stands in the room: an origin and two unit axes along its face A.

    Args:
        origin: the board's own (0, 0, 0) in the room. [mm]
        u: unit vector along the board's length (its grain when it has one).
        v: unit vector across it. The board's thickness runs from face A along -(u x v),
            so that face A is the face one looks at with u to the right and v up.
    """

    origin: Point3
    u: Point3
    v: Point3

    @property
    def out_of_face(self) -> Point3:
        """Unit vector out of face A, towards the viewer."""
        return cross(self.u, self.v)

    def to_room(self, u_mm: float, v_mm: float, depth_mm: float = 0.0) -> Point3:
        """Return the room point at (u, v) and `depth_mm` below face A. [mm]"""
        point = add(self.origin, add(scaled(self.u, u_mm), scaled(self.v, v_mm)))
        return add(point, scaled(self.out_of_face, -depth_mm))
