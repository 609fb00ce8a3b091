"""The lists as CSV, read back as a spreadsheet would."""

from __future__ import annotations

import csv
import io
import math
from decimal import Decimal

import pytest

from nookwright.basics.lengths import Marks
from nookwright.files.lists_out import buying_csv, cutting_csv, parts_csv
from nookwright.geometry.frame import Frame
from nookwright.stages.buying.buy_list import BuyLine, BuyList
from nookwright.stages.cutting.cutting_plan import BoardPiece, BoardPlan, CuttingPlan, Placed, SharedCut, SheetPlan
from nookwright.stages.parts.part import SQUARE, CutOut, Edge, Part, PartList

HALF_MM = Marks(units="mm", resolution=0.5)
SIXTEENTHS = Marks(units="inch", resolution=1 / 16)
FRAME = Frame(origin=(0, 0, 0), u=(1, 0, 0), v=(0, 0, 1))


def rows(text: str) -> list[dict[str, str]]:
    """Return a CSV text as its rows by heading."""
    return list(csv.DictReader(io.StringIO(text)))


def side(*, name: str = "left side") -> Part:
    """Return an 800.2 x 300 board 17.8 thick, its right end tilted 10 deg, its lower edge with 5 left to scribe."""
    edges = (Edge(scribe_mm=5), Edge(bevel_rad=math.radians(-10)), SQUARE, SQUARE)
    return Part(
        number="C1", name=name, role="side", module="case", stock="birch-18", wood="birch-plywood", thickness_mm=17.8,
        outline=((0, 0), (800.2, 0), (800.2, 300), (0, 300)), edges=edges, frame=FRAME,
        cutouts=(CutOut(u_mm=1, v_mm=1, width_mm=9, height_mm=9, purpose="socket"),), notes=("left hand",),
    )  # fmt: skip


def test_a_part_is_listed_with_its_blank_as_it_is_set_at_the_saw() -> None:
    """A side of 800.2 is cut 800, as in the parts list; what is scribed is left on, 300 + 5; thickness to a tenth."""
    (row,) = rows(parts_csv(PartList(parts=(side(),), joints=()), HALF_MM))
    assert row == {
        "part": "C1",
        "name": "left side",
        "module": "case",
        "stock": "birch-18",
        "blank length [mm]": "800",
        "blank width [mm]": "305",
        "thickness [mm]": "17.8",
        "boards glued": "1",
        "bevels [deg]": "edge 2 -10.0",
        "scribe [mm]": "edge 1 5",
        "cut-outs": "socket",
        "notes": "left hand",
    }


def test_a_piece_that_lies_across_its_sheet_is_listed_length_first_and_called_turned() -> None:
    """300 along the sheet and 800 across it: 800 is the part's own length."""
    placed = Placed(part="C1", x_mm=5, y_mm=10, length_mm=300, width_mm=800, turned=True)
    sheet = SheetPlan(stock="birch-18", index=1, length_mm=2500, width_mm=1250, placed=(placed,), cuts=(), leftovers=())
    (row,) = rows(cutting_csv(CuttingPlan(sheets=(sheet,), boards=(), summaries=(), too_large=()), HALF_MM))
    assert (row["length [mm]"], row["width [mm]"], row["turned"]) == ("800", "300", "turned")


def test_a_part_is_listed_in_inches_for_those_who_read_them() -> None:
    """800.2 mm is 31.504 in, down to 31-1/2; 305 is 12.008, up to 12-1/16; 17.8 is 0.7008, nearest 45/64 = 0.7031."""
    (row,) = rows(parts_csv(PartList(parts=(side(),), joints=()), SIXTEENTHS))
    found = (row["blank length [inch]"], row["blank width [inch]"], row["thickness [inch]"])
    assert found == ("31 1/2", "12 1/16", "45/64")


def test_a_name_that_looks_like_a_formula_stays_a_name() -> None:
    """A spreadsheet must not compute what a person typed."""
    (row,) = rows(parts_csv(PartList(parts=(side(name="=1+1"),), joints=()), HALF_MM))
    assert row["name"] == "'=1+1"


def test_every_piece_is_listed_with_the_stock_it_comes_from() -> None:
    """Sheets first, then boards; each piece of a ripped board with its width, and where its lane starts."""
    placed = Placed(part="C1", x_mm=5, y_mm=10, length_mm=800.5, width_mm=305, turned=False)
    sheet = SheetPlan(stock="birch-18", index=1, length_mm=2500, width_mm=1250, placed=(placed,), cuts=(), leftovers=())
    cut = SharedCut(at_mm=10, mitre_rad=-math.radians(35), tilt_rad=0.0)
    piece = BoardPiece(
        part="T1", at_mm=10, length_mm=900, across_mm=47.6, width_mm=45, laid="end for end", shared=cut
    )  # fmt: skip
    board = BoardPlan(stock="pine", index=2, length_mm=2400, pieces=(piece,), leftover_mm=1480, offcut=True)
    plan = CuttingPlan(sheets=(sheet,), boards=(board,), summaries=(), too_large=())
    first, second = rows(cutting_csv(plan, HALF_MM))
    assert list(first.values()) == ["birch-18", "1", "C1", "800.5", "305", "5 / 10", "", "", "2500 x 1250"]
    assert list(second.values()) == [
        "pine", "2", "T1", "900", "45", "10 / 47.5", "end for end", "35.0 / 0.0", "offcut 2400"
    ]  # fmt: skip


def test_the_buying_list_ends_with_its_total() -> None:
    """What has no price has no cost either."""
    glue = BuyLine(
        group="fastenings", to_have="before cutting", item="wood glue", needed=0.5, unit="litres", packs=1, pack="bottle", price=Decimal("9.50"),
        cost=Decimal("9.50"), why="joints",
    )  # fmt: skip
    pins = BuyLine(
        group="fastenings",
        to_have="before cutting",
        item="shelf pin",
        needed=12,
        unit="pieces",
        packs=1,
        pack="",
        price=None,
        cost=None,
        why="",
    )
    buying = BuyList(currency="EUR", lines=(glue, pins), total=Decimal("9.50"), unpriced=("shelf pin",))
    first, second, total = rows(buying_csv(buying))
    assert (first["needed"], first["price [EUR]"], first["cost [EUR]"]) == ("0.5", "9.50", "9.50")
    assert (second["needed"], second["price [EUR]"], second["cost [EUR]"]) == ("12", "", "")
    assert (total["to have"], total["cost [EUR]"]) == ("total", "9.50")


@pytest.mark.parametrize(("to_pay", "said"), [("12.00", "held by the total"), ("14.40", "on top of the total")])
def test_the_buying_list_tells_its_tax_and_what_is_to_pay(to_pay: str, said: str) -> None:
    """Twelve hold 2.00 of 20 %, or have 2.40 come on top."""
    tax = Decimal("2.00") if to_pay == "12.00" else Decimal("2.40")
    buying = BuyList(
        currency="EUR", lines=(), total=Decimal("12.00"), unpriced=(), tax_percent=Decimal(20), tax=tax,
        to_pay=Decimal(to_pay),
    )  # fmt: skip
    total, its_tax, paid = rows(buying_csv(buying))
    assert (total["cost [EUR]"], its_tax["cost [EUR]"], paid["cost [EUR]"]) == ("12.00", str(tax), to_pay)
    assert its_tax["why"] == f"20 %, {said}"
