"""Checks slanted cuts that two pieces share, from the parts' own corners; it knows nothing of how pieces were laid.

A cut is a slab as thick as the kerf. It must leave every piece before it in the lane on one side and every piece after
it on the other, and be the very end of the two pieces it parts. The long point of a mitre must lie on an edge that one
can measure along: a piece narrower than others it hangs together with has its own at the near edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from nookwright.stages.cutting.cutting_plan import BoardPiece, SharedCut
from nookwright.stages.parts.part import Part

_DUST_MM = 1e-5
_AT_THE_END_MM = 0.25
"""An end may be so far from the cut that makes it: steps of a tenth, and angles told apart to 0.05 degree."""

_SQUARE_RAD = math.radians(0.05)
"""A cut nearer to square than this is square; angles are printed to 0.1 degree."""

Corner = tuple[float, float, float]


def shared_cut_faults(
    lane: Sequence[BoardPiece], parts: Mapping[str, Part], kerf_mm: float, *, one_face: bool, fixed: frozenset[str]
) -> Iterator[str]:
    """Yield what is wrong with how the pieces of a lane are turned, and with the cuts they share.

    Args:
        lane: its pieces from the board's first end on.
        parts: the parts by number, as they are cut.
        kerf_mm: width of a cut. [mm]
        one_face: whether face A must lie up.
        fixed: parts that must lie as drawn.
    """
    known = [piece for piece in lane if piece.part in parts]
    yield from (
        f"{piece.part} shares a slanted cut, and has no slanted end"
        for piece in lane
        if piece.part not in parts and piece.shared is not None
    )
    if lane and lane[0].shared is not None:
        yield f"{lane[0].part} shares a cut with no piece before it"
    for piece in known:
        if piece.laid != "as drawn" and piece.part in fixed:
            yield f"{piece.part} is turned, and must lie as drawn"
        if one_face and piece.laid.startswith("over"):
            yield f"{piece.part} is turned over, and only one face of the board is fit to be seen"
    yield from _lost_points(known)
    corners = {id(piece): _corners(piece, parts[piece.part]) for piece in known}
    for number, piece in enumerate(known):
        if piece.shared is not None:
            before = [corners[id(one)] for one in known[:number]]
            after = [corners[id(one)] for one in known[number:]]
            yield from (
                f"the cut before {piece.part} {fault}" for fault in _cut_faults(piece.shared, before, after, kerf_mm)
            )


def _lost_points(lane: Sequence[BoardPiece]) -> Iterator[str]:
    """Yield pieces whose long point lies where nobody can set it off: within a wider strip."""
    strips: list[list[BoardPiece]] = []
    for piece in lane:
        if piece.shared is None or not strips:
            strips.append([])
        strips[-1].append(piece)
    for strip in strips:
        widest = max(piece.width_mm for piece in strip)
        for before, after in pairwise(strip):
            mitre = after.shared.mitre_rad if after.shared is not None else 0.0
            far = before if mitre > 0 else after
            if abs(mitre) >= _SQUARE_RAD and far.width_mm < widest - _DUST_MM:
                yield f"the long point of {far.part} lies on no edge"


def _cut_faults(
    cut: SharedCut, before: Sequence[Sequence[Corner]], after: Sequence[Sequence[Corner]], kerf_mm: float
) -> Iterator[str]:
    """Yield what a cut meets that it should not, or misses that it should make."""
    # the cut's near side is the plane x - y tan(m) - z tan(t) / cos(m) = at; along x it is wider than the kerf
    across, down = math.tan(cut.mitre_rad), math.tan(cut.tilt_rad) / math.cos(cut.mitre_rad)
    near = cut.at_mm
    far = near + kerf_mm * math.sqrt(1 + across**2 + down**2)

    def places(corners: Sequence[Corner]) -> list[float]:
        return [x - y * across - z * down for x, y, z in corners]

    if any(max(places(one)) > near + _DUST_MM for one in before):
        yield "runs into a piece before it"
    if any(min(places(one)) < far - _DUST_MM for one in after):
        yield "runs into a piece after it"
    if not before:
        yield "has no piece before it"
        return
    for one, side, word in ((before[-1], near, "before"), (after[0], far, "after")):
        if sum(abs(place - side) <= _AT_THE_END_MM for place in places(one)) < 4:
            yield f"is not the end of the piece {word} it"


def _corners(piece: BoardPiece, part: Part) -> list[Corner]:
    """Return a piece's corners where it lies: along the board, across its lane, down from the upper face. [mm]"""
    flat = part.blank_corners()
    left, low = min(u for u, _ in flat), min(v for _, v in flat)
    thick = part.thickness_mm
    found: list[Corner] = []
    for number, (u, v) in enumerate(flat):
        x, y, z = u - left, v - low, 0.0 if number < len(part.outline) else thick
        if piece.laid == "end for end":
            x, y = piece.length_mm - x, piece.width_mm - y
        elif piece.laid == "over":
            y, z = piece.width_mm - y, thick - z
        elif piece.laid == "over end for end":
            x, z = piece.length_mm - x, thick - z
        found.append((piece.at_mm + x, y, z))
    return found
