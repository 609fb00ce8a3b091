"""Slanted ends of pieces cut from boards: how a piece may lie on its board, and the one cut that two equal ends share.

A piece lies along its lane: x from the board's first end, y across from the lane's near edge, z down from the face that
lies up. An end is a plane x = place + run * y + lean * z. A turn keeps the grain along the board: end for end, over its
long edge, or both. A mitre keeps its slope when turned end for end; a bevel when turned over end for end.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from nookwright.basics.lengths import Marks
from nookwright.geometry.frame import Point3
from nookwright.stages.cutting.blanks import TENTHS, board_tenths
from nookwright.stages.cutting.cutting_plan import Laid
from nookwright.stages.inputs.shop import BoardStock
from nookwright.stages.parts.part import Part
from nookwright.stages.parts.sizes import ALONG_SLOPE, as_sawn

_SAME_RAD = math.radians(0.05)
"""Ends nearer to each other in angle than this are cut by one setting; angles are printed to 0.1 degree."""
_DUST = 1e-6

TURNS: dict[Laid, tuple[bool, bool]] = {
    "as drawn": (False, False), "end for end": (True, False), "over": (False, True), "over end for end": (True, True),
}  # fmt: skip
"""Whether a turn changes its ends round, and whether it changes its faces round; its edges change round with one."""
_TURN_BY = {changes: turn for turn, changes in TURNS.items()}
FACE_A_UP: tuple[Laid, ...] = ("as drawn", "end for end")
EVERY_TURN: tuple[Laid, ...] = tuple(TURNS)
AS_DRAWN: tuple[Laid, ...] = ("as drawn",)


def turned_again(first: Laid, then: Laid) -> Laid:
    """Return the turn that two turns one after the other make."""
    (ends, faces), (more_ends, more_faces) = TURNS[first], TURNS[then]
    return _TURN_BY[ends != more_ends, faces != more_faces]


@dataclass(frozen=True, slots=True)
class Slant:
    """How an end runs: along the board for each step across it, and for each step down through it."""

    run: float
    lean: float

    @property
    def stretch(self) -> float:
        """How much longer along the board a cut is than the kerf is wide."""
        return math.sqrt(1.0 + self.run**2 + self.lean**2)

    @property
    def angles_rad(self) -> tuple[float, float]:
        """Mitre from square across the face, and tilt of the blade from square. [rad]"""
        return math.atan(self.run), math.atan(self.lean / math.sqrt(1.0 + self.run**2))

    @property
    def mitred(self) -> bool:
        """Whether it runs across the face otherwise than square."""
        return abs(self.angles_rad[0]) >= _SAME_RAD

    def place(self, corner: Point3) -> float:
        """Return where a cut through a corner meets the near edge of the upper face."""
        x, y, z = corner
        return x - self.run * y - self.lean * z

    def same_as(self, other: Slant) -> bool:
        """Return whether one setting of the saw cuts both."""
        return all(abs(a - b) < _SAME_RAD for a, b in zip(self.angles_rad, other.angles_rad, strict=True))


@dataclass(frozen=True, slots=True)
class Blank:
    """What a piece takes of its board, as it lies. [0.1 mm]

    Args:
        length, width, through: of the box it lies in; through is its thickness.
        corners: of both its faces, allowances included.
        first, last: how its ends run, the one nearer to the board's first end and the other; None for square ends.
    """

    length: int
    width: int
    through: float
    corners: tuple[Point3, ...]
    first: Slant | None = None
    last: Slant | None = None

    @property
    def slanted(self) -> bool:
        """Whether an end of it may share a cut."""
        return self.first is not None or self.last is not None

    def lying(self, turn: Laid) -> Blank:
        """Return the piece turned."""
        ends, faces = TURNS[turn]
        edges = ends != faces
        run, lean = (-1 if ends != edges else 1), (-1 if ends != faces else 1)
        slants = [one and Slant(run * one.run, lean * one.lean) for one in (self.first, self.last)]
        return Blank(
            length=self.length, width=self.width, through=self.through,
            corners=tuple(
                (
                    self.length - x if ends else x,
                    self.width - y if edges else y,
                    self.through - z if faces else z,
                )
                for x, y, z in self.corners
            ),
            first=slants[1] if ends else slants[0], last=slants[0] if ends else slants[1],
        )  # fmt: skip


def blank_of(part: Part, stock: BoardStock, marks: Marks) -> Blank:
    """Return what a piece of a part takes of its board; ends that are not one straight cut each count as square."""
    length, width = board_tenths(part, stock, marks)
    corners = as_sawn(part, marks).blank_corners()
    left, low = min(u for u, _ in corners), min(v for _, v in corners)
    count = len(part.outline)
    thickness = part.thickness_mm * TENTHS
    placed = tuple(
        ((u - left) * TENTHS, (v - low) * TENTHS, 0.0 if i < count else thickness) for i, (u, v) in enumerate(corners)
    )
    ends = [_end(placed[i], placed[(i + 1) % count], placed[count + i], thickness) for i in range(count)]
    found = dict(one for one in ends if one is not None)
    plain = count != 4 or sum(one is not None for one in ends) != 2 or len(found) != 2 or part.pieces != 1
    first, last = (None, None) if plain else (found[False], found[True])
    return Blank(length, width, thickness, placed, first and _unless_square(first), last and _unless_square(last))


def _end(corner: Point3, following: Point3, under: Point3, thickness: float) -> tuple[bool, Slant] | None:
    """Return whether an edge is the right end, and how it runs; None for an edge along the grain."""
    along, across = following[0] - corner[0], following[1] - corner[1]
    if abs(across) <= ALONG_SLOPE * abs(along):
        return None
    run = along / across
    return across > 0, Slant(run, (under[0] - corner[0] - run * (under[1] - corner[1])) / thickness)


def _unless_square(slant: Slant) -> Slant | None:
    return None if slant.same_as(Slant(0.0, 0.0)) else slant


@dataclass(frozen=True, slots=True)
class Joint:
    """One cut between two pieces. [0.1 mm]

    Args:
        step: how far the second piece starts beyond the start of the first.
        place: where the cut's near side meets the near edge of the upper face, from the start of the first piece.
        slant: how it runs.
        saved: how much length it saves over cutting both off square.
    """

    step: int
    place: float
    slant: Slant
    saved: int


def joint(before: Blank, after: Blank, kerf: int) -> Joint | None:
    """Return the cut that the last end of one piece shares with the first end of the next; None if none is worth it.

    Args:
        before, after: the pieces as they lie.
        kerf: width of a cut. [0.1 mm]
    """
    slant = before.last
    if slant is None or after.first is None or not slant.same_as(after.first):
        return None
    place = max(slant.place(corner) for corner in before.corners)
    nearest = min(slant.place(corner) for corner in after.corners)
    step = math.ceil(place + kerf * slant.stretch - nearest - _DUST)
    saved = before.length + kerf - step
    return Joint(step, place, slant, saved) if saved > 0 and step > 0 else None


def most_saved(
    one: Blank, turns: Sequence[Laid], others: Sequence[tuple[Blank, Sequence[Laid]]], kerf: int
) -> tuple[int, int]:
    """Return the most length that each end of a piece can save by sharing its cut with any of the others. [0.1 mm]

    Args:
        one: the piece as drawn.
        turns: how it may lie.
        others: pieces as drawn, and how they may lie.
        kerf: width of a cut. [0.1 mm]

    Returns:
        For the first end as drawn, and for the last.
    """
    most = [0, 0]
    for turn in turns:
        mine = one.lying(turn)
        for theirs in (other.lying(its) for other, ways in others for its in ways):
            for found, last in ((joint(mine, theirs, kerf), True), (joint(theirs, mine, kerf), False)):
                if found is not None:
                    end = int(last != TURNS[turn][0])
                    most[end] = max(most[end], found.saved)
    return most[0], most[1]
