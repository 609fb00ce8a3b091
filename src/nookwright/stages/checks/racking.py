"""Racking: whether a box keeps its right angles when it is pushed sideways, by its back or by its fixing rails."""

from __future__ import annotations

from dataclasses import dataclass, replace

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.said import force, size
from nookwright.stages.checks.screwed import SCREWS_FORMULA, row_holds
from nookwright.stages.design.design import Box, Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.installing.install_plan import InstallPlan
from nookwright.stages.parts.part import Fastening, JointMade, Part, PartList
from nookwright.trade.racking import COUPLE_FORMULA, SHEAR_FORMULA, couple_push, panel_push

SCREW_KINDS = ("wood screw", "pocket screw")

BACK_SCREW_MM = 25.0
"""Screw of the back that is reckoned as a cure. Source: [trade-practice]. Status: common practice."""

CURE_BACK_MM = 6.0
"""Thickness of that back. Source: [trade-practice]. Status: common practice."""

CURE_SPACING_MM = 150.0
"""Spacing of its screws. Source: [trade-practice]. Status: common practice."""

NOT_KNOWN = (
    "What glued or housed corners add is not known: no published figure was found, so nothing is counted for them."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stands:
    """What keeps a box square: how much push that carries, and the numbers put in."""

    by: str
    verb: str
    push_n: float
    formula: str
    worked: str


def check_racking(design: Design, parts: PartList, installing: InstallPlan, brief: Brief) -> tuple[Finding, ...]:
    """Return, for every box of ours, whether it stays square under a push on its top corner.

    Args:
        design: the boxes.
        parts: backs, rails and their screws.
        installing: which boxes the wall holds.
        brief: the push, taken as large as the outward pull.

    Returns:
        One finding a box; bought cabinets are their maker's.
    """
    findings = []
    for box in design.boxes:
        if box.bought is None:
            fixings = tuple(fixing for fixing in installing.fixings if fixing.box == box.name)
            findings.append(_racks(box, _stands(box, parts), parts, brief, walled=len(fixings) >= 2))
    return tuple(findings)


def _stands(box: Box, parts: PartList) -> _Stands:
    """Return what keeps a box square: its back where it has one, else the screw couples of its rails."""
    backs = [part for part in parts.parts if part.module == box.name and part.role == "back"]
    return _by_backs(backs, parts) if backs else _by_rails(box, parts)


def _by_backs(backs: list[Part], parts: PartList) -> _Stands:
    """Return what the backs carry, each as a sheet that its edges push along."""
    pushes, worked = [], []
    for back in backs:
        per_mm, weakest = _edge_strength(back, parts)
        width = max(v for _, v in back.outline) - min(v for _, v in back.outline)
        push = panel_push(width_mm=width, edge_n_mm=per_mm)
        pushes.append(push)
        worked.append(f"{weakest}; {per_mm:.2f} N/mm x {width:.0f} = {push:.0f} N")
    return _Stands(
        by="its back" if len(backs) == 1 else f"its {len(backs)} backs",
        verb="carries" if len(backs) == 1 else "carry",
        push_n=sum(pushes),
        formula=f"{SHEAR_FORMULA}; {SCREWS_FORMULA}",
        worked="; ".join(worked),
    )


def _edge_strength(back: Part, parts: PartList) -> tuple[float, str]:
    """Return what the weakest edge of a back carries per length, and that in numbers. [N/mm]"""
    edges = []
    for joint in parts.joints:
        if joint.held == back.number and parts.part(joint.holder).role != "divider":
            for row in _screws(joint):
                hold = row_holds(back, parts.part(joint.holder), row, through_held=True)
                edges.append((hold.holds_n / joint.length_mm, hold.worked, joint.length_mm))
    if not edges:
        return 0.0, "no screws"
    per_mm, worked, length = min(edges)
    return per_mm, f"{worked} over {length:.0f} mm"


def _by_rails(box: Box, parts: PartList) -> _Stands:
    """Return what the rails' screws carry as couples at the uprights."""
    couples, worked = [], []
    for joint in parts.joints:
        held = parts.part(joint.held)
        if held.module != box.name or held.role != "fixing rail":
            continue
        for row in _screws(joint):
            hold = row_holds(held, parts.part(joint.holder), row)
            apart = row.spacing_mm * (row.count - 1)
            couples.append(hold.holds_n / row.count * apart)
            worked.append(f"{hold.holds_n / row.count:.0f} N x {apart:.0f} mm")
    height = max(z for _, z in box.outline) - box.z0_mm
    push = couple_push(couples_n_mm=tuple(couples), height_mm=height)
    shown = " + ".join(dict.fromkeys(worked)) or "no rails"
    return _Stands(
        by="its fixing rails' screws",
        verb="carry",
        push_n=push,
        formula=f"{COUPLE_FORMULA}; {SCREWS_FORMULA}",
        worked=f"{len(couples)} ends, {shown}; over {height:.0f} mm high = {push:.0f} N",
    )


def _screws(joint: JointMade) -> tuple[Fastening, ...]:
    """Return a joint's screws."""
    return tuple(row for row in joint.fastenings if row.kind in SCREW_KINDS)


def _racks(box: Box, stands: _Stands, parts: PartList, brief: Brief, *, walled: bool) -> Finding:
    """Return the finding of one box."""
    push = brief.load.anchor_pull_n
    enough = push <= stands.push_n
    verdict: Verdict = "pass" if enough else "caution"
    backed = box.back is not None
    after = " Once its wall fixings are in they keep it square." if walled and not enough else ""
    return Finding(
        topic="racking",
        subject=box.name,
        verdict=verdict,
        summary=(
            f"{force(push, brief)} sideways on its top, as much as the outward pull; {stands.by} {stands.verb} "
            f"{force(stands.push_n, brief)}, glue left out.{after}{'' if backed else ' ' + NOT_KNOWN}"
        ),
        demand=push,
        limit=stands.push_n,
        unit="N",
        formula=stands.formula,
        worked=stands.worked,
        source_keys=("statics", "nds", "nds-recalled", "trade-practice"),
        remedy="" if enough else _cure(box, parts, push, brief),
    )


def _cure(box: Box, parts: PartList, push_n: float, brief: Brief) -> str:
    """Return the cheapest cure: a back, and what it would carry; more screws where there is one."""
    side = next((part for part in parts.parts if part.module == box.name and part.role == "side"), None)
    brace = "Until it is fixed, nail a batten across its back from corner to corner."
    if side is None:
        return brace
    if box.back is not None:
        return f"Put more screws in its back, all round, {size(100.0, brief)} apart. {brace}"
    back = replace(side, role="back", wood="birch-plywood", thickness_mm=CURE_BACK_MM)
    row = Fastening(
        kind="wood screw", length_mm=BACK_SCREW_MM, count=1, spacing_mm=CURE_SPACING_MM, end_mm=0.0, reason="",
    )  # fmt: skip
    one = row_holds(back, side, row, through_held=True).holds_n
    would = panel_push(width_mm=box.x1_mm - box.x0_mm, edge_n_mm=one / CURE_SPACING_MM)
    return (
        f"Screw a plywood back on, {size(CURE_BACK_MM, brief)} thick, a screw every {size(CURE_SPACING_MM, brief)} all "
        f"round: it carries {force(would, brief)}{'' if would >= push_n else ', more with closer screws'}. {brace}"
    )
