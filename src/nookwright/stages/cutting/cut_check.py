"""Carries out the printed cuts one by one, knowing nothing of how they were found: what goes wrong is a fault."""

from __future__ import annotations

from collections.abc import Iterator

from nookwright.stages.cutting.cutting_plan import Cut, SheetPlan
from nookwright.stages.inputs.shop import Saw

_NEAR_MM = 0.06
"""Sizes are printed in whole tenths of a millimetre."""

_Piece = tuple[float, float, float, float]  # x, y, length, width


def cut_faults(sheet: SheetPlan, saw: Saw) -> tuple[str, ...]:
    """Return everything that goes wrong when the cuts are made in the order of their numbers; empty when nothing does.

    Args:
        sheet: the sheet with its cuts and pieces.
        saw: kerf, and what the saws can make.

    Returns:
        One plain sentence per fault. Each cut must go right through exactly one piece, at the distance printed from
        the edge named, be one that its saw makes, and every part must lie free at the end.
    """
    pieces: list[_Piece] = [(0.0, 0.0, sheet.length_mm, sheet.width_mm)]
    faults: list[str] = []
    for number, cut in enumerate(sheet.cuts, start=1):
        if cut.order != number:
            faults.append(f"cut {number} is numbered {cut.order}")
        through = [piece for piece in pieces if _right_through(cut, piece, saw.kerf_mm)]
        if len(through) != 1:
            faults.append(f"cut {number} goes right through {len(through)} pieces")
            continue
        pieces.remove(through[0])
        near, far = _halves(cut, through[0], saw.kerf_mm)
        pieces += [half for half in (near, far) if min(half[2:]) > _NEAR_MM]
        faults += [f"cut {number} {fault}" for fault in _wrong(cut, near, far, saw)]
    for one in sheet.placed:
        place = (one.x_mm, one.y_mm, one.length_mm, one.width_mm)
        if not any(_same(place, piece) for piece in pieces):
            faults.append(f"{one.part} is not cut free")
    return tuple(faults)


def _right_through(cut: Cut, piece: _Piece, kerf_mm: float) -> bool:
    """Whether a cut runs from edge to edge of a piece and no further; at its rim it may take less than a kerf off."""
    x, y, length, width = piece
    if cut.along == "length":
        spans = abs(cut.x1_mm - x) < _NEAR_MM and abs(cut.x2_mm - x - length) < _NEAR_MM
        start, size, level, middle = y, width, cut.y1_mm == cut.y2_mm, cut.y1_mm
    else:
        spans = abs(cut.y1_mm - y) < _NEAR_MM and abs(cut.y2_mm - y - width) < _NEAR_MM
        start, size, level, middle = x, length, cut.x1_mm == cut.x2_mm, cut.x1_mm
    touches = start < middle + kerf_mm / 2 and middle - kerf_mm / 2 < start + size
    return spans and level and touches


def _halves(cut: Cut, piece: _Piece, kerf_mm: float) -> tuple[_Piece, _Piece]:
    """Return the two pieces beside a cut; one of a size below 0 is dust."""
    x, y, length, width = piece
    if cut.along == "length":
        near, far = cut.y1_mm - kerf_mm / 2 - y, y + width - cut.y1_mm - kerf_mm / 2
        return (x, y, length, near), (x, y + width - far, length, far)
    near, far = cut.x1_mm - kerf_mm / 2 - x, x + length - cut.x1_mm - kerf_mm / 2
    return (x, y, near, width), (x + length - far, y, far, width)


def _wrong(cut: Cut, near: _Piece, far: _Piece, saw: Saw) -> Iterator[str]:
    """Yield what is wrong with one cut: its distance from the edge named, or a saw that does not make it."""
    side = 3 if cut.along == "length" else 2
    sizes = (near[side], far[side])
    measured = (sizes[cut.from_far],) if saw.limited else sizes
    if all(abs(cut.at_mm - size) > _NEAR_MM for size in measured):
        yield f"is {cut.at_mm:g} mm from the fence, which leaves no piece so wide"
    if not saw.limited:
        return
    long = near[2] if cut.along == "length" else near[3]
    if cut.by == "fence" and (cut.at_mm > saw.rip_mm + _NEAR_MM or cut.at_mm > long + _NEAR_MM):
        yield f"has the fence {cut.at_mm:g} mm away, more than it goes or than the edge is long"
    elif cut.by == "crosscut" and long > saw.crosscut_mm + _NEAR_MM:
        yield f"is {long:g} mm long, more than the sled takes"
    elif cut.by == "track" and long > saw.track_mm + _NEAR_MM:
        yield f"is {long:g} mm long, more than the track"
    elif not cut.by:
        yield "is made with no saw"


def _same(one: _Piece, other: _Piece) -> bool:
    return all(abs(a - b) < _NEAR_MM for a, b in zip(one, other, strict=True))
