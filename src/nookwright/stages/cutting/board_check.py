"""Checks a plan for boards, knowing nothing of how it was found: pieces, places, kerfs, what there is to cut from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal

from nookwright.basics.lengths import Marks
from nookwright.stages.cutting.blanks import TENTHS, board_tenths, tenths_down, tenths_up
from nookwright.stages.cutting.cutting_plan import TENTHS_MM, BoardPiece, BoardPlan
from nookwright.stages.cutting.shared_cut_check import shared_cut_faults
from nookwright.stages.inputs.shop import BoardStock, Saw
from nookwright.stages.parts.part import Part
from nookwright.stages.parts.sizes import as_sawn

_WHOLE = 1e-6
"""Sizes are whole tenths of a millimetre; more than float dust off one is a fault. [0.1 mm]"""


def board_faults(
    plans: Sequence[BoardPlan],
    parts: Sequence[Part],
    stock: BoardStock,
    saw: Saw,
    fixed: frozenset[str] = frozenset(),
    marks: Marks = TENTHS_MM,
) -> tuple[str, ...]:
    """Return everything wrong with the boards of one stock; empty when they can be cut.

    Args:
        plans: the boards.
        parts: what must come out of them: each part once, or as many full widths as it is glued up from.
        stock: the board, its lengths for sale, and the offcuts there are.
        saw: kerf, and what the ends of a bought board lose.
        fixed: parts that may not be turned.
        marks: what the sawyer sets: pieces must have the sizes on these that the parts list prints.

    Returns:
        One plain sentence per fault.
    """
    by_number = {part.number: as_sawn(part, marks) for part in parts if part.pieces == 1}
    faults = [*_piece_faults(plans, parts, stock, marks), *_stock_faults(plans, stock)]
    for number, plan in enumerate(plans, start=1):
        said = f"on board {number}"
        if plan.index != number:
            faults.append(f"board {number} is numbered {plan.index}")
        faults.extend(f"{fault} {said}" for fault in _lane_faults(plan, stock, saw))
        for lane in _lanes(plan):
            cuts = shared_cut_faults(lane, by_number, saw.kerf_mm, one_face=stock.one_face, fixed=fixed)
            faults.extend(f"{fault} {said}" for fault in cuts)
    return tuple(faults)


def money_for(plans: Sequence[BoardPlan], stock: BoardStock) -> Decimal:
    """Return what the boards cost: those for sale at their price, offcuts nothing."""
    prices = {one.length_mm: one.price for one in stock.lengths}
    return sum((prices[plan.length_mm] for plan in plans if not plan.offcut), Decimal(0))


def _tenths(size_mm: float) -> int:
    return round(size_mm * TENTHS)


def _piece_faults(plans: Sequence[BoardPlan], parts: Sequence[Part], stock: BoardStock, marks: Marks) -> Iterator[str]:
    """Yield pieces that are missing, too many, of a wrong size or not in whole tenths."""
    wanted: Counter[tuple[str, int, int]] = Counter()
    for part in parts:
        wanted[part.number, *board_tenths(part, stock, marks)] += part.pieces
    given: Counter[tuple[str, int, int]] = Counter()
    for piece in (piece for plan in plans for piece in plan.pieces):
        given[piece.part, _tenths(piece.length_mm), _tenths(piece.width_mm)] += 1
        for size in (piece.length_mm, piece.width_mm, piece.at_mm, piece.across_mm):
            if abs(size * TENTHS - _tenths(size)) > _WHOLE:
                yield f"{piece.part} has a size of {size} mm, which is no whole tenth"
    for (name, length, width), count in (wanted - given).items():
        yield f"{name}, {length / TENTHS:g} x {width / TENTHS:g} mm, is cut {count} times too seldom"
    for (name, length, width), count in (given - wanted).items():
        yield f"{name}, {length / TENTHS:g} x {width / TENTHS:g} mm, is cut {count} times too often"


def _stock_faults(plans: Sequence[BoardPlan], stock: BoardStock) -> Iterator[str]:
    """Yield boards of another stock, of a length that is not to be had, or more offcuts than there are."""
    sold = {one.length_mm for one in stock.lengths}
    there: Counter[tuple[float, int]] = Counter()
    for one in stock.offcuts:
        there[one.length_mm, tenths_down(one.width_mm)] += one.count
    for plan in plans:
        if plan.stock != stock.key:
            yield f"a board of {plan.stock} among those of {stock.key}"
        if plan.offcut:
            there[plan.length_mm, _tenths(plan.width_mm)] -= 1
            if there[plan.length_mm, _tenths(plan.width_mm)] < 0:
                wide = f", {plan.width_mm:g} mm wide" if plan.width_mm else ""
                yield f"there are not so many offcuts of {plan.length_mm:g} mm{wide}"
        elif plan.length_mm not in sold:
            yield f"no board of {plan.length_mm:g} mm is for sale"
        elif plan.width_mm:
            yield f"no board {plan.width_mm:g} mm wide is for sale"
        if not plan.pieces:
            yield f"nothing is cut from a board of {plan.length_mm:g} mm"


def _lane_faults(plan: BoardPlan, stock: BoardStock, saw: Saw) -> Iterator[str]:
    """Yield what keeps one board from being ripped into its lanes and the lanes from being crosscut."""
    kerf, full = tenths_up(saw.kerf_mm), _tenths(plan.width_mm) or tenths_down(stock.straight_width_mm)
    length = tenths_down(plan.length_mm) - (0 if plan.offcut else tenths_up(saw.far_end_trim_mm))
    start = 0 if plan.offcut else tenths_up(saw.end_trim_mm)
    free_across = reach = 0
    for lane in _lanes(plan):
        across = _tenths(lane[0].across_mm)
        if across < free_across:
            yield f"the lane at {across / TENTHS:g} mm starts before {free_across / TENTHS:g} mm"
        widest = max(_tenths(piece.width_mm) for piece in lane)
        if across + widest > full:
            yield f"the lane at {across / TENTHS:g} mm reaches beyond the board's edge"
        free_across = across + widest + kerf
        end = start
        for piece in lane:
            at = _tenths(piece.at_mm)
            if at < (end if piece.shared is None else start):
                yield f"{piece.part} starts at {piece.at_mm:g} mm, before {end / TENTHS:g} mm"
            if at + _tenths(piece.length_mm) > length:
                yield f"{piece.part} reaches beyond the end"
            end = max(end, at + _tenths(piece.length_mm) + kerf)
        reach = max(reach, end)
    if not 0 <= _tenths(plan.leftover_mm) <= max(0, length - reach):
        yield f"{plan.leftover_mm:g} mm cannot be left over"
    off = _tenths(plan.leftover_mm) + kerf if plan.leftover_mm >= saw.kept_from_mm else 0
    if not 0 <= _tenths(plan.strip_mm) <= max(0, full - free_across):
        yield f"a strip {plan.strip_mm:g} mm wide cannot be left over"
    if not 0 <= _tenths(plan.strip_length_mm) <= length - start - off:
        yield f"a strip {plan.strip_length_mm:g} mm long cannot be left over"


def _lanes(plan: BoardPlan) -> list[list[BoardPiece]]:
    """Return a board's lanes from its edge on, the pieces of each from the first end on."""
    places = sorted({_tenths(piece.across_mm) for piece in plan.pieces})
    return [
        sorted((piece for piece in plan.pieces if _tenths(piece.across_mm) == across), key=_place) for across in places
    ]


def _place(piece: BoardPiece) -> float:
    return piece.at_mm
