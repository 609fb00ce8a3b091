"""Slanted ends that share a cut: the length it takes, which turns are allowed, and nothing cheaper left unfound."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from itertools import permutations, product
from random import Random

import pytest

from corrupted_boards import FRAME, part
from nookwright.basics.lengths import Marks
from nookwright.drawings.pages.shared_cuts import drawn_piece, shared_cuts_said
from nookwright.stages.cutting.board_check import board_faults, money_for
from nookwright.stages.cutting.board_lanes import Lane
from nookwright.stages.cutting.board_layout import lay_out_boards
from nookwright.stages.cutting.cutting_plan import BoardPlan
from nookwright.stages.inputs.shop import BoardLength, BoardStock, Saw
from nookwright.stages.parts.part import SQUARE, Edge, Part

WIDTH, KERF = 50.0, 3.0
SAW = Saw(kerf_mm=KERF, end_trim_mm=10)
RUN = 40.0
"""The slanted ends run 40 over 50 across: 38.66 degrees."""
WIDE_KERF = KERF * math.hypot(RUN, WIDTH) / WIDTH
"""What a cut at that angle takes along the board: 3 / cos 38.66 = 3.842."""


def stock(*lengths: float, width: float = WIDTH, one_face: bool = False) -> BoardStock:
    """Return a board in these lengths, a hundredth of money for each millimetre."""
    return BoardStock(
        key="pine", name="pine", wood="pine", thickness_mm=20, width_mm=width, one_face=one_face,
        lengths=tuple(BoardLength(length_mm=length, price=Decimal(f"{length / 100:.2f}")) for length in lengths),
    )  # fmt: skip


def raked(number: str, length: float, *, left: float = 0.0, right: float = 0.0) -> Part:
    """Return a part whose ends run so far across its width; above 0 where the upper edge lies farther right."""
    low, high = max(0.0, -left), max(0.0, left)
    right_low = length - max(0.0, right)
    outline = ((low, 0.0), (right_low, 0.0), (right_low + right, WIDTH), (high, WIDTH))
    return replace(part(number, length, WIDTH, pieces=1), outline=outline)


def bevelled(number: str, length: float, tilt_deg: float) -> Part:
    """Return a part whose right end is cut with a tilted blade, face B the longer one."""
    edges = (SQUARE, Edge(bevel_rad=math.radians(tilt_deg)), SQUARE, SQUARE)
    return replace(part(number, length, WIDTH, pieces=1), edges=edges, frame=FRAME)


def boards(parts: list[Part], board: BoardStock, **more: tuple[tuple[str, ...], ...]) -> tuple[BoardPlan, ...]:
    """Return the boards these parts are cut from."""
    plans, summary, misfits = lay_out_boards(parts, board, SAW, **more)
    assert summary is not None
    assert not misfits
    return plans


def test_two_equal_mitres_share_one_cut_and_save_its_run() -> None:
    """Long points 500 and 600: 1100 less 40, and 3.842 for the cut; to the tenth that and no more is needed."""
    parts = [raked("A", 500, right=-RUN), raked("B", 600, right=-RUN)]
    need = 500 + 600 - RUN + WIDE_KERF + 10
    exact = math.ceil(need * 10) / 10
    assert len(boards(parts, stock(exact))) == 1
    assert len(boards(parts, stock(exact - 0.1))) == 2
    (plan,) = boards(parts, stock(exact))
    first, second = plan.pieces
    assert second.shared is not None
    assert math.degrees(abs(second.shared.mitre_rad)) == pytest.approx(38.66, abs=0.005)
    assert {first.laid, second.laid} == {"as drawn", "end for end"}
    assert plan.leftover_mm == 0


def test_bevels_share_a_cut_when_turned_over() -> None:
    """Blade tilted 30 degrees in 20 thick: the ends run 11.547, 511.6 at the long point; the cut is 3 / cos 30 wide."""
    run = 20 * math.tan(math.radians(30))
    parts = [bevelled("A", 500, 30), bevelled("B", 500, 30)]
    exact = math.ceil((2 * 511.6 - run + 3 / math.cos(math.radians(30)) + 10) * 10) / 10
    (plan,) = boards(parts, stock(exact))
    assert {piece.laid for piece in plan.pieces} == {"as drawn", "over end for end"}
    assert len(boards(parts, stock(exact - 0.2))) == 2
    assert len(boards(parts, stock(exact, one_face=True))) == 2


def test_opposite_mitres_share_a_cut_only_where_a_piece_may_be_turned_over() -> None:
    """With one good face, or a figure that runs over to another part, they are cut apart."""
    parts = [raked("A", 500, right=-RUN), raked("B", 600, right=RUN)]
    assert len(boards(parts, stock(1075))) == 1
    assert len(boards(parts, stock(1075, one_face=True))) == 2
    assert len(boards(parts, stock(1075), matched=(("A", "B"),))) == 2
    assert len(boards([raked("A", 500, right=-RUN), raked("B", 600, left=-RUN)], stock(1075, one_face=True))) == 1


def test_the_checker_refuses_turns_that_are_not_allowed() -> None:
    """A plan with a piece turned over, of a board with one good face; and with a part that must lie as drawn."""
    parts = [raked("A", 500, right=-RUN), raked("B", 600, right=RUN)]
    plans = boards(parts, stock(1075))
    assert board_faults(plans, parts, stock(1075), SAW) == ()
    assert "only one face" in " ".join(board_faults(plans, parts, stock(1075, one_face=True), SAW))
    turned = next(piece.part for piece in plans[0].pieces if piece.laid != "as drawn")
    faults = board_faults(plans, parts, stock(1075), SAW, frozenset({turned}))
    assert faults == (f"{turned} is turned, and must lie as drawn on board 1",)


def test_what_the_sawyer_sets_off_is_what_is_drawn() -> None:
    """600 on the edge of the long point, 560 on the other, from the board's trimmed end; then 500 to the square end."""
    (plan,) = boards([raked("A", 500, right=-RUN), raked("B", 600, right=-RUN)], stock(1080))
    assert [piece.part for piece in plan.pieces] == ["B", "A"]
    lane = Lane(pieces=plan.pieces, kerf_mm=KERF)
    said = shared_cuts_said(lane, Marks(units="mm", resolution=0.5))
    assert "B and A, mitre 38.7°, near edge 600 (long point of B), far edge 560 (long point of A)" in said
    assert said.endswith("turned: A end for end")
    assert [x for x, _ in drawn_piece(lane, 0)] == pytest.approx([10, 610, 570, 10])
    start = 570 + WIDE_KERF
    assert [x for x, _ in drawn_piece(lane, 1)] == pytest.approx([start + 40, start + 500, start + 500, start], abs=0.1)


def test_a_narrow_piece_s_long_point_never_lies_within_a_wider_strip() -> None:
    """Of a mitre that a 30 and a 50 wide piece share, the narrow one has the near edge; else the checker refuses it."""
    narrow = raked("A", 500, right=-RUN)
    (u, v), slope = narrow.outline[1], RUN / WIDTH
    narrow = replace(narrow, outline=((0, 0), (u, v), (u - 30 * slope, 30), (0, 30)))
    parts = [narrow, raked("B", 600, right=-RUN)]
    (plan,) = boards(parts, stock(1085))
    cut = plan.pieces[1].shared
    assert cut is not None
    assert plan.pieces[0 if cut.mitre_rad < 0 else 1].part == "A"
    turned = {"as drawn": "end for end", "end for end": "as drawn"}
    end = max(piece.at_mm + piece.length_mm for piece in plan.pieces)
    mirrored = [
        replace(piece, at_mm=round(10 + end - piece.at_mm - piece.length_mm, 1), laid=turned[piece.laid], shared=None)
        for piece in reversed(plan.pieces)
    ]
    at = 10 + end - cut.at_mm - WIDTH * math.tan(cut.mitre_rad) - WIDE_KERF
    mirrored[1] = replace(mirrored[1], shared=replace(cut, at_mm=at))
    faults = board_faults((replace(plan, pieces=tuple(mirrored)),), parts, stock(1085), SAW)
    assert "the long point of A lies on no edge on board 1" in faults


def test_pieces_sharing_cuts_in_a_wider_lane_are_cut_off_and_ripped_first() -> None:
    """Their far edge, along which long points are set off, is not there before."""
    parts = [raked("A", 500, right=-RUN), raked("B", 600, right=-RUN), part("C", 300, WIDTH + 20, pieces=1)]
    (plan,) = boards(parts, stock(1400, width=WIDTH + 20))
    said = shared_cuts_said(Lane(pieces=plan.pieces, kerf_mm=KERF), Marks(units="mm", resolution=0.5))
    strip = [piece for piece in plan.pieces if piece.part != "C"]
    first, last = strip[0].part, strip[-1].part
    assert said.startswith(f"Slanted cuts: first cut {first} to {last} off in one piece, 1064 long, and rip it to 50;")
    assert "near edge 600 (long point of B), far edge 560 (long point of A)" in said


def cheapest_by_trying(parts: list[tuple[float, float, float]], lengths: list[float]) -> tuple[float, float]:
    """Return the least money for parts told by long point and the runs of their ends, and the most it leaves over.

    Every order, turn and split is tried. Boards cost as their length goes, so each is the shortest that will do.
    """
    best, most = math.inf, 0.0
    for order in permutations(range(len(parts))):
        for turns in product(range(4), repeat=len(parts)):
            lying = [turned(parts[i], turn) for i, turn in zip(order, turns, strict=True)]
            for cuts in product((False, True), repeat=len(parts) - 1):
                lanes = list(lane_lengths(lying, cuts))
                cost = round(sum(price(length, lengths) for length in lanes), 4)
                if cost <= best and cost < math.inf:
                    left = max(100 * price(length, lengths) - 10 - length - KERF for length in lanes)
                    best, most = cost, left if cost < best else max(most, left)
    return best, most


def turned(one: tuple[float, float, float], turn: int) -> tuple[float, float, float]:
    """Return a part turned: end for end keeps how its ends run, over turns that round."""
    length, left, right = one
    if turn % 2:
        left, right = right, left
    return (length, -left, -right) if turn // 2 else (length, left, right)


def lane_lengths(lying: list[tuple[float, float, float]], cuts: tuple[bool, ...]) -> Iterator[float]:
    """Yield how long each board's pieces are together, a new board begun where told."""
    total, last = lying[0][0], lying[0][2]
    for (length, left, right), begin in zip(lying[1:], cuts, strict=True):
        if begin:
            yield total
            total = length
        elif last and last == left:
            total += length - abs(left) + KERF * math.hypot(left, WIDTH) / WIDTH
        else:
            total += length + KERF
        last = right
    yield total


def price(length: float, lengths: list[float]) -> float:
    """Return the price of the shortest board that gives a length."""
    return min((board / 100 for board in lengths if board - 10 >= length), default=math.inf)


NOT_TOLD = (0, 3)
"""The lots of which it is not told how long a piece could be left over: the bound is too vague, or there is none."""


@pytest.mark.parametrize("number", range(6))
def test_no_way_to_lay_four_pieces_is_cheaper(number: int) -> None:
    """Every order, turn and split of four pieces tried: ours costs as little; what is told of its leftover is true."""
    chance = Random(number)  # noqa: S311
    runs = [0.0, RUN, -RUN, 25.0]
    told = [(float(chance.randint(150, 600)), chance.choice(runs), chance.choice(runs)) for _ in range(4)]
    lengths = sorted(chance.sample([700.0, 900.0, 1150.0, 1400.0, 1750.0], 3))
    parts = [raked(f"P{i}", length, left=left, right=right) for i, (length, left, right) in enumerate(told)]
    plans, summary, _ = lay_out_boards(parts, stock(*lengths), replace(SAW, keep_mm=1))
    least, most = cheapest_by_trying(told, lengths)
    assert float(money_for(plans, stock(*lengths))) == pytest.approx(least, abs=0.02)
    assert summary is not None
    assert "proven best" in summary.bound_says
    left = max(plan.leftover_mm for plan in plans)
    if summary.bound_says.endswith("no plan leaves a longer piece"):
        assert most == pytest.approx(left, abs=0.3)
    elif summary.bound_says.endswith("% longer"):
        percent = int(summary.bound_says.rsplit(" ", 3)[1])
        assert most < left * (1 + percent / 100)
    else:
        assert number in NOT_TOLD
