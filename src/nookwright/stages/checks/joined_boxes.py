"""What holds boxes to each other and to what they stand on: the screws between sides, and those through a bottom."""

from __future__ import annotations

import math
from typing import TypedDict

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.opened import righting_n_mm
from nookwright.stages.checks.said import force, size
from nookwright.stages.checks.screwed import SCREWS_FORMULA, SHALLOW, row_holds, rows_worked
from nookwright.stages.design.design import Box, Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.installing.install_plan import InstallPlan
from nookwright.stages.parts.part import Fastening, JointMade, Part, PartList
from nookwright.trade import tipping

FROM_ENDS_MM = 50.0
"""The four screws between two sides stand this far from their ends. Source: [fitting-guides]. Status: read."""


class _Told(TypedDict):
    """What both outcomes of a pair say alike."""

    topic: str
    subject: str
    worked: str


def check_joined(design: Design, parts: PartList, installing: InstallPlan, brief: Brief) -> tuple[Finding, ...]:
    """Return whether the screws between boxes, and those down into what carries them, hold what is asked of them.

    Args:
        design: the boxes.
        parts: the joints between modules.
        installing: which boxes the wall holds.
        brief: the pull on a box's top front edge.

    Returns:
        A finding for each pair of boxes that are screwed to each other, and for each box that is screwed down.
    """
    boxes = {box.name: box for box in design.boxes}
    fixed = {fixing.box for fixing in installing.fixings}
    findings = []
    for joint in parts.joints:
        held, holder = parts.part(joint.held), parts.part(joint.holder)
        if held.module != holder.module and held.role == holder.role == "side":
            findings.append(_pair(joint, boxes[held.module], boxes[holder.module], fixed, design, parts, brief))
    findings += [found for box in design.boxes for found in _down(box, parts, brief)]
    return tuple(findings)


def _pair(
    joint: JointMade, left: Box, right: Box, fixed: set[str], design: Design, parts: PartList, brief: Brief
) -> Finding:
    """Return whether one box would hold the other if only that other were pulled and the wall held just the first."""
    held, holder = parts.part(joint.held), parts.part(joint.holder)
    holds = [row_holds(held, holder, row, through_held=True) for row in _rows(joint)]
    count = sum(row.count for row in _rows(joint))
    each = sum(row.holds_n for row in holds) / max(1, count)
    pulled = [(_worst_pull(box, count, design, parts, brief), box) for box in (left, right)]
    alone = [pair for pair in pulled if pair[1].name not in fixed]
    shallow = f" {SHALLOW}" if any(row.shallow for row in holds) else ""
    told = _Told(
        topic="screws between boxes",
        subject=f"{left.name} and {right.name}",
        worked=rows_worked(holds),
    )
    if not alone:
        keep = f"the {count} screws between them keep faces flush and carry {force(each, brief)} each."
        flush = f"The wall holds both; {keep}"
        return Finding(
            **told, verdict="pass", summary=flush + shallow, formula=SCREWS_FORMULA, source_keys=("nds", "nds-recalled")
        )
    pull, box = max(alone, key=lambda pair: pair[0])
    other = right if box is left else left
    verdict: Verdict = "pass" if pull <= each else "fail"
    return Finding(
        **told,
        verdict=verdict,
        summary=(
            f"{box.name} has no wall fixing and hangs on {other.name}: {force(brief.load.anchor_pull_n, brief)} "
            "outward on its "
            f"top slide its worst screw with {force(pull, brief)}; each of the {count} holds "
            f"{force(each, brief)}.{shallow}"
        ),
        demand=pull,
        limit=each,
        unit="N",
        formula=f"{tipping.FIXING_FORMULA}, half of the screws {FROM_ENDS_MM:.0f} mm from either end; {SCREWS_FORMULA}",
        source_keys=("statics", "nds", "nds-recalled", "fitting-guides"),
        remedy="" if verdict == "pass" else _more(pull, each, count),
    )


def _more(pull_n: float, each_n: float, count: int) -> str:
    """Return how many screws would do; the upper half of them carries nearly all."""
    if each_n <= 0:
        return "The screws do not reach: take longer ones, or bolts right through both sides."
    needed = 2 * math.ceil(pull_n * (count / 2) / each_n)
    return f"Use {needed} screws instead of {count}, half of them near the top, or fix it to a stud of its own."


def _worst_pull(box: Box, count: int, design: Design, parts: PartList, brief: Brief) -> float:
    """Return what the worst of the screws in a box's side carries of the pull on the box. [N]"""
    height = min(box.z1_left_mm, box.z1_right_mm) - box.z0_mm
    places = tuple(height - FROM_ENDS_MM if i % 2 else FROM_ENDS_MM for i in range(count))
    pulls = tipping.fixing_pulls(
        pull_n=brief.load.anchor_pull_n,
        pull_height_mm=max(z for _, z in box.outline) - box.z0_mm,
        righting_n_mm=righting_n_mm(box, design, parts),
        fixing_heights_mm=places,
    )
    return max(pulls, default=0.0)


def _down(box: Box, parts: PartList, brief: Brief) -> list[Finding]:
    """Return whether a box that is screwed down stays where it stands when it is pulled at its foot."""
    rows = [
        row_holds(held, holder, row, through_held=True)
        for joint in parts.joints
        for held, holder in [(parts.part(joint.held), parts.part(joint.holder))]
        if held.role == "bottom" and held.module == box.name and _carries(holder, box)
        for row in _rows(joint)
    ]
    if not rows:
        return []
    pull, holds = brief.load.anchor_pull_n, sum(row.holds_n for row in rows)
    verdict: Verdict = "pass" if pull <= holds else "caution"
    return [
        Finding(
            topic="screwed down",
            subject=box.name,
            verdict=verdict,
            summary=(
                f"{force(pull, brief)} outward at its foot; its screws down hold {force(holds, brief)}, its weight "
                "left out."
            ),
            demand=pull,
            limit=holds,
            unit="N",
            formula=SCREWS_FORMULA,
            worked=rows_worked(rows),
            source_keys=("nds", "nds-recalled"),
            remedy="" if verdict == "pass" else f"Put a screw every {size(200.0, brief)} through its bottom.",
        )
    ]


def _carries(holder: Part, box: Box) -> bool:
    """Return whether a part of another module carries a box."""
    return holder.module != box.name and holder.role in {"platform rail", "worktop", "top"}


def _rows(joint: JointMade) -> tuple[Fastening, ...]:
    """Return a joint's screws."""
    return tuple(row for row in joint.fastenings if row.kind == "wood screw")
