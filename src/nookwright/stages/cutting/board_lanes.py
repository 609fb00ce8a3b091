"""The lanes that a board is ripped into: their pieces in order, and where each starts and ends at either edge."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan, SharedCut
from nookwright.stages.parts.sizes import SAME_MM

Ends = tuple[float, float]
"""Places along a board, at the near and the far edge of a lane, or of a strip of it, on the upper face. [mm]"""


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

    def strip(self, number: int) -> tuple[BoardPiece, ...]:
        """Return the pieces that hang together with one of them by shared cuts, itself among them."""
        first = next(i for i in range(number, -1, -1) if i == 0 or self.pieces[i].shared is None)
        after = range(number + 1, len(self.pieces))
        return self.pieces[first : next((i for i in after if self.pieces[i].shared is None), len(self.pieces))]

    def cut_off_together(self, number: int) -> bool:
        """Return whether a piece and those it shares cuts with are cut off in one piece and ripped before they part."""
        pieces = self.strip(number)
        return len(pieces) > 1 and self.width_mm - max(piece.width_mm for piece in pieces) > SAME_MM

    def strip_mm(self, number: int) -> float:
        """Return how wide the wood is that a piece is crosscut from. [mm]"""
        if self.cut_off_together(number):
            return max(piece.width_mm for piece in self.strip(number))
        return self.width_mm

    def start_mm(self, number: int) -> Ends:
        """Return where a piece starts, by its place in the lane, from 0."""
        piece = self.pieces[number]
        if piece.shared is None:
            return piece.at_mm, piece.at_mm
        near, far = self._line_mm(piece.shared, number)
        wide = self._along_mm(piece.shared)
        return near + wide, far + wide

    def end_mm(self, number: int) -> Ends:
        """Return where a piece ends, by its place in the lane, from 0: the near side of the cut that parts it off."""
        following = self.pieces[number + 1] if number + 1 < len(self.pieces) else None
        if following is not None and following.shared is not None:
            return self._line_mm(following.shared, number)
        piece = self.pieces[number]
        return piece.at_mm + piece.length_mm, piece.at_mm + piece.length_mm

    def _along_mm(self, cut: SharedCut) -> float:
        """Return how much a slanted cut takes along the lane."""
        across, down = math.tan(cut.mitre_rad), math.tan(cut.tilt_rad) / math.cos(cut.mitre_rad)
        return self.kerf_mm * math.sqrt(1 + across**2 + down**2)

    def _line_mm(self, cut: SharedCut, number: int) -> Ends:
        """Return where a cut at one end of a piece meets the edges of the wood it is crosscut from."""
        return cut.at_mm, cut.at_mm + math.tan(cut.mitre_rad) * self.strip_mm(number)


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
