"""What lies on the saw at each cut of a sheet: the piece in hand, which cut, what comes free, what is to be set."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.stages.cutting.cutting_plan import Cut, Leftover, Placed, SheetPlan

_SAME_MM = 0.06
Box = tuple[float, float, float, float]
"""x, y, length and width on the sheet. [mm]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutStep:
    """One cut as the sawyer sees it.

    Args:
        cut: the cut.
        piece: the piece in hand. [mm]
        inside: parts that lie in it.
        frees: parts that come free.
        keeps: pieces worth keeping that come free.
        far: whether the edge farther from the sheet's corner lies at the fence, or is measured from.
        new_setting: whether fence or stop is set anew.
        turned: whether the cut runs across the one before.
        same_piece: whether the piece in hand is what the cut before left.
        waste_mm: width of the narrower of the two pieces left. [mm]
    """

    cut: Cut
    piece: Box
    inside: tuple[Placed, ...]
    frees: tuple[Placed, ...]
    keeps: tuple[Leftover, ...]
    far: bool
    new_setting: bool
    turned: bool
    same_piece: bool
    waste_mm: float


def cut_steps(sheet: SheetPlan, kerf_mm: float) -> tuple[CutStep, ...]:
    """Return every cut of a sheet with the piece it is made in and what it frees.

    Args:
        sheet: a sheet whose cuts go right through one piece each, as the checker has found.
        kerf_mm: width of a cut. [mm]
    """
    pieces: list[Box] = [(0.0, 0.0, sheet.length_mm, sheet.width_mm)]
    steps: list[CutStep] = []
    left: tuple[Box, ...] = ()
    before: Cut | None = None
    for cut in sheet.cuts:
        piece = next(one for one in pieces if _spanned(cut, one, kerf_mm))
        pieces.remove(piece)
        near, far = _halves(cut, piece, kerf_mm)
        side = 3 if cut.along == "length" else 2
        steps.append(
            CutStep(
                cut=cut, piece=piece, inside=tuple(one for one in sheet.placed if _within(_box(one), piece)),
                frees=tuple(one for one in sheet.placed if _same(_box(one), near) or _same(_box(one), far)),
                keeps=tuple(one for one in sheet.leftovers if _same(_box(one), near) or _same(_box(one), far)),
                far=cut.from_far or abs(cut.at_mm - near[side]) > _SAME_MM,
                new_setting=before is None or (before.by, before.at_mm) != (cut.by, cut.at_mm),
                turned=before is not None and before.along != cut.along, same_piece=piece in left,
                waste_mm=min(near[side], far[side]),
            )
        )  # fmt: skip
        left = (near, far)
        pieces += left
        before = cut
    return tuple(steps)


def in_freed_order(sheet: SheetPlan, kerf_mm: float) -> tuple[Placed, ...]:
    """Return the parts of a sheet in the order in which its cuts free them; a sheet used whole has its part at once."""
    freed = [one for step in cut_steps(sheet, kerf_mm) for one in step.frees]
    return (*freed, *(one for one in sheet.placed if one not in freed))


def _box(one: Placed | Leftover) -> Box:
    return one.x_mm, one.y_mm, one.length_mm, one.width_mm


def _spanned(cut: Cut, piece: Box, kerf_mm: float) -> bool:
    """Whether a cut runs from edge to edge of a piece."""
    x, y, length, width = piece
    if cut.along == "length":
        ends, start, size, middle = (cut.x1_mm - x, cut.x2_mm - x - length), y, width, cut.y1_mm
    else:
        ends, start, size, middle = (cut.y1_mm - y, cut.y2_mm - y - width), x, length, cut.x1_mm
    touches = start < middle + kerf_mm / 2 and middle - kerf_mm / 2 < start + size
    return touches and all(abs(end) < _SAME_MM for end in ends)


def _halves(cut: Cut, piece: Box, kerf_mm: float) -> tuple[Box, Box]:
    x, y, length, width = piece
    if cut.along == "length":
        low, high = cut.y1_mm - kerf_mm / 2, cut.y1_mm + kerf_mm / 2
        return (x, y, length, low - y), (x, high, length, y + width - high)
    low, high = cut.x1_mm - kerf_mm / 2, cut.x1_mm + kerf_mm / 2
    return (x, y, low - x, width), (high, y, x + length - high, width)


def _within(inner: Box, outer: Box) -> bool:
    return (
        inner[0] > outer[0] - _SAME_MM
        and inner[1] > outer[1] - _SAME_MM
        and inner[0] + inner[2] < outer[0] + outer[2] + _SAME_MM
        and inner[1] + inner[3] < outer[1] + outer[3] + _SAME_MM
    )


def _same(one: Box, other: Box) -> bool:
    return all(abs(a - b) < _SAME_MM for a, b in zip(one, other, strict=True))
