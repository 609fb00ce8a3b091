"""The outsides of a tier's boxes: where each stands, and how high it may rise under slope and ceiling."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from nookwright.basics.findings import Finding
from nookwright.stages.design.carcase import furnished
from nookwright.stages.design.design import Box, Fit, Rake
from nookwright.stages.design.openings import Reach, fit_of, level_limit, rake_line, reach
from nookwright.stages.design.setting import Setting
from nookwright.stages.design.sizes import LEAST_CELL_MM, shared_out
from nookwright.stages.inputs.brief import Cases, Fixed, Size, Unit
from nookwright.stages.inputs.shop import SheetStock

LEAST_SIDE_MM = 150.0
"""A short side lower than this cannot be screwed from inside. Common practice, no source."""

KINK_MM = 40.0
"""A level top and a raked board meet at least this far from an upright; nearer, one of them is left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TierBoxes:
    """The boxes of a tier, what they were fitted to, and what was found on the way."""

    boxes: tuple[Box, ...]
    reach: Reach
    fits: tuple[Fit, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lid:
    """What closes a tier from above. [mm]

    Args:
        rake: the line below the slope; None without a slope.
        level_mm: the level limit: wished height or ceiling; inf when neither.
    """

    rake: Rake | None
    level_mm: float

    def at(self, x_mm: float) -> float:
        """Return the greatest height at x. [mm]"""
        return min(self.level_mm, self.rake.at(x_mm) if self.rake else math.inf)


def stand(
    tier: Cases,
    *,
    z0_mm: float,
    y_back_mm: float,
    setting: Setting,
    letters: tuple[str, ...],
    tops_mm: float = 0.0,
) -> TierBoxes:
    """Return the boxes of a tier, standing on `z0_mm` with their rears at `y_back_mm`.

    Args:
        tier: the tier as wished.
        z0_mm: what it stands on. [mm]
        y_back_mm: rear of the furniture. [mm]
        setting: the job.
        letters: one letter for each unit's part numbers.
        tops_mm: thickness of the tops that will lie on it, below the ceiling as well. [mm]
    """
    board = setting.sheet(tier.board, "board", tier.where)
    back = setting.sheet(tier.back_board, "back", tier.where) if tier.back_board else None
    y_range = (y_back_mm - tier.depth_mm, y_back_mm)
    lid, first = _lid_and_reach(tier, z0_mm, y_range, setting, tops_mm)
    findings = [*_lowered(tier, lid, z0_mm, setting), *_kept_from_slope(tier, lid, first, z0_mm, setting)]
    ends = _above_least_side(lid, (first.x0_mm, first.x1_mm), z0_mm)
    sizes: list[Size] = [Fixed(mm=unit.bought.width_mm) if unit.bought else unit.width for unit in tier.units]
    widths = shared_out(
        sizes,
        ends[1] - ends[0],
        what=f"widths of the units of {tier.name}",
        where=tier.where,
        inspection=setting.inspection,
    )
    findings.extend(_left_over(tier, sum(widths), ends, setting))
    plain = _pattern(tier, y_range, z0_mm, board, back)
    boxes: list[Box] = []
    x = ends[0]
    for i, (unit, width) in enumerate(zip(tier.units, widths, strict=True)):
        shell = replace(_shell(plain, unit, lid, (x, x + width)), letter=letters[i])
        if i == 0:
            shell = replace(shell, finished_left=first.left is None)
        if i == len(widths) - 1:
            shell = replace(shell, finished_right=first.right is None)
        _examine_size(shell, unit, setting)
        box, found = furnished(shell, unit, setting)
        boxes.append(box)
        findings.extend(found)
        findings.extend(_bought_height(unit, tier, box, setting))
        x += width
    size = boxes[-1].x1_mm - boxes[0].x0_mm
    fits = (fit_of(f"width of {tier.name}", first.space, size),) if first.left and first.right else ()
    return TierBoxes(boxes=tuple(boxes), reach=first, fits=fits, findings=tuple(findings))


def _lid_and_reach(
    tier: Cases, z0_mm: float, y_range: tuple[float, float], setting: Setting, tops_mm: float
) -> tuple[Lid, Reach]:
    """Return what closes the tier from above and how far it reaches sideways below that."""
    brief, room = setting.brief, setting.room
    rough = reach(room, brief, y_range, (z0_mm, z0_mm + (tier.height_mm or LEAST_SIDE_MM)))
    x_range = (rough.x0_mm, rough.x1_mm)
    wished = z0_mm + tier.height_mm if tier.height_mm is not None else math.inf
    limit = level_limit(room, brief, x_range, y_range) - tops_mm
    lid = Lid(rake=rake_line(room, brief, x_range, y_range), level_mm=min(wished, limit))
    top = max(lid.at(x_range[0]), lid.at(x_range[1]))
    setting.inspection.expect(
        math.isfinite(top),
        "height",
        f"{tier.name} without a height",
        "a height, or a surveyed slope or ceiling to run up to",
        where=tier.where,
    )
    if not math.isfinite(top):
        lid, top = Lid(rake=lid.rake, level_mm=z0_mm + 1000.0), z0_mm + 1000.0
    return lid, reach(room, brief, y_range, (z0_mm, top))


def _above_least_side(lid: Lid, ends: tuple[float, float], z0_mm: float) -> tuple[float, float]:
    """Return the ends of the tier moved in to where a short side is at least `LEAST_SIDE_MM` high. [mm]"""
    x0, x1 = ends
    if lid.rake is None or abs(lid.rake.slope) < 1e-6:
        return ends
    x = (z0_mm + LEAST_SIDE_MM - lid.rake.height_at_0_mm) / lid.rake.slope
    return (max(x0, x), x1) if lid.rake.slope > 0 else (x0, min(x1, x))


def _examine_size(shell: Box, unit: Unit, setting: Setting) -> None:
    """Note a built box that is too narrow or too low to hold anything."""
    if unit.bought is not None:
        return
    least = 2 * shell.board.thickness_mm + LEAST_CELL_MM
    sizes = {"wide": shell.x1_mm - shell.x0_mm, "high": max(shell.z1_left_mm, shell.z1_right_mm) - shell.z0_mm}
    for way, size in sizes.items():
        setting.inspection.expect(
            size >= least,
            "units",
            f"{unit.name} {setting.said(max(0.0, size))} {way}",
            f"at least {setting.said(least)}: two boards and a space between",
            where=unit.where,
        )


def _lowered(tier: Cases, lid: Lid, z0_mm: float, setting: Setting) -> tuple[Finding, ...]:
    """Return the finding that the ceiling leaves a tier less height than wished, if it does."""
    height = lid.level_mm - z0_mm
    if tier.height_mm is None or tier.height_mm - height < 0.5:
        return ()
    return (
        Finding(
            topic="fit",
            subject=tier.name,
            verdict="caution",
            summary=f"{setting.said(tier.height_mm)} high was wished; the ceiling leaves {setting.said(height)}.",
            demand=tier.height_mm,
            limit=height,
            unit="mm",
            remedy="Make a tier or the platform lower, or accept the height that is drawn.",
        ),
    )


def _kept_from_slope(tier: Cases, lid: Lid, first: Reach, z0_mm: float, setting: Setting) -> tuple[Finding, ...]:
    """Return the finding that the tier was kept away from the slope's low end, if it was."""
    ends = (first.x0_mm, first.x1_mm)
    kept = _above_least_side(lid, ends, z0_mm)
    moved = kept[0] - ends[0] + ends[1] - kept[1]
    if moved < 0.5:
        return ()
    return (
        Finding(
            topic="fit",
            subject=tier.name,
            verdict="caution",
            summary=f"The low end was moved in by {setting.said(moved)}: before it no side is"
            f" {setting.said(LEAST_SIDE_MM)} high.",
            demand=moved,
            limit=0.0,
            unit="mm",
            source_keys=("trade-practice",),
            remedy="Close the low end with a strip, or start the run further from it.",
        ),
    )


def _left_over(tier: Cases, used_mm: float, ends: tuple[float, float], setting: Setting) -> tuple[Finding, ...]:
    """Return the finding that fixed widths leave a space at the right end, if they do."""
    rest = ends[1] - ends[0] - used_mm
    if rest < 1.0:
        return ()
    return (
        Finding(
            topic="fit",
            subject=tier.name,
            verdict="caution",
            summary=f"The units leave {setting.said(rest)} free at the right end; the end strip must cover it.",
            demand=rest,
            limit=0.0,
            unit="mm",
            remedy="Give one unit the width `equal` so that it takes up the rest.",
        ),
    )


def _bought_height(unit: Unit, tier: Cases, box: Box, setting: Setting) -> tuple[Finding, ...]:
    """Return the finding that a bought cabinet's own height differs from its tier's, if it does."""
    if unit.bought is None:
        return ()
    own = unit.bought.height_mm - unit.bought.toe_height_mm
    wished = min(box.z1_left_mm, box.z1_right_mm) - box.z0_mm
    if box.rake is not None:
        return (_cut_by_slope(unit, own, wished, setting),)
    if abs(own - wished) <= 0.5:
        return ()
    return (
        Finding(
            topic="fit",
            subject=unit.name,
            verdict="fail",
            summary=f"The bought cabinet is {setting.said(own)} high without its toe, {tier.name} is"
            f" {setting.said(wished)}.",
            demand=own,
            limit=wished,
            unit="mm",
            remedy=(
                f"Set the tier's height to {setting.said(own)}, or raise the platform by {setting.said(wished - own)}."
            ),
        ),
    )


def _cut_by_slope(unit: Unit, own_mm: float, room_mm: float, setting: Setting) -> Finding:
    """Return the finding that the slope comes down into a bought cabinet."""
    return Finding(
        topic="fit",
        subject=unit.name,
        verdict="fail",
        summary=(
            f"The slope leaves {setting.said(room_mm)} at the cabinet's low end; it is {setting.said(own_mm)} high."
        ),
        demand=own_mm,
        limit=room_mm,
        unit="mm",
        remedy="Stand it further from the low end, or build a raked case there.",
    )


def _pattern(
    tier: Cases, y_range: tuple[float, float], z0_mm: float, board: SheetStock, back: SheetStock | None
) -> Box:
    """Return what the boxes of a tier have in common, as a box without width or height."""
    return Box(
        name=tier.name,
        letter="",
        x0_mm=0.0,
        x1_mm=0.0,
        y_front_mm=y_range[0],
        y_back_mm=y_range[1],
        z0_mm=z0_mm,
        z1_left_mm=z0_mm,
        z1_right_mm=z0_mm,
        board=board,
        back=back,
        rake_low=tier.rake_low,
        rake_high=tier.rake_high,
    )


def _shell(pattern: Box, unit: Unit, lid: Lid, x_range: tuple[float, float]) -> Box:
    """Return a box's outside: level, raked, or raked and then level."""
    rake, level = _top_of(lid, *x_range)
    left, right = (min(level or math.inf, rake.at(x)) if rake else level or 0.0 for x in x_range)
    depth = unit.bought.depth_mm if unit.bought else pattern.depth_mm
    return replace(
        pattern,
        name=unit.name,
        x0_mm=x_range[0],
        x1_mm=x_range[1],
        y_front_mm=pattern.y_back_mm - depth,
        z1_left_mm=left,
        z1_right_mm=right,
        rake=rake,
        level_top_mm=level,
        bought=unit.bought,
    )


def _top_of(lid: Lid, x0: float, x1: float) -> tuple[Rake | None, float | None]:
    """Return the rake and the level top of a box between x0 and x1; one of them is None where it plays no part."""
    if lid.rake is None:
        return None, lid.level_mm
    low, high = sorted((lid.rake.at(x0), lid.rake.at(x1)))
    run_above = (high - lid.level_mm) / abs(lid.rake.slope) if abs(lid.rake.slope) > 1e-9 else math.inf
    run_below = (lid.level_mm - low) / abs(lid.rake.slope) if abs(lid.rake.slope) > 1e-9 else math.inf
    if run_above <= 0:
        return lid.rake, None
    if run_above < KINK_MM:
        return replace(lid.rake, height_at_0_mm=lid.rake.height_at_0_mm - (high - lid.level_mm)), None
    if run_below <= 0:
        return None, lid.level_mm
    if run_below < KINK_MM:
        return None, low
    return lid.rake, lid.level_mm
