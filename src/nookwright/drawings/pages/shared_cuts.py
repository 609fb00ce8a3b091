"""Slanted cuts that two pieces of a board share: how they are drawn, and what the sawyer sets off for them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from nookwright.basics.lengths import Marks, show
from nookwright.drawings.part_sizes import SQUARE_DEG
from nookwright.geometry.frame import Point2
from nookwright.stages.cutting.board_lanes import Lane
from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan, Laid

HOW_TO = (
    "Where two pieces share a slanted cut, set off both its figures from the cut before, each along its own edge (near:"
    " the lower edge in the drawing), join them, and saw on the far side of the line: that ends both pieces. Each "
    "piece lies against the near edge, turned as told: face A up unless it says face B."
)
"""Told once where any cut is shared."""

_TURNED: dict[Laid, str] = {
    "as drawn": "", "end for end": "end for end", "over": "face B up", "over end for end": "end for end, face B up",
}  # fmt: skip


def any_shared(boards: Sequence[BoardPlan]) -> bool:
    """Return whether any two pieces share a cut."""
    return any(piece.shared is not None for board in boards for piece in board.pieces)


def drawn_piece(lane: Lane, number: int) -> tuple[Point2, ...]:
    """Return a piece's corners on the upper face: along the board [mm], and 0 at its near edge, 1 at the far one."""
    (start, far_start), (end, far_end) = lane.start_mm(number), lane.end_mm(number)
    return ((start, 0.0), (end, 0.0), (far_end, 1.0), (far_start, 1.0))


def clear_length(lane: Lane, number: int) -> tuple[float, float]:
    """Return from where to where a piece is of full width. [mm]"""
    return max(lane.start_mm(number)), min(lane.end_mm(number))


def shared_cuts_said(lane: Lane, marks: Marks) -> str:
    """Return what the sawyer sets off for every shared cut of a lane, and how pieces are turned; empty without any."""
    cuts = [
        shared_cut_said(lane, number, marks) for number, piece in enumerate(lane.pieces) if piece.shared is not None
    ]
    turned = turned_said(lane.pieces)
    said = [*_cut_off_together(lane, marks), *cuts, *([turned] if turned else [])]
    return f"Slanted cuts: {'; '.join(said)}" if cuts else ""


def _cut_off_together(lane: Lane, marks: Marks) -> Iterator[str]:
    """Yield which pieces are cut off together and ripped first: their long points lie on edges that are yet to come."""
    for number in range(len(lane.pieces)):
        pieces = lane.strip(number)
        if lane.cut_off_together(number) and lane.pieces[number] is pieces[0]:
            long = lane.end_mm(number + len(pieces) - 1)[0] - lane.start_mm(number)[0]
            size = f"{show(long, marks, way='up')} long, and rip it to {show(lane.strip_mm(number), marks)}"
            yield f"first cut {pieces[0].part} to {pieces[-1].part} off in one piece, {size}"


def shared_cut_said(lane: Lane, number: int, marks: Marks) -> str:
    """Return what is set off for the cut that a piece shares with the one before it, by its place in the lane."""
    before, after = lane.pieces[number - 1], lane.pieces[number]
    cut = after.shared
    assert cut is not None  # noqa: S101  told only of shared cuts
    near, far = (end - start for start, end in zip(lane.start_mm(number - 1), lane.end_mm(number - 1), strict=True))
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


def turned_said(pieces: Sequence[BoardPiece]) -> str:
    """Return how pieces are turned on their board; empty where all lie as drawn."""
    turned = [f"{piece.part} {_TURNED[piece.laid]}" for piece in pieces if piece.laid != "as drawn"]
    return f"turned: {', '.join(turned)}" if turned else ""
