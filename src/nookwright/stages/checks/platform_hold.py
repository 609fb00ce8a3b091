"""What holds the platform to wall and floor, so that the furniture does not walk out of its place."""

from __future__ import annotations

from collections import Counter

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.said import force, size
from nookwright.stages.checks.wall_holds import holds_through
from nookwright.stages.design.design import Design, FittedPlatform
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.installing.install_plan import PLATFORM, InstallPlan, WallFixing
from nookwright.stages.installing.set_out import REACH_MM
from nookwright.stages.room.room import Room
from nookwright.trade.fixings import BOARD_GRAVITY, HEAD_FORMULA, LAG_FORMULA, LAG_SIZES_MM, SCREW_FORMULA
from nookwright.trade.woods import wood


def check_platform_hold(design: Design, installing: InstallPlan, room: Room, brief: Brief) -> tuple[Finding, ...]:
    """Return whether the platform stays put when it is pulled at its front.

    Args:
        design: the platform.
        installing: the screws through its back rail.
        room: the wall behind it, and whether the floor floats.
        brief: the pull, and the screw chosen.

    Returns:
        One finding; nothing without a platform.
    """
    if design.platform is None:
        return ()
    fixings = tuple(fixing for fixing in installing.fixings if fixing.box == PLATFORM)
    if fixings:
        return (_in_studs(fixings, design.platform, room.survey, brief),)
    return (_on_floor(_gap_mm(design.platform, room), room.survey, brief),)


def _gap_mm(platform: FittedPlatform, room: Room) -> float:
    """Return the widest gap between the back rail and the wall. [mm]"""
    z, xs = (platform.z0_mm + platform.z1_mm) / 2, (platform.x0_mm, platform.x1_mm)
    return max(wall.value - platform.y_back_mm for wall in room.profile("back", [(x, z) for x in xs]))


def _in_studs(fixings: tuple[WallFixing, ...], platform: FittedPlatform, survey: Survey, brief: Brief) -> Finding:
    """Return what the screws in the studs behind the back rail hold together."""
    pull, screw = brief.load.anchor_pull_n, brief.wall_screw.screw
    figure = wood(platform.stock.wood).gravity
    gravity = BOARD_GRAVITY if figure is None else figure.value
    each = holds_through(platform.rail_mm, gravity, fixings, survey.wall.board_mm, brief.wall_screw)
    holds, studs = sum(one.holds_n for one in each), ", ".join(fixing.into for fixing in fixings)
    verdict: Verdict = "pass" if pull <= holds else "caution"
    plural = f"the {len(fixings)} screws" if len(fixings) > 1 else "the one screw"
    hold = "hold" if len(fixings) > 1 else "holds"
    return Finding(
        topic="platform held",
        subject="platform",
        verdict=verdict,
        summary=(
            f"{force(pull, brief)} outward on its front; {plural} through its back rail into {studs} {hold} "
            f"{force(holds, brief)}{' together' if len(fixings) > 1 else ''}, its weight left out."
        ),
        demand=pull,
        limit=holds,
        unit="N",
        formula=f"the lower of {LAG_FORMULA if screw in LAG_SIZES_MM else SCREW_FORMULA} and {HEAD_FORMULA}, summed",
        worked="; ".join(f"{count} x {said}" for said, count in Counter(one.holds_said for one in each).items())
        + f"; together {holds:.0f} N",
        source_keys=("nds", "nds-recalled", "fitting-guides"),
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
        remedy=(
            f"{ways}; know first what runs under the floor. In masonry take the anchor maker's own figure. The screws "
            "into the floor depend on it and are not in the buying list."
        ),
    )
