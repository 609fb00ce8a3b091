"""Kinds of room as the simulator knows them, as data: nominal walls and tops, columns, and the ranges of their sizes."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence
from dataclasses import dataclass

from nookwright.stages.inputs.survey import PlanCorner, RoomKind


@dataclass(frozen=True)
class Layout:
    """A kind of room as data, for a corner on the left; a corner on the right is its mirror image.

    Args:
        walls: nominal (normal into the room, place it passes through) of each wall; places are shares.
        tops: the surface each top letter stands for.
        columns: of each column, its walls and its nominal place: x as a share of the width, y of the depth, and what
            x takes of the depth besides.
        width_mm, depth_mm, low_mm, pitch_deg: ranges.
        heights_mm: marked heights.
        rises: the way each slope rises, with the corner on the left.
        frame: the columns that the x axis runs between.
        plan: what the field book says of the corners, where it names them: rough angles.
    """

    walls: dict[str, tuple[tuple[float, float], Shares]]
    tops: dict[str, str]
    columns: dict[str, tuple[tuple[str, ...], Shares]]
    width_mm: tuple[float, float]
    depth_mm: tuple[float, float]
    low_mm: tuple[float, float] = (2300.0, 2500.0)
    pitch_deg: tuple[float, float] = (0.0, 0.0)
    heights_mm: tuple[float, ...] = (300.0, 900.0, 1900.0)
    rises: tuple[tuple[float, float], ...] = ((1.0, 0.0),)
    frame: tuple[str, str] = ("BL", "BR")
    plan: tuple[PlanCorner, ...] = ()

    def column_of(self, spot: str) -> str:
        """Return the column a spot's name begins with; none is the beginning of another."""
        return next((name for name in self.columns if spot.startswith(name)), "")


Shares = tuple[float, float] | tuple[float, float, float]


def place_of(shares: Shares, width_mm: float, depth_mm: float) -> tuple[float, float]:
    """Return a place in plan. [mm]"""
    x, y, *more = shares
    return x * width_mm + sum(more) * depth_mm, y * depth_mm


def _four_columns(sides: Sequence[str]) -> dict[str, tuple[tuple[str, ...], Shares]]:
    found: dict[str, tuple[tuple[str, ...], Shares]] = {}
    for row, out in (("B", 0.0), ("F", -1.0)):
        for letter, side, across in (("L", "left", 0.0), ("R", "right", 1.0)):
            walls = (("back",) if row == "B" else ()) + ((side,) if side in sides else ())
            found[row + letter] = (walls, (across, out))
    return found


SQRT_HALF = math.sqrt(0.5)
BACK, LEFT, RIGHT = ((0.0, -1.0), (0.0, 0.0)), ((1.0, 0.0), (0.0, 0.0)), ((-1.0, 0.0), (1.0, 0.0))

LAYOUTS: dict[RoomKind, Layout] = {
    "alcove": Layout(
        walls={"back": BACK, "left": LEFT, "right": RIGHT},
        tops={"T": "ceiling"},
        columns=_four_columns(("left", "right")),
        width_mm=(900, 1500),
        depth_mm=(450, 800),
        heights_mm=(300.0, 900.0, 1900.0),
    ),
    "corner-under-slope": Layout(
        walls={"back": BACK, "left": LEFT},
        tops={"S": "slope"},
        columns=_four_columns(("left",)),
        width_mm=(1500, 2200),
        depth_mm=(450, 800),
        low_mm=(650, 950),
        pitch_deg=(30, 45),
        heights_mm=(150.0, 500.0, 1200.0),
    ),
    "under-stair": Layout(
        walls={"back": BACK, "right": RIGHT},
        tops={"S": "slope"},
        columns=_four_columns(("right",)),
        width_mm=(1800, 2300),
        depth_mm=(700, 950),
        low_mm=(380, 480),
        pitch_deg=(36, 43),
        heights_mm=(150.0, 900.0, 1500.0),
    ),
    "bay": Layout(
        walls={"back": BACK, "left": ((SQRT_HALF, -SQRT_HALF), (0, 0)), "right": ((-SQRT_HALF, -SQRT_HALF), (1, 0))},
        tops={"T": "ceiling"},
        columns={
            "BL": (("back", "left"), (0, 0)),
            "BR": (("back", "right"), (1, 0)),
            "FL": (("left",), (0, -1, -1)),
            "FR": (("right",), (1, -1, 1)),
        },
        width_mm=(1100, 1800),
        depth_mm=(400, 650),
    ),
    "twin-alcoves": Layout(
        walls={
            "left": LEFT,
            "left back": BACK,
            "left cheek": ((-1, 0), (0.28, 0)),
            "breast": ((0, -1), (0, -0.75)),
            "right cheek": ((1, 0), (0.72, 0)),
            "right back": BACK,
            "right": RIGHT,
        },
        tops={"T": "ceiling"},
        columns={
            "BL": (("left back", "left"), (0, 0)),
            "CL": (("left back", "left cheek"), (0.28, 0)),
            "NL": (("left cheek", "breast"), (0.28, -0.75)),
            "NR": (("breast", "right cheek"), (0.72, -0.75)),
            "CR": (("right cheek", "right back"), (0.72, 0)),
            "BR": (("right back", "right"), (1, 0)),
            "FL": (("left",), (0, -1)),
            "FR": (("right",), (1, -1)),
        },
        width_mm=(3000, 3600),
        depth_mm=(450, 600),
    ),
    "free-plan": Layout(
        walls={
            "AB": BACK,
            "BC": RIGHT,
            "CD": ((0, 1), (1, -0.5)),
            "DE": ((-1, 0), (0.55, 0)),
            "EF": ((0, 1), (0, -1)),
            "FA": LEFT,
        },
        tops={"T": "ceiling"},
        columns={
            "A": (("AB", "FA"), (0, 0)),
            "B": (("AB", "BC"), (1, 0)),
            "C": (("BC", "CD"), (1, -0.5)),
            "D": (("CD", "DE"), (0.55, -0.5)),
            "E": (("DE", "EF"), (0.55, -1)),
            "F": (("EF", "FA"), (0, -1)),
        },
        width_mm=(2600, 3600),
        depth_mm=(2400, 3400),
        frame=("A", "B"),
        plan=tuple(
            PlanCorner(name=name, angle_deg=angle)
            for name, angle in zip("ABCDEF", (90, 90, 85, 275, 90, 95), strict=True)
        ),
    ),
    "corner-two-slopes": Layout(
        walls={"back": BACK, "left": LEFT},
        tops={"S": "left slope", "B": "back slope"},
        columns={
            "BL": (("back", "left"), (0, 0)),
            "BR": (("back",), (1, 0)),
            "FL": (("left",), (0, -1)),
            "FM": ((), (0.45, -1)),
            "MR": ((), (1, -0.45)),
        },
        width_mm=(1400, 1900),
        depth_mm=(1400, 1900),
        low_mm=(650, 950),
        pitch_deg=(30, 45),
        heights_mm=(150.0, 400.0, 600.0),
        rises=((1, 0), (0, -1)),
    ),
}


def mirrored(layout: Layout) -> Layout:
    """Return a kind with left and right changed over."""
    swap = {"left": "right", "right": "left", "L": "R", "R": "L"}

    def named(name: str) -> str:
        return " ".join(swap.get(word, word) for word in name.split(" "))

    def at(shares: Shares) -> Shares:
        across, out, *more = shares
        return (1 - across, out, -more[0]) if more else (1 - across, out)

    walls = {
        named(name): ((-nx, ny), at(shares) if name != "back" else shares)
        for name, ((nx, ny), shares) in layout.walls.items()
    }
    columns = {
        name[0] + swap.get(name[1], name[1]): (tuple(named(wall) for wall in its), at(shares))
        for name, (its, shares) in layout.columns.items()
    }
    tops = {letter: named(top) for letter, top in layout.tops.items()}
    return dataclasses.replace(layout, walls=walls, columns=dict(sorted(columns.items())), tops=tops)
