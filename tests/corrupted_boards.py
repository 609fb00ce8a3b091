"""Spoils board plans, each in one way that no saw could follow; shared by the property test and the bench."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import cache
from random import Random

from nookwright.geometry.frame import Frame
from nookwright.stages.cutting.board_check import board_faults
from nookwright.stages.cutting.board_layout import lay_out_boards
from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan, Laid, SharedCut
from nookwright.stages.inputs.shop import BoardLength, BoardOffcut, BoardStock, Saw
from nookwright.stages.parts.part import SQUARE, Edge, Part

Plans = tuple[BoardPlan, ...]
FRAME = Frame(origin=(0, 0, 0), u=(1, 0, 0), v=(0, 0, 1))


@cache
def whole_plan(number: int, most_parts: int = 12) -> tuple[Plans, list[Part], BoardStock, Saw]:
    """Return a plan that can be cut, with what it was made from; the same number gives the same one."""
    chance = Random(number)  # noqa: S311
    stock = BoardStock(
        key="pine", name="pine", wood="pine", thickness_mm=20, width_mm=chance.choice([95, 120, 145]),
        lengths=tuple(
            BoardLength(length_mm=length, price=Decimal(chance.randint(400, 1200)) / 100)
            for length in sorted(chance.sample([1800, 2400, 3000, 3600], 2))
        ),
        offcuts=tuple(
            BoardOffcut(length_mm=chance.randint(400, 900), count=chance.randint(1, 2))
            for _ in range(chance.randint(0, 2))
        ),
    )  # fmt: skip
    strip = BoardOffcut(length_mm=chance.randint(700, 2000), width_mm=chance.randint(20, 60))
    stock = replace(stock, offcuts=(*stock.offcuts, strip))
    saw = Saw(kerf_mm=chance.choice([2.2, 3.0, 3.2]), end_trim_mm=10, keep_strip_mm=15)
    saw = replace(saw, far_end_trim_mm=chance.choice([0, 12]))
    widths = chance.sample([18, 30, 45, 60, stock.width_mm], 2)
    parts = [
        part(f"S{i}", chance.randint(2000, 17000) / 10, chance.choice(widths), pieces=1)
        for i in range(chance.randint(3, most_parts))
    ]
    if chance.random() < 0.6:
        parts += [raked(f"R{i}", chance.randint(2000, 9000) / 10, widths[0], chance) for i in range(3)]
    if chance.random() < 0.3:
        parts.append(part("T1", chance.randint(500, 1500), 2.4 * stock.width_mm, pieces=3))
    plans, _, _ = lay_out_boards(parts, stock, saw)
    return plans, parts, stock, saw


def part(number: str, length: float, width: float, *, pieces: int) -> Part:
    """Return a plain rectangular part."""
    return Part(
        number=number, name=number, role="strip", module="A", stock="pine", wood="pine", thickness_mm=20,
        outline=((0, 0), (length, 0), (length, width), (0, width)), edges=(SQUARE,) * 4, frame=FRAME, pieces=pieces,
    )  # fmt: skip


def raked(number: str, length: float, width: float, chance: Random) -> Part:
    """Return a part with its right end cut at 35 degrees or its opposite, or with a bevel of 30 degrees, or both ends."""
    over = width * math.tan(math.radians(35))
    shape = chance.randrange(4)
    outline = [
        ((0.0, 0.0), (length, 0.0), (length - over, width), (0.0, width)),
        ((0.0, 0.0), (length - over, 0.0), (length, width), (0.0, width)),
        ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width)),
        ((over, 0.0), (length + over, 0.0), (length, width), (0.0, width)),
    ][shape]
    bevelled = Edge(bevel_rad=math.radians(30)) if shape == 2 else SQUARE
    return replace(part(number, length, width, pieces=1), outline=outline, edges=(SQUARE, bevelled, SQUARE, SQUARE))


def spoilt(plans: Plans, stock: BoardStock, chance: Random) -> tuple[str, Plans]:
    """Return what was done to a plan, and the plan that nobody can cut any more."""
    while True:
        how = chance.choice(list(WAYS))
        changed = WAYS[how](plans, stock, chance)
        if changed is not None:
            return how, changed


def _with(plans: Plans, board: int, changed: BoardPlan) -> Plans:
    return (*plans[:board], changed, *plans[board + 1 :])


def _with_piece(plans: Plans, board: int, place: int, *pieces: BoardPiece) -> Plans:
    plan = plans[board]
    return _with(plans, board, replace(plan, pieces=(*plan.pieces[:place], *pieces, *plan.pieces[place + 1 :])))


def _any(plans: Plans, chance: Random) -> tuple[int, int, BoardPiece]:
    board = chance.randrange(len(plans))
    place = chance.randrange(len(plans[board].pieces))
    return board, place, plans[board].pieces[place]


def _missing(plans: Plans, _: BoardStock, chance: Random) -> Plans:
    board, place, _piece = _any(plans, chance)
    return _with_piece(plans, board, place)


def _twice(plans: Plans, _: BoardStock, chance: Random) -> Plans:
    board, place, piece = _any(plans, chance)
    return _with_piece(plans, board, place, piece, replace(piece, at_mm=piece.at_mm + piece.length_mm + 500))


def _of_other_size(plans: Plans, _: BoardStock, chance: Random) -> Plans:
    board, place, piece = _any(plans, chance)
    by = chance.choice([-1, 1]) * chance.randint(1, 300) / 10
    if chance.random() < 0.5:
        return _with_piece(plans, board, place, replace(piece, length_mm=round(piece.length_mm + by, 1)))
    return _with_piece(plans, board, place, replace(piece, width_mm=round(piece.width_mm + by, 1)))


def _too_near(plans: Plans, _: BoardStock, chance: Random) -> Plans:
    """Pieces lie as near as the kerf allows, so that any step towards the first end is one too many."""
    board, place, piece = _any(plans, chance)
    by = chance.randint(1, 20 if chance.random() < 0.5 else 2000) / 10
    return _with_piece(plans, board, place, replace(piece, at_mm=round(piece.at_mm - by, 1)))


def _lane_too_near(plans: Plans, _: BoardStock, chance: Random) -> Plans:
    board, _place, piece = _any(plans, chance)
    by = chance.randint(1, 30) / 10
    plan = plans[board]
    pieces = tuple(
        replace(one, across_mm=round(one.across_mm - by, 1)) if one.across_mm == piece.across_mm else one
        for one in plan.pieces
    )
    return _with(plans, board, replace(plan, pieces=pieces))


def _out_of_lane(plans: Plans, _: BoardStock, chance: Random) -> Plans | None:
    """A piece moved a little across stands in no lane: it meets its neighbours, or leaves the board."""
    board, place, piece = _any(plans, chance)
    lane = [one for one in plans[board].pieces if one.across_mm == piece.across_mm]
    if len(lane) < 2:
        return None
    by = chance.randint(1, 15) / 10
    return _with_piece(plans, board, place, replace(piece, across_mm=round(piece.across_mm + by, 1)))


def _beyond_the_end(plans: Plans, _: BoardStock, chance: Random) -> Plans:
    board, place, piece = _any(plans, chance)
    at = plans[board].length_mm - piece.length_mm + chance.randint(1, 500) / 10
    return _with_piece(plans, board, place, replace(piece, at_mm=round(at, 1)))


def _beyond_the_edge(plans: Plans, stock: BoardStock, chance: Random) -> Plans:
    board, place, piece = _any(plans, chance)
    across = stock.width_mm - piece.width_mm + chance.randint(1, 500) / 10
    return _with_piece(plans, board, place, replace(piece, across_mm=round(across, 1)))


def _named_otherwise(plans: Plans, _: BoardStock, chance: Random) -> Plans:
    board, place, piece = _any(plans, chance)
    return _with_piece(plans, board, place, replace(piece, part=piece.part + "x"))


def _not_for_sale(plans: Plans, stock: BoardStock, chance: Random) -> Plans:
    board = chance.randrange(len(plans))
    longer = max(one.length_mm for one in stock.lengths) + chance.randint(1, 5000) / 10
    return _with(plans, board, replace(plans[board], length_mm=round(longer, 1)))


def _more_left_over(plans: Plans, _: BoardStock, chance: Random) -> Plans:
    board = chance.randrange(len(plans))
    more = round(plans[board].leftover_mm + chance.randint(1, 900) / 10, 1)
    return _with(plans, board, replace(plans[board], leftover_mm=more))


def _larger_strip(plans: Plans, _: BoardStock, chance: Random) -> Plans | None:
    """A strip is as long and as wide as it can be, so that a little more is too much."""
    board = chance.randrange(len(plans))
    plan = plans[board]
    if not plan.strip_mm:
        return None
    by = chance.randint(1, 300) / 10
    if chance.random() < 0.5:
        return _with(plans, board, replace(plan, strip_mm=round(plan.strip_mm + by, 1)))
    return _with(plans, board, replace(plan, strip_length_mm=round(plan.strip_length_mm + by, 1)))


def _of_another_width(plans: Plans, _: BoardStock, chance: Random) -> Plans:
    board = chance.randrange(len(plans))
    width = round(plans[board].width_mm + chance.randint(1, 300) / 10, 1)
    return _with(plans, board, replace(plans[board], width_mm=width))


def _bought_as_offcut(plans: Plans, stock: BoardStock, chance: Random) -> Plans | None:
    board = chance.randrange(len(plans))
    if plans[board].offcut or any(one.length_mm == plans[board].length_mm for one in stock.offcuts):
        return None
    return _with(plans, board, replace(plans[board], offcut=True))


def _of_other_stock(plans: Plans, _: BoardStock, chance: Random) -> Plans:
    board = chance.randrange(len(plans))
    return _with(plans, board, replace(plans[board], stock="oak"))


def _board_lost(plans: Plans, _: BoardStock, chance: Random) -> Plans:
    board = chance.randrange(len(plans))
    return (*plans[:board], *plans[board + 1 :])


def _misnumbered(plans: Plans, _: BoardStock, chance: Random) -> Plans:
    board = chance.randrange(len(plans))
    return _with(plans, board, replace(plans[board], index=plans[board].index + chance.randint(1, 3)))


def _names_changed_round(plans: Plans, _: BoardStock, chance: Random) -> Plans | None:
    """Two pieces of unlike size trade names."""
    (i, a, one), (j, b, other) = _any(plans, chance), _any(plans, chance)
    if (one.length_mm, one.width_mm) == (other.length_mm, other.width_mm):
        return None
    changed = _with_piece(plans, i, a, replace(one, part=other.part))
    return _with_piece(changed, j, b, replace(other, part=one.part))


def _shared(plans: Plans) -> list[tuple[int, int]]:
    """Return the boards and places of the pieces that share a cut with the one before them."""
    return [
        (board, place)
        for board, plan in enumerate(plans)
        for place, piece in enumerate(plan.pieces)
        if piece.shared is not None
    ]


def _cut_changed(plans: Plans, chance: Random, change: Callable[[SharedCut], SharedCut | None]) -> Plans | None:
    found = _shared(plans)
    if not found:
        return None
    board, place = chance.choice(found)
    piece = plans[board].pieces[place]
    assert piece.shared is not None
    return _with_piece(plans, board, place, replace(piece, shared=change(piece.shared)))


def _cut_forgotten(plans: Plans, _: BoardStock, chance: Random) -> Plans | None:
    return _cut_changed(plans, chance, lambda _cut: None)


def _cut_at_another_angle(plans: Plans, _: BoardStock, chance: Random) -> Plans | None:
    by = chance.choice([-1, 1]) * math.radians(chance.uniform(1.5, 20))
    if chance.random() < 0.5:
        return _cut_changed(plans, chance, lambda cut: replace(cut, mitre_rad=cut.mitre_rad + by))
    return _cut_changed(plans, chance, lambda cut: replace(cut, tilt_rad=cut.tilt_rad + by))


def _cut_elsewhere(plans: Plans, _: BoardStock, chance: Random) -> Plans | None:
    by = chance.choice([-1, 1]) * chance.uniform(0.11, 30)
    return _cut_changed(plans, chance, lambda cut: replace(cut, at_mm=cut.at_mm + by))


def _turned_over(plans: Plans, _: BoardStock, chance: Random) -> Plans | None:
    """A piece whose end is cut by a shared cut does not fit it any more the other way up."""
    found = _shared(plans)
    if not found:
        return None
    board, place = chance.choice(found)
    place -= chance.randrange(2)
    piece = plans[board].pieces[place]
    over: dict[Laid, Laid] = {
        "as drawn": "over", "over": "as drawn", "end for end": "over end for end", "over end for end": "end for end",
    }  # fmt: skip
    return _with_piece(plans, board, place, replace(piece, laid=over[piece.laid]))


WAYS: dict[str, Callable[[Plans, BoardStock, Random], Plans | None]] = {
    "a piece is missing": _missing,
    "a piece comes twice": _twice,
    "a piece has another size": _of_other_size,
    "a piece lies too near to the one before it": _too_near,
    "a lane lies too near to the one beside it": _lane_too_near,
    "a piece stands out of its lane": _out_of_lane,
    "a piece reaches beyond the end": _beyond_the_end,
    "a piece reaches beyond the edge": _beyond_the_edge,
    "a piece has another name": _named_otherwise,
    "a board is not for sale": _not_for_sale,
    "more is left over than there is": _more_left_over,
    "a strip is larger than there is": _larger_strip,
    "a board has another width": _of_another_width,
    "a bought board counts as an offcut": _bought_as_offcut,
    "a board is of another stock": _of_other_stock,
    "a board is lost": _board_lost,
    "a board has a wrong number": _misnumbered,
    "two pieces trade names": _names_changed_round,
    "a shared cut is forgotten": _cut_forgotten,
    "a shared cut has another angle": _cut_at_another_angle,
    "a shared cut is elsewhere": _cut_elsewhere,
    "a piece at a shared cut is turned over": _turned_over,
}


def accepted(numbers: Sequence[int], each: int) -> list[str]:
    """Return every spoilt plan that the checker lets pass; empty when it is to be trusted.

    Args:
        numbers: plans to spoil.
        each: how often each plan is spoilt.
    """
    passed: list[str] = []
    for number in numbers:
        plans, parts, stock, saw = whole_plan(number)
        if board_faults(plans, parts, stock, saw):
            passed.append(f"plan {number} is refused as it is")
        chance = Random(number + 1_000_000)  # noqa: S311
        for _ in range(each):
            how, changed = spoilt(plans, stock, chance)
            if not board_faults(changed, parts, stock, saw):
                passed.append(f"plan {number}: {how}")
    return passed
