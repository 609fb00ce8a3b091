"""Room left for the seasons: how far solid tops and wide boards move across the grain."""

from __future__ import annotations

from nookwright.basics.findings import Finding
from nookwright.stages.checks.said import fine, size
from nookwright.stages.checks.seasons import Year, year_of
from nookwright.stages.design.design import Design, Door
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.parts.part import Part, PartList
from nookwright.trade.doors import INSET_SINGLE_MM
from nookwright.trade.movement import (
    EDGE_PLAY_MM,
    FORMULA,
    LEAST_PCT,
    MOST_PCT,
    PANEL_CHANGE,
    board_change,
    dimension_change,
    gap_to_leave,
    shrinkage_from_coefficient,
    slot_length,
)
from nookwright.trade.woods import Figure, wood

WIDE_MM = 200.0
"""A single board narrower than this is let be. Source: [trade-practice]. Status: common practice."""

FELT_MM = 3.0
"""Movement up to this needs no more than the usual play. Source: [trade-practice]. Status: common practice."""


WET_GAP_MM = 1.0
"""An inset door needs this air at each edge when it is widest. Source: [trade-practice]. Status: common practice."""

PAINT_MM = 0.3
"""Paint on two facing edges of a door and its opening. Source: [trade-practice]. Status: common practice."""


def check_movement(parts: PartList, brief: Brief) -> tuple[Finding, ...]:
    """Return a finding for every wide piece of solid wood.

    Args:
        parts: every part.
        brief: the climate, and the units people read.

    Returns:
        Findings in the order of the parts.
    """
    year = year_of(brief)
    findings: list[Finding] = []
    for part in parts.parts:
        coefficient = wood(part.wood).tangential
        width = max(v for _, v in part.outline) - min(v for _, v in part.outline)
        if coefficient is not None and (part.pieces > 1 or width >= WIDE_MM):
            findings.append(_moves(part, width, coefficient, year, brief))
    return tuple(findings)


def _moves(part: Part, width_mm: float, coefficient: Figure, year: Year, brief: Brief) -> Finding:
    """Return how far one part moves, and the slots and gaps that leave it free."""
    C, low, high = coefficient.value, year.low_pct, year.high_pct
    moved = board_change(width_mm=width_mm, coefficient=C, from_pct=low, to_pct=high)
    slot = slot_length(from_fixed_line_mm=width_mm, coefficient=C, low_pct=low, high_pct=high)
    small = moved <= FELT_MM
    recalled = " The coefficient was recalled, not read." if coefficient.status == "recalled" else ""
    return Finding(
        topic="wood movement",
        subject=f"{part.name} {part.number}",
        verdict="pass" if small else "caution",
        summary=(
            f"Across its {size(width_mm, brief)} it moves {fine(moved, brief)} between a dry winter and a damp summer "
            f"if flat-sawn.{recalled}"
        ),
        demand=moved,
        limit=FELT_MM,
        unit="mm",
        formula=f"{FORMULA}; gap left behind a top held along its front = D C (M_max - M) + {EDGE_PLAY_MM:g}",
        worked=_numbers(width_mm, C, low, high, moved),
        source_keys=(
            coefficient.source,
            *(() if _within(low, high) else ("shrinkage-equation",)),
            "emc-equation",
            "trade-practice",
        ),
        remedy=""
        if small
        else (
            f"Screw it tight along one line only (the front), with slots up to {size(slot, brief)} long at the back. "
            f"{_gaps(width_mm, C, year, brief)} Do not glue it down. It is widest {year.dampest} and narrowest "
            f"{year.driest}: caulk beside it {year.driest}, for then the gap only closes."
        ),
    )


def _within(low_pct: float, high_pct: float) -> bool:
    """Return whether the coefficients hold."""
    return low_pct >= LEAST_PCT and high_pct <= MOST_PCT


def _numbers(width_mm: float, C: float, low: float, high: float, moved_mm: float) -> str:  # noqa: N803  as printed
    """Return the formula that counts with the numbers put in."""
    if _within(low, high):
        return f"{width_mm:.0f} x {C:.5f} x ({high:.3g} - {low:.3g}) = {moved_mm:.2f} mm"
    S = shrinkage_from_coefficient(C)
    return f"{width_mm:.0f} x ({high:.3g} - {low:.3g}) / (3000 / {S:.2f} - 30 + {low:.3g}) = {moved_mm:.2f} mm"


def _gaps(width_mm: float, coefficient: float, year: Year, brief: Brief) -> str:
    """Return the gap to leave behind it, under a cover, by the month it is fitted in."""

    def left(at_pct: float) -> str:
        gap = gap_to_leave(width_mm=width_mm, coefficient=coefficient, now_pct=at_pct, high_pct=year.high_pct, edges=1)
        return size(gap, brief)

    if not year.months:
        return (
            f"Leave {left(year.high_pct)} behind it, under a cover, if it is fitted at its dampest, "
            f"{left(year.low_pct)} at its driest."
        )
    told = ", ".join(f"{month.name} {left(month.moisture_pct[0])}" for month in year.months)
    return f"Leave behind it, under a cover, when it is fitted in: {told}."


def check_doors(design: Design, brief: Brief) -> tuple[Finding, ...]:
    """Return the air left round every inset door when the room is dry and when it is damp, painted.

    Args:
        design: the doors.
        brief: the climate, and the units people read.

    Returns:
        One finding a door that is made of a board whose movement is known; overlay and sliding doors have room.
    """
    year = year_of(brief)
    return tuple(
        _door(door, year, brief)
        for door in design.doors
        if door.inset and "sliding" not in door.name and door.stock.wood in PANEL_CHANGE
    )


def _door(door: Door, year: Year, brief: Brief) -> Finding:
    """Return how one door's air changes. It is taken to be cut halfway between dry and damp."""
    at = [x for x, _ in door.outline]
    width, C = max(at) - min(at), PANEL_CHANGE[door.stock.wood]
    grows = dimension_change(width_mm=width, coefficient=C, from_pct=year.low_pct, to_pct=year.high_pct) / 2
    each = INSET_SINGLE_MM / 2
    wet, dry = each - (grows + PAINT_MM) / 2, each + (grows - PAINT_MM) / 2
    fits = wet >= WET_GAP_MM
    return Finding(
        topic="door clearance",
        subject=door.name,
        verdict="pass" if fits else "caution",
        summary=(
            f"Painted it has {fine(wet, brief)} of air at each edge {year.dampest} and {fine(dry, brief)} "
            f"{year.driest}; the opening is taken to be of plumb boards that do not move along their length."
        ),
        demand=WET_GAP_MM,
        limit=wet,
        unit="mm",
        formula="air at an edge = (gap - paint -+ W C (M_max - M_min) / 2) / 2",
        worked=(
            f"({INSET_SINGLE_MM} - {PAINT_MM} - {width:.0f} x {C:g} x ({year.high_pct:.3g} - {year.low_pct:.3g}) / 2) "
            f"/ 2 = {wet:.2f} mm"
        ),
        source_keys=("inset-doors", "panel-movement", "emc-equation", "trade-practice"),
        remedy="" if fits else f"Plane {size(2 * (WET_GAP_MM - wet), brief)} off its width before painting.",
    )
