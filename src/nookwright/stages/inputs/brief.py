"""Brief: the furniture that is wanted, from the floor up."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from nookwright.basics.problems import NOWHERE, Where
from nookwright.trade.room_climate import Moisture
from nookwright.trade.shelf_standards import ShelfLimitKey

Units = Literal["mm", "inch"]
Joint = Literal["pocket screws", "housing", "rebate", "butt and screws", "butt and brads"]
ScrewKind = Literal["No. 8", "No. 10", "No. 12", "lag 1/4", "lag 5/16", "lag 3/8"]
RakeEnd = Literal["over", "between"]
"""How the raked board meets an upright: `over` its end, or `between` the uprights, against its face."""
Grain = Literal["along", "across", "any"]
"""How the sheet's grain runs on a part: along its length, across it, or as the plan likes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixed:
    """A size given in millimetres."""

    mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """A share of what is left over; equal sizes are shares of 1."""

    parts: float = 1.0


Size = Fixed | Share


@dataclass(frozen=True, slots=True, kw_only=True)
class Front:
    """A door in front of a cell: sized here, bought or made to the size.

    Args:
        leaves: one door, a pair, or two sliding past each other.
        hang: inset in the opening, or overlay on the case's edges; sliding doors are always inset.
        board: key of the stock it is made from.
    """

    leaves: Literal["one", "pair", "sliding"]
    hang: Literal["inset", "overlay"]
    board: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A space inside a case: left open, filled with shelves, or split again.

    Args:
        size: width within a row of columns, or height within a stack of rows (rows count from the bottom).
        split: how `cells` divide it; `none` when it is not divided.
        cells: the smaller cells, left to right or bottom to top.
        shelves: number of evenly spaced shelves in an undivided cell.
        shelf_fixing: on pins (loose) or fixed between the uprights.
        front: the door in front of it, if any.
    """

    size: Size = Share()
    split: Literal["none", "columns", "rows"] = "none"
    cells: tuple[Cell, ...] = ()
    shelves: int = 0
    shelf_fixing: Literal["pins", "fixed"] = "pins"
    front: Front | None = None
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """A bought cabinet, by its REAL outside sizes, measured on the thing itself. [mm]

    Args:
        width_mm, height_mm, depth_mm: outside, without doors.
        toe_height_mm: height of its own toe space, cut off when it stands on a platform; included in `height_mm`.
        side_mm, back_mm: thickness of its sides and back.
        doors, drawers: how many it has; they are judged open, the drawers full.
        mass_kg: what it weighs empty; None when nobody weighed it and its boards are reckoned. [kg]
    """

    width_mm: float
    height_mm: float
    depth_mm: float
    toe_height_mm: float = 0.0
    side_mm: float = 16.0
    back_mm: float = 6.0
    doors: int = 0
    drawers: int = 0
    mass_kg: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """One box within a tier: built, or bought.

    Args:
        name: what the drawings call it.
        width: fixed, or a share of the tier's width; a bought cabinet keeps its own.
        bought: set when it is a bought cabinet.
        inside: how the inside is divided; ignored for a bought cabinet.
    """

    name: str
    width: Size = Share()
    bought: Bought | None = None
    inside: Cell = Cell()
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Cases:
    """A tier of boxes side by side.

    Args:
        name: what the drawings call the tier.
        height: outside height; None runs the tier up to the slope or ceiling.
        depth_mm: outside depth, back included, front edge to the back's rear face. [mm]
        units: the boxes from left to right.
        board: key of the sheet stock of its boards.
        back_board: key of the sheet stock of its back; empty for an open back.
        rake_low, rake_high: how the raked board meets the short and the tall side.
    """

    name: str
    height_mm: float | None
    depth_mm: float
    units: tuple[Unit, ...]
    board: str
    back_board: str = ""
    rake_low: RakeEnd = "over"
    rake_high: RakeEnd = "between"
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Top:
    """A worktop or shelf-top across the tier below, scribed to the walls it meets.

    Args:
        name: what the drawings call it.
        board: key of the sheet or board stock (a board stock is glued up to width).
        overhang_mm: beyond the front of the tier below. [mm]
        split_mm: where it is made in pieces end to end, from its left end. [mm]
    """

    name: str
    board: str
    overhang_mm: float = 25.0
    split_mm: tuple[float, ...] = ()
    where: Where = NOWHERE


Tier = Cases | Top


@dataclass(frozen=True, slots=True, kw_only=True)
class Platform:
    """The base platform: a ladder of rails on edge, levelled on packers.

    Args:
        height_mm: its top above the floor's high point. [mm]
        toe_mm: how far its front stands back from the face of the boxes; 0 for flush. [mm]
        board: key of the stock its rails are cut from.
        least_packer_mm: packer at the floor's high point. [mm]
        bearer_spacing_mm: greatest distance between cross bearers. [mm]
        split_mm: where it is made of frames end to end, from its left end. [mm]
    """

    height_mm: float
    board: str
    toe_mm: float = 0.0
    least_packer_mm: float = 3.0
    bearer_spacing_mm: float = 400.0
    split_mm: tuple[float, ...] = ()
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Trim:
    """Face trim: strips that cover edges and the gaps to walls and slope.

    Args:
        board: key of the board stock it is ripped from.
        reveal_mm: how much of the board's edge stays seen beside a strip. [mm]
        centre_mm: least width of a strip over an upright in the middle. [mm]
        rail_mm: width of level and raked strips. [mm]
    """

    board: str
    reveal_mm: float = 3.0
    centre_mm: float = 40.0
    rail_mm: float = 45.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Joinery:
    """How boards are joined.

    Args:
        corners: bottom and top to the sides.
        dividers: fixed shelves and row boards to uprights; a divider's own ends are butted and screwed.
        housing_mm: depth of a housing in a side; in a divider at most a quarter of its thickness. [mm]
    """

    corners: Joint = "pocket screws"
    dividers: Joint = "housing"
    housing_mm: float = 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowances:
    """Play and scribe, replaced here when the default does not suit.

    Args:
        sds: how many standard deviations a clearance covers; 2.33 means 99 in 100 fit.
        least_gap_mm: least gap between a box and a wall beside it. [mm]
        top_gap_mm: gap above a box for lifting it in. [mm]
        scribe_mm: least material left for scribing. [mm]
    """

    sds: float = 2.33
    least_gap_mm: float = 6.0
    top_gap_mm: float = 15.0
    scribe_mm: float = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What the shelves carry.

    Args:
        shelf_kg_per_m: on each metre of shelf. [kg/m]
        sag_per_m_mm: sag the owner accepts, per metre of span. [mm/m]
        anchor_pull_n: outward pull on the top front edge that the fixings must hold. [N]
        shelf_limit: whose load and sag limit shelves are held to; `eye` means the load and sag given here.
        person_kg: who may sit or stand on a low top. [kg]
    """

    shelf_kg_per_m: float = 37.0
    sag_per_m_mm: float = 2.6
    anchor_pull_n: float = 350.0
    shelf_limit: ShelfLimitKey = "eye"
    person_kg: float = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WallScrew:
    """What holds boxes to the wall.

    Args:
        screw: into studs.
        anchor: the anchor for masonry or board, in the words of its packet; empty when none is chosen.
        anchor_pull_n: what its maker's own paper allows it to be pulled with in this wall; 0 when not known. [N]
        paper: where the maker says so.
    """

    screw: ScrewKind = "No. 8"
    anchor: str = ""
    anchor_pull_n: float = 0.0
    paper: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthAir:
    """A month's mean air. [C, %]"""

    warmth_c: float
    humidity_pct: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Climate:
    """The air the furniture lives in, twelve months from January.

    Args:
        outdoor: outside; the room's air is worked out from it.
        indoor: in the room itself, as measured; rules where it is given.
        heated_c: what the room is heated to. [C]
        moisture: how much vapour people add to it.
    """

    outdoor: tuple[MonthAir, ...] = ()
    indoor: tuple[MonthAir, ...] = ()
    heated_c: float = 20.0
    moisture: Moisture = "normal"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """Keys of the finishing products in the shop file, and number of coats."""

    primer: str = ""
    primer_coats: int = 1
    coat: str = ""
    coats: int = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class GrainWish:
    """How the grain runs on some parts; it counts on sheets with a grain only.

    Args:
        parts: their numbers, names or roles, such as `D1` or `shelf`.
        runs: along the part's length, across it, or as the plan likes.
    """

    parts: tuple[str, ...]
    runs: Grain
    where: Where = NOWHERE


EdgesMeant = Literal["one long", "both long", "all"]
"""Which edges of a part: one along its length, both of those, or all round."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgingWish:
    """Edging glued on edges of parts that are cut from sheets; nothing is taken off the parts for it.

    Args:
        parts: their numbers, names or roles.
        edges: which edges of each.
        item: what the edging is asked for by.
    """

    parts: tuple[str, ...]
    edges: EdgesMeant
    item: str
    where: Where = NOWHERE


ToHave = Literal["before survey", "before cutting", "before fixing to the wall", "before finishing"]
"""When something bought has to be there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AlsoBuy:
    """What else to buy, that follows from no part and no joint.

    Args:
        item: what it is asked for by.
        amount: how much, in `unit`.
        to_have: when it has to be there.
        why: what for.
    """

    item: str
    amount: float
    unit: Literal["pieces", "litres", "metres"]
    to_have: ToHave
    why: str
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Matched:
    """Parts whose figure runs over from one to the next: cut side by side from one piece of one sheet, in this order.

    Args:
        parts: their numbers, names or roles, such as `D1, D2`.
    """

    parts: tuple[str, ...]
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Brief:
    """What is wanted.

    Args:
        title: the job's title, printed on every sheet.
        date: date of issue as the user writes it; printed, never computed.
        revision: revision letter.
        units: units people read; lengths inside stay in millimetres.
        resolution: smallest step people mark: 0.5 (mm) or 1/16, 1/32 (inch). [mm or inch]
        paper: sheet size of the book.
        place: where in the room the furniture stands, for example `left alcove`; empty where there is one place only.
        start_mm, end_mm: ends of the run along the wall behind it, from that wall's left end; None means the wall
            there. [mm]
        platform, tiers, trim: the furniture from the floor up.
        return_skirting: whether the room's skirting is returned along the base.
        grain, matched: how the grain runs, where it is not along every part; whose figure runs over.
        edging, also_buy: edging glued on parts; what else to buy.
        climate: the air the furniture lives in; None for the common range of heated houses.
        wall_screw: what holds boxes to the wall.
    """

    title: str
    units: Units
    resolution: float
    tiers: tuple[Tier, ...]
    date: str = ""
    revision: str = "A"
    paper: Literal["A4", "Letter"] = "A4"
    place: str = ""
    start_mm: float | None = None
    end_mm: float | None = None
    platform: Platform | None = None
    trim: Trim | None = None
    return_skirting: bool = False
    joinery: Joinery = Joinery()
    allowances: Allowances = Allowances()
    load: Load = Load()
    finish: Finish = Finish()
    grain: tuple[GrainWish, ...] = ()
    edging: tuple[EdgingWish, ...] = ()
    also_buy: tuple[AlsoBuy, ...] = ()
    matched: tuple[Matched, ...] = ()
    climate: Climate | None = None
    wall_screw: WallScrew = WallScrew()
    where: Where = field(default=NOWHERE)
    place_where: Where = field(default=NOWHERE)
