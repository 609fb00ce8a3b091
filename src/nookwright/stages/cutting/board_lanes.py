"""The lanes that a board is ripped into: their pieces in order, and where each starts and ends at either edge."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan, SharedCut

Ends = tuple[float, float]
"""Places along a board, at a lane's near and at its far edge, on the upper face. [mm]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lane:
    """A lane of a board.

    Args:
        pieces: from the board's first end on.
        kerf_mm: width of a cut. [mm]
    """

    pieces: tuple[BoardPiece, ...]
    kerf_mm: float

    @property
    def width_mm(self) -> float:
        """How wide it is. [mm]"""
        return max(piece.width_mm for piece in self.pieces)

    @property
    def across_mm(self) -> float:
        """Distance of its near edge from the board's. [mm]"""
        return self.pieces[0].across_mm

    def start_mm(self, number: int) -> Ends:
        """Return where a piece starts, by its place in the lane, from 0."""
        piece = self.pieces[number]
        if piece.shared is None:
            return piece.at_mm, piece.at_mm
        near, far = self._line_mm(piece.shared)
        wide = self._along_mm(piece.shared)
        return near + wide, far + wide

    def end_mm(self, number: int) -> Ends:
        """Return where a piece ends, by its place in the lane, from 0: the near side of the cut that parts it off."""
        following = self.pieces[number + 1] if number + 1 < len(self.pieces) else None
        if following is not None and following.shared is not None:
            return self._line_mm(following.shared)
        piece = self.pieces[number]
        return piece.at_mm + piece.length_mm, piece.at_mm + piece.length_mm

    def _along_mm(self, cut: SharedCut) -> float:
        """Return how much a slanted cut takes along the lane."""
        across, down = math.tan(cut.mitre_rad), math.tan(cut.tilt_rad) / math.cos(cut.mitre_rad)
        return self.kerf_mm * math.sqrt(1 + across**2 + down**2)

    def _line_mm(self, cut: SharedCut) -> Ends:
        return cut.at_mm, cut.at_mm + math.tan(cut.mitre_rad) * self.width_mm


def lanes_of(board: BoardPlan, kerf_mm: float) -> tuple[Lane, ...]:
    """Return a board's lanes from its near edge on, the pieces of each from the first end on.

    Args:
        board: the board.
        kerf_mm: width of a cut. [mm]
    """
    places = sorted({piece.across_mm for piece in board.pieces})
    lanes = ([piece for piece in board.pieces if piece.across_mm == place] for place in places)
    return tuple(Lane(pieces=tuple(sorted(lane, key=_place)), kerf_mm=kerf_mm) for lane in lanes)


def cut_alike(boards: Sequence[BoardPlan]) -> list[tuple[BoardPlan, ...]]:
    """Return boards in groups that are cut alike, in the order of their first."""
    groups: dict[tuple[object, ...], list[BoardPlan]] = {}
    for board in boards:
        groups.setdefault(
            (board.stock, board.length_mm, board.width_mm, board.offcut, board.cut_from, board.pieces), []
        ).append(board)
    return [tuple(group) for group in groups.values()]


def _place(piece: BoardPiece) -> float:
    return piece.at_mm
