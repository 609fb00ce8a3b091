"""The shape of a room of any plan, from its corners in order with their rough angles."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from nookwright.solvers.linear_fit import Vector
from nookwright.stages.inputs.survey import PlanCorner
from nookwright.stages.survey.shape import Column, Corner, PlanLine, Shape, Span, Wall, free_directions

FREE_PLAN = "free-plan"

USUAL_WALL_MM = 2000.0
"""Length of a wall before anything is read. [mm] Common practice, no source."""

LEAST_SHARE = 0.2
"""No wall of the nominal plan is shorter than this share of a usual one."""

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
            PlanLine(columns=wall.ends, size=f"length of wall {wall.name}", asked="a tape along it") for wall in walls
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
    )


def _places(facings: Sequence[float]) -> list[tuple[float, float]]:
    """Return where the corners stand: walls as nearly alike in length as a closed plan allows. [mm]"""
    ways = np.array([(-math.sin(math.radians(facing)), math.cos(math.radians(facing))) for facing in facings])
    lengths = USUAL_WALL_MM * _lengths(ways)
    ends = np.cumsum(lengths[:, None] * ways, axis=0)
    starts = np.vstack([np.zeros(2), ends[:-1]])
    return [(round(float(x), 6), round(float(y), 6)) for x, y in starts]


def _lengths(ways: Vector) -> Vector:
    """Return the shares of a usual wall that close the plan, each as near to 1 as can be; none under a fifth."""
    held = np.zeros(len(ways), dtype=bool)
    shares = np.ones(len(ways))
    for _ in ways:
        free = ~held
        shares[held] = LEAST_SHARE
        missing = -(ways[held].T @ shares[held]) - ways[free].sum(axis=0)
        shares[free] = 1 + np.linalg.pinv(ways[free].T) @ missing
        if not np.any(shares[free] < LEAST_SHARE) or free.sum() <= 2:
            break
        held[int(np.argmin(np.where(free, shares, np.inf)))] = True
    return np.maximum(shares, LEAST_SHARE)
