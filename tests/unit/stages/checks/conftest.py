"""A small job made by hand: two boxes side by side with a shelf each, on a platform."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

import pytest

from nookwright.basics.measured import Measured
from nookwright.geometry.frame import Frame, Point2
from nookwright.stages.design.design import Box, Design, FittedPlatform, Shelf, Upright
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.shop import BoardLength, BoardStock, SheetStock, Shop
from nookwright.stages.inputs.survey import Survey, WallBuild
from nookwright.stages.installing.install_plan import InstallPlan, Packer, WallFixing
from nookwright.stages.parts.part import SQUARE, Part, PartList

PLY_18 = SheetStock(
    key="ply-18", name="birch plywood 18", wood="birch-plywood", length_mm=2440, width_mm=1220, thickness_mm=18,
    grained=True, price=Decimal(90),
)  # fmt: skip
PLY_24 = replace(PLY_18, key="ply-24", name="birch plywood 24", thickness_mm=24, price=Decimal(120))
OAK = BoardStock(
    key="oak", name="oak board", wood="red-oak", thickness_mm=18, width_mm=140,
    lengths=(BoardLength(length_mm=2400, price=Decimal(60)),),
)  # fmt: skip
SHOP = Shop(currency="EUR", sheets=(PLY_18, PLY_24), boards=(OAK,))
BRIEF = Brief(title="test", units="mm", resolution=0.5, tiers=())
SURVEY = Survey(
    kind="alcove", corner="left", heights_mm=(900.0,), readings=(),
    wall=WallBuild(kind="studs", board_mm=12.5, stud_centres_mm=(200.0, 600.0)),
)  # fmt: skip


def rectangle(length_mm: float, width_mm: float) -> tuple[Point2, ...]:
    """Return a rectangle's corners, counter-clockwise."""
    return ((0.0, 0.0), (length_mm, 0.0), (length_mm, width_mm), (0.0, width_mm))


def lying(number: str, length_mm: float, width_mm: float, **given: Any) -> Part:
    """Return a level board along the back wall, its upper face at z 400."""
    part = Part(
        number=number, name="shelf", role="loose shelf", module="left case", stock="ply-18", wood="birch-plywood",
        thickness_mm=18, outline=rectangle(length_mm, width_mm), edges=(SQUARE,) * 4,
        frame=Frame(origin=(0.0, -width_mm, 400.0), u=(1.0, 0.0, 0.0), v=(0.0, 1.0, 0.0)),
    )  # fmt: skip
    return replace(part, **given)


def standing(number: str, length_mm: float, width_mm: float, y_mm: float, **given: Any) -> Part:
    """Return a board that faces the room, its lower left corner at x 0, z 0."""
    part = Part(
        number=number, name="rail", role="fixing rail", module="left case", stock="ply-18", wood="birch-plywood",
        thickness_mm=18, outline=rectangle(length_mm, width_mm), edges=(SQUARE,) * 4,
        frame=Frame(origin=(0.0, y_mm, 0.0), u=(1.0, 0.0, 0.0), v=(0.0, 0.0, 1.0)),
    )  # fmt: skip
    return replace(part, **given)


def case(name: str, x0_mm: float, x1_mm: float, *, shelves: tuple[Shelf, ...] = ()) -> Box:
    """Return a case 2000 mm high and 300 deep with a divider in the middle."""
    middle = (x0_mm + x1_mm) / 2
    return Box(
        name=name, letter="C", x0_mm=x0_mm, x1_mm=x1_mm, y_front_mm=-306.0, y_back_mm=-6.0, z0_mm=80.0,
        z1_left_mm=2080.0, z1_right_mm=2080.0, board=PLY_18, back=None,
        uprights=(
            Upright(kind="side", x_mm=x0_mm, thickness_mm=18, z0_mm=80, z1_left_mm=2080, z1_right_mm=2080),
            Upright(kind="divider", x_mm=middle, thickness_mm=18, z0_mm=98, z1_left_mm=2062, z1_right_mm=2062),
            Upright(kind="side", x_mm=x1_mm - 18, thickness_mm=18, z0_mm=80, z1_left_mm=2080, z1_right_mm=2080),
        ),
        shelves=shelves,
    )  # fmt: skip


def fixing(box: str, x_mm: float, z_mm: float, screw_mm: float = 75.0, into: str = "stud 1") -> WallFixing:
    """Return a wall screw over a 6 mm packer."""
    return WallFixing(
        box=box, x_mm=x_mm, z_mm=z_mm, packer=Measured(value=6.0, sd=1.0), screw_mm=screw_mm, into=into, reason="",
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What the checks are given."""

    design: Design
    parts: PartList
    installing: InstallPlan
    survey: Survey
    brief: Brief
    shop: Shop


@pytest.fixture
def job() -> Job:
    """Return the small job: the left case fixed to two studs, the right one to none."""
    platform = FittedPlatform(
        x0_mm=0, x1_mm=1600, y_front_mm=-300, y_back_mm=0, z0_mm=10, z1_mm=80, rail_mm=18, stock=PLY_18,
        bearers_x_mm=(0, 800), frames_x_mm=((0, 1600),), high_point=(0.0, 0.0, Measured(value=0.0, sd=1.0)),
    )  # fmt: skip
    design = Design(
        boxes=(case("left case", 0, 800), case("right case", 806, 1606)), tops=(), platform=platform, strips=(),
        doors=(), skirting=(), corners_joint="pocket screws", dividers_joint="housing", housing_mm=6.0, fits=(),
        findings=(), assumptions=(),
    )  # fmt: skip
    parts = PartList(
        parts=(
            lying("C1", 900, 280),
            standing("C2", 764, 100, y_mm=-24.0),  # rail: from y -24 back to the box's rear at y -6
            standing("C3", 800, 2000, y_mm=-306.0, name="side", role="side"),
            standing("D1", 800, 2000, y_mm=-306.0, name="side", role="side", module="right case"),
        ),
        joints=(),
    )
    packers = tuple(
        Packer(station=i + 1, x_mm=x, y_mm=y, height=Measured(value=8.0, sd=1.0), kind="tapered pair", solid_mm=0.0)
        for i, (x, y) in enumerate((x, y) for y in (-300.0, 0.0) for x in (0.0, 400.0, 800.0, 1200.0, 1600.0))
    )
    fixings = tuple(
        fixing("left case", x, z, into=into) for x, into in ((200, "stud 1"), (600, "stud 2")) for z in (1000.0, 2000.0)
    )
    installing = InstallPlan(packers=packers, fixings=fixings, holes=(), steps=())
    return Job(design=design, parts=parts, installing=installing, survey=SURVEY, brief=BRIEF, shop=SHOP)
