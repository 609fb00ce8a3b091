"""What holds the platform to wall and floor, so that the furniture does not walk out of its place."""

from __future__ import annotations

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.said import force, size
from nookwright.stages.design.design import Design, FittedPlatform
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.room.room import Room
from nookwright.trade.fastener_choice import INTO_STUD_MM, STUD_EDGE_MM
from nookwright.trade.fixings import SCREW_DIAMETERS_MM, SCREW_FORMULA, STUD_GRAVITY, screw_withdrawal

SCREW = "No. 8"
"""The thinnest screw used into studs. Source: [fitting-guides]. Status: read."""

REACH_MM = 25.0
"""A back rail further than this from the wall is not packed to it but held by blocks on the floor. Common practice."""


def check_platform_hold(design: Design, room: Room, brief: Brief) -> tuple[Finding, ...]:
    """Return whether the platform stays put when it is pulled at its front.

    Args:
        design: the platform.
        room: the wall behind it, its studs, and whether the floor floats.
        brief: the pull.

    Returns:
        One finding; nothing without a platform.
    """
    if design.platform is None:
        return ()
    gap = _gap_mm(design.platform, room)
    studs = _studs(design.platform, room.survey)
    if studs and gap <= REACH_MM:
        return (_in_studs(studs, gap, design.platform, room.survey, brief),)
    return (_on_floor(gap, room.survey, brief),)


def _gap_mm(platform: FittedPlatform, room: Room) -> float:
    """Return the widest gap between the back rail and the wall. [mm]"""
    z, xs = (platform.z0_mm + platform.z1_mm) / 2, (platform.x0_mm, platform.x1_mm)
    return max(wall.value - platform.y_back_mm for wall in room.profile("back", [(x, z) for x in xs]))


def _studs(platform: FittedPlatform, survey: Survey) -> list[str]:
    """Return the studs behind the back rail."""
    if survey.wall.kind != "studs":
        return []
    inside = (platform.x0_mm + STUD_EDGE_MM, platform.x1_mm - STUD_EDGE_MM)
    centres = enumerate(survey.wall.stud_centres_mm, start=1)
    return [f"stud {i}" for i, x in centres if inside[0] <= x <= inside[1]]


def _in_studs(studs: list[str], gap_mm: float, platform: FittedPlatform, survey: Survey, brief: Brief) -> Finding:
    """Return what one screw in each stud behind the back rail holds."""
    pull = brief.load.anchor_pull_n
    per_mm = screw_withdrawal(gravity=STUD_GRAVITY, diameter_mm=SCREW_DIAMETERS_MM[SCREW])
    holds = len(studs) * INTO_STUD_MM * per_mm
    verdict: Verdict = "pass" if pull <= holds else "caution"
    length = platform.rail_mm + max(0.0, gap_mm) + survey.wall.board_mm + INTO_STUD_MM
    return Finding(
        topic="platform held",
        subject="platform",
        verdict=verdict,
        summary=(
            f"{force(pull, brief)} outward on its front; a screw through the back rail in each of {', '.join(studs)}, "
            f"{size(INTO_STUD_MM, brief)} of its thread in the stud ({size(length, brief)} or longer), hold "
            f"{force(holds, brief)} together."
        ),
        demand=pull,
        limit=holds,
        unit="N",
        formula=SCREW_FORMULA,
        worked=f"{len(studs)} x {INTO_STUD_MM:.0f} x {per_mm:.1f} = {holds:.0f} N",
        source_keys=("nds", "fitting-guides"),
        remedy="" if verdict == "pass" else "Screw a block to the floor behind each rail as well.",
    )


def _on_floor(gap_mm: float, survey: Survey, brief: Brief) -> Finding:
    """Return the question of what the floor may be screwed into, where no stud is in reach."""
    why = (
        f"Its back rail stands {size(gap_mm, brief)} before the wall"
        if gap_mm > REACH_MM
        else "No stud is known behind its back rail"
    )
    floats = any(answer.key == "soft-floor" and answer.answer == "found" for answer in survey.questions)
    ways = (
        "Screw blocks to the hard floor below, never through a floating floor or carpet, and the rails to the blocks"
        if floats
        else "Screw blocks to the floor inside its front and back rail, and the rails to the blocks"
    )
    return Finding(
        topic="platform held",
        subject="platform",
        verdict="question",
        summary=(
            f"{why}. What its fixings hold depends on floor and wall: together they are asked for "
            f"{force(brief.load.anchor_pull_n, brief)} outward."
        ),
        demand=brief.load.anchor_pull_n,
        unit="N",
        source_keys=("trade-practice",),
        remedy=f"{ways}; know first what runs under the floor. In masonry take the anchor maker's own figure.",
    )
