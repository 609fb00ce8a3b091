"""A child that climbs a box, its doors open: whether it stands by itself, and what the wall screws then hold."""

from __future__ import annotations

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.masses import area_mm2, box_mass
from nookwright.stages.checks.wall_holds import wall_holds
from nookwright.stages.design.design import Box, Design, Door
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.installing.install_plan import InstallPlan, WallFixing
from nookwright.stages.parts.part import PartList
from nookwright.trade import tipping
from nookwright.trade.woods import wood

STANDS_OUT_MM = 100.0
"""A climbing child hangs this far in front of the shelves. Source: [trade-practice]. Status: common practice."""

FORMULA = "M = sum m g x about the front foot, doors open, child 27.2 kg in front; T_i = M z_i / sum(z^2)"


def check_climbing(design: Design, parts: PartList, installing: InstallPlan, survey: Survey) -> tuple[Finding, ...]:
    """Return, for every box high enough to climb, whether it stays on its feet.

    Args:
        design: the boxes, their doors and the platform under them.
        parts: for masses and the rails.
        installing: the wall fixings.
        survey: for the wall's board.

    Returns:
        One finding for each box from 27 in up; a question where the wall takes the maker's own anchors.
    """
    findings = []
    for box in design.boxes:
        if max(z for _, z in box.outline) - box.z0_mm >= tipping.RULE_HEIGHT_MM:
            fixings = tuple(fixing for fixing in installing.fixings if fixing.box == box.name)
            findings.append(_climbed(box, fixings, design, parts, survey))
    return tuple(findings)


def foot_mm(box: Box, design: Design) -> float:
    """Return y of the edge a box tips over: its front, or its platform's where that stands back as a toe space. [mm]"""
    platform = design.platform
    if platform is None or abs(platform.z1_mm - box.z0_mm) > 1.0:
        return box.y_front_mm
    return max(box.y_front_mm, platform.y_front_mm)


def weights_of(box: Box, design: Design, parts: PartList) -> tuple[tipping.Weight, ...]:
    """Return a box and its doors, standing open at right angles, as weights about its front foot.

    Args:
        box: the box, empty.
        design: its doors and platform.
        parts: for its mass.
    """
    foot, middle = foot_mm(box, design), (box.y_front_mm + box.y_back_mm) / 2
    up = (max(z for _, z in box.outline) - box.z0_mm) / 2
    found = [tipping.Weight(mass_kg=box_mass(box, parts), behind_mm=middle - foot, up_mm=up)]
    for door in design.doors:
        if door.name.endswith(f" of {box.name}") and "sliding" not in door.name:
            xs, zs = [x for x, _ in door.outline], [z for _, z in door.outline]
            forward = box.y_front_mm - (max(xs) - min(xs)) / 2
            height = (max(zs) + min(zs)) / 2 - box.z0_mm
            found.append(tipping.Weight(mass_kg=_door_mass(door), behind_mm=forward - foot, up_mm=height))
    return tuple(found)


def _door_mass(door: Door) -> float:
    """Return what a leaf weighs. [kg]"""
    return area_mm2(door.outline) * door.stock.thickness_mm * 1e-9 * wood(door.stock.wood).density_kg_m3


def _climbed(box: Box, fixings: tuple[WallFixing, ...], design: Design, parts: PartList, survey: Survey) -> Finding:
    """Return whether a box with a child on its front stays up."""
    weights = weights_of(box, design, parts)
    hangs = box.y_front_mm - STANDS_OUT_MM - foot_mm(box, design)
    child = tipping.Weight(mass_kg=tipping.CHILD_KG, behind_mm=hangs, up_mm=weights[0].up_mm)
    over = -tipping.righting_moment((*weights, child))
    if over <= 0:
        return _told(box, "pass", "By its own weight it stays on its feet", over)
    if not fixings:
        return _told(box, "fail", "Without a wall fixing it comes over", over)
    heights = [fixing.z_mm - box.z0_mm for fixing in fixings]
    squares = sum(z**2 for z in heights)
    pulls = [over * z / squares for z in heights]
    holds = wall_holds(box, fixings, parts, survey.wall.board_mm)
    if not holds:
        return _told(box, "question", f"Its worst wall fixing is pulled with {max(pulls):.0f} N", over, max(pulls))
    pull, hold = max(zip(pulls, holds, strict=True), key=lambda pair: pair[0] / (pair[1].holds_n or 1e-9))
    verdict: Verdict = "pass" if pull <= hold.holds_n else "fail"
    text = f"Its worst wall screw is pulled with {pull:.0f} N and holds {hold.holds_n:.0f} N"
    return _told(box, verdict, text, over, pull, hold.holds_n)


_CURES: dict[Verdict, str] = {
    "pass": "",
    "caution": "",
    "fail": "Fix it to the studs with more screws near its top, and to its neighbours.",
    "question": "Use the anchor maker's own figure for this wall, at the pull given here.",
}


def _told(
    box: Box, verdict: Verdict, text: str, over_n_mm: float, pull_n: float | None = None, holds_n: float | None = None
) -> Finding:
    """Return the finding in words, with what tips it."""
    return Finding(
        topic="climbing child",
        subject=box.name,
        verdict=verdict,
        summary=f"{text}, empty, its doors open, with a child of {tipping.CHILD_KG:.0f} kg climbing its front.",
        demand=pull_n,
        limit=holds_n,
        unit="N" if pull_n is not None else "",
        formula=FORMULA,
        worked=f"M = {over_n_mm / 1000:.0f} N m" if over_n_mm > 0 else f"M = {-over_n_mm / 1000:.0f} N m to spare",
        source_keys=("statics", "clothing-storage", "nds", "trade-practice"),
        remedy=_CURES[verdict],
    )
