"""What a kind of room is made of: walls that face a way in plan, tops, columns where walls meet or end, and figures.

A plan is drawn as seen from above by someone who faces the back wall: x to the right, y to the back, so that the
front of the room has y below 0. Sizes in it are nominal, to draw a sketch by and to begin a reckoning with.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from nookwright.stages.inputs.survey import RoomKind, SurfaceName

Axes = tuple[int, int, int]
"""The coordinate a surface gives, and the two it is a function of (0 = x, 1 = y, 2 = z)."""

Pair = tuple[str, str]

LEAST_TURN = 0.2
"""Two walls that turn less than this from each other, as a sine, do not hold a column in place: a corner of 168 to
192 degrees. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """A wall of the plan.

    Args:
        name: as the field book names it, for example `back` or `left cheek`.
        facing_deg: which way the room lies, seen from the wall: 0 to the right, -90 to the front. [deg]
        ends: the columns at its left and right end, seen from the room.
        told: as a person says it, for example `left wall`.
    """

    name: SurfaceName
    facing_deg: float
    ends: Pair
    told: str

    @property
    def facing(self) -> tuple[float, float]:
        """The same as a direction of length 1 in plan."""
        return math.cos(math.radians(self.facing_deg)), math.sin(math.radians(self.facing_deg))

    @property
    def axes(self) -> Axes:
        """The axis nearer to the way it faces, then the two others; x when both are as near."""
        x, y = self.facing
        return (0, 1, 2) if abs(x) > abs(y) - 1e-9 else (1, 0, 2)

    @property
    def into_room(self) -> int:
        """Which way along its own axis the room lies: 1 or -1."""
        return 1 if self.facing[self.axes[0]] > 0 else -1

    @property
    def tilt(self) -> float:
        """Nominal change of its own coordinate along the other one in plan: 0 for a wall along an axis."""
        across, along, _ = self.axes
        tilt = -self.facing[along] / self.facing[across]
        return 0.0 if abs(tilt) < 1e-12 else tilt


@dataclass(frozen=True, slots=True, kw_only=True)
class Slope:
    """A sloping surface overhead.

    Args:
        name: as the field book names it.
        rise: the direction of length 1 in plan, along or square to the back wall, in which its pitch is read.
        level_way: what the level direction along it is called, for example `front`.
        heads: the columns over which its height is told.
        ends: two columns whose heights under it tell how it rises.
        rises: 1 when it rises that way, -1 when it falls, 0 when the readings must tell.
    """

    name: SurfaceName
    rise: tuple[float, float]
    level_way: Literal["front", "right"]
    heads: tuple[str, ...]
    ends: Pair
    rises: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A place where spots stand one above the other.

    Args:
        name: for example `BL`.
        told: where it is, for example `back left`.
        walls: the walls its marked spots lie on.
        place: nominal x and y. [mm]
        free: the directions in plan in which no wall holds it.
    """

    name: str
    told: str
    walls: tuple[SurfaceName, ...]
    place: tuple[float, float]
    free: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """A corner whose angle is wanted.

    Args:
        name: for example `back left corner`.
        column: where it is.
        walls: the walls that meet there, the left one first, seen from the room.
        arms: a column further along each of them; the angle at a height is between the two.
    """

    name: str
    column: str
    walls: tuple[SurfaceName, SurfaceName]
    arms: Pair


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A distance that is wanted at every marked height.

    Args:
        name: for example `width at the back`.
        columns: where it is taped from and to.
        walls: the walls it is clear between, left one first; None for a tape's own length.
    """

    name: str
    columns: Pair
    walls: tuple[SurfaceName, SurfaceName] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanLine:
    """Two columns whose direction in plan is nearly nominal, and how to ask for the distance between them.

    Args:
        columns: its ends.
        size: what its length is called, with its article, for example `a width`.
        asked: the tape that would give it, for example `a tape from left to right`; `{spot}` stands for a spot whose
            place hangs on it.
    """

    columns: Pair
    size: str
    asked: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A place in a room where furniture can stand: against a wall, between what stands beside it.

    Args:
        name: as the brief names it, for example `left alcove`.
        ends: the columns at the left and right end of the wall behind it.
        fronts: the columns at the front ends of its side walls.
        roles: what each surface is to the furniture, for example `right` and `left cheek`; a wall that is not there
            has no role. What serves as `ceiling` may be a slope.
        refused: why no furniture can be fitted there; empty when it can.
    """

    name: str
    ends: Pair
    fronts: tuple[str, ...]
    roles: tuple[tuple[str, SurfaceName], ...]
    refused: str = ""

    @property
    def columns(self) -> tuple[str, ...]:
        """The columns beside it."""
        return (*self.ends, *self.fronts)

    @property
    def own_names(self) -> bool:
        """Whether every surface is called there as the field book calls it."""
        return all(role == surface for role, surface in self.roles)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A kind of room with its hand settled.

    Args:
        kind: the kind.
        called: it with its article, for example `an alcove`.
        surfaces: those every such room has.
        optional: those it has only when a reading mentions them.
        walls: the walls by name, from left to right.
        slopes: the sloping surfaces by name.
        columns: the columns by name.
        tops: the surface that each top letter stands for.
        outline: the columns from left to right as one walks along the walls, to draw the plan by.
        closed: whether the walls go all round the room.
        places: where furniture can stand.
        level_from: the column at whose foot heights begin; empty for that of the origin.
        frame: the column of the origin, and the one the x axis runs to.
        lines: which columns stand nearly where they should, seen from each other.
        corners: the corners whose angles are wanted.
        spans: the widths and depths wanted, widths first.
        feet: the columns at which the floor is read first.
        head: two columns half way between which the ceiling's height is told.
    """

    kind: RoomKind
    called: str
    surfaces: tuple[SurfaceName, ...]
    optional: tuple[SurfaceName, ...]
    walls: dict[SurfaceName, Wall]
    slopes: dict[SurfaceName, Slope]
    columns: dict[str, Column]
    tops: dict[str, SurfaceName]
    outline: tuple[str, ...]
    frame: Pair
    lines: tuple[PlanLine, ...]
    corners: tuple[Corner, ...]
    spans: tuple[Span, ...]
    feet: tuple[str, ...]
    head: Pair
    closed: bool = False
    places: tuple[Place, ...] = ()
    level_from: str = ""

    @property
    def origin(self) -> str:
        """Name of the spot that is the room's origin on plan."""
        return f"{self.frame[0]}0"

    @property
    def datum(self) -> str:
        """Name of the spot from which heights count."""
        return f"{self.level_from or self.frame[0]}0"

    def may_have(self, surface: str) -> bool:
        """Return whether such a room can have this surface."""
        return surface in self.surfaces or surface in self.optional

    def axes(self, surface: SurfaceName) -> Axes:
        """Return the coordinate a surface gives, and the two it is a function of."""
        return self.walls[surface].axes if surface in self.walls else (2, 0, 1)

    def into_room(self, surface: SurfaceName) -> int:
        """Return which way along its own axis the room lies, seen from the surface: 1 or -1."""
        return self.walls[surface].into_room if surface in self.walls else 1 if surface == "floor" else -1

    def corner_between(self, walls: Sequence[SurfaceName]) -> Corner | None:
        """Return the corner where two walls meet, named in either order; None when they do not."""
        return next((corner for corner in self.corners if set(corner.walls) == set(walls)), None)

    def nominal_deg(self, corner: Corner) -> float:
        """Return a corner's nominal angle inside the room: above 180 for an outside corner. [deg]"""
        first, second = (self.walls[name].facing_deg for name in corner.walls)
        return (second - first + 180) % 360

    def told(self, surface: SurfaceName) -> str:
        """Return a surface as a person says it."""
        return self.walls[surface].told if surface in self.walls else surface

    def taken_apart(self, spot: str) -> Pair:
        """Return a spot's column and level; the column is empty when the room has none of that name."""
        for size in range(len(spot), 0, -1):
            if spot[:size] in self.columns:
                return spot[:size], spot[size:]
        return "", spot


_SIDES = {"left": "right", "right": "left"}
_LETTERS = {"L": "R", "R": "L"}


def across(name: str) -> str:
    """Return a column, a spot, a surface or words as seen in a mirror: left and right change places."""
    if any(side in name for side in _SIDES):
        return " ".join(_SIDES.get(word, word) for word in name.split(" "))
    return name[0] + _LETTERS[name[1]] + name[2:] if name[1:2] in _LETTERS else name


def mirrored(shape: Shape) -> Shape:
    """Return the same kind of room with left and right changed over; its origin stays at the left."""
    first, last = (shape.columns[name].place[0] for name in shape.frame)
    return replace(
        shape,
        surfaces=tuple(across(name) for name in shape.surfaces),
        walls={across(name): _wall_across(wall) for name, wall in reversed(shape.walls.items())},
        slopes={across(name): _slope_across(slope) for name, slope in shape.slopes.items()},
        columns={name: _column_across(name, shape, first + last) for name in sorted(map(across, shape.columns))},
        tops={letter: across(name) for letter, name in shape.tops.items()},
        outline=tuple(across(name) for name in reversed(shape.outline)),
        lines=tuple(replace(line, columns=_flipped(line.columns)) for line in shape.lines),
        corners=tuple(_corner_across(corner) for corner in reversed(shape.corners)),
        spans=tuple(sorted(map(_span_across, shape.spans), key=lambda span: (span.walls is None, span.name))),
        feet=tuple(sorted(map(across, shape.feet))),
        head=_flipped(shape.head),
        places=tuple(_place_across(place) for place in reversed(shape.places)),
    )


def laid_along(shape: Shape, place: Place) -> Shape:
    """Return the same room as seen by someone who faces the wall of a place: the x axis runs along that wall.

    Heights still begin where they did.
    """
    wall = shape.walls[dict(place.roles)["back"]]
    if place.ends == shape.frame and wall.facing_deg == -90.0:
        return shape
    turn_deg = -90.0 - wall.facing_deg
    walls = {name: replace(one, facing_deg=_turned_deg(one, turn_deg)) for name, one in shape.walls.items()}
    x0, y0 = shape.columns[place.ends[0]].place
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    columns = {}
    for name, column in shape.columns.items():
        dx, dy = column.place[0] - x0, column.place[1] - y0
        there = (round(cos * dx - sin * dy, 6), round(sin * dx + cos * dy, 6))
        free = free_directions([walls[wall] for wall in column.walls])
        columns[name] = replace(column, place=there, free=free)
    return replace(shape, walls=walls, columns=columns, frame=place.ends, level_from=shape.datum[:-1])


def _turned_deg(wall: Wall, turn_deg: float) -> float:
    """Return which way a wall faces when the room is turned: above -180, up to 180. [deg]"""
    return -((-wall.facing_deg - turn_deg + 180.0) % 360.0 - 180.0)


def _flipped(names: Pair) -> Pair:
    """Return a pair seen in a mirror, left one first again."""
    return across(names[1]), across(names[0])


def _wall_across(wall: Wall) -> Wall:
    turned = 180 - wall.facing_deg % 360  # above -180, up to 180
    return Wall(name=across(wall.name), facing_deg=turned, ends=_flipped(wall.ends), told=across(wall.told))


def _place_across(place: Place) -> Place:
    return replace(
        place,
        name=across(place.name),
        ends=_flipped(place.ends),
        fronts=tuple(across(name) for name in reversed(place.fronts)),
        roles=tuple((across(role), across(surface)) for role, surface in place.roles),
    )


def _slope_across(slope: Slope) -> Slope:
    """A slope's pitch is still read to the right; it then falls where it rose."""
    rises = -slope.rises if slope.rise[0] else slope.rises
    heads = tuple(sorted(map(across, slope.heads)))
    ends = _flipped(slope.ends) if slope.rise[0] else (across(slope.ends[0]), across(slope.ends[1]))
    return replace(slope, name=across(slope.name), heads=heads, ends=ends, rises=rises)


def _column_across(name: str, shape: Shape, width_mm: float) -> Column:
    column = shape.columns[across(name)]
    x, y = column.place
    return Column(
        name=name,
        told=across(column.told),
        walls=tuple(across(wall) for wall in column.walls),
        place=(width_mm - x, y),
        free=tuple((x, -y) if x * y else (x, y) for x, y in column.free),
    )


def free_directions(walls: Sequence[Wall]) -> tuple[tuple[float, float], ...]:
    """Return the directions of length 1 in plan in which a column against these walls can still move."""
    if not walls:
        return (1.0, 0.0), (0.0, 1.0)
    first_x, first_y = walls[0].facing
    turns = (abs(first_x * wall.facing[1] - first_y * wall.facing[0]) for wall in walls[1:])
    if any(turn > LEAST_TURN for turn in turns):
        return ()
    along = (abs(first_y), abs(first_x)) if first_x * first_y <= 0 else (first_y, -first_x)
    return ((round(along[0], 12), round(along[1], 12)),)


def _corner_across(corner: Corner) -> Corner:
    return Corner(
        name=across(corner.name),
        column=across(corner.column),
        walls=_flipped(corner.walls),
        arms=_flipped(corner.arms),
    )


def _span_across(span: Span) -> Span:
    walls = None if span.walls is None else _flipped(span.walls)
    columns = span.columns if walls is None else (span.columns[1], span.columns[0])
    return Span(name=across(span.name), columns=(across(columns[0]), across(columns[1])), walls=walls)
