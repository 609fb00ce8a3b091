"""Slanted cuts that two pieces of a board share: how they are drawn, and what the sawyer sets off for them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.part_sizes import SQUARE_DEG
from nookwright.geometry.frame import Point2
from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan, Laid, SharedCut

HOW_TO = (
    "Where two pieces share a slanted cut, set off both its figures from the cut before, each along its own edge (near:"
    " the lower edge in the drawing), join them, and saw on the far side of the line: that ends both pieces. Each "
    "piece lies against the near edge, turned as told: face A up unless it says face B."
)
"""Told once where any cut is shared."""

_TURNED: dict[Laid, str] = {
    "as drawn": "", "end for end": "end for end", "over": "face B up", "over end for end": "end for end, face B up",
}  # fmt: skip


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


def any_shared(boards: Sequence[BoardPlan]) -> bool:
    """Return whether any two pieces share a cut."""
    return any(piece.shared is not None for board in boards for piece in board.pieces)


def drawn_piece(lane: Lane, number: int) -> tuple[Point2, ...]:
    """Return a piece's corners on the upper face: along the board [mm], and 0 at the lane's near edge, 1 at the far."""
    (start, far_start), (end, far_end) = _start(lane, number), _end(lane, number)
    return ((start, 0.0), (end, 0.0), (far_end, 1.0), (far_start, 1.0))


def clear_length(lane: Lane, number: int) -> tuple[float, float]:
    """Return from where to where a piece is of full width. [mm]"""
    return max(_start(lane, number)), min(_end(lane, number))


def shared_cuts_said(lane: Lane, marks: Marks) -> str:
    """Return what the sawyer sets off for every shared cut of a lane, and how pieces are turned; empty without any."""
    cuts = [_said(lane, number, marks) for number, piece in enumerate(lane.pieces) if piece.shared is not None]
    return f"Slanted cuts: {'; '.join([*cuts, *_turned(lane)])}" if cuts else ""


def _said(lane: Lane, number: int, marks: Marks) -> str:
    before, after = lane.pieces[number - 1], lane.pieces[number]
    cut = after.shared
    assert cut is not None  # noqa: S101  told only of shared cuts
    near, far = (end - start for start, end in zip(_start(lane, number - 1), _end(lane, number - 1), strict=True))
    mitre, tilt = math.degrees(cut.mitre_rad), math.degrees(cut.tilt_rad)
    pair = f"{before.part} and {after.part}"
    if abs(mitre) < SQUARE_DEG:
        said = f"{pair}, square across at {show(near, marks)}"
    else:
        first, second = (before.part, after.part) if near > far else (after.part, before.part)
        said = (
            f"{pair}, mitre {abs(mitre):.1f}°, near edge {show(near, marks)} (long point of {first}), "
            f"far edge {show(far, marks)} (long point of {second})"
        )
    if abs(tilt) >= SQUARE_DEG:
        longer = before.part if tilt > 0 else after.part
        said += f", blade tilted {abs(tilt):.1f}°, {longer} the longer one below"
    return said


def _turned(lane: Lane) -> Iterator[str]:
    turned = [f"{piece.part} {_TURNED[piece.laid]}" for piece in lane.pieces if piece.laid != "as drawn"]
    if turned:
        yield f"turned: {', '.join(turned)}"


def _start(lane: Lane, number: int) -> tuple[float, float]:
    """Return where a piece starts at the lane's near and far edge. [mm]"""
    piece = lane.pieces[number]
    if piece.shared is None:
        return piece.at_mm, piece.at_mm
    near, far = _line(piece.shared, lane.width_mm)
    across, down = math.tan(piece.shared.mitre_rad), math.tan(piece.shared.tilt_rad) / math.cos(piece.shared.mitre_rad)
    wide = lane.kerf_mm * math.sqrt(1 + across**2 + down**2)
    return near + wide, far + wide


def _end(lane: Lane, number: int) -> tuple[float, float]:
    """Return where a piece ends at the lane's near and far edge. [mm]"""
    following = lane.pieces[number + 1] if number + 1 < len(lane.pieces) else None
    if following is not None and following.shared is not None:
        return _line(following.shared, lane.width_mm)
    piece = lane.pieces[number]
    return piece.at_mm + piece.length_mm, piece.at_mm + piece.length_mm


def _line(cut: SharedCut, width_mm: float) -> tuple[float, float]:
    return cut.at_mm, cut.at_mm + math.tan(cut.mitre_rad) * width_mm
