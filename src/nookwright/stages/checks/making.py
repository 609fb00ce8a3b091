"""What the saw can do, and how bought and built things differ from the plan."""

from __future__ import annotations

import math

from nookwright.basics.findings import Finding
from nookwright.basics.lengths import Marks
from nookwright.stages.checks.said import fine, size
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.facts import BuiltPart, Facts
from nookwright.stages.inputs.shop import SheetStock, Shop
from nookwright.stages.parts.part import Part, PartList
from nookwright.stages.parts.sizes import cut_size_mm

SAME_MM = 0.5
"""Sizes nearer than this are the same. Source: [trade-practice]. Status: common practice."""


def check_saw(parts: PartList, shop: Shop) -> tuple[Finding, ...]:
    """Return a finding for every part with an edge that is bevelled further than the saw tilts.

    Args:
        parts: every part.
        shop: the saw.

    Returns:
        Caution where the part can be stood on edge and cut at the complement; fail where it cannot.
    """
    findings: list[Finding] = []
    for part in parts.parts:
        steepest = max((abs(math.degrees(edge.bevel_rad)) for edge in part.edges), default=0.0)
        if steepest > shop.saw.max_tilt_deg + 1e-9:
            findings.append(_too_steep(part, steepest, shop.saw.max_tilt_deg))
    return tuple(findings)


def _too_steep(part: Part, bevel_deg: float, tilt_deg: float) -> Finding:
    """Return how an edge beyond the saw's tilt can still be cut."""
    complement = 90.0 - bevel_deg
    can = complement <= tilt_deg
    return Finding(
        topic="saw tilt",
        subject=f"{part.name} {part.number}",
        verdict="caution" if can else "fail",
        summary=f"An edge is bevelled {bevel_deg:.1f} deg; the saw tilts {tilt_deg:g} deg.",
        demand=bevel_deg,
        limit=tilt_deg,
        unit="deg",
        formula="set the saw to 90 - bevel with the board on edge",
        worked=f"90 - {bevel_deg:.1f} = {complement:.1f} deg",
        source_keys=("trade-practice",),
        remedy=(
            f"Stand the board on edge against a tall fence, blade at {complement:.1f} deg, or plane it to a line."
            if can
            else "Butt this edge square and close the joint with a strip."
        ),
    )


def check_built(parts: PartList, facts: Facts, brief: Brief) -> tuple[Finding, ...]:
    """Return a finding for every built part whose size differs from the blank as printed, or which the plan lacks.

    Args:
        parts: every part as planned.
        facts: sizes as built.
        brief: for the units people read.

    Returns:
        Fail where it came out smaller, caution where larger, pass where it agrees.
    """
    planned = {part.number: part for part in parts.parts}
    return tuple(_built(built, planned.get(built.number), brief) for built in facts.parts)


def _built(built: BuiltPart, part: Part | None, brief: Brief) -> Finding:
    """Return how one built part compares."""
    if part is None:
        return Finding(
            topic="built size",
            subject=built.number,
            verdict="caution",
            summary="The plan has no part of this number any more: it is left over.",
            remedy="Check the number, or keep it for another part.",
        )
    length, width = cut_size_mm(part, Marks(units=brief.units, resolution=brief.resolution))
    over = (built.length_mm - length, built.width_mm - width)
    worst = min(over)
    short, long = worst < -SAME_MM, max(over) > SAME_MM
    return Finding(
        topic="built size",
        subject=f"{part.name} {part.number}",
        verdict="fail" if short else ("caution" if long else "pass"),
        summary=(
            f"Built {size(built.length_mm, brief)} x {size(built.width_mm, brief)}; planned "
            f"{size(length, brief)} x {size(width, brief)}, scribe left on."
        ),
        demand=max(abs(over[0]), abs(over[1])),
        limit=SAME_MM,
        unit="mm",
        formula="built - planned",
        worked=f"{over[0]:+.1f} mm, {over[1]:+.1f} mm",
        source_keys=("trade-practice",),
        remedy=(
            f"It is {fine(-worst, brief)} too small: use up its scribe, or cut it again."
            if short
            else ("Trim it." if long else "")
        ),
    )


def check_batch(parts: PartList, shop: Shop, facts: Facts, brief: Brief) -> tuple[Finding, ...]:
    """Return a question for every sheet stock in use whose real thickness nobody has measured.

    Args:
        parts: every part, to see what is used.
        shop: the stock.
        facts: thicknesses measured on the batch.
        brief: for the units people read.

    Returns:
        One finding per sheet stock in use, in the shop's order.
    """
    used = {part.stock for part in parts.parts}
    measured = {fact.stock for fact in facts.thicknesses}
    return tuple(_batch(sheet, sheet.key in measured, brief) for sheet in shop.sheets if sheet.key in used)


def _batch(sheet: SheetStock, measured: bool, brief: Brief) -> Finding:
    """Return whether a sheet's thickness is known, and how far it may stray if not."""
    t = sheet.thickness_mm
    if measured:
        return Finding(
            topic="sheet thickness",
            subject=sheet.name,
            verdict="pass",
            summary=f"{fine(t, brief)}, measured on the batch.",
        )
    plywood = sheet.wood.endswith("plywood")
    low, high = t - (0.4 + 0.03 * t), t + (0.2 + 0.03 * t)
    range_said = f" Sanded plywood may measure {fine(low, brief)} to {fine(high, brief)}." if plywood else ""
    return Finding(
        topic="sheet thickness",
        subject=sheet.name,
        verdict="question",
        summary=f"Reckoned at {fine(t, brief)}.{range_said} Housings and every inside width depend on it.",
        formula="+(0.2 + 0.03 t), -(0.4 + 0.03 t)" if plywood else "",
        worked=f"t = {t:.1f}: {low:.2f} to {high:.2f} mm" if plywood else "",
        source_keys=("en-315",) if plywood else ("trade-practice",),
        remedy="Measure the batch and write its thickness into the built file before cutting.",
    )
