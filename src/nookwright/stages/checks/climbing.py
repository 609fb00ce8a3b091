"""A child that climbs a box, doors and drawers open: whether it stands, and what the wall screws then hold."""

from __future__ import annotations

from collections.abc import Mapping

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.opened import LEVEL, clothes_source, foot_mm, opens, weights_of
from nookwright.stages.checks.said import force, mass
from nookwright.stages.checks.wall_holds import wall_holds
from nookwright.stages.design.design import Box, Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.installing.install_plan import InstallPlan, WallFixing
from nookwright.stages.parts.part import PartList
from nookwright.trade import tipping

STANDS_OUT_MM = 100.0
"""A climbing child hangs this far in front of the shelves. Source: [trade-practice]. Status: common practice."""

FORMULA = (
    "M = sum m g (x cos f - z sin f) about the front foot, doors and drawers open, child 27.2 kg in front; "
    "T_i = M z_i / sum(z^2)"
)


def check_climbing(
    design: Design,
    parts: PartList,
    installing: InstallPlan,
    survey: Survey,
    brief: Brief,
    falls: Mapping[str, float] = LEVEL,
) -> tuple[Finding, ...]:
    """Return, for every box high enough to climb, whether it stays on its feet.

    Args:
        design: the boxes, their doors and the platform under them.
        parts: for masses and the rails.
        installing: the wall fixings.
        survey: for the wall's board.
        brief: for the fixing chosen.
        falls: how steeply the floor falls to the front under each box that stands on it. [rad]

    Returns:
        One finding for each box from 27 in up; a question where the wall takes the maker's own anchors.
    """
    findings = []
    for box in design.boxes:
        if max(z for _, z in box.outline) - box.z0_mm >= tipping.RULE_HEIGHT_MM:
            fixings = tuple(fixing for fixing in installing.fixings if fixing.box == box.name)
            findings.append(_climbed(box, fixings, design, parts, survey, brief, falls.get(box.name, 0.0)))
    return tuple(findings)


def _climbed(
    box: Box,
    fixings: tuple[WallFixing, ...],
    design: Design,
    parts: PartList,
    survey: Survey,
    brief: Brief,
    falls_rad: float,
) -> Finding:
    """Return whether a box with a child on its front stays up."""
    weights = weights_of(box, design, parts)
    hangs = box.y_front_mm - STANDS_OUT_MM - foot_mm(box, design)
    child = tipping.Weight(mass_kg=tipping.CHILD_KG, behind_mm=hangs, up_mm=weights[0].up_mm)
    over = -tipping.righting_moment((*weights, child), falls_rad=falls_rad)
    rights = tipping.righting_moment(weights, falls_rad=falls_rad) / 1000
    asks, ways = over / 1000 + rights, opens(box, design)
    worked = f"box and what opens {rights:.1f} N m, child 27.2 x 9.81 N at {-hangs:.0f} mm {asks:.1f} N m"
    if over <= 0:
        text = "By its own weight it stays on its feet"
        spare = f"{worked}: {-over / 1000:.1f} N m to spare"
        return _told(brief, box, ways, "pass", text, spare, max(0.0, asks), rights)
    if not fixings:
        return _told(brief, box, ways, "fail", "Without a wall fixing it comes over", worked)
    worked = f"{worked}: M = {over / 1000:.1f} N m"
    heights = [fixing.z_mm - box.z0_mm for fixing in fixings]
    squares = sum(z**2 for z in heights)
    pulls = [over * z / squares for z in heights]
    holds = wall_holds(box, fixings, parts, survey.wall.board_mm, brief.wall_screw)
    if not holds:
        text = f"Its worst wall fixing is pulled with {force(max(pulls), brief)}"
        return _told(brief, box, ways, "question", text, worked, max(pulls))
    pull, hold = max(zip(pulls, holds, strict=True), key=lambda pair: pair[0] / (pair[1].holds_n or 1e-9))
    verdict: Verdict = "pass" if pull <= hold.holds_n else "fail"
    text = f"Its worst wall fixing is pulled with {force(pull, brief)} and holds {force(hold.holds_n, brief)}"
    return _told(brief, box, ways, verdict, text, worked, pull, hold.holds_n)


_CURES: dict[Verdict, str] = {
    "pass": "",
    "caution": "",
    "fail": "Fix it to the studs with more screws near its top, and to its neighbours.",
    "question": "Use the anchor maker's own figure for this wall, at the pull given here.",
}


def _told(
    brief: Brief,
    box: Box,
    ways: str,
    verdict: Verdict,
    text: str,
    worked: str,
    asked: float | None = None,
    holds: float | None = None,
) -> Finding:
    """Return the finding in words, with what tips it."""
    return Finding(
        topic="climbing child",
        subject=box.name,
        verdict=verdict,
        summary=f"{text}, its shelves empty{ways}, with a child of {mass(tipping.CHILD_KG, brief)} climbing its front.",
        demand=asked,
        limit=holds,
        unit="" if asked is None else ("N m" if worked.endswith("N m to spare") else "N"),
        formula=FORMULA,
        worked=worked,
        source_keys=("statics", "clothing-storage", *clothes_source(ways), "nds", "trade-practice"),
        remedy=_CURES[verdict],
    )
