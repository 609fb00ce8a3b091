"""The joints between a fixing rail and its box: what the wall screws hold must come through them."""

from __future__ import annotations

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.masses import room_extent
from nookwright.stages.checks.opened import righting_n_mm
from nookwright.stages.checks.said import force
from nookwright.stages.checks.screwed import SCREWS_FORMULA, SHALLOW, row_holds, rows_worked
from nookwright.stages.design.design import Box, Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.installing.install_plan import InstallPlan, WallFixing
from nookwright.stages.parts.part import Part, PartList
from nookwright.trade import tipping

SCREW_KINDS = ("pocket screw", "wood screw")


def check_rail_joints(design: Design, parts: PartList, installing: InstallPlan, brief: Brief) -> tuple[Finding, ...]:
    """Return a finding for every fixing rail that wall screws pass.

    Args:
        design: the boxes.
        parts: the rails and their joints.
        installing: the wall screws.
        brief: the pull they must hold.

    Returns:
        Nothing for bought cabinets, whose joints are their maker's.
    """
    findings = []
    for box in design.boxes:
        fixings = tuple(fixing for fixing in installing.fixings if fixing.box == box.name)
        rails = [part for part in parts.parts if part.module == box.name and part.role == "fixing rail"]
        pulls = _pulls(box, fixings, design, parts, brief)
        for rail in rails:
            through = [pull for fixing, pull in zip(fixings, pulls, strict=True) if _passes(fixing, rail)]
            if through:
                findings.append(_joint(box, rail, sum(through), parts, brief))
    return tuple(findings)


def _pulls(
    box: Box, fixings: tuple[WallFixing, ...], design: Design, parts: PartList, brief: Brief
) -> tuple[float, ...]:
    """Return what each wall screw is pulled with by the brief's pull. [N]"""
    if not fixings:
        return ()
    return tipping.fixing_pulls(
        pull_n=brief.load.anchor_pull_n,
        pull_height_mm=max(z for _, z in box.outline) - box.z0_mm,
        righting_n_mm=righting_n_mm(box, design, parts),
        fixing_heights_mm=tuple(fixing.z_mm - box.z0_mm for fixing in fixings),
    )


def _passes(fixing: WallFixing, rail: Part) -> bool:
    """Return whether a wall screw goes through a rail."""
    (x0, _, z0), (x1, _, z1) = room_extent(rail)
    return x0 <= fixing.x_mm <= x1 and z0 <= fixing.z_mm <= z1


def _joint(box: Box, rail: Part, pull_n: float, parts: PartList, brief: Brief) -> Finding:
    """Return whether a rail's screws hand the pull over to the box."""
    rows = [
        row_holds(rail, parts.part(joint.holder), row)
        for joint in parts.joints
        if joint.held == rail.number
        for row in joint.fastenings
        if row.kind in SCREW_KINDS
    ]
    holds = sum(row.holds_n for row in rows)
    verdict: Verdict = "pass" if pull_n <= holds else "caution"
    return Finding(
        topic="fixing rail joints",
        subject=f"{box.name} {rail.number}",
        verdict=verdict,
        summary=(
            f"The wall screws pull this rail with {force(pull_n, brief)}; its screws to the box carry "
            f"{force(holds, brief)} for good, "
            f"glue left out.{' ' + SHALLOW if any(row.shallow for row in rows) else ''}"
        ),
        demand=pull_n,
        limit=holds,
        unit="N",
        formula=f"{tipping.FIXING_FORMULA}; {SCREWS_FORMULA}",
        worked=rows_worked(rows),
        source_keys=("statics", "nds", "nds-recalled", "trade-practice"),
        remedy="" if verdict == "pass" else "Glue the rail to the back and the top as well, or add screws.",
    )
