"""The shape of a room of any plan, from its corners in order with their rough angles."""

from __future__ import annotations

import math
from collections.abc import Sequence

from nookwright.stages.inputs.survey import PlanCorner
from nookwright.stages.survey.shape import Column, Corner, Place, PlanLine, Shape, Span, Wall, free_directions

FREE_PLAN = "free-plan"

Way = tuple[float, float]

USUAL_WALL_MM = 2000.0
"""Length of a wall before anything is read. [mm] Common practice, no source."""

LEAST_SHARE = 0.2
"""No wall of the nominal plan is shorter than this share of a usual one."""

NEAR_SQUARE_DEG = 45.0
"""A wall this far from square to the one furniture stands at still stands beside it. Computed: beyond it the wall runs
more along the furniture than out from it."""

L_ROOM = tuple(
    PlanCorner(name=name, angle_deg=angle) for name, angle in zip("ABCDEF", (90, 90, 90, 270, 90, 90), strict=True)
)
"""The plan a new job starts from: a room with one corner taken out of it."""


def closes_by_deg(corners: Sequence[PlanCorner]) -> float:
    """Return by how much the angles of a plan add up to too many degrees for a closed one. [deg]"""
    return sum(corner.angle_deg for corner in corners) - 180.0 * (len(corners) - 2)


def free_shape(corners: tuple[PlanCorner, ...]) -> Shape:
    """Return the shape of a closed room.

    Its first wall, from the first corner to the second, lies along x. Walls are named by their two corners.

    Args:
        corners: in order round the room, left to right for someone inside who faces the walls; three or more.

    Returns:
        The shape; what its angles lack of a closed plan is shared out.
    """
    names = [corner.name for corner in corners]
    off = closes_by_deg(corners) / len(corners)
    facings = [-90.0]
    for corner in corners[1:]:
        facings.append(facings[-1] + corner.angle_deg - off - 180.0)
    places = _places(facings)
    nexts = [*names[1:], names[0]]
    walls = tuple(
        Wall(name=a + b, facing_deg=-((-facing + 180) % 360 - 180), ends=(a, b), told=f"wall {a}{b}")
        for a, b, facing in zip(names, nexts, facings, strict=True)
    )
    columns = {}
    for i, name in enumerate(names):
        its = (walls[i], walls[i - 1])
        columns[name] = Column(
            name=name,
            told=f"corner {name}",
            walls=tuple(wall.name for wall in its),
            place=places[i],
            free=free_directions(its),
        )
    return Shape(
        kind=FREE_PLAN,
        called="a room of any plan",
        surfaces=("floor", *(wall.name for wall in walls)),
        optional=("ceiling",),
        walls={wall.name: wall for wall in walls},
        slopes={},
        columns=columns,
        tops={"T": "ceiling"},
        outline=tuple(names),
        closed=True,
        frame=(names[0], names[1]),
        lines=tuple(
            PlanLine(columns=wall.ends, size=f"the length of wall {wall.name}", asked="a tape along it")
            for wall in walls
        ),
        corners=tuple(
            Corner(
                name=f"corner {name}",
                column=name,
                walls=(walls[i - 1].name, walls[i].name),
                arms=(names[i - 1], nexts[i]),
            )
            for i, name in enumerate(names)
        ),
        spans=tuple(Span(name=f"length of wall {wall.name}", columns=wall.ends) for wall in walls),
        feet=tuple(names),
        head=(names[0], names[len(names) // 2]),
        places=tuple(_place(walls, i, corners) for i in range(len(walls))),
    )


def _place(walls: tuple[Wall, ...], i: int, corners: tuple[PlanCorner, ...]) -> Place:
    """Return the place along a wall, between the walls before and after it where those stand beside it."""
    wall, around = walls[i], {"left": walls[i - 1], "right": walls[(i + 1) % len(walls)]}
    angles = {"left": corners[i].angle_deg, "right": corners[(i + 1) % len(corners)].angle_deg}
    beside = {side: around[side] for side, angle in angles.items() if angle < 180.0}
    odd = next((side for side in beside if abs(angles[side] - 90.0) > NEAR_SQUARE_DEG), None)
    refused = ""
    if odd is not None:
        refused = f"{beside[odd].told} stands at {angles[odd]:g} degrees to it, and furniture needs 45 to 135"
    fronts = [wall.ends[0] if side == "left" else wall.ends[1] for side, wall in beside.items()]
    return Place(
        name=wall.told,
        ends=wall.ends,
        fronts=tuple(fronts),
        roles=(("back", wall.name), *((side, one.name) for side, one in beside.items())),
        refused=refused,
    )


def _places(facings: Sequence[float]) -> list[tuple[float, float]]:
    """Return where the corners stand: walls as nearly alike in length as a closed plan allows. [mm]"""
    ways = [(-math.sin(math.radians(facing)), math.cos(math.radians(facing))) for facing in facings]
    x, y, places = 0.0, 0.0, []
    for (along, out), share in zip(ways, _shares(ways), strict=True):
        places.append((round(x, 6), round(y, 6)))
        x, y = x + USUAL_WALL_MM * share * along, y + USUAL_WALL_MM * share * out
    return places


def _shares(ways: Sequence[Way]) -> list[float]:
    """Return the shares of a usual wall that close the plan, each as near to 1 as can be; none under a fifth."""
    held: set[int] = set()
    shares = [1.0] * len(ways)
    while len(held) < len(ways) - 2:
        shares = _closing(ways, held)
        least = min((i for i in range(len(ways)) if i not in held), key=lambda i: shares[i])
        if shares[least] >= LEAST_SHARE:
            break
        held.add(least)
    return [max(share, LEAST_SHARE) for share in shares]


def _closing(ways: Sequence[Way], held: set[int]) -> list[float]:
    """Return the shares that close the plan, those held the least ones, the others with least squares from 1."""
    first = [LEAST_SHARE if i in held else 1.0 for i in range(len(ways))]
    gap_x, gap_y = (sum(share * way[axis] for share, way in zip(first, ways, strict=True)) for axis in (0, 1))
    free = [way for i, way in enumerate(ways) if i not in held]
    xx, xy, yy = (sum(way[a] * way[b] for way in free) for a, b in ((0, 0), (0, 1), (1, 1)))
    size = xx * yy - xy * xy
    pull_x, pull_y = (yy * gap_x - xy * gap_y) / size, (xx * gap_y - xy * gap_x) / size
    return [
        share if i in held else share - way[0] * pull_x - way[1] * pull_y
        for i, (share, way) in enumerate(zip(first, ways, strict=True))
    ]
