"""Tests of the buying list, on counts worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from nookwright.basics.lengths import Marks
from nookwright.basics.measured import Measured
from nookwright.geometry.frame import Frame
from nookwright.stages.buying.buy_list import BuyLine, BuyList
from nookwright.stages.buying.spoken import item_said
from nookwright.stages.buying.tally import tally
from nookwright.stages.cutting.cutting_plan import BoardPlan, CuttingPlan, SheetPlan
from nookwright.stages.finishing.finish_plan import Coat, FinishPlan
from nookwright.stages.inputs.brief import AlsoBuy, Brief
from nookwright.stages.inputs.shop import BoardLength, BoardStock, Glue, Pack, SheetStock, Shop, Supplier, Tax
from nookwright.stages.installing.install_plan import InstallPlan, Packer, WallFixing
from nookwright.stages.parts.part import SQUARE, Fastening, JointMade, Part, PartList

FRAME = Frame(origin=(0, 0, 0), u=(1, 0, 0), v=(0, 0, 1))
SHELF = Part(
    number="A1", name="shelf", role="loose shelf", module="A", stock="birch", wood="birch plywood", thickness_mm=20,
    outline=((0, 0), (1000, 0), (1000, 300), (0, 300)), edges=(SQUARE,) * 4, frame=FRAME,
)  # fmt: skip
SHEET = SheetStock(
    key="birch", name="birch ply 18", wood="birch plywood", length_mm=2440, width_mm=1220, thickness_mm=18,
    grained=True, price=Decimal("62.50"), on_hand=1,
)  # fmt: skip
BOARD = BoardStock(
    key="pine", name="pine", wood="pine", thickness_mm=20, width_mm=95,
    lengths=(BoardLength(length_mm=2400, price=Decimal("7.20")),),
)  # fmt: skip
BRIEF = Brief(title="job", units="mm", resolution=0.5, tiers=())
NOTHING_CUT = CuttingPlan(sheets=(), boards=(), summaries=(), too_large=())
NO_PARTS = PartList(parts=(), joints=())
NOTHING_INSTALLED = InstallPlan(packers=(), fixings=(), holes=(), steps=())
NOTHING_COATED = FinishPlan(coats=(), nail_holes=0, caulk_m=0, load_after_days=0)


def shop(*packs: Pack) -> Shop:
    """Return a shop with one sheet, one board and these packs."""
    return Shop(currency="EUR", sheets=(SHEET,), boards=(BOARD,), packs=packs)


def buy(
    parts: PartList = NO_PARTS, *packs: Pack, cutting: CuttingPlan = NOTHING_CUT,
    installing: InstallPlan = NOTHING_INSTALLED, finishing: FinishPlan = NOTHING_COATED,
) -> BuyList:  # fmt: skip
    """Tally with nothing but what is given."""
    return tally(parts, cutting, installing, finishing, BRIEF, shop(*packs))


def joint(*rows: Fastening) -> JointMade:
    """Return a joint 1 m long between two shelves."""
    return JointMade(held="A1", holder="A1", joint="pocket screws", length_mm=1000, fastenings=rows)


def row(kind: str, length_mm: float, count: int) -> Fastening:
    """Return a row of fasteners."""
    return Fastening(kind=kind, length_mm=length_mm, count=count, spacing_mm=150, end_mm=50, reason="")  # type: ignore[arg-type]


def test_sheets_on_hand_are_not_bought() -> None:
    """Three in the plan, one on hand: two to buy for 125.00."""
    sheets = tuple(
        SheetPlan(stock="birch", index=i, length_mm=2440, width_mm=1220, placed=(), cuts=(), leftovers=())
        for i in (1, 2, 3)
    )
    listed = buy(cutting=replace(NOTHING_CUT, sheets=sheets))
    assert listed.lines == (
        BuyLine(
            group="sheets", to_have="before cutting", item="birch ply 18", needed=2, unit="sheets", packs=2, pack="sheet 2440 x 1220 x 18 mm",
            price=Decimal("62.50"), cost=Decimal("125.00"), why="3 in the cutting plan, 1 on hand",
        ),
    )  # fmt: skip
    assert (listed.currency, listed.total, listed.unpriced) == ("EUR", Decimal("125.00"), ())
    assert buy(cutting=replace(NOTHING_CUT, sheets=sheets[:1])).lines == ()


def test_boards_are_counted_by_length() -> None:
    """Two boards of 2400 at 7.20."""
    boards = tuple(BoardPlan(stock="pine", index=i, length_mm=2400, pieces=(), leftover_mm=0) for i in (1, 2))
    (line,) = buy(cutting=replace(NOTHING_CUT, boards=boards)).lines
    assert (line.packs, line.pack, line.cost) == (2, "board 2400 x 95 x 20 mm", Decimal("14.40"))


def test_screws_get_a_spare_tenth_and_whole_boxes() -> None:
    """95 screws, 9.5 spare rounded up: 105, so two boxes of 100 at 8.00."""
    parts = PartList(parts=(SHELF,), joints=(joint(row("pocket screw", 32, 95)),))
    line = buy(parts, Pack(item="pocket screw 32", amount=100, price=Decimal("8.00"))).lines[0]
    assert (line.item, line.needed, line.packs, line.pack, line.cost) == (
        "pocket screw 32", 105, 2, "box of 100", Decimal("16.00"),
    )  # fmt: skip
    assert line.why == "95 in joints, 0 in walls, 10 spare"


def test_the_box_that_costs_least_in_all_is_chosen() -> None:
    """22 brads: one box of 50 at 6 beats three boxes of 10 at 2.50."""
    parts = PartList(parts=(replace(SHELF, role="shelf"),), joints=(joint(row("brad", 40, 20)),))
    packs = (Pack(item="brad 40", amount=10, price=Decimal("2.50")), Pack(item="brad 40", amount=50, price=Decimal(6)))
    (line,) = buy(parts, *packs).lines
    assert (line.needed, line.packs, line.pack, line.cost) == (22, 1, "box of 50", Decimal(6))


def test_a_pack_spelt_otherwise_is_pointed_at() -> None:
    """`pocket screws 32` prices nothing here; 32 and 38 are two sizes, however alike their names."""
    parts = PartList(parts=(SHELF,), joints=(joint(row("pocket screw", 32, 95)),))
    price = Decimal("8.00")
    listed = buy(parts, Pack(item="pocket screws 32", amount=100, price=price))
    assert listed.nearly == (("the shop file", "pocket screw 32", "pocket screws 32"),)
    assert buy(parts, Pack(item="pocket screw 38", amount=100, price=price)).nearly == ()
    assert buy(parts, Pack(item="pocket screw 32", amount=100, price=price)).nearly == ()


def test_what_has_no_price_is_listed_and_not_counted() -> None:
    """Four pins a loose shelf, no pack in the shop file."""
    listed = buy(PartList(parts=(SHELF, SHELF), joints=()))
    (line,) = listed.lines
    assert (line.item, line.needed, line.packs, line.price, line.cost) == ("shelf pin", 8, 8, None, None)
    assert (listed.total, listed.unpriced) == (Decimal(0), ("shelf pin",))


def test_what_costs_nothing_is_named_where_it_is_bought() -> None:
    """A price of 0 may be meant, or left to be filled in."""
    parts = PartList(parts=(SHELF,), joints=(joint(row("pocket screw", 32, 95)),))
    assert buy(parts, Pack(item="pocket screw 32", amount=100, price=Decimal(0))).for_nothing == ("pocket screw 32",)
    assert buy(parts, Pack(item="pocket screw 32", amount=100, price=Decimal(8))).for_nothing == ()


def test_wall_screws_of_another_kind_are_asked_for_by_it() -> None:
    """Ten lags of 75 with a spare, each with a washer, and no wood screw in their place."""
    one = WallFixing(
        box="case", x_mm=400, z_mm=640, packer=Measured(value=0.0, sd=1.0), screw_mm=75, into="stud 1", reason="",
        screw="lag 1/4",
    )  # fmt: skip
    held = InstallPlan(packers=(), fixings=(one,) * 10, holes=(), steps=())
    lines = buy(PartList(parts=(), joints=()), installing=held).lines
    assert [(line.item, line.needed) for line in lines] == [("lag screw 1/4 x 75", 11), ("washer 1/4", 10)]
    assert item_said("lag screw 1/4 x 76.2", Marks(units="inch", resolution=1 / 16)) == 'lag screw 1/4 x 3"'


def test_wall_screws_join_the_joints_screws_and_makers_fixings_stand_alone() -> None:
    """Two stud screws of 70 and one fixing into masonry; two gaps of the three need packers.

    Of packers there are thin pieces of 3 mm, under the platform and at a fixing, and a pair for 4 mm: 4, and one spare.
    """
    fixings = tuple(
        WallFixing(box="A", x_mm=0, z_mm=0, packer=Measured(value=gap, sd=1), screw_mm=screw, into="", reason="")
        for gap, screw in ((4.0, 70.0), (0.0, 70.0), (3.0, 0.0))
    )
    packers = (Packer(station=1, x_mm=0, y_mm=0, height=Measured(value=3, sd=1), kind="thin piece", solid_mm=0),)
    parts = PartList(parts=(replace(SHELF, role="shelf"),), joints=(joint(row("wood screw", 70, 8)),))
    lines = buy(parts, installing=InstallPlan(packers=packers, fixings=fixings, holes=(), steps=())).lines
    assert [(line.item, line.needed) for line in lines] == [
        ("wood screw 70", 11), ("maker's wall fixing", 1), ("packer", 5),
    ]  # fmt: skip


def test_glue_follows_from_joints_and_glued_boards() -> None:
    """One joint of 1 m x 20 mm and two glue lines of 1 m x 20 mm: 0.06 m2 at 200 g/m2, a tenth lost: 0.0132 litre.

    A glue whose label asks for twice as much takes twice as much.
    """
    board = replace(SHELF, role="worktop", pieces=3)
    parts = PartList(parts=(board,), joints=(joint(row("glue", 0, 1)), joint()))
    pack = Pack(item="wood glue", amount=0.5, price=Decimal("6.90"))
    (line,) = buy(parts, pack).lines
    assert line.needed == pytest.approx(0.0132)
    thick = replace(shop(pack), glue=Glue(spread_g_m2=400))
    (twice,) = tally(parts, NOTHING_CUT, NOTHING_INSTALLED, NOTHING_COATED, BRIEF, thick).lines
    assert twice.needed == pytest.approx(0.0264)
    assert (line.packs, line.pack, line.cost) == (1, "pack of 0.5 litres", Decimal("6.90"))


def test_finish_is_bought_by_the_tin() -> None:
    """Two coats of 0.6 litre out of tins of 1 litre: two tins; 100 holes take 0.02 litre and a tenth; 5 m of caulk and a tenth."""
    coats = tuple(Coat(product="satin", name="satin enamel", area_m2=5.0, litres=0.6, start_h=h) for h in (0, 16))
    finishing = FinishPlan(coats=coats, nail_holes=100, caulk_m=5.0, load_after_days=7)
    listed = buy(NO_PARTS, Pack(item="satin", amount=1, price=Decimal("21.00")), finishing=finishing)
    assert [(line.item, line.unit, line.packs) for line in listed.lines] == [
        ("satin enamel", "litres", 2), ("filler", "litres", 1), ("caulk", "metres", 1), ("sandpaper", "pieces", 5),
    ]  # fmt: skip
    assert [line.needed for line in listed.lines] == pytest.approx([1.2, 0.022, 5.5, 5])
    assert listed.lines[0].pack == "pack of 1 litre"
    assert (listed.total, listed.unpriced) == (Decimal("42.00"), ("filler", "caulk", "sandpaper"))


def test_a_longer_screw_stands_in_only_where_the_shop_file_says_so() -> None:
    """No pack of 38; the 40s may serve, and the line says what they stand in for."""
    parts = PartList(parts=(replace(SHELF, role="shelf"),), joints=(joint(row("brad", 38, 20)),))
    plain = Pack(item="brad 40", amount=50, price=Decimal(6))
    assert buy(parts, plain).unpriced == ("brad 38",)
    (line,) = buy(parts, replace(plain, serves=("brad 38",))).lines
    assert (line.item, line.cost) == ("brad 40", Decimal(6))
    assert line.why.endswith("in place of brad 38")


def test_two_sizes_of_pack_are_mixed_where_that_costs_less() -> None:
    """110 brads: a box of 100 at 9 and a box of 20 at 2.50 (11.50) beat two of 100 (18) and six of 20 (15)."""
    parts = PartList(parts=(replace(SHELF, role="shelf"),), joints=(joint(row("brad", 40, 100)),))
    packs = (Pack(item="brad 40", amount=20, price=Decimal("2.50")), Pack(item="brad 40", amount=100, price=Decimal(9)))
    lines = buy(parts, *packs).lines
    assert [(line.needed, line.packs, line.pack, line.cost) for line in lines] == [
        (100, 1, "box of 100", Decimal(9)), (10, 1, "box of 20", Decimal("2.50")),
    ]  # fmt: skip


def bought(shop_file: Shop) -> BuyList:
    """Return the list for three sheets (one on hand) and eight shelf pins."""
    sheets = tuple(
        SheetPlan(stock="birch", index=i, length_mm=2440, width_mm=1220, placed=(), cuts=(), leftovers=())
        for i in (1, 2, 3)
    )
    cutting = replace(NOTHING_CUT, sheets=sheets)
    return tally(
        PartList(parts=(SHELF, SHELF), joints=()), cutting, NOTHING_INSTALLED, NOTHING_COATED, BRIEF, shop_file
    )


PINS = Pack(item="shelf pin", amount=10, price=Decimal("4.00"))


def test_tax_is_in_the_prices_or_on_top_as_told() -> None:
    """129.00 with 20 % in it holds 21.50 of tax; 20 % on top is 25.80."""
    within = bought(replace(shop(PINS), tax=Tax(percent=Decimal(20), included=True)))
    on_top = bought(replace(shop(PINS), tax=Tax(percent=Decimal(20), included=False)))
    assert (within.total, within.tax, within.to_pay) == (Decimal("129.00"), Decimal("21.50"), Decimal("129.00"))
    assert (on_top.total, on_top.tax, on_top.to_pay) == (Decimal("129.00"), Decimal("25.80"), Decimal("154.80"))
    assert bought(shop(PINS)).to_pay == Decimal("129.00")


def test_suppliers_are_compared_whole_and_shared_out() -> None:
    """Own: 125 + 4 = 129. Yard: sheets at 50, no pins, delivery 20. Pins nobody sells for less than 4.

    Shared: sheets from the yard 100 + 20, pins from the shop file 4: 124, less than 129.
    """
    yard = Supplier(name="yard", delivery=Decimal(20), sheets={"birch": Decimal(50)})
    listed = bought(replace(shop(PINS), suppliers=(yard,)))
    assert [(one.supplier, one.total, one.missing) for one in listed.offers] == [
        ("the shop file", Decimal("129.00"), ()), ("yard", Decimal(120), ("shelf pin",)),
    ]  # fmt: skip
    assert listed.split is not None
    assert listed.split.total == Decimal("124.00")
    assert [(one.supplier, one.items, one.goods, one.delivery) for one in listed.split.orders] == [
        ("yard", ("2 birch ply 18",), Decimal(100), Decimal(20)),
        ("the shop file", ("shelf pin: 1 x box of 10",), Decimal(4), Decimal(0)),
    ]


def test_a_delivery_that_eats_the_gain_is_not_paid() -> None:
    """Sheets 25 cheaper, delivery 30: everything comes from the shop file's own prices."""
    yard = Supplier(name="yard", delivery=Decimal(30), sheets={"birch": Decimal(50)})
    listed = bought(replace(shop(PINS), suppliers=(yard,)))
    assert listed.split is not None
    assert (listed.split.total, [one.supplier for one in listed.split.orders]) == (Decimal("129.00"), ["the shop file"])


def test_an_order_tells_the_suppliers_own_packs() -> None:
    """Eight pins: two bags of 4 at 1.50, not the box of 10; longer screws where they stand in for shorter ones."""
    yard = Supplier(
        name="yard",
        packs=(
            Pack(item="shelf pin", amount=4, price=Decimal("1.50")),
            Pack(item="brad 40", amount=50, price=Decimal(2), serves=("brad 38",)),
        ),
    )
    parts = PartList(parts=(SHELF, SHELF), joints=(joint(row("brad", 38, 20)),))
    listed = tally(parts, NOTHING_CUT, NOTHING_INSTALLED, NOTHING_COATED, BRIEF, replace(shop(PINS), suppliers=(yard,)))
    assert listed.split is not None
    (order,) = listed.split.orders
    assert (order.items, order.goods) == (
        ("brad 38: 1 x box of 50 of brad 40", "shelf pin: 2 x box of 4"),
        Decimal("5.00"),
    )


def test_suppliers_with_and_without_tax_are_compared_on_one_footing() -> None:
    """The shop file's 129.00 hold 20 %; a yard's sheets at 50 without it cost 60, so 120 for two, and no less.

    The other way round, 60 with the tax in them are 50 beside prices that do not hold it.
    """
    tax = Tax(percent=Decimal(20), included=True)
    yard = Supplier(name="yard", sheets={"birch": Decimal(50)}, packs=(PINS,), tax_included=False)
    listed = bought(replace(shop(PINS), tax=tax, suppliers=(yard,)))
    assert {one.supplier: one.goods for one in listed.offers} == {
        "the shop file": Decimal("129.00"), "yard": Decimal("124.80"),
    }  # fmt: skip
    other = replace(yard, sheets={"birch": Decimal(60)}, tax_included=True)
    listed = bought(replace(shop(PINS), tax=replace(tax, included=False), suppliers=(other,)))
    assert {one.supplier: one.goods for one in listed.offers}["yard"] == Decimal("103.33")
    same = bought(replace(shop(PINS), tax=tax, suppliers=(replace(yard, tax_included=None),)))
    assert {one.supplier: one.goods for one in same.offers}["yard"] == Decimal("104.00")


def test_two_stocks_of_one_name_are_both_counted_in_an_offer() -> None:
    """Two sheets of one name under two keys, 62.50 and 40: the offer is the list's own total."""
    other = replace(SHEET, key="birch-b", price=Decimal(40), on_hand=0)
    sheets = tuple(
        SheetPlan(stock=key, index=1, length_mm=2440, width_mm=1220, placed=(), cuts=(), leftovers=())
        for key in ("birch", "birch-b")
    )
    shop_file = replace(
        shop(), sheets=(replace(SHEET, on_hand=0), other), suppliers=(Supplier(name="yard", sheets={}),)
    )
    listed = tally(NO_PARTS, replace(NOTHING_CUT, sheets=sheets), NOTHING_INSTALLED, NOTHING_COATED, BRIEF, shop_file)
    assert listed.offers[0].goods == listed.total == Decimal("102.50")


def test_edging_is_bought_by_the_metre_with_its_waste() -> None:
    """Two parts of 1.3 and 2.7 m with one edging, one of 0.5 m with another: 4.4 and 0.55 m with a tenth lost."""
    edged = tuple(
        replace(SHELF, number=f"A{i}", role="shelf", edging=item, edging_mm=length)
        for i, (item, length) in enumerate((("birch edging", 1300.0), ("oak edging", 500.0), ("birch edging", 2700.0)))
    )
    pack = Pack(item="birch edging", amount=5, price=Decimal("6.50"))
    first, second = buy(PartList(parts=edged, joints=()), pack).lines
    assert (first.item, first.to_have, first.pack, first.cost) == (
        "birch edging", "before cutting", "pack of 5 metres", Decimal("6.50"),
    )  # fmt: skip
    assert (first.needed, second.needed) == pytest.approx((4.4, 0.55))
    assert first.why == "edges of 2 parts, waste included"


def test_what_the_brief_asks_to_buy_besides_has_its_own_time() -> None:
    """Hinges told for two doors are one need; a cabinet to measure by has to be there before the survey."""
    wishes = (
        AlsoBuy(item="cup hinge", amount=2, unit="pieces", to_have="before cutting", why="left door"),
        AlsoBuy(item="cabinet 800", amount=1, unit="pieces", to_have="before survey", why=""),
        AlsoBuy(item="cup hinge", amount=3, unit="pieces", to_have="before cutting", why="tall door"),
    )
    door = replace(SHELF, role="door")
    brief = replace(BRIEF, also_buy=wishes)
    listed = tally(
        PartList(parts=(door,), joints=()), NOTHING_CUT, NOTHING_INSTALLED, NOTHING_COATED, brief,
        shop(Pack(item="cup hinge", amount=2, price=Decimal(7))),
    )  # fmt: skip
    assert [(line.item, line.needed, line.packs, line.to_have, line.why) for line in listed.lines] == [
        ("cup hinge", 5, 3, "before cutting", "left door; tall door"),
        ("cabinet 800", 1, 1, "before survey", ""),
    ]
    assert listed.total == Decimal(21)
    assert listed.not_counted == ()


def test_what_doors_hang_by_is_said_not_to_be_counted() -> None:
    """Unless the brief asks to buy it."""
    door = replace(SHELF, role="door")
    assert buy(PartList(parts=(door, door), joints=())).not_counted == ("hinges, or runners, and knobs of 2 doors",)
    assert buy(PartList(parts=(SHELF,), joints=())).not_counted == ()


def test_more_of_what_is_counted_anyway_shares_its_box() -> None:
    """95 screws and 10 spare, 20 more for a rail: 125, so two boxes of 100, there when the first of them is wanted."""
    parts = PartList(parts=(replace(SHELF, role="shelf"),), joints=(joint(row("pocket screw", 32, 95)),))
    more = AlsoBuy(item="pocket screw 32", amount=20, unit="pieces", to_have="before finishing", why="a rail")
    (line,) = tally(
        parts, NOTHING_CUT, NOTHING_INSTALLED, NOTHING_COATED, replace(BRIEF, also_buy=(more,)),
        shop(Pack(item="pocket screw 32", amount=100, price=Decimal(8))),
    ).lines  # fmt: skip
    assert (line.needed, line.packs, line.to_have) == (125, 2, "before cutting")
    assert line.why == "95 in joints, 0 in walls, 10 spare, 20 besides: a rail"
