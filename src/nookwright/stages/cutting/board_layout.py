"""Lays the parts of one board stock out on boards: ripped into lanes and crosscut, for the least money."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import pairwise

from nookwright.basics.lengths import Marks, show
from nookwright.solvers.bounds import least_sheets
from nookwright.solvers.pack_sheets import Rectangle
from nookwright.stages.cutting.blanks import TENTHS, board_tenths, cut_tenths, tenths_down, tenths_up
from nookwright.stages.cutting.board_check import board_faults, money_for
from nookwright.stages.cutting.board_search import FoundBoards, LaidBoard, Offer, best_boards, shortened
from nookwright.stages.cutting.cutting_plan import (
    TENTHS_MM,
    BoardPiece,
    BoardPlan,
    Laid,
    SharedCut,
    StockSummary,
    TooLarge,
)
from nookwright.stages.cutting.end_chains import Nesting
from nookwright.stages.cutting.more_time import MoreTime, no_more_time
from nookwright.stages.cutting.slanted_ends import AS_DRAWN, EVERY_TURN, FACE_A_UP, Blank, Joint, blank_of
from nookwright.stages.inputs.shop import BoardStock, Saw
from nookwright.stages.parts.part import Part

_VAGUE_PERCENT = 100
"""A bound farther than this above the longest piece left over tells nobody anything."""


def lay_out_boards(
    parts: Sequence[Part],
    stock: BoardStock,
    saw: Saw,
    more_time: MoreTime = no_more_time,
    matched: Sequence[tuple[str, ...]] = (),
    marks: Marks = TENTHS_MM,
) -> tuple[tuple[BoardPlan, ...], StockSummary | None, tuple[TooLarge, ...]]:
    """Lay parts out on boards of one stock for the least money: boards are ripped into lanes, the lanes are crosscut.

    A part glued up from several boards takes as many pieces of full board width. Equal slanted ends share a cut where
    that saves length, their pieces turned as far as they may be.

    Args:
        parts: the parts cut from this stock.
        stock: the board, the lengths it is sold in, and offcuts of it.
        saw: kerf, and what the first end of a board loses.
        more_time: whether the search for a cheaper plan, or for a proof, may go on; asked often.
        matched: numbers of parts whose figure runs over: none of them is turned.
        marks: what the sawyer sets: pieces are cut to these, and cures told in them.

    Returns:
        The boards, how well they are used (None without parts that fit), and the parts no board can give.
    """
    width = tenths_down(stock.straight_width_mm)
    offers = _offers(stock, saw)
    sold = max(offer.usable for offer in offers if offer.most is None)
    fixed = frozenset(number for group in matched for number in group)
    sizes = {part.number: board_tenths(part, stock, marks) for part in parts}
    there = {part.number for part in parts if _there(part, sizes[part.number], width, offers)}
    fitting = [part for part in parts if part.number in there]
    while fitting:
        names = [part.number for part in fitting for _ in range(part.pieces)]
        nesting = _nesting(fitting, stock, saw, fixed, marks)
        longer = any(sizes[name][0] > sold for name in names)
        able = (*offers, _wished(width, offers, len(names))) if longer else offers
        best = best_boards(nesting, able, more_time)
        without = {
            names[piece] for board in best.boards if board.offer == len(offers) for lane in board.lanes
            for chain in lane for piece in chain.pieces if sizes[names[piece]][0] > sold
        }  # fmt: skip
        if not without:
            break
        fitting = [part for part in fitting if part.number not in without]
    given = {part.number for part in fitting}
    misfits = tuple(
        _too_large(part, sold, width, marks, taken=part.number in there) for part in parts if part.number not in given
    )
    if not fitting:
        return (), None, misfits
    plans = tuple(_board_plans(best, nesting, names, offers, stock, saw))
    _verify(plans, fitting, stock, saw, fixed, marks)
    return plans, _summary(plans, nesting, best, stock, saw), misfits


def _there(part: Part, piece: tuple[int, int], width: int, offers: Sequence[Offer]) -> bool:
    """Return whether a board for sale or on hand is large enough for a part's pieces, and as many wide enough."""
    enough = tenths_up(part.blank_mm[1]) <= part.pieces * width
    return enough and any(piece[0] <= offer.usable and piece[1] <= offer.width for offer in offers)


def _wished(width: int, offers: Sequence[Offer], pieces: int) -> Offer:
    """Return a board that nobody has, as long as the longest on hand, and dearer than any plan without it.

    Pieces longer than all that is sold need one of the boards on hand. A plan that takes this one has too few of those.
    """
    length, dearest = max(offer.usable for offer in offers), max(offer.price for offer in offers)
    price = (pieces + 1) * (dearest + 1)
    return Offer(length_mm=length / TENTHS, trim=0, usable=length, width=width, price=price, most=None)


def _nesting(parts: Sequence[Part], stock: BoardStock, saw: Saw, fixed: frozenset[str], marks: Marks) -> Nesting:
    """Return every piece of the parts, and how it may lie."""
    blanks: list[Blank] = []
    turns: list[tuple[Laid, ...]] = []
    for part in parts:
        turn = AS_DRAWN if part.number in fixed else FACE_A_UP if stock.one_face else EVERY_TURN
        blanks.extend([blank_of(part, stock, marks)] * part.pieces)
        turns.extend([turn] * part.pieces)
    return Nesting(tuple(blanks), tuple(turns), tenths_up(saw.kerf_mm))


def _verify(
    plans: Sequence[BoardPlan],
    parts: Sequence[Part],
    stock: BoardStock,
    saw: Saw,
    fixed: frozenset[str],
    marks: Marks,
) -> None:
    """Let a plan that cannot be cut crash: it is our fault, not the user's."""
    faults = board_faults(plans, parts, stock, saw, fixed, marks)
    if faults:
        message = f"the board plan for {stock.key} cannot be cut: " + "; ".join(faults)
        raise AssertionError(message)


def _offers(stock: BoardStock, saw: Saw) -> tuple[Offer, ...]:
    """Return every length of a stock: offcuts on hand, whose ends are clean, then what is for sale."""
    trim, far = tenths_up(saw.end_trim_mm), tenths_up(saw.far_end_trim_mm)
    width = tenths_down(stock.straight_width_mm)
    return (
        *(
            Offer(
                length_mm=one.length_mm, trim=0, usable=tenths_down(one.length_mm),
                width=tenths_down(one.width_mm) if one.width_mm else width, price=Decimal(0), most=one.count,
                cut_from=one.cut_from,
            )
            for one in stock.offcuts
        ),
        *(
            Offer(
                length_mm=one.length_mm, trim=trim, usable=max(0, tenths_down(one.length_mm) - trim - far),
                width=width, price=one.price, most=None,
            )
            for one in stock.lengths
        ),
    )  # fmt: skip


def _board_plans(
    found: FoundBoards, nesting: Nesting, names: Sequence[str], offers: Sequence[Offer], stock: BoardStock, saw: Saw
) -> Iterator[BoardPlan]:
    """Yield the boards, those bought first, the longest of them first."""
    order = sorted(found.boards, key=lambda one: (offers[one.offer].most is not None, -offers[one.offer].length_mm))
    for index, board in enumerate(order, start=1):
        offer = offers[board.offer]
        laid, reach, ripped = _laid(board, nesting, names, offer.trim)
        leftover = max(0, offer.trim + offer.usable - reach)
        off = leftover + nesting.kerf if leftover / TENTHS >= saw.kept_from_mm else 0
        strip = _strip(offer.usable - off, offer.width - ripped, saw)
        yield BoardPlan(
            stock=stock.key, index=index, length_mm=offer.length_mm, pieces=laid, leftover_mm=leftover / TENTHS,
            offcut=offer.most is not None, cut_from=offer.cut_from,
            width_mm=offer.width / TENTHS if offer.width < tenths_down(stock.straight_width_mm) else 0.0,
            strip_length_mm=strip[0] / TENTHS, strip_mm=strip[1] / TENTHS,
        )  # fmt: skip


def _strip(length: int, width: int, saw: Saw) -> tuple[int, int]:
    """Return length and width of a strip beyond the last lane; nothing where it is not worth keeping. [0.1 mm]"""
    kept = saw.keeps_strip(length / TENTHS, width / TENTHS)
    return (length, width) if kept else (0, 0)


def _laid(
    board: LaidBoard, nesting: Nesting, names: Sequence[str], trim: int
) -> tuple[tuple[BoardPiece, ...], int, int]:
    """Return a board's pieces where they lie, and how far they and their last cuts reach along and across. [0.1 mm]"""
    laid: list[BoardPiece] = []
    across = reach = 0
    for lane in board.lanes:
        at = trim
        for chain in lane:
            for number, link in enumerate(chain.links):
                blank = nesting.blanks[link.piece]
                laid.append(
                    BoardPiece(
                        part=names[link.piece], at_mm=(at + link.start) / TENTHS, length_mm=blank.length / TENTHS,
                        across_mm=across / TENTHS, width_mm=blank.width / TENTHS, laid=link.turn,
                        shared=_shared(link.shared, at + chain.links[number - 1].start),
                    )
                )  # fmt: skip
            at += chain.length + nesting.kerf
        reach = max(reach, at)
        across += max(nesting.blanks[piece].width for chain in lane for piece in chain.pieces) + nesting.kerf
    return tuple(laid), reach, across


def _shared(cut: Joint | None, start: int) -> SharedCut | None:
    if cut is None:
        return None
    mitre, tilt = cut.slant.angles_rad
    return SharedCut(at_mm=(start + cut.place) / TENTHS, mitre_rad=mitre, tilt_rad=tilt)


def _summary(
    plans: Sequence[BoardPlan], nesting: Nesting, best: FoundBoards, stock: BoardStock, saw: Saw
) -> StockSummary:
    """Return how well the stock is used; where ends share cuts, pieces count with what they take at least."""
    rectangles = [
        Rectangle(length=length, width=blank.width)
        for length, blank in zip(shortened(nesting), nesting.blanks, strict=True)
    ]
    longest, width = max(offer.usable for offer in _offers(stock, saw)), tenths_down(stock.straight_width_mm)
    bound = least_sheets(rectangles, length=longest, width=width, kerf=nesting.kerf)
    area_mm2 = sum(one.length_mm * one.width_mm for plan in plans for one in plan.pieces) - sum(
        _twice(plan) for plan in plans
    )
    return StockSummary(
        stock=stock.key, used=len(plans), at_least=bound.least,
        yield_share=area_mm2 / sum(plan.length_mm * (plan.width_mm or stock.width_mm) for plan in plans),
        bound_says=_money_says(money_for(plans, stock), best)
        + _left_says(best, tenths_up(saw.keep_mm)),
    )  # fmt: skip


def _twice(plan: BoardPlan) -> float:
    """Return the area that boxes of pieces sharing a cut have in common. [mm2]"""
    pairs = [(one, after) for one, after in pairwise(plan.pieces) if after.shared is not None]
    return sum(
        max(0.0, one.at_mm + one.length_mm - after.at_mm) * min(one.width_mm, after.width_mm) for one, after in pairs
    )


def _money_says(cost: Decimal, best: FoundBoards) -> str:
    """Return how near the plan's price is to the least that boards ripped and crosscut can cost."""
    least = best.price
    cut = "rip and crosscut them, equal ends sharing a cut," if best.nested else "rip and crosscut them"
    if cost <= least:
        return f"boards for {cost:.2f}: proven best, no way to {cut} costs less"
    if least == 0:
        return f"boards for {cost:.2f}; how much less is possible is not known"
    over = (cost - least) / least * 100
    within = f"within {max(over, Decimal('0.1')):.1f} %"
    return f"boards for {cost:.2f}: {within} of the cheapest way to {cut.rstrip(',')}"


def _left_says(best: FoundBoards, worth_keeping: int) -> str:
    """Return what is said of the longest piece left over: nothing where it is not worth keeping."""
    if best.left < worth_keeping or not best.beyond:
        return ""
    if best.beyond - best.left <= TENTHS:
        return "; for this money no plan leaves a longer piece"
    longer = -(-100 * (best.beyond - best.left) // best.left)
    if longer > _VAGUE_PERCENT:
        return "; how long a piece another plan for this money leaves is not known"
    return f"; for this money no plan leaves a piece {longer} % longer"


def _too_large(part: Part, longest: int, width: int, marks: Marks, *, taken: bool) -> TooLarge:
    """Return what keeps a part from being cut: longer than what is sold, and those on hand taken, or too wide."""
    l, w = cut_tenths(part, marks)
    if l > longest:
        gives = f"the longest board gives {show(longest / TENTHS, marks, way='down', with_unit=True)}"
        if taken:
            gives += ", and other parts take the longer ones on hand"
        cure = f"split it at mid length and join the halves over an upright: {gives}"
        if part.role == "strip":  # a butted trim opens; one end lies over the other
            cure = f"make it of two, over an upright, their ends slanted 45 deg one over the other and glued: {gives}"
    else:
        boards = -(-w // width)
        wide = show(width / TENTHS, marks, with_unit=True)
        cure = f"glue it up from {boards} boards, or choose one wider than {wide}"
    gives_mm = longest / TENTHS if l > longest else 0.0
    return TooLarge(part=part.number, length_mm=l / TENTHS, width_mm=w / TENTHS, cure=cure, gives_mm=gives_mm)
