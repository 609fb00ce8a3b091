"""A small job made by hand, so that pages can be tested without the stages that compute one."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from nookwright.basics.findings import Assumption, Finding
from nookwright.basics.lengths import Marks
from nookwright.basics.measured import Measured
from nookwright.basics.sources import Source
from nookwright.drawings.pages.front import Entry
from nookwright.drawings.sheet import Issue
from nookwright.geometry.frame import Frame
from nookwright.stages.buying.buy_list import BuyLine, BuyList
from nookwright.stages.cutting.cutting_plan import (
    BoardPiece,
    BoardPlan,
    Cut,
    CuttingPlan,
    Leftover,
    Placed,
    SheetPlan,
    StockSummary,
    TooLarge,
)  # fmt: skip
from nookwright.stages.design.design import Box, Design, Fit, FittedPlatform, Rake
from nookwright.stages.finishing.finish_plan import Coat, FinishPlan
from nookwright.stages.inputs.brief import Bought
from nookwright.stages.inputs.shop import BoardLength, BoardStock, SheetStock, Shop
from nookwright.stages.installing.install_plan import InstallPlan, OutletHole, Packer, Step, WallFixing
from nookwright.stages.parts.part import SQUARE, CutOut, Edge, Fastening, Groove, JointMade, Part, PartList
from nookwright.trade.shimming import packer_kind, solid_packer
from nookwright.trade.sources import SOURCES

UPRIGHT = {"u": (0.0, 0.0, 1.0), "v": (0.0, 1.0, 0.0)}
LEVEL = {"u": (1.0, 0.0, 0.0), "v": (0.0, 1.0, 0.0)}
FACING = {"u": (1.0, 0.0, 0.0), "v": (0.0, 0.0, 1.0)}


def board(number, name, role, outline, frame, **more):
    """Return a part with square edges unless told otherwise."""
    return Part(
        number=number, name=name, role=role, module=more.pop("module", "case C"), stock=more.pop("stock", "birch-18"),
        wood="birch-plywood", thickness_mm=more.pop("thickness_mm", 18.0), outline=outline,
        edges=more.pop("edges", (SQUARE,) * len(outline)), frame=frame, **more,
    )  # fmt: skip


def rectangle(length, width):
    """Return a rectangle's corners, counter-clockwise."""
    return ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))


@pytest.fixture
def parts() -> PartList:
    """A raked case: sides of two heights, a raked top with bevelled ends, a back with a hole, a scribed strip."""
    pitch = math.radians(40.1)
    low_side = ((0.0, 0.0), (850.0, 0.0), (850.0, 300.0), (0.0, 300.0))
    raked_strip = ((0.0, 0.0), (1180.5, 0.0), (1142.6, 45.0), (37.9, 45.0))
    back = ((0.0, 0.0), (1180.0, 0.0), (1180.0, 1760.0), (980.0, 1760.0), (0.0, 935.0))
    return PartList(
        parts=(
            board(
                "C1", "short side", "side", low_side, Frame(origin=(0.0, -300.0, 90.0), **UPRIGHT),
                edges=(SQUARE, Edge(bevel_rad=pitch, meets="raked board"), SQUARE, SQUARE),
                grooves=(Groove(face="A", start=(400.0, 0.0), end=(400.0, 300.0), width_mm=18.0, depth_mm=6.0,
                                receives="C5"),),
            ),
            board("C2", "tall side", "side", rectangle(1742.0, 300.0), Frame(origin=(1162.0, -300.0, 90.0), **UPRIGHT)),
            board(
                "C3", "raked board", "raked board", rectangle(1421.3, 300.0),
                Frame(origin=(0.0, -300.0, 940.0), u=(math.cos(pitch), 0.0, math.sin(pitch)), v=(0.0, 1.0, 0.0)),
                edges=(SQUARE, Edge(bevel_rad=-pitch, meets="tall side"), SQUARE, Edge(bevel_rad=math.radians(-49.9))),
                notes=("Cut the bevels before the board is ripped to width.",),
            ),
            board("C4", "bottom", "bottom", rectangle(1144.0, 300.0), Frame(origin=(18.0, -300.0, 90.0), **LEVEL)),
            board("C5", "shelf", "shelf", rectangle(1150.0, 280.0), Frame(origin=(15.0, -300.0, 490.0), **LEVEL)),
            board(
                "C6", "back", "back", back, Frame(origin=(0.0, -6.0, 90.0), **FACING), stock="ply-6", thickness_mm=6.0,
                cutouts=(CutOut(u_mm=310.0, v_mm=205.0, width_mm=90.0, height_mm=90.0, purpose="socket by the desk"),),
            ),
            board(
                "T1", "left end strip", "strip", rectangle(935.0, 60.0),
                Frame(origin=(-20.0, -318.0, 90.0), u=(0.0, 0.0, 1.0), v=(-1.0, 0.0, 0.0)),
                edges=(SQUARE, SQUARE, Edge(scribe_mm=12.0, meets="left wall"), SQUARE), module="trim",
                stock="pine-1x4", thickness_mm=19.0,
            ),
            board(
                "T2", "raked strip", "strip", raked_strip, Frame(origin=(0.0, -318.0, 990.0), **FACING), module="trim",
                stock="pine-1x4", thickness_mm=19.0,
            ),
        ),
        joints=(
            JointMade(held="C4", holder="C1", joint="pocket screws", length_mm=300.0, fastenings=(
                Fastening(kind="pocket screw", length_mm=32.0, count=3, spacing_mm=110.0, end_mm=40.0,
                          reason="18 mm into 18 mm"),)),
        ),
    )  # fmt: skip


@pytest.fixture
def shop() -> Shop:
    """Two sheet goods and a board."""
    return Shop(
        currency="EUR",
        sheets=(
            SheetStock(key="birch-18", name="birch plywood 18", wood="birch-plywood", length_mm=2440.0, width_mm=1220.0,
                       thickness_mm=17.6, grained=True, price=Decimal("86.50")),
            SheetStock(key="ply-6", name="plywood 6", wood="birch-plywood", length_mm=2440.0, width_mm=1220.0,
                       thickness_mm=6.0, grained=False, price=Decimal("31.00")),
        ),
        boards=(
            BoardStock(key="pine-1x4", name="pine 19 x 89", wood="pine", thickness_mm=19.0, width_mm=89.0,
                       lengths=(BoardLength(length_mm=2400.0, price=Decimal("7.20")),)),
        ),
    )  # fmt: skip


@pytest.fixture
def cutting() -> CuttingPlan:
    """One sheet with four blanks and two leftovers, and one board; saw kerf 3.2, trim 5."""
    k = 3.2
    placed = (
        Placed(part="C2", x_mm=5.0, y_mm=5.0, length_mm=1742.0, width_mm=300.0, turned=False),
        Placed(part="C3", x_mm=5.0, y_mm=305.0 + k, length_mm=1440.0, width_mm=300.0, turned=False),
        Placed(part="C4", x_mm=5.0, y_mm=605.0 + 2 * k, length_mm=1144.0, width_mm=300.0, turned=False),
        Placed(part="C1", x_mm=1149.0 + k, y_mm=605.0 + 2 * k, length_mm=862.0, width_mm=300.0, turned=False),
    )
    cuts = (
        Cut(order=1, along="length", at_mm=1.8, x1_mm=0.0, y1_mm=3.4, x2_mm=2440.0, y2_mm=3.4),
        Cut(order=2, along="length", at_mm=300.0, x1_mm=0.0, y1_mm=306.6, x2_mm=2440.0, y2_mm=306.6),
        Cut(order=3, along="length", at_mm=300.0, x1_mm=0.0, y1_mm=609.8, x2_mm=2440.0, y2_mm=609.8),
        Cut(order=4, along="length", at_mm=300.0, x1_mm=0.0, y1_mm=913.0, x2_mm=2440.0, y2_mm=913.0),
        Cut(order=5, along="width", at_mm=1.8, x1_mm=3.4, y1_mm=5.0, x2_mm=3.4, y2_mm=305.0),
        Cut(order=6, along="width", at_mm=1742.0, x1_mm=1748.6, y1_mm=5.0, x2_mm=1748.6, y2_mm=305.0),
        Cut(order=7, along="width", at_mm=1.8, x1_mm=3.4, y1_mm=308.2, x2_mm=3.4, y2_mm=608.2),
        Cut(order=8, along="width", at_mm=1440.0, x1_mm=1446.6, y1_mm=308.2, x2_mm=1446.6, y2_mm=608.2),
        Cut(order=9, along="width", at_mm=1.8, x1_mm=3.4, y1_mm=611.4, x2_mm=3.4, y2_mm=911.4),
        Cut(order=10, along="width", at_mm=1144.0, x1_mm=1150.6, y1_mm=611.4, x2_mm=1150.6, y2_mm=911.4),
        Cut(order=11, along="width", at_mm=862.0, x1_mm=2015.8, y1_mm=611.4, x2_mm=2015.8, y2_mm=911.4),
    )
    return CuttingPlan(
        sheets=(
            SheetPlan(
                stock="birch-18", index=1, length_mm=2440.0, width_mm=1220.0, placed=placed, cuts=cuts,
                leftovers=(
                    Leftover(x_mm=0.0, y_mm=914.6, length_mm=2440.0, width_mm=305.4),
                    Leftover(x_mm=1750.2, y_mm=5.0, length_mm=689.8, width_mm=300.0),
                    Leftover(x_mm=1448.2, y_mm=308.2, length_mm=991.8, width_mm=300.0),
                ),
            ),
        ),
        boards=(
            BoardPlan(
                stock="pine-1x4", index=1, length_mm=2400.0,
                pieces=(
                    BoardPiece(part="T2", at_mm=10.0, length_mm=1190.5),
                    BoardPiece(part="T1", at_mm=1203.7, length_mm=945.0),
                    BoardPiece(part="T3", at_mm=2151.9, length_mm=45.0),
                ),
                leftover_mm=199.9,
            ),
        ),
        summaries=(
            StockSummary(stock="birch-18", used=1, at_least=1, yield_share=0.6158, bound_says="blanks cover 0.62 sheets"),
            StockSummary(stock="pine-1x4", used=1, at_least=1, yield_share=0.909, bound_says="pieces need 0.91 boards"),
        ),
        too_large=(TooLarge(part="C6", length_mm=2500.0, width_mm=1760.0, cure="make the back in two pieces"),),
    )  # fmt: skip


@pytest.fixture
def installing() -> InstallPlan:
    """Four packers, two fixings, a hole and three steps."""
    return InstallPlan(
        packers=tuple(
            Packer(station=i + 1, x_mm=x, y_mm=y, height=Measured(value=h, sd=0.6), kind=packer_kind(h), solid_mm=solid_packer(h))
            for i, (x, y, h) in enumerate(((20.0, -30.0, 3.0), (600.0, -30.0, 5.4), (1160.0, -30.0, 9.2),
                                           (20.0, -280.0, 4.1), (600.0, -280.0, 6.0), (1160.0, -280.0, 11.7)))
        ),
        fixings=(
            WallFixing(box="C", x_mm=412.0, z_mm=880.0, packer=Measured(value=4.2, sd=1.0), screw_mm=75.0, into="stud 2",
                       reason="18 rail + 4 packer + 12.5 board + 38 in the stud"),
            WallFixing(box="C", x_mm=1012.0, z_mm=880.0, packer=Measured(value=7.9, sd=1.0), screw_mm=80.0, into="stud 3",
                       reason="18 rail + 8 packer + 12.5 board + 38 in the stud"),
        ),
        holes=(
            OutletHole(outlet="socket by the desk", box="C", part="C6", left_mm=310.0, bottom_mm=205.0, width_mm=90.0,
                       height_mm=90.0, sd_mm=1.4, forward_mm=11.0),
        ),
        steps=(
            Step(title="Set the platform level", text="Put the packers of the table at stations 1 to 6 and check with "
                 "the level, along and across.", parts=("C4",)),
            Step(title="Stand the sides", text="Join C1 and C2 to the bottom with 3 pocket screws 32 each.",
                 caution="The tall side tips until it is fixed: two people.", parts=("C1", "C2")),
            Step(title="Raked board", text="Lay C3 on and screw it.", parts=("C3",)),
        ),
    )  # fmt: skip


@pytest.fixture
def finishing() -> FinishPlan:
    """Primer and two coats."""
    return FinishPlan(
        coats=(
            Coat(product="primer", name="water primer", area_m2=6.41, litres=0.71, start_h=0.0),
            Coat(product="satin", name="satin enamel", area_m2=6.41, litres=0.59, start_h=6.0),
            Coat(product="satin", name="satin enamel", area_m2=6.41, litres=0.59, start_h=30.0),
        ),
        nail_holes=46, caulk_m=5.3, load_after_days=8.25,
    )  # fmt: skip


@pytest.fixture
def buying() -> BuyList:
    """A sheet, a box of screws, and paint without a price."""
    return BuyList(
        currency="EUR",
        lines=(
            BuyLine(group="sheets", to_have="before cutting", item="birch plywood 18, 2440 x 1220", needed=1.0, unit="sheets",
                    packs=1, pack="sheet", price=Decimal("86.50"), cost=Decimal("86.50"), why="cutting plan, sheet 1"),
            BuyLine(group="fastenings", to_have="before cutting", item="pocket screw 32", needed=24.0, unit="pieces",
                    packs=1, pack="box of 100", price=Decimal("9.90"), cost=Decimal("9.90"), why="8 joints with 3 each"),
            BuyLine(group="finishing", to_have="before finishing", item="satin enamel", needed=1.18, unit="litres",
                    packs=1, pack="tin of 2.5 litres", price=None, cost=None, why="2 coats on 6.4 m2"),
        ),
        total=Decimal("96.40"), unpriced=("satin enamel",),
    )  # fmt: skip


@pytest.fixture
def findings() -> tuple[Finding, ...]:
    """One of each verdict."""
    return (
        Finding(topic="shelf sag", subject="shelf C5", verdict="fail", demand=4.9, limit=3.0, unit="mm",
                summary="Shelf C5 sags 4.9 mm after years under 37 kg/m; 3.0 mm is accepted.",
                formula="δ = 5 w L⁴ / (384 E I)", worked="δ = 5 × 0.363 × 1144⁴ / (384 × 9000 × 136080)",
                source_keys=("wood-handbook",), remedy="one divider in the middle brings it to 0.3 mm"),
        Finding(topic="tipping", subject="case C", verdict="caution", demand=310.0, limit=350.0, unit="N",
                summary="The fixings hold 350 N; 310 N is asked.", source_keys=("gluing-recalled",)),
        Finding(topic="wiring", subject="socket by the desk", verdict="question",
                summary="Is the circuit switched off and proved dead before the box is brought forward?"),
        Finding(topic="door swing", subject="door D1", verdict="pass", summary="D1 opens to 95 degrees.", demand=90.0,
                limit=95.0, unit="deg"),
    )  # fmt: skip


@pytest.fixture
def issue() -> Issue:
    """Metric, A4."""
    return Issue(
        job="Linen cupboard under the roof slope", date="12 March", revision="B", marks=Marks(units="mm", resolution=0.5),
        paper="A4",
    )  # fmt: skip


@pytest.fixture(params=["mm on A4", "inches on Letter"])
def any_issue(request) -> Issue:
    """Both units and both papers."""
    if request.param == "mm on A4":
        return Issue(job="Linen cupboard under the roof slope", date="12 March", revision="B",
                     marks=Marks(units="mm", resolution=0.5), paper="A4")  # fmt: skip
    return Issue(
        job="Window bench", date="", revision="A", marks=Marks(units="inch", resolution=1 / 16), paper="Letter"
    )


@pytest.fixture
def fits() -> tuple[Fit, ...]:
    """A sure fit and a doubtful one."""
    return (
        Fit(what="width of case C", space=Measured(value=1192.4, sd=1.1), size_mm=1180.0, chance=0.9999),
        Fit(what="depth of case C", space=Measured(value=301.0, sd=1.9), size_mm=300.0, chance=0.70),
    )


@pytest.fixture
def assumptions() -> tuple[Assumption, ...]:
    """One default."""
    return (Assumption(what="load on shelves", value="37 kg/m", why="default for books; set load.shelf_kg_per_m"),)


@pytest.fixture
def design(shop, fits, assumptions) -> Design:
    """One raked box on a platform, and a bought cabinet beside it."""
    pitch = math.tan(math.radians(40.1))
    sheet, back = shop.sheets
    return Design(
        boxes=(
            Box(name="C", letter="C", x0_mm=0.0, x1_mm=1180.0, y_front_mm=-300.0, y_back_mm=0.0, z0_mm=90.0,
                z1_left_mm=1025.0, z1_right_mm=1850.0, board=sheet, back=back,
                rake=Rake(height_at_0_mm=1025.0, slope=pitch), level_top_mm=1850.0),
            Box(name="bought base", letter="B", x0_mm=1190.0, x1_mm=1790.0, y_front_mm=-580.0, y_back_mm=0.0, z0_mm=90.0,
                z1_left_mm=810.0, z1_right_mm=810.0, board=sheet, back=None,
                bought=Bought(width_mm=600.0, height_mm=720.0, depth_mm=580.0)),
        ),
        tops=(),
        platform=FittedPlatform(
            x0_mm=0.0, x1_mm=1180.0, y_front_mm=-295.0, y_back_mm=-12.0, z0_mm=3.0, z1_mm=90.0, rail_mm=38.0,
            stock=shop.boards[0], bearers_x_mm=(0.0, 571.0, 1142.0), frames_x_mm=((0.0, 1180.0),), high_point=(20.0, -30.0, Measured(value=0.0, sd=0.5)),
        ),
        strips=(), doors=(), skirting=(), corners_joint="pocket screws", dividers_joint="housing", housing_mm=6.0,
        fits=fits, findings=(), assumptions=assumptions,
    )  # fmt: skip


@pytest.fixture
def contents() -> tuple[Entry, ...]:
    """Two chapters."""
    return (Entry(chapter="Checks", first=2, last=3), Entry(chapter="Buying list", first=4, last=4))


@pytest.fixture
def sources() -> tuple[Source, ...]:
    """The project's own reference list."""
    return SOURCES
