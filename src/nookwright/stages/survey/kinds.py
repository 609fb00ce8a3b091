"""The kinds of room as data: their surfaces, and the columns where walls meet or end."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.stages.inputs.survey import RoomKind, Side, SurfaceName

WALLS: tuple[SurfaceName, ...] = ("back", "left", "right")

AXES: dict[SurfaceName, tuple[int, int, int]] = {
    "back": (1, 0, 2),
    "left": (0, 1, 2),
    "right": (0, 1, 2),
    "floor": (2, 0, 1),
    "slope": (2, 0, 1),
    "ceiling": (2, 0, 1),
}
"""For each surface: the coordinate it gives, and the two it is a function of (0 = x, 1 = y, 2 = z)."""

INTO_ROOM: dict[SurfaceName, int] = {"back": -1, "left": 1, "right": -1, "floor": 1, "slope": -1, "ceiling": -1}
"""Which way along its own axis the room lies, seen from the surface."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A place where spots stand one above the other.

    Args:
        name: `BL`, `BR`, `FL` or `FR`.
        walls: the walls its marked spots lie on.
        side: left or right, seen facing the back wall.
        front: whether it stands at the front.
    """

    name: str
    walls: tuple[SurfaceName, ...]
    side: Side
    front: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A kind of room with its hand settled.

    Args:
        surfaces: those every such room has.
        optional: those it has only when a reading mentions them.
        columns: the columns by name.
        tops: the surface that each top letter stands for.
        low_side: the side the slope is low at, when the kind itself tells; None when the readings must.
    """

    surfaces: tuple[SurfaceName, ...]
    optional: tuple[SurfaceName, ...]
    columns: dict[str, Column]
    tops: dict[str, SurfaceName]
    low_side: Side | None = None

    def may_have(self, surface: str) -> bool:
        """Return whether such a room can have this surface."""
        return surface in self.surfaces or surface in self.optional


def opposite(side: Side) -> Side:
    """Return the other side."""
    return "right" if side == "left" else "left"


def shape_of(kind: RoomKind, corner: Side) -> Shape:
    """Return the surfaces and columns of a room.

    Args:
        kind: an alcove between two side walls; the corner of a room under a sloping ceiling; a space under a stair.
        corner: the side whose wall the corner has; under a stair the side where the soffit comes down to the floor
            and no wall stands.

    Returns:
        The room's shape.
    """
    if kind == "alcove":
        return Shape(
            surfaces=("floor", "back", "left", "right"),
            optional=("ceiling",),
            columns=_columns(("left", "right")),
            tops={"T": "ceiling"},
        )
    if kind == "corner-under-slope":
        return Shape(
            surfaces=("floor", "back", corner, "slope"),
            optional=("ceiling",),
            columns=_columns((corner,)),
            tops={"S": "slope", "T": "ceiling"},
        )
    return Shape(
        surfaces=("floor", "back", opposite(corner), "slope"),
        optional=(),
        columns=_columns((opposite(corner),)),
        tops={"S": "slope"},
        low_side=corner,
    )


def _columns(side_walls: tuple[Side, ...]) -> dict[str, Column]:
    """Return the four columns; one with no side wall carries spots on the back wall, floor and tops only."""
    sides: tuple[Side, ...] = ("left", "right")
    columns: dict[str, Column] = {}
    for front in (False, True):
        for side in sides:
            name = ("F" if front else "B") + side[0].upper()
            back: tuple[SurfaceName, ...] = () if front else ("back",)
            beside: tuple[SurfaceName, ...] = (side,) if side in side_walls else ()
            columns[name] = Column(name=name, walls=back + beside, side=side, front=front)
    return columns
