"""Lays the parts of one board stock out on boards: ripped into lanes and crosscut, for the least money."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from nookwright.solvers.board_leftovers import BoardJob, LongestLeft, longest_left
from nookwright.solvers.bounds import least_sheets
from nookwright.solvers.pack_boards import Board, BoardsPlan, Ripped, boards_plans
from nookwright.solvers.pack_sheets import Rectangle
from nookwright.stages.cutting.blanks import TENTHS, blank_tenths, tenths_down, tenths_up
from nookwright.stages.cutting.board_check import board_faults, money_for
from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan, StockSummary, TooLarge
from nookwright.stages.cutting.sheet_search import MoreTime, no_more_time
from nookwright.stages.inputs.shop import BoardStock, Saw
from nookwright.stages.parts.part import Part

_MONEY_STEPS = 100
"""Money becomes whole hundredths for the search."""
_ROUNDS = 40
"""Rounds of search that every plan gets: enough to prove most jobs, and the same on every machine."""


_PROBES, _PROBE_ROUNDS = 10, 2
"""Lengths tried as the longest left over, and rounds of search for each."""


@dataclass(frozen=True, slots=True)
class _Piece:
    """A piece of board to cut. [0.1 mm]"""

    part: str
    length: int
    width: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Offer:
    """A length of board that can be had, and what is trimmed off its first end. [mm, 0.1 mm]"""

    length_mm: float
    trim: int
    price: Decimal
    most: int | None

    @property
    def usable(self) -> int:
        """What is left of it. [0.1 mm]"""
        return max(0, tenths_down(self.length_mm) - self.trim)


def lay_out_boards(
    parts: Sequence[Part], stock: BoardStock, saw: Saw, more_time: MoreTime = no_more_time
) -> tuple[tuple[BoardPlan, ...], StockSummary | None, tuple[TooLarge, ...]]:
    """Lay parts out on boards of one stock for the least money: boards are ripped into lanes, the lanes are crosscut.

    A part glued up from several boards takes as many pieces of full board width.

    Args:
        parts: the parts cut from this stock.
        stock: the board, the lengths it is sold in, and offcuts of it.
        saw: kerf, and what the first end of a board loses.
        more_time: whether the search for a cheaper plan, or for a proof, may go on; asked often.

    Returns:
        The boards, how well they are used (None without parts that fit), and the parts no board can give.
    """
    width = tenths_down(stock.straight_width_mm)
    offers = _offers(stock, saw)
    longest = max(offer.usable for offer in offers if offer.most is None)
    pieces: list[_Piece] = []
    fitting: list[Part] = []
    misfits: list[TooLarge] = []
    for part in parts:
        l, w = blank_tenths(part)
        if l > longest or w > part.pieces * width:
            misfits.append(_too_large(part, l, w, longest, width))
            continue
        fitting.append(part)
        pieces.extend(_Piece(part.number, l, w if part.pieces == 1 else width) for _ in range(part.pieces))
    if not pieces:
        return (), None, tuple(misfits)
    best = _searched(pieces, offers, width, tenths_up(saw.kerf_mm), more_time)
    plans = tuple(_board_plans(best.plan, pieces, offers, stock, saw))
    _verify(plans, fitting, stock, saw)
    return plans, _summary(plans, pieces, best, stock, saw), tuple(misfits)


def _verify(plans: Sequence[BoardPlan], parts: Sequence[Part], stock: BoardStock, saw: Saw) -> None:
    """Let a plan that cannot be cut crash: it is our fault, not the user's."""
    faults = board_faults(plans, parts, stock, saw)
    if faults:
        message = f"the board plan for {stock.key} cannot be cut: " + "; ".join(faults)
        raise AssertionError(message)


def _offers(stock: BoardStock, saw: Saw) -> tuple[_Offer, ...]:
    """Return every length of a stock: offcuts on hand, whose ends are clean, then what is for sale."""
    on_hand = (_Offer(length_mm=one.length_mm, trim=0, price=Decimal(0), most=one.count) for one in stock.offcuts)
    trim = tenths_up(saw.end_trim_mm)
    sold = (_Offer(length_mm=one.length_mm, trim=trim, price=one.price, most=None) for one in stock.lengths)
    return (*on_hand, *sold)


def _searched(
    pieces: Sequence[_Piece], offers: Sequence[_Offer], width: int, kerf: int, more_time: MoreTime
) -> LongestLeft:
    """Return the best plan of the rounds that every job gets, and of as many more as there is time for.

    Money comes first; of plans for the same money the one is taken that leaves the longest piece over.
    """
    boards = [
        Board(length=offer.usable, width=width, price=round(offer.price * _MONEY_STEPS), most=offer.most)
        for offer in offers
    ]
    rounds = 0

    def time_left() -> float:
        return float("inf") if rounds < _ROUNDS or more_time() else 0.0

    best = BoardsPlan(boards=(), cost=0, least_cost=0)
    job = BoardJob(pieces=tuple((piece.length, piece.width) for piece in pieces), boards=tuple(boards), kerf=kerf)
    for best in boards_plans(job.pieces, boards=boards, kerf=kerf, time_left=time_left):  # noqa: B007
        rounds += 1
    return longest_left(best, job, probes=_PROBES, rounds=_PROBE_ROUNDS)


def _board_plans(
    found: BoardsPlan, pieces: Sequence[_Piece], offers: Sequence[_Offer], stock: BoardStock, saw: Saw
) -> Iterator[BoardPlan]:
    """Yield the boards, those bought first, the longest of them first."""
    kerf = tenths_up(saw.kerf_mm)
    order = sorted(found.boards, key=lambda one: (offers[one.stock].most is not None, -offers[one.stock].length_mm))
    for index, board in enumerate(order, start=1):
        offer = offers[board.stock]
        laid, reach = _laid(board, pieces, offer.trim, kerf)
        leftover = max(0, tenths_down(offer.length_mm) - reach)
        yield BoardPlan(
            stock=stock.key, index=index, length_mm=offer.length_mm, pieces=laid, leftover_mm=leftover / TENTHS,
            offcut=offer.most is not None,
        )  # fmt: skip


def _laid(board: Ripped, pieces: Sequence[_Piece], trim: int, kerf: int) -> tuple[tuple[BoardPiece, ...], int]:
    """Return a board's pieces where they lie, and how far they and their last cuts reach. [0.1 mm]"""
    laid: list[BoardPiece] = []
    across = reach = 0
    for lane in board.lanes:
        at = trim
        for piece in (pieces[i] for i in lane):
            laid.append(
                BoardPiece(
                    part=piece.part, at_mm=at / TENTHS, length_mm=piece.length / TENTHS,
                    across_mm=across / TENTHS, width_mm=piece.width / TENTHS,
                )
            )  # fmt: skip
            at += piece.length + kerf
        reach = max(reach, at)
        across += max(pieces[i].width for i in lane) + kerf
    return tuple(laid), reach


def _summary(
    plans: Sequence[BoardPlan], pieces: Sequence[_Piece], best: LongestLeft, stock: BoardStock, saw: Saw
) -> StockSummary:
    rectangles = [Rectangle(length=piece.length, width=piece.width) for piece in pieces]
    longest, width = max(offer.usable for offer in _offers(stock, saw)), tenths_down(stock.straight_width_mm)
    bound = least_sheets(rectangles, length=longest, width=width, kerf=tenths_up(saw.kerf_mm))
    area_mm2 = sum(piece.length * piece.width for piece in pieces) / TENTHS**2
    return StockSummary(
        stock=stock.key, used=len(plans), at_least=bound.least,
        yield_share=area_mm2 / sum(plan.length_mm * stock.width_mm for plan in plans),
        bound_says=_money_says(money_for(plans, stock), Decimal(best.plan.least_cost) / _MONEY_STEPS)
        + _left_says(best, tenths_up(saw.keep_mm)),
    )  # fmt: skip


def _money_says(cost: Decimal, least: Decimal) -> str:
    """Return how near the plan's price is to the least that boards ripped and crosscut can cost."""
    if cost <= least:
        return f"boards for {cost:.2f}: proven best, no way to rip and crosscut them costs less"
    if least == 0:
        return f"boards for {cost:.2f}; how much less is possible is not known"
    over = (cost - least) / least * 100
    within = f"within {max(over, Decimal('0.1')):.1f} %"
    return f"boards for {cost:.2f}: {within} of the cheapest way to rip and crosscut them"


def _left_says(best: LongestLeft, worth_keeping: int) -> str:
    """Return what is said of the longest piece left over: nothing where it is not worth keeping."""
    if best.left < worth_keeping:
        return ""
    if best.beyond - best.left <= TENTHS:
        return "; for this money no plan leaves a longer piece"
    longer = -(-100 * (best.beyond - best.left) // best.left)
    return f"; for this money no plan leaves a piece {longer} % longer"


def _too_large(part: Part, l: int, w: int, longest: int, width: int) -> TooLarge:
    if l > longest:
        gives = f"the longest board gives {longest / TENTHS:g} mm"
        cure = f"split it at mid length and join the halves over an upright: {gives}"
    else:
        boards = -(-w // width)
        cure = f"glue it up from {boards} boards, or choose one wider than {width / TENTHS:g} mm"
    gives_mm = longest / TENTHS if l > longest else 0.0
    return TooLarge(part=part.number, length_mm=l / TENTHS, width_mm=w / TENTHS, cure=cure, gives_mm=gives_mm)
