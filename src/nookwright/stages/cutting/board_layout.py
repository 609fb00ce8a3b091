"""Lays the parts of one board stock out on boards: lanes ripped to width and crosscut, or crosscut first and ripped."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from nookwright.solvers.bounds import Bound, least_sheets
from nookwright.solvers.guillotine import Laid, Wanted, length_faults, sheet_faults
from nookwright.solvers.pack_lengths import Length, pack_lengths
from nookwright.solvers.pack_sheets import Rectangle
from nookwright.stages.cutting.blanks import TENTHS, blank_tenths, tenths_down, tenths_up
from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan, StockSummary, TooLarge
from nookwright.stages.inputs.shop import BoardStock, Saw
from nookwright.stages.parts.part import Part

_MONEY_STEPS = Decimal(10_000)
"""Money becomes whole ten-thousandths for the search, so that a lane's share of a board's price stays exact enough."""


@dataclass(frozen=True, slots=True)
class _Piece:
    """A piece of board to cut. [0.1 mm]"""

    part: str
    length: int
    width: int


@dataclass(frozen=True, slots=True)
class _Lane:
    """Pieces of one width, end to end along one length of board."""

    stock: int
    width: int
    pieces: tuple[_Piece, ...]


def lay_out_boards(
    parts: Sequence[Part], stock: BoardStock, saw: Saw
) -> tuple[tuple[BoardPlan, ...], StockSummary | None, tuple[TooLarge, ...]]:
    """Lay parts out on boards of one stock: boards are ripped into lanes first, then the lanes are crosscut.

    A part glued up from several boards takes as many pieces of full board width.

    Args:
        parts: the parts cut from this stock.
        stock: the board and the lengths it is sold in.
        saw: kerf, and what the first end of a board loses.

    Returns:
        The boards, how well they are used (None without parts that fit), and the parts no board can give.
    """
    pieces: list[_Piece] = []
    misfits: list[TooLarge] = []
    width, longest = tenths_down(stock.width_mm), _longest(stock, saw)
    for part in parts:
        l, w = blank_tenths(part)
        if l > longest or w > part.pieces * width:
            misfits.append(_too_large(part, l, w, longest, width))
        else:
            pieces.extend(_Piece(part.number, l, w if part.pieces == 1 else width) for _ in range(part.pieces))
    if not pieces:
        return (), None, tuple(misfits)
    boards = _cheapest_boards(pieces, stock, saw)
    plans = tuple(_board_plan(lanes, i, stock, saw) for i, lanes in enumerate(boards, start=1))
    _verify(plans, pieces, stock, saw)
    return plans, _summary(plans, pieces, stock, saw), tuple(misfits)


def _longest(stock: BoardStock, saw: Saw) -> int:
    return max(tenths_down(one.length_mm) for one in stock.lengths) - tenths_up(saw.end_trim_mm)


def _cheapest_boards(pieces: Sequence[_Piece], stock: BoardStock, saw: Saw) -> list[tuple[_Lane, ...]]:
    """Return the cheapest plan among: every length for sale, and each length by itself; ripped first or crosscut first.

    Lanes of one length share boards more easily, so one length alone can be the cheaper choice. Wide pieces of
    different widths can follow each other on a board that is crosscut first.
    """
    need = max(piece.length for piece in pieces) + tenths_up(saw.end_trim_mm)
    every = tuple(range(len(stock.lengths)))
    choices = [every] + [(i,) for i in every if tenths_down(stock.lengths[i].length_mm) >= need]
    plans = [
        _boards(_lanes(pieces, stock, saw, choice, crosscut_first=first), stock, saw)
        for choice in choices
        for first in (False, True)
    ]
    return min(plans, key=lambda boards: sum(stock.lengths[lanes[0].stock].price for lanes in boards))


def _lanes(
    pieces: Sequence[_Piece], stock: BoardStock, saw: Saw, choice: Sequence[int], *, crosscut_first: bool
) -> list[_Lane]:
    """Pack pieces of each width end to end; with `crosscut_first`, those too wide for two lanes share full lanes."""
    kerf, full = tenths_up(saw.kerf_mm), tenths_down(stock.width_mm)
    by_width: dict[int, list[_Piece]] = defaultdict(list)
    for piece in pieces:
        alone = crosscut_first and 2 * piece.width + kerf > full
        by_width[full if alone else piece.width].append(piece)
    lanes: list[_Lane] = []
    for width, equals in sorted(by_width.items(), reverse=True):
        share = Decimal(width + kerf) / Decimal(full + kerf)
        lengths = [
            Length(size=tenths_down(one.length_mm), price=max(1, round(one.price * _MONEY_STEPS * share)))
            for one in (stock.lengths[i] for i in choice)
        ]
        sizes = [piece.length for piece in equals]
        plan = pack_lengths(sizes, stocks=lengths, kerf=kerf, end_trim=tenths_up(saw.end_trim_mm))
        lanes.extend(_Lane(choice[one.stock], width, tuple(equals[i] for i in one.pieces)) for one in plan.filled)
    return lanes


def _boards(lanes: Sequence[_Lane], stock: BoardStock, saw: Saw) -> list[tuple[_Lane, ...]]:
    """Put lanes of equal length side by side on boards."""
    kerf, full = tenths_up(saw.kerf_mm), tenths_down(stock.width_mm)
    boards: list[tuple[_Lane, ...]] = []
    for length in sorted({lane.stock for lane in lanes}, key=lambda i: -stock.lengths[i].length_mm):
        equals = [lane for lane in lanes if lane.stock == length]
        widths = [lane.width for lane in equals]
        plan = pack_lengths(widths, stocks=[Length(size=full, price=1)], kerf=kerf)
        boards.extend(tuple(equals[i] for i in one.pieces) for one in plan.filled)
    return boards


def _board_plan(lanes: Sequence[_Lane], index: int, stock: BoardStock, saw: Saw) -> BoardPlan:
    kerf, trim = tenths_up(saw.kerf_mm), tenths_up(saw.end_trim_mm)
    length_mm = stock.lengths[lanes[0].stock].length_mm
    laid: list[BoardPiece] = []
    across = reach = 0
    for lane in lanes:
        at = trim
        for piece in lane.pieces:
            laid.append(
                BoardPiece(
                    part=piece.part, at_mm=at / TENTHS, length_mm=piece.length / TENTHS,
                    across_mm=across / TENTHS, width_mm=piece.width / TENTHS,
                )
            )  # fmt: skip
            at += piece.length + kerf
        reach = max(reach, at)
        across += lane.width + kerf
    leftover = max(0, tenths_down(length_mm) - reach)
    return BoardPlan(
        stock=stock.key, index=index, length_mm=length_mm, pieces=tuple(laid), leftover_mm=leftover / TENTHS
    )


def _verify(plans: Sequence[BoardPlan], pieces: Sequence[_Piece], stock: BoardStock, saw: Saw) -> None:
    """Let a plan that cannot be cut crash: it is our fault, not the user's."""
    kerf = tenths_up(saw.kerf_mm)
    asked = sorted((piece.part, piece.length, piece.width) for piece in pieces)
    given = sorted(
        (piece.part, round(piece.length_mm * TENTHS), round(piece.width_mm * TENTHS))
        for plan in plans
        for piece in plan.pieces
    )
    faults = [] if asked == given else [f"asked for {asked}, cut {given}"]
    for plan in plans:
        laid = [
            Laid(
                part=f"{piece.part} ({number})", sheet=plan.index,
                x=round(piece.at_mm * TENTHS), y=round(piece.across_mm * TENTHS),
                length=round(piece.length_mm * TENTHS), width=round(piece.width_mm * TENTHS),
            )
            for number, piece in enumerate(plan.pieces)
        ]  # fmt: skip
        wanted = {piece.part: Wanted(length=piece.length, width=piece.width) for piece in laid}
        length, width = tenths_down(plan.length_mm), tenths_down(stock.width_mm)
        faults.extend(sheet_faults(wanted, laid, length=length, width=width, trim=0, kerf=kerf))
        for lane in sorted({piece.y for piece in laid}):
            run = [(piece.part, piece.x, piece.length) for piece in laid if piece.y == lane]
            sizes = {name: size for name, _, size in run}
            faults.extend(length_faults(sizes, run, length=length, end_trim=tenths_up(saw.end_trim_mm), kerf=kerf))
    if faults:
        message = f"the board plan for {stock.key} cannot be cut: " + "; ".join(faults)
        raise AssertionError(message)


def _summary(plans: Sequence[BoardPlan], pieces: Sequence[_Piece], stock: BoardStock, saw: Saw) -> StockSummary:
    rectangles = [Rectangle(length=piece.length, width=piece.width) for piece in pieces]
    longest, width = _longest(stock, saw), tenths_down(stock.width_mm)
    bound: Bound = least_sheets(rectangles, length=longest, width=width, kerf=tenths_up(saw.kerf_mm))
    area_mm2 = sum(piece.length * piece.width for piece in pieces) / TENTHS**2
    of_longest = "boards of the longest length"
    says = {
        "area": f"by area, kerfs included, no plan needs fewer {of_longest}",
        "large pieces": f"by area and by large pieces that cannot share a board, no plan needs fewer {of_longest}",
        "nothing": "nothing to cut",
    }[bound.reason]
    return StockSummary(
        stock=stock.key, used=len(plans), at_least=bound.least,
        yield_share=area_mm2 / sum(plan.length_mm * stock.width_mm for plan in plans), bound_says=says,
    )  # fmt: skip


def _too_large(part: Part, l: int, w: int, longest: int, width: int) -> TooLarge:
    if l > longest:
        gives = f"the longest board gives {longest / TENTHS:g} mm"
        cure = f"split it at mid length and join the halves over an upright: {gives}"
    else:
        boards = -(-w // width)
        cure = f"glue it up from {boards} boards, or choose one wider than {width / TENTHS:g} mm"
    return TooLarge(part=part.number, length_mm=l / TENTHS, width_mm=w / TENTHS, cure=cure)
