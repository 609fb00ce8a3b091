"""What the job needs, item by item, before packs and prices.

Items as the shop file's `packs` name them: `pocket screw 32`, `wood screw 40`, `brad 40` (with the length in mm),
`No. 10 screw 75`, `lag screw 1/4 x 75` and `washer 1/4` where the brief asks for them,
`wood glue` (litres), `shelf pin`, `packer`, `maker's wall fixing` (pieces), `filler` (litres), `caulk` (metres),
`sandpaper` (pieces: sheets), and every finishing product by its key (litres).
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from nookwright.basics.lengths import Marks
from nookwright.stages.buying.buy_list import WHEN, Group, Unit
from nookwright.stages.buying.spoken import WALL_SCREWS, area_said, size_item, size_said
from nookwright.stages.cutting.cutting_plan import CuttingPlan
from nookwright.stages.finishing.finish_plan import FinishPlan
from nookwright.stages.inputs.brief import AlsoBuy, Brief, ToHave
from nookwright.stages.inputs.shop import Shop
from nookwright.stages.installing.install_plan import InstallPlan
from nookwright.stages.parts.part import JointMade, PartList
from nookwright.trade.shimming import PackerKind, packer_kind

SPARE_SHARE = 0.10
"""Screws and brads bought above the count. Source: common practice, no source."""
GLUE_G_PER_LITRE = 1000.0
"""Mass of wood glue, taken low so that too much is bought. Source: common practice, no source."""
PACKER_PIECES: dict[PackerKind, int] = {"thin piece": 1, "tapered pair": 2, "solid piece and tapered pair": 2}
"""Packers bought for each kind; a solid piece is ripped from waste. Source: common practice, no source."""
PINS_PER_SHELF = 4
_HUNG_BY = ("hinge", "runner", "track")
"""Words of what doors hang by. Our choice."""
FILLER_LITRES_PER_HOLE = 0.0002
"""A sunk brad's hole, with what is sanded off. Source: common practice, no source."""
SANDED_M2_PER_SHEET = 2.0
"""Area one sheet of abrasive does between two coats. Source: common practice, no source."""
LEAST_PACKER_MM = 0.5
"""A gap below this needs no packer: it is less than a tape reads. Source: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """One thing the job needs.

    Args:
        group, unit: as in the buying list.
        item: the name packs are matched by.
        name: what the list prints.
        amount: how much, in `unit`.
        why: where the amount comes from.
        pack: what one is, where it is stock sold by the piece; empty for what is sold in packs.
        length_mm: of a board. [mm]
        other_time: when it has to be there, where that does not follow from its group.
    """

    group: Group
    item: str
    name: str
    amount: float
    unit: Unit
    why: str
    pack: str = ""
    length_mm: float | None = None
    other_time: ToHave | None = None

    @property
    def to_have(self) -> ToHave:
        """When it has to be there."""
        return self.other_time or WHEN[self.group]


def stock_needs(cutting: CuttingPlan, shop: Shop, marks: Marks) -> Iterable[Need]:
    """Yield the sheets and boards to buy, less the sheets on hand."""
    for sheet in shop.sheets:
        mine = [plan for plan in cutting.sheets if plan.stock == sheet.key and not plan.offcut]
        sizes = Counter((plan.length_mm, plan.width_mm) for plan in mine)
        used = sizes.pop((sheet.length_mm, sheet.width_mm), 0)
        if used > sheet.on_hand:
            on_hand = f", {sheet.on_hand} on hand" if sheet.on_hand else ""
            yield Need(
                group="sheets", item=sheet.key, name=sheet.name, amount=used - sheet.on_hand, unit="sheets",
                why=f"{used} in the cutting plan{on_hand}",
                pack=f"sheet {size_said((sheet.length_mm, sheet.width_mm, sheet.thickness_mm), marks)}",
            )  # fmt: skip
        for (length_mm, width_mm), count in sorted(sizes.items(), reverse=True):
            size = size_said((length_mm, width_mm), marks)
            yield Need(
                group="sheets", item=size_item(sheet.key, length_mm, width_mm), name=f"{sheet.name}, {size}",
                amount=count, unit="sheets", why=f"{count} in the cutting plan",
                pack=f"sheet {size_said((length_mm, width_mm, sheet.thickness_mm), marks)}",
            )  # fmt: skip
    for board in shop.boards:
        for one in board.lengths:
            used = sum(
                plan.stock == board.key and plan.length_mm == one.length_mm and not plan.offcut
                for plan in cutting.boards
            )
            if used:
                yield Need(
                    group="boards", item=board.key, name=board.name, amount=used, unit="boards",
                    why=f"{used} in the cutting plan", length_mm=one.length_mm,
                    pack=f"board {size_said((one.length_mm, board.width_mm, board.bought_thickness_mm), marks)}",
                )  # fmt: skip


def fastening_needs(parts: PartList, installing: InstallPlan, shop: Shop, marks: Marks) -> Iterable[Need]:
    """Yield screws and brads with a spare tenth, makers' wall fixings, glue with its waste, and shelf pins."""
    in_joints: Counter[str] = Counter()
    in_walls: Counter[str] = Counter()
    for joint in parts.joints:
        for row in joint.fastenings:
            if row.kind != "glue":
                in_joints[f"{row.kind} {row.length_mm:g}"] += row.count
    by_maker = sum(fixing.screw_mm <= 0 for fixing in installing.fixings)
    for fixing in installing.fixings:
        if fixing.screw_mm > 0:
            in_walls[f"{WALL_SCREWS[fixing.screw]} {fixing.screw_mm:g}"] += 1
    for item in sorted(in_joints | in_walls):
        count = in_joints[item] + in_walls[item]
        amount = math.ceil(count * (1 + SPARE_SHARE) - 1e-9)
        why = f"{in_joints[item]} in joints, {in_walls[item]} in walls, {amount - count} spare"
        yield _pieces("fastenings", item, amount, why)
    yield from _washers(installing)
    if by_maker:
        yield _pieces(
            "fastenings", "maker's wall fixing", by_maker, "for walls that are not studs, by its maker's figures"
        )
    glue_m2 = _glued_m2(parts)
    if glue_m2 > 0:
        yield Need(
            group="fastenings", item="wood glue", name="wood glue", unit="litres",
            amount=glue_m2 * shop.glue.spread_g_m2 / GLUE_G_PER_LITRE * shop.waste_factor,
            why=f"{area_said(glue_m2, marks)} of glue lines, waste included",
        )  # fmt: skip
    loose = sum(part.role == "loose shelf" for part in parts.parts)
    if loose:
        yield _pieces(
            "fastenings", "shelf pin", PINS_PER_SHELF * loose, f"{PINS_PER_SHELF} for each of {loose} loose shelves"
        )


def _washers(installing: InstallPlan) -> Iterable[Need]:
    """Yield a washer for each lag."""
    lags = Counter(each.screw for each in installing.fixings if each.screw_mm > 0 and each.screw.startswith("lag"))
    for lag, count in sorted(lags.items()):
        yield _pieces("fastenings", f"washer {lag.removeprefix('lag ')}", count, "one under the head of each lag")


def edging_needs(parts: PartList, shop: Shop) -> Iterable[Need]:
    """Yield edging by the metre, its waste included."""
    for item in dict.fromkeys(part.edging for part in parts.parts if part.edging):
        edged = [part for part in parts.parts if part.edging == item]
        yield Need(
            group="others", item=item, name=item, unit="metres",
            amount=sum(part.edging_mm for part in edged) / 1000 * shop.waste_factor,
            why=f"edges of {len(edged)} part{'' if len(edged) == 1 else 's'}, waste included",
        )  # fmt: skip


def other_needs(brief: Brief) -> Iterable[Need]:
    """Yield what else the brief asks to buy; one item for one time is one need."""
    wishes: dict[tuple[str, Unit, ToHave], list[AlsoBuy]] = {}
    for wish in brief.also_buy:
        wishes.setdefault((wish.item, wish.unit, wish.to_have), []).append(wish)
    for (item, unit, to_have), its in wishes.items():
        yield Need(
            group="others", item=item, name=item, unit=unit, amount=sum(wish.amount for wish in its),
            why="; ".join(dict.fromkeys(wish.why for wish in its if wish.why)), other_time=to_have,
        )  # fmt: skip


def not_counted(parts: PartList, brief: Brief) -> tuple[str, ...]:
    """Return what the furniture needs besides: what doors hang by, unless the brief asks to buy it."""
    doors = sum(part.role == "door" for part in parts.parts)
    told = any(word in wish.item.lower() for wish in brief.also_buy for word in _HUNG_BY)
    return (f"hinges, or runners, and knobs of {doors} door{'' if doors == 1 else 's'}",) if doors and not told else ()


def sundry_needs(installing: InstallPlan, finishing: FinishPlan, marks: Marks) -> Iterable[Need]:
    """Yield packers, those of a tapered pair counted one by one, with a spare tenth, and sandpaper."""
    under = [one.height.value for one in installing.packers if one.height.value > LEAST_PACKER_MM]
    behind = [one.packer.value for one in installing.fixings if one.packer.value > LEAST_PACKER_MM]
    pieces = [PACKER_PIECES[packer_kind(height)] for height in (*under, *behind)]
    if pieces:
        amount = math.ceil(sum(pieces) * (1 + SPARE_SHARE) - 1e-9)
        why = (
            f"{len(under)} places under the platform, {len(behind)} at wall fixings, {pieces.count(2)} of them with a "
            f"tapered pair, {amount - sum(pieces)} spare"
        )
        yield _pieces("installing", "packer", amount, why)
    sanded_m2 = sum(coat.area_m2 for coat in finishing.coats)
    if sanded_m2 > 0:
        why = f"{area_said(sanded_m2, marks)} sanded before coats, {area_said(SANDED_M2_PER_SHEET, marks)} a sheet"
        yield _pieces("finishing", "sandpaper", math.ceil(sanded_m2 / SANDED_M2_PER_SHEET), why)


def finish_needs(finishing: FinishPlan, shop: Shop, marks: Marks) -> Iterable[Need]:
    """Yield coating products, filler and caulk."""
    for product in dict.fromkeys(coat.product for coat in finishing.coats):
        coats = [coat for coat in finishing.coats if coat.product == product]
        count = len({coat.start_h for coat in coats})  # jobs bought for together have theirs at the same hours
        times = "1 coat" if count == 1 else f"{count} coats"
        area = area_said(sum(coat.area_m2 for coat in coats), marks)
        yield Need(
            group="finishing", item=product, name=coats[0].name, amount=sum(coat.litres for coat in coats),
            unit="litres", why=f"{times}, {area} in all, waste included",
        )  # fmt: skip
    if finishing.nail_holes:
        yield Need(
            group="finishing", item="filler", name="filler", unit="litres",
            amount=finishing.nail_holes * FILLER_LITRES_PER_HOLE * shop.waste_factor,
            why=f"{finishing.nail_holes} nail holes, waste included",
        )  # fmt: skip
    if finishing.caulk_m > 0:
        yield Need(
            group="finishing", item="caulk", name="caulk", amount=finishing.caulk_m * shop.waste_factor,
            unit="metres", why="edges that meet walls, waste included",
        )  # fmt: skip


def _pieces(group: Group, item: str, amount: int, why: str) -> Need:
    return Need(group=group, item=item, name=item, amount=amount, unit="pieces", why=why)


def _glued_m2(parts: PartList) -> float:
    """Return the area of all glue lines: joints with glue, and boards glued edge to edge. [m2]"""
    thickness = {part.number: part.thickness_mm for part in parts.parts}
    in_joints_mm2 = sum(joint.length_mm * thickness[joint.held] for joint in parts.joints if _glued(joint))
    in_boards_mm2 = sum((part.pieces - 1) * part.blank_mm[0] * part.thickness_mm for part in parts.parts)
    return (in_joints_mm2 + in_boards_mm2) / 1_000_000


def _glued(joint: JointMade) -> bool:
    return any(row.kind == "glue" for row in joint.fastenings)
