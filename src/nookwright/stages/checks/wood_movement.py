"""Room left for the seasons: how far solid tops and wide boards move across the grain."""

from __future__ import annotations

from nookwright.basics.findings import Finding
from nookwright.stages.checks.said import fine, size
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.parts.part import Part, PartList
from nookwright.trade.movement import (
    EDGE_PLAY_MM,
    FORMULA,
    SEASON_HIGH_PCT,
    SEASON_LOW_PCT,
    dimension_change,
    slot_length,
)
from nookwright.trade.woods import Figure, wood

WIDE_MM = 200.0
"""A single board narrower than this is let be. Source: [trade-practice]. Status: common practice."""

FELT_MM = 3.0
"""Movement up to this needs no more than the usual play. Source: [trade-practice]. Status: common practice."""


SEASONS = (
    "It is widest when the damp season ends and narrowest when heating ends: fit it in between with half the play on "
    "each side, and caulk beside it when it is narrowest, for then the gap only closes."
)
"""When to fit and to caulk in a heated house. Source: [trade-practice]. Status: common practice."""


def check_movement(parts: PartList, brief: Brief) -> tuple[Finding, ...]:
    """Return a finding for every wide piece of solid wood.

    Args:
        parts: every part.
        brief: for the units people read.

    Returns:
        Findings in the order of the parts.
    """
    findings: list[Finding] = []
    for part in parts.parts:
        coefficient = wood(part.wood).tangential
        width = max(v for _, v in part.outline) - min(v for _, v in part.outline)
        if coefficient is not None and (part.pieces > 1 or width >= WIDE_MM):
            findings.append(_moves(part, width, coefficient, brief))
    return tuple(findings)


def _moves(part: Part, width_mm: float, coefficient: Figure, brief: Brief) -> Finding:
    """Return how far one part moves, and the slots and gaps that leave it free."""
    C = coefficient.value
    moved = dimension_change(width_mm=width_mm, coefficient=C, from_pct=SEASON_LOW_PCT, to_pct=SEASON_HIGH_PCT)
    slot = slot_length(from_fixed_line_mm=width_mm, coefficient=C, low_pct=SEASON_LOW_PCT, high_pct=SEASON_HIGH_PCT)
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
        formula=FORMULA,
        worked=f"{width_mm:.0f} x {C:.5f} x ({SEASON_HIGH_PCT:g} - {SEASON_LOW_PCT:g}) = {moved:.2f} mm",
        source_keys=(coefficient.source, "emc-equation", "trade-practice"),
        remedy=""
        if small
        else (
            f"Screw it tight along one line only (the front), with slots up to {size(slot, brief)} long at the back; "
            f"leave {size(moved / 2 + EDGE_PLAY_MM, brief)} at each free edge under a cover. Do not glue it down. "
            f"{SEASONS}"
        ),
    )
