"""The kinds of room, as data: a new kind is a new entry here and a field list, nothing else.

Each is drawn with its corner or low end on the left; on the right it is the mirror image. Sizes are nominal: common
practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

from nookwright.stages.inputs.survey import RoomKind, Side, SurfaceName
from nookwright.stages.survey.free_plan import L_ROOM, free_shape
from nookwright.stages.survey.shape import (
    Column,
    Corner,
    Pair,
    Place,
    PlanLine,
    Shape,
    Slope,
    Span,
    Wall,
    free_directions,
    mirrored,
)

RIGHT, FRONT, LEFT = 0.0, -90.0, 180.0
"""Which way a wall faces. [deg]"""

_TOLD = {
    "BL": "back left",
    "BR": "back right",
    "FL": "front left",
    "FR": "front right",
    "CL": "left cheek at the back wall",
    "NL": "left nose of the breast",
    "NR": "right nose of the breast",
    "CR": "right cheek at the back wall",
    "FM": "front, in the room",
    "MR": "right, in the room",
}
_LEFT_WALL = Wall(name="left", facing_deg=RIGHT, ends=("FL", "BL"), told="left wall")
_BACK_WALL = Wall(name="back", facing_deg=FRONT, ends=("BL", "BR"), told="back wall")
_RIGHT_WALL = Wall(name="right", facing_deg=LEFT, ends=("BR", "FR"), told="right wall")

_BACK_LEFT = Corner(name="back left corner", column="BL", walls=("left", "back"), arms=("FL", "BR"))
_BACK_RIGHT = Corner(name="back right corner", column="BR", walls=("back", "right"), arms=("BL", "FR"))

_WIDTHS = (
    Span(name="width at the back", columns=("BL", "BR"), walls=("left", "right")),
    Span(name="width at the front", columns=("FL", "FR"), walls=("left", "right")),
)
_DEPTHS = (
    Span(name="depth on the left", columns=("BL", "FL")),
    Span(name="depth on the right", columns=("BR", "FR")),
)


def _line(first: str, second: str, size: str, asked: str) -> PlanLine:
    return PlanLine(columns=(first, second), size=size, asked=asked)


def _four_lines() -> tuple[PlanLine, ...]:
    """Return the sides of a plan of four columns."""
    depth = "a tape from the back to the front, as {spot} is in front"
    return (
        _line("BL", "BR", "a width", "a tape from left to right"),
        _line("BL", "FL", "a depth", depth),
        _line("BR", "FR", "a depth", depth),
        _line("FL", "FR", "a width", "a tape from left to right"),
    )


def _columns(walls: tuple[Wall, ...], places: dict[str, tuple[float, float]]) -> dict[str, Column]:
    """Return the columns at their places; each stands against the walls that end at it."""
    found = {}
    for name, place in places.items():
        its = sorted((wall for wall in walls if name in wall.ends), key=lambda wall: "back" not in wall.name)
        names = tuple(wall.name for wall in its)
        found[name] = Column(name=name, told=_TOLD[name], walls=names, place=place, free=free_directions(its))
    return found


def _four_columns(walls: tuple[Wall, ...], width_mm: float, depth_mm: float) -> dict[str, Column]:
    places = {"BL": (0.0, 0.0), "BR": (width_mm, 0.0), "FL": (0.0, -depth_mm), "FR": (width_mm, -depth_mm)}
    return _columns(walls, places)


def _by_name(walls: tuple[Wall, ...]) -> dict[SurfaceName, Wall]:
    return {wall.name: wall for wall in walls}


def _at_the_back(*surfaces: SurfaceName, fronts: Pair = ("FL", "FR")) -> tuple[Place, ...]:
    """Return the one place along the back wall, where each surface is to the furniture what it is called."""
    roles = tuple((name, name) for name in ("back", *surfaces))
    return (Place(name="back wall", ends=_FRAME, fronts=fronts, roles=roles),)


_FRAME: Pair = ("BL", "BR")
_FEET = ("BL", "BR", "FL", "FR")
_OUTLINE = ("FL", "BL", "BR", "FR")
_SLOPE = Slope(name="slope", rise=(1.0, 0.0), level_way="front", heads=("BL", "BR"), ends=("BL", "BR"))

_ALCOVE_WALLS = (_LEFT_WALL, _BACK_WALL, _RIGHT_WALL)
_ALCOVE = Shape(
    kind="alcove",
    called="an alcove",
    surfaces=("floor", "back", "left", "right"),
    optional=("ceiling",),
    walls=_by_name(_ALCOVE_WALLS),
    slopes={},
    columns=_four_columns(_ALCOVE_WALLS, 1200.0, 600.0),
    tops={"T": "ceiling"},
    outline=_OUTLINE,
    frame=_FRAME,
    lines=_four_lines(),
    corners=(_BACK_LEFT, _BACK_RIGHT),
    spans=(*_WIDTHS, *_DEPTHS),
    feet=_FEET,
    head=_FRAME,
    places=_at_the_back("left", "right"),
)

_CORNER_WALLS = (_LEFT_WALL, _BACK_WALL)
_CORNER = Shape(
    kind="corner-under-slope",
    called="the corner of a room under a sloping ceiling",
    surfaces=("floor", "back", "left", "slope"),
    optional=("ceiling",),
    walls=_by_name(_CORNER_WALLS),
    slopes={"slope": _SLOPE},
    columns=_four_columns(_CORNER_WALLS, 1800.0, 600.0),
    tops={"S": "slope", "T": "ceiling"},
    outline=_OUTLINE,
    frame=_FRAME,
    lines=_four_lines(),
    corners=(_BACK_LEFT,),
    spans=_DEPTHS,
    feet=_FEET,
    head=_FRAME,
    places=_at_the_back("left", "slope"),
)

_STAIR_WALLS = (_BACK_WALL, _RIGHT_WALL)
_STAIR = Shape(
    kind="under-stair",
    called="the space under a stair",
    surfaces=("floor", "back", "right", "slope"),
    optional=(),
    walls=_by_name(_STAIR_WALLS),
    slopes={"slope": replace(_SLOPE, rises=1)},
    columns=_four_columns(_STAIR_WALLS, 2000.0, 800.0),
    tops={"S": "slope"},
    outline=_OUTLINE,
    frame=_FRAME,
    lines=_four_lines(),
    corners=(_BACK_RIGHT,),
    spans=_DEPTHS,
    feet=_FEET,
    head=_FRAME,
    places=_at_the_back("right", "slope"),
)

_BAY_WALLS = (
    Wall(name="left", facing_deg=-45.0, ends=("FL", "BL"), told="left wall"),
    _BACK_WALL,
    Wall(name="right", facing_deg=-135.0, ends=("BR", "FR"), told="right wall"),
)
_SIDE = "a tape along the side wall"
_BAY = Shape(
    kind="bay",
    called="a bay",
    surfaces=("floor", "back", "left", "right"),
    optional=("ceiling",),
    walls=_by_name(_BAY_WALLS),
    slopes={},
    columns=_columns(
        _BAY_WALLS, {"BL": (0.0, 0.0), "BR": (1400.0, 0.0), "FL": (-500.0, -500.0), "FR": (1900.0, -500.0)}
    ),
    tops={"T": "ceiling"},
    outline=_OUTLINE,
    frame=_FRAME,
    lines=(
        _line("BL", "BR", "a width", "a tape from left to right"),
        _line("BL", "FL", "the length of the left wall", _SIDE),
        _line("BR", "FR", "the length of the right wall", _SIDE),
        _line("FL", "FR", "the width of the mouth", "a tape across the mouth"),
    ),
    corners=(_BACK_LEFT, _BACK_RIGHT),
    spans=(
        Span(name="width at the back", columns=("BL", "BR")),
        Span(name="width of the mouth", columns=("FL", "FR")),
        Span(name="length of the left wall", columns=("BL", "FL")),
        Span(name="length of the right wall", columns=("BR", "FR")),
    ),
    feet=_FEET,
    head=_FRAME,
    places=_at_the_back("left", "right"),
)

_TWIN_WALLS = (
    _LEFT_WALL,
    Wall(name="left back", facing_deg=FRONT, ends=("BL", "CL"), told="left back wall"),
    Wall(name="left cheek", facing_deg=LEFT, ends=("CL", "NL"), told="left cheek"),
    Wall(name="breast", facing_deg=FRONT, ends=("NL", "NR"), told="breast"),
    Wall(name="right cheek", facing_deg=RIGHT, ends=("NR", "CR"), told="right cheek"),
    Wall(name="right back", facing_deg=FRONT, ends=("CR", "BR"), told="right back wall"),
    _RIGHT_WALL,
)
_TWIN = Shape(
    kind="twin-alcoves",
    called="a chimney breast with two alcoves",
    surfaces=("floor", *(wall.name for wall in _TWIN_WALLS)),
    optional=("ceiling",),
    walls=_by_name(_TWIN_WALLS),
    slopes={},
    columns=_columns(
        _TWIN_WALLS,
        {
            "BL": (0.0, 0.0),
            "CL": (900.0, 0.0),
            "NL": (900.0, -350.0),
            "NR": (2300.0, -350.0),
            "CR": (2300.0, 0.0),
            "BR": (3200.0, 0.0),
            "FL": (0.0, -500.0),
            "FR": (3200.0, -500.0),
        },
    ),
    tops={"T": "ceiling"},
    outline=("FL", "BL", "CL", "NL", "NR", "CR", "BR", "FR"),
    frame=_FRAME,
    lines=(
        _line("BL", "CL", "the width of the left alcove", "a tape along its back wall"),
        _line("CL", "NL", "the depth of the left cheek", "a tape along it"),
        _line("NL", "NR", "the width of the breast", "a tape along its face"),
        _line("CR", "NR", "the depth of the right cheek", "a tape along it"),
        _line("CR", "BR", "the width of the right alcove", "a tape along its back wall"),
        _line("BL", "FL", "the depth on the left", "a tape from the back to the front"),
        _line("BR", "FR", "the depth on the right", "a tape from the back to the front"),
        _line("FL", "FR", "the width of the room", "a tape across the front of the breast"),
        _line("BL", "BR", "the width of the room", "a tape across the front of the breast"),
    ),
    corners=(
        Corner(name="back left corner", column="BL", walls=("left", "left back"), arms=("FL", "CL")),
        Corner(name="left cheek corner", column="CL", walls=("left back", "left cheek"), arms=("BL", "NL")),
        Corner(name="left nose", column="NL", walls=("left cheek", "breast"), arms=("CL", "NR")),
        Corner(name="right nose", column="NR", walls=("breast", "right cheek"), arms=("NL", "CR")),
        Corner(name="right cheek corner", column="CR", walls=("right cheek", "right back"), arms=("NR", "BR")),
        Corner(name="back right corner", column="BR", walls=("right back", "right"), arms=("CR", "FR")),
    ),
    spans=(
        Span(name="width of the left alcove at the back", columns=("BL", "CL"), walls=("left", "left cheek")),
        Span(name="width of the left alcove at the front", columns=("FL", "NL"), walls=("left", "left cheek")),
        Span(name="width of the right alcove at the back", columns=("CR", "BR"), walls=("right cheek", "right")),
        Span(name="width of the right alcove at the front", columns=("NR", "FR"), walls=("right cheek", "right")),
        Span(name="width of the breast", columns=("NL", "NR")),
        Span(name="width of the room at the front", columns=("FL", "FR"), walls=("left", "right")),
        Span(name="depth of the left cheek", columns=("CL", "NL")),
        Span(name="depth of the right cheek", columns=("CR", "NR")),
        *_DEPTHS,
    ),
    feet=_FEET,
    head=("BL", "CL"),
    places=(
        Place(
            name="left alcove",
            ends=("BL", "CL"),
            fronts=("FL", "NL"),
            roles=(("back", "left back"), ("left", "left"), ("right", "left cheek")),
        ),
        Place(
            name="right alcove",
            ends=("CR", "BR"),
            fronts=("NR", "FR"),
            roles=(("back", "right back"), ("left", "right cheek"), ("right", "right")),
        ),
    ),
)

_TWO_SLOPES_WALLS = (_LEFT_WALL, _BACK_WALL)
_TWO_SLOPES = Shape(
    kind="corner-two-slopes",
    called="the corner of a room under two slopes",
    surfaces=("floor", "back", "left", "left slope", "back slope"),
    optional=("ceiling",),
    walls=_by_name(_TWO_SLOPES_WALLS),
    slopes={
        "left slope": Slope(
            name="left slope", rise=(1.0, 0.0), level_way="front", heads=("BL", "FL"), ends=("FL", "FM"), rises=1
        ),
        "back slope": Slope(
            name="back slope", rise=(0.0, -1.0), level_way="right", heads=("BL", "BR"), ends=("BR", "MR"), rises=1
        ),
    },
    columns=_columns(
        _TWO_SLOPES_WALLS,
        {
            "BL": (0.0, 0.0),
            "BR": (1600.0, 0.0),
            "FL": (0.0, -1600.0),
            "FM": (700.0, -1600.0),
            "MR": (1600.0, -700.0),
        },
    ),
    tops={"S": "left slope", "B": "back slope", "T": "ceiling"},
    outline=("FM", "FL", "BL", "BR", "MR"),
    frame=_FRAME,
    lines=(
        _line("BL", "BR", "a width", "a tape along the back wall"),
        _line("BL", "FL", "a depth", "a tape along the side wall"),
        _line("FL", "FM", "the place of FM", "a tape out from the side wall"),
        _line("BR", "MR", "the place of MR", "a tape out from the back wall"),
    ),
    corners=(_BACK_LEFT,),
    spans=(Span(name="width at the back", columns=("BL", "BR")), Span(name="depth on the left", columns=("BL", "FL"))),
    feet=("BL", "BR", "FL", "FM", "MR"),
    head=("BR", "FL"),
    places=(
        Place(
            name="back wall",
            ends=_FRAME,
            fronts=("FL", "MR"),
            roles=(("back", "back"), ("left", "left"), ("slope", "left slope"), ("ceiling", "back slope")),
        ),
    ),
)

_ALL = (_ALCOVE, _CORNER, _STAIR, _BAY, _TWIN, _TWO_SLOPES, free_shape(L_ROOM))
SHAPES: dict[RoomKind, Shape] = {shape.kind: shape for shape in _ALL}
"""Each kind with its corner or low end on the left; the free plan, whose corners the user names, as an L."""

HANDED = ("corner-under-slope", "under-stair", "corner-two-slopes")
"""Kinds that are not their own mirror image."""


def kind_shape(kind: RoomKind, corner: Side = "left") -> Shape:
    """Return the shape of a kind that has one.

    Args:
        kind: one of `SHAPES`.
        corner: the side of the corner that a handed kind has, or of the stair's low end.

    Returns:
        Its walls, columns and figures, with a nominal plan.
    """
    shape = SHAPES[kind]
    return mirrored(shape) if corner == "right" and kind in HANDED else shape
