"""Brief + room -> Design: the furniture stood up from the floor, tier by tier."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise, takewhile

from nookwright.basics.findings import Assumption, Finding
from nookwright.basics.problems import Inspection
from nookwright.stages.design.boxes import TierBoxes, stand
from nookwright.stages.design.design import (
    Box,
    Design,
    Door,
    Fit,
    FittedPlatform,
    FittedTop,
    SkirtingReturn,
    Strip,
)
from nookwright.stages.design.fronts import hung
from nookwright.stages.design.openings import VENTILATED_GAP_MM, back_line, highest, reach, run_ends
from nookwright.stages.design.platform import BARE_PACKER_MM, high_point, lay_platform
from nookwright.stages.design.setting import Setting
from nookwright.stages.design.skirting import ripped_skirting, skirting_returns
from nookwright.stages.design.standing_off import gap_behind, open_corners
from nookwright.stages.design.tops import in_pieces, lay_top
from nookwright.stages.design.trims import Face, trimmed
from nookwright.stages.inputs.brief import Brief, Cases, Top
from nookwright.stages.inputs.shop import BoardStock, Shop
from nookwright.stages.room.room import Room

INTO_WALL_MM = 0.5
"""A chosen end may lie this far behind a wall: less than people mark. Common practice, no source."""

SHORTEST_RUN_MM = 100.0
"""A run shorter than this is a typing error rather than a wish. Common practice, no source."""

BOX_LETTERS = "ABCEFGHJLMNQRUVWXYZ"
"""Letters of the boxes; D, K, P, S, T are doors, skirting, platform, strips and tops; I and O read as figures."""


@dataclass(slots=True)
class Standing:
    """What has been stood up so far, and how high it reaches."""

    z_mm: float
    boxes: list[Box] = field(default_factory=list)
    tops: list[FittedTop] = field(default_factory=list)
    strips: list[Strip] = field(default_factory=list)
    doors: list[Door] = field(default_factory=list)
    fits: list[Fit] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    last: TierBoxes | None = None


def fit(brief: Brief, room: Room, shop: Shop) -> Design:
    """Fit the wished furniture into the room.

    Args:
        brief: what is wanted.
        room: the room's true shape, with its uncertainty.
        shop: stock and its real thicknesses.

    Returns:
        Everything at its place; what does not fit is a finding.

    Raises:
        InvalidInputError: when the brief cannot be worked with; carries every problem.
    """
    setting = Setting(brief=brief, room=room, shop=shop, inspection=Inspection())
    _examine(brief, setting.inspection)
    _examine_run(setting)
    setting.inspection.finish()
    depth = max(tier.depth_mm for tier in brief.tiers if isinstance(tier, Cases))
    height = _run_height(brief, room)
    y_back = back_line(room, brief, (0.0, height)).value
    _examine_ends(setting, (y_back - depth, y_back), (0.0, height))
    platform, z0 = _base(setting, y_back, depth)
    standing = Standing(z_mm=z0)
    standing.findings.extend(gap_behind((0.0, height), run_ends(room, brief), setting))
    for i, tier in enumerate(brief.tiers):
        if isinstance(tier, Cases):
            _add_cases(standing, tier, y_back, setting, _tops_on(i, setting))
        else:
            _add_top(standing, tier, setting)
    skirting = _skirting(brief, room, platform, y_back, depth)
    if skirting and platform is not None and room.survey.skirting is not None:
        standing.findings.extend(ripped_skirting(platform, room.survey.skirting, setting))
    setting.inspection.finish()
    return Design(
        boxes=tuple(standing.boxes),
        tops=tuple(standing.tops),
        platform=platform,
        strips=tuple(standing.strips),
        doors=tuple(standing.doors),
        skirting=skirting,
        corners_joint=brief.joinery.corners,
        dividers_joint=brief.joinery.dividers,
        housing_mm=brief.joinery.housing_mm,
        fits=tuple(standing.fits),
        findings=tuple(standing.findings),
        assumptions=_assumptions(setting),
    )


def _examine(brief: Brief, inspection: Inspection) -> None:
    """Note what no room could mend: no boxes, or a tier without a height below another."""
    cases = [tier for tier in brief.tiers if isinstance(tier, Cases)]
    inspection.expect(bool(cases), "tiers", "no tier of cases", "at least one tier of cases", where=brief.where)
    for tier in cases[:-1]:
        inspection.expect(
            tier.height_mm is not None,
            "height",
            f"{tier.name} running up to the slope or ceiling below another tier",
            "a height for every tier but the highest",
            where=tier.where,
        )
    units = sum(len(tier.units) for tier in cases)
    inspection.expect(
        units <= len(BOX_LETTERS), "tiers", f"{units} units", f"at most {len(BOX_LETTERS)} units", where=brief.where
    )
    for below, above in pairwise(brief.tiers):
        bare = isinstance(below, Cases) and below.height_mm is None and isinstance(above, Top)
        inspection.expect(
            not bare,
            "height",
            f"{above.name} on a tier that runs up to the slope or ceiling",
            "a height for the tier below a top",
            where=below.where,
        )
    first_is_top = bool(brief.tiers) and isinstance(brief.tiers[0], Top)
    inspection.expect(not first_is_top, "tiers", "a top as the lowest tier", "cases below every top", where=brief.where)


def _examine_run(setting: Setting) -> None:
    """Note a run that ends before it begins, or right after."""
    start, end = run_ends(setting.room, setting.brief)
    setting.inspection.expect(
        end - start >= SHORTEST_RUN_MM,
        "end",
        f"a run from {setting.said(start)} to {setting.said(end)} right of {setting.room.origin}",
        f"an end at least {setting.said(SHORTEST_RUN_MM)} right of its start",
        where=setting.brief.where,
    )


def _examine_ends(setting: Setting, y_range: tuple[float, float], z_range: tuple[float, float]) -> None:
    """Note an end of the run that the brief sets behind a wall."""
    brief, room = setting.brief, setting.room
    if brief.start_mm is not None and room.has("left"):
        wall = room.governing("left", y_range, z_range, "greatest").value
        setting.inspection.expect(
            brief.start_mm >= wall - INTO_WALL_MM,
            "start",
            f"a start {setting.said(brief.start_mm)} right of {setting.room.origin}",
            f"`wall`, or at least {setting.said(wall)}, where the {room.told('left')} stands",
            where=brief.where,
        )
    if brief.end_mm is not None and room.has("right"):
        wall = room.governing("right", y_range, z_range, "least").value
        setting.inspection.expect(
            brief.end_mm <= wall + INTO_WALL_MM,
            "end",
            f"an end {setting.said(brief.end_mm)} right of {setting.room.origin}",
            f"`wall`, or at most {setting.said(wall)}, where the {room.told('right')} stands",
            where=brief.where,
        )


def _run_height(brief: Brief, room: Room) -> float:
    """Return the height over which the back wall is looked at: what is wished, or all there is to run up to. [mm]"""
    heights = [tier.height_mm for tier in brief.tiers if isinstance(tier, Cases)]
    known = sum(height for height in heights if height is not None)
    platform = brief.platform.height_mm if brief.platform else 0.0
    return highest(room, run_ends(room, brief)) if None in heights else platform + known


def _base(setting: Setting, y_back: float, depth: float) -> tuple[FittedPlatform | None, float]:
    """Return the platform, if wished, and the height the lowest boxes stand on. [mm]"""
    brief, room = setting.brief, setting.room
    y_range = (y_back - depth, y_back)
    span = reach(room, brief, y_range, (0.0, 300.0))
    x_range = (span.x0_mm, span.x1_mm)
    if brief.platform is None:
        high = room.at("floor", *high_point(room, x_range, y_range))
        return None, high.value + BARE_PACKER_MM
    first = next(tier for tier in brief.tiers if isinstance(tier, Cases))
    tier = stand(
        first, z0_mm=brief.platform.height_mm, y_back_mm=y_back, setting=setting.quiet(), letters=tuple(BOX_LETTERS)
    )
    sides = tuple(x for box in tier.boxes for x in (box.x0_mm, box.x1_mm))
    platform = lay_platform(
        brief.platform,
        x_range=(tier.boxes[0].x0_mm, tier.boxes[-1].x1_mm),
        y_range=(y_back - first.depth_mm, y_back),
        sides_x_mm=sides,
        setting=setting,
    )
    return platform, platform.z1_mm


def _tops_on(index: int, setting: Setting) -> float:
    """Return the thickness of the tops that lie on a tier. [mm]"""
    tops = takewhile(lambda tier: isinstance(tier, Top), setting.brief.tiers[index + 1 :])
    return sum(setting.quiet().stock(top.board, "board", top.where).thickness_mm for top in tops)


def _add_cases(standing: Standing, tier: Cases, y_back: float, setting: Setting, tops_mm: float) -> None:
    """Stand a tier of boxes, with its trim and doors, on what is there."""
    letters = tuple(BOX_LETTERS[len(standing.boxes) :])
    tier_boxes = stand(tier, z0_mm=standing.z_mm, y_back_mm=y_back, setting=setting, letters=letters, tops_mm=tops_mm)
    if not setting.inspection.problems:  # boxes that do not go in are stand-ins: nothing can be fitted to them
        face = _face(tier_boxes, setting, lidded=tops_mm > 0.0)
        standing.strips.extend(face.strips if face else ())
        for box in tier_boxes.boxes:
            doors, found = hung(box, face, setting)
            standing.doors.extend(doors)
            standing.findings.extend(found)
    standing.boxes.extend(tier_boxes.boxes)
    standing.fits.extend(tier_boxes.fits)
    standing.findings.extend(tier_boxes.findings)
    standing.findings.extend(open_corners(tier_boxes, setting))
    standing.last = tier_boxes
    standing.z_mm = max(max(box.z1_left_mm, box.z1_right_mm) for box in tier_boxes.boxes)


def _face(tier: TierBoxes, setting: Setting, lidded: bool) -> Face | None:
    """Return the tier's face trim; None when none is wished."""
    trim = setting.brief.trim
    if trim is None:
        return None
    stock = setting.shop.stock(trim.board)
    if isinstance(stock, BoardStock):
        return trimmed(tier, setting, trim, stock, lidded)
    keys = ", ".join(board.key for board in setting.shop.boards)
    setting.inspection.expect(
        False, "trim", f"trim board: {trim.board}", f"a board stock of the shop: {keys}", where=setting.brief.where
    )
    return None


def _add_top(standing: Standing, top: Top, setting: Setting) -> None:
    """Lay a top on the tier below."""
    if standing.last is None:
        return
    fitted = lay_top(
        top,
        below=standing.last.boxes,
        reach=standing.last.reach,
        z_mm=standing.z_mm,
        setting=setting,
        letter="T",
    )
    standing.tops.extend(in_pieces(fitted, top, setting))
    standing.z_mm += fitted.thickness_mm


def _skirting(
    brief: Brief, room: Room, platform: FittedPlatform | None, y_back: float, depth: float
) -> tuple[SkirtingReturn, ...]:
    """Return the room's skirting carried along the platform, if wished and there is one to carry on."""
    if not brief.return_skirting or platform is None or room.survey.skirting is None:
        return ()
    span = reach(room, brief, (y_back - depth, y_back), (0.0, 300.0))
    return skirting_returns(platform, span, room.survey.skirting, room)


def _assumptions(setting: Setting) -> tuple[Assumption, ...]:
    """Return the figures of the design that nobody measured."""
    brief, room, allowances = setting.brief, setting.room, setting.brief.allowances
    made = [
        Assumption(
            what="play beside a wall",
            value=f"{allowances.sds:g} standard deviations, at least {setting.said(allowances.least_gap_mm)}",
            why="common practice; `allowances` in the brief replaces it",
        ),
        Assumption(
            what="waviness of plaster",
            value=f"{setting.said(room.waviness_mm)}, one standard deviation",
            why="as the readings show; `waviness fixed` under `tools` in the room file overrules them",
        ),
        Assumption(
            what="load on shelves",
            value=_load_said(brief),
            why="full shelf of books, common practice; `load` in the brief replaces it",
        ),
    ]
    if room.survey.wall.outside:
        made.append(
            Assumption(
                what="gap behind furniture on an outside wall",
                value=f"{setting.said(VENTILATED_GAP_MM)}, open above and below",
                why="damp; an advice page on furniture at cold walls gives 50 mm",
            )
        )
    return tuple(made)


LB_FT_PER_KG_M = 0.671969
"""Pounds a foot in one kilogram a metre: 0.3048 / 0.45359237."""


def _load_said(brief: Brief) -> str:
    """Return the load on shelves as the reader says it."""
    load = brief.load.shelf_kg_per_m
    return f"{load:.0f} kg on each metre" if brief.units == "mm" else f"{load * LB_FT_PER_KG_M:.0f} lb on each foot"
