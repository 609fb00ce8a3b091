"""Tests of laying parts out on sheets and boards, on cases worked out by hand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

import pytest

from counted_looks import CountedLooks
from nookwright.geometry.frame import Frame
from nookwright.solvers.covering.problem import TimeLeft
from nookwright.solvers.pack_boards import Board, BoardsPlan, boards_plans
from nookwright.solvers.pack_sheets import Rectangle, Region, pack_sheets
from nookwright.stages.cutting.cutting_plan import Cut, SheetPlan
from nookwright.stages.cutting.lay_out import lay_out
from nookwright.stages.inputs.shop import BoardLength, BoardStock, Saw, SheetStock, Shop
from nookwright.stages.parts.part import SQUARE, Part, PartList

FRAME = Frame(origin=(0, 0, 0), u=(1, 0, 0), v=(0, 0, 1))
SAW = Saw(kerf_mm=3.0, trim_mm=5.0, end_trim_mm=10.0, keep_mm=200.0)


def part(number: str, length: float, width: float, stock: str = "birch", pieces: int = 1) -> Part:
    """Return a plain rectangular part."""
    return Part(
        number=number, name=number, role="shelf", module="A", stock=stock, wood="birch-plywood", thickness_mm=18,
        outline=((0, 0), (length, 0), (length, width), (0, width)), edges=(SQUARE,) * 4, frame=FRAME, pieces=pieces,
    )  # fmt: skip


def shop(*, grained: bool = True, saw: Saw = SAW) -> Shop:
    """Return a shop with one sheet of 1010 x 510 (1000 x 500 when trimmed) and one board of 100 wide."""
    sheet = SheetStock(
        key="birch", name="birch ply", wood="birch-plywood", length_mm=1010, width_mm=510, thickness_mm=18,
        grained=grained, price=Decimal(50),
    )  # fmt: skip
    board = BoardStock(
        key="pine", name="pine", wood="pine", thickness_mm=20, width_mm=100,
        lengths=(BoardLength(length_mm=1800, price=Decimal(9)), BoardLength(length_mm=3000, price=Decimal(20))),
    )  # fmt: skip
    return Shop(currency="EUR", sheets=(sheet,), boards=(board,), saw=saw)


def parts(*some: Part) -> PartList:
    """Return a part list without joints."""
    return PartList(parts=some, joints=())


def test_a_part_of_the_trimmed_sheet_s_size_just_fits() -> None:
    """1000 x 500 out of 1010 x 510 with edges of 5: four edge cuts and no other."""
    plan = lay_out(parts(part("A1", 1000, 500)), shop())
    (sheet,) = plan.sheets
    (placed,) = sheet.placed
    assert (placed.x_mm, placed.y_mm, placed.length_mm, placed.width_mm) == (5, 5, 1000, 500)
    assert len(sheet.cuts) == 4
    assert sheet.leftovers == ()
    (summary,) = plan.summaries
    assert (summary.used, summary.at_least) == (1, 1)
    assert summary.yield_share == pytest.approx(1000 * 500 / (1010 * 510))


def test_a_tenth_of_a_millimetre_too_long_is_too_large_and_tells_the_cure() -> None:
    """Lengths are cut to 0.1 mm, and the cure names what the sheet gives."""
    some = (part("A1", 1000.1, 500), part("A2", 600, 510), part("A3", 450, 700), part("A4", 1200, 600))
    plan = lay_out(parts(*some), shop())
    assert plan.too_large[0].length_mm == 1000.1
    assert [(misfit.part, misfit.cure) for misfit in plan.too_large] == [
        ("A1", "split it at mid length and join the halves over an upright: the trimmed sheet gives 1000 mm"),
        ("A2", "make it from two widths joined along their length: the trimmed sheet gives 500 mm"),
        (
            "A3",
            "it fits only across the grain: choose a stock without grain, or a sheet wider than 500 mm inside",
        ),
        ("A4", "make it from smaller parts: the trimmed sheet gives 1000 mm x 500 mm"),
    ]
    assert plan.sheets == ()
    assert plan.summaries == ()


def test_a_part_turns_on_a_sheet_without_grain() -> None:
    """450 x 700 lies turned, so 700 along the sheet."""
    (sheet,) = lay_out(parts(part("A3", 450, 700)), shop(grained=False)).sheets
    (placed,) = sheet.placed
    assert (placed.length_mm, placed.width_mm, placed.turned) == (700, 450, True)


def test_the_leftover_worth_keeping_starts_one_kerf_away() -> None:
    """A part of 700 on a sheet of 1000 leaves 297; 490 of 500 leaves nothing worth keeping."""
    (sheet,) = lay_out(parts(part("A1", 700, 490)), shop()).sheets
    (left,) = sheet.leftovers
    assert (left.x_mm, left.length_mm) == (708, 297)


def test_fences_are_set_to_the_parts_sizes() -> None:
    """Two parts side by side: rip both to 200 (one cut), then crosscut at 400; each cut in the fence's own terms."""
    (sheet,) = lay_out(parts(part("A1", 400, 200), part("A2", 597, 200)), shop()).sheets
    fences = {(cut.along, cut.at_mm) for cut in sheet.cuts[4:]}
    assert ("length", 200) in fences
    assert fences <= {("length", 200), ("width", 400), ("width", 597)}
    assert [cut.order for cut in sheet.cuts] == list(range(1, len(sheet.cuts) + 1))


def carried_out(sheet: SheetPlan, kerf_mm: float) -> list[tuple[float, float, float, float]]:
    """Cut a sheet as its cuts say and return the pieces; each cut must go right through exactly one piece."""
    pieces = [(0.0, 0.0, sheet.length_mm, sheet.width_mm)]
    for cut in sheet.cuts:
        (piece,) = [one for one in pieces if goes_right_through(cut, one)]
        pieces.remove(piece)
        x, y, l, w = piece
        along_length = cut.along == "length"
        start, size = (y, w) if along_length else (x, l)
        centre = cut.y1_mm if along_length else cut.x1_mm
        near, far = centre - kerf_mm / 2 - start, start + size - centre - kerf_mm / 2
        assert cut.at_mm == pytest.approx(near) or cut.at_mm == pytest.approx(far)
        halves = [(start, near), (centre + kerf_mm / 2, far)]
        pieces += [(x, s, l, n) if along_length else (s, y, n, w) for s, n in halves if n > 0]
    return [tuple(round(value, 3) for value in piece) for piece in pieces]  # type: ignore[misc]


def goes_right_through(cut: Cut, piece: tuple[float, float, float, float]) -> bool:
    """Whether a cut runs from edge to edge of a piece; at its rim it may take less than the kerf off."""
    x, y, l, w = piece
    half = SAW.kerf_mm / 2
    if cut.along == "length":
        spans = [cut.x1_mm, cut.x2_mm] == pytest.approx([x, x + l])
        return spans and y - half < cut.y1_mm < y + w + half
    spans = [cut.y1_mm, cut.y2_mm] == pytest.approx([y, y + w])
    return spans and x - half < cut.x1_mm < x + l + half


@pytest.mark.parametrize("grained", [False, True])
def test_carrying_out_the_cuts_gives_every_part(grained: bool) -> None:
    """Sawing in the printed order, each cut right through one piece, ends with each part as a piece of its own."""
    many = parts(*(part(f"A{i}", 120 + 37 * i % 400, 90 + 53 * i % 230) for i in range(1, 30)))
    plan = lay_out(many, shop(grained=grained))
    assert len(plan.sheets) > 1
    for sheet in plan.sheets:
        pieces = carried_out(sheet, SAW.kerf_mm)
        for placed in sheet.placed:
            assert (placed.x_mm, placed.y_mm, placed.length_mm, placed.width_mm) in pieces


def test_a_heavy_sheet_is_first_parted_near_its_middle() -> None:
    """Six strips of 200 across 2440 x 1220: the first inner cut comes after three strips, not after one."""
    big = SheetStock(
        key="birch", name="birch ply", wood="birch-plywood", length_mm=2440, width_mm=1220, thickness_mm=18,
        grained=True, price=Decimal(50),
    )  # fmt: skip
    saw = Saw(kerf_mm=4.0, trim_mm=0.0)
    strips = parts(*(part(f"A{i}", 2440, 200) for i in range(1, 6)))
    (sheet,) = lay_out(strips, Shop(currency="EUR", sheets=(big,), boards=(), saw=saw)).sheets
    # Strips start at 0, 204, 408, 612, 816, and the rest at 1020; the middle is 610: the cut before 612.
    # It weighs 2.44 m x 1.22 m x 18 mm x 680 kg/m3 = 36.4 kg; a person turns 18 kg.
    assert sheet.cuts[0] == Cut(
        order=1, along="length", at_mm=608, x1_mm=0, y1_mm=610, x2_mm=2440, y2_mm=610, kg=36.4
    )  # fmt: skip
    assert [cut.at_mm for cut in sheet.cuts[1:]] == [200, 200, 200, 200]


def test_a_plan_that_cannot_be_cut_crashes(monkeypatch: pytest.MonkeyPatch) -> None:
    """The checker's word is final: a faulty search never reaches the user."""

    def greedy(
        rectangles: Sequence[Rectangle], *, length: int, width: int, kerf: int, enough: int
    ) -> tuple[Region, ...]:
        assert (kerf, enough) == (30, 1)
        return pack_sheets(rectangles, length=length, width=width, kerf=0)

    monkeypatch.setattr("nookwright.stages.cutting.sheet_search.pack_sheets", greedy)
    with pytest.raises(AssertionError, match="no cut right through parts A1, A2 on sheet 1"):
        lay_out(parts(part("A1", 400, 500), part("A2", 500, 500)), shop())


def test_a_board_plan_that_cannot_be_cut_crashes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two pieces of 895 end to end leave no room for the kerf on 1790: the checker says so, piece by piece."""

    def greedy(
        pieces: Sequence[tuple[int, int]], *, boards: Sequence[Board], kerf: int, time_left: TimeLeft
    ) -> Iterator[BoardsPlan]:
        assert kerf == 30
        yield from boards_plans(pieces, boards=boards, kerf=0, time_left=time_left)

    monkeypatch.setattr("nookwright.stages.cutting.board_search.boards_plans", greedy)
    with pytest.raises(
        AssertionError, match=r"the board plan for pine cannot be cut: S2 reaches beyond the end on board 1"
    ):
        lay_out(parts(part("S1", 895, 100, "pine"), part("S2", 895, 100, "pine")), shop())


def test_two_lanes_come_side_by_side_out_of_one_board() -> None:
    """Two lanes of 48 and a kerf of 3 make 99 of 100; a lane of 1800 less 10 gives two pieces of 893 (1789)."""
    plan = lay_out(parts(*(part(f"S{i}", 893, 48, "pine") for i in range(4))), shop())
    (board,) = plan.boards
    assert (board.length_mm, board.leftover_mm) == (1800, 0)
    assert [(piece.at_mm, piece.across_mm, piece.width_mm) for piece in board.pieces] == [
        (10, 0, 48), (906, 0, 48), (10, 51, 48), (906, 51, 48),
    ]  # fmt: skip
    (summary,) = plan.summaries
    assert (summary.used, summary.at_least) == (1, 1)


def test_lanes_of_unlike_width_share_a_board() -> None:
    """60 + 3 + 37 = 100."""
    plan = lay_out(parts(part("S1", 1500, 60, "pine"), part("S2", 1600, 37, "pine")), shop())
    (board,) = plan.boards
    assert [(piece.part, piece.across_mm) for piece in board.pieces] == [("S1", 0), ("S2", 63)]
    assert board.leftover_mm == 1800 - 10 - 1600 - 3


def test_a_glued_up_part_takes_full_boards() -> None:
    """A top of 290 from three boards of 100: three pieces of full width, the cheapest way three boards of 1800."""
    plan = lay_out(parts(part("T1", 1700, 290, "pine", pieces=3)), shop())
    assert [[(piece.part, piece.width_mm) for piece in board.pieces] for board in plan.boards] == [[("T1", 100)]] * 3
    assert [board.length_mm for board in plan.boards] == [1800] * 3


def test_a_board_part_too_wide_or_too_long_tells_the_cure() -> None:
    """Glue up, or split."""
    plan = lay_out(parts(part("S1", 500, 101, "pine"), part("S2", 2991, 50, "pine")), shop())
    assert [misfit.cure for misfit in plan.too_large] == [
        "glue it up from 2 boards, or choose one wider than 100 mm",
        "split it at mid length and join the halves over an upright: the longest board gives 2990 mm",
    ]


def test_a_trim_too_long_is_made_of_two_with_slanted_ends() -> None:
    """A butted joint in face trim opens with the seasons; common practice, no source."""
    trim = replace(part("S2", 2991, 50, "pine"), role="strip")
    (misfit,) = lay_out(parts(trim), shop()).too_large
    assert misfit.cure == (
        "make it of two, over an upright, their ends slanted 45 deg one over the other and glued: "
        "the longest board gives 2990 mm"
    )


def test_a_part_of_no_stock_is_left_out() -> None:
    """The room's own skirting is not cut from the shop's stock."""
    plan = lay_out(parts(part("K1", 500, 90, "room skirting")), shop())
    assert (plan.sheets, plan.boards, plan.summaries, plan.too_large) == ((), (), (), ())


def test_stocks_share_the_time_those_of_few_parts_first() -> None:
    """What they do not need is left for the others; the plan keeps the shop's order."""
    looks = CountedLooks(0)
    ply, pine = (part(f"A{i}", 400, 200) for i in range(3)), part("S1", 500, 60, "pine")
    plan = lay_out(parts(*ply, pine), shop(), looks)
    assert [(name, still_open) for name, _, still_open in looks.shares] == [("pine", 2), ("birch ply", 1)]
    assert {currency for _, currency, _ in looks.shares} == {shop().currency}
    assert [summary.stock for summary in plan.summaries] == ["birch", "pine"]
