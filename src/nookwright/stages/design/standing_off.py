"""Where boxes stand away from the walls around them, further than trim covers: said, so that nobody is surprised."""

from __future__ import annotations

from nookwright.basics.findings import Finding
from nookwright.stages.design.boxes import TierBoxes
from nookwright.stages.design.setting import Setting
from nookwright.stages.design.trims import WIDEST_FILLER_MM

UNSURE_MM = 25.0
"""More than this left behind boxes only because the wall is not known better is worth another reading. [mm]
Common practice, no source."""


def open_corners(tier: TierBoxes, setting: Setting) -> tuple[Finding, ...]:
    """Return a caution for each end of a tier whose wall runs away from it, as the side walls of a bay do."""
    found = []
    for side, box, meets in (("left", tier.boxes[0], tier.reach.left), ("right", tier.boxes[-1], tier.reach.right)):
        if meets is None:
            continue
        outside = box.x0_mm if side == "left" else box.x1_mm
        at_back, at_front = (setting.room.at(side, y, box.z0_mm).value for y in (box.y_back_mm, box.y_front_mm))
        open_mm = abs(at_front - outside)
        if open_mm <= WIDEST_FILLER_MM or abs(at_front - at_back) < open_mm / 2:
            continue
        wall = setting.room.told(side)
        found.append(
            Finding(
                topic="fit",
                subject=f"{box.name}, {side} end",
                verdict="caution",
                summary=f"The {wall} runs away from it: {setting.said(open_mm)} stay open beside its front.",
                remedy=(
                    "Close that with a panel scribed to the wall, or leave it open; what lies over it needs a batten "
                    "on the wall."
                ),
            )
        )
    return tuple(found)


def gap_behind(z_range: tuple[float, float], run: tuple[float, float], setting: Setting) -> tuple[Finding, ...]:
    """Return a caution where much is left behind the boxes only because the wall is not known well enough."""
    room = setting.room
    proud = room.governing("back", run, z_range, "least")
    left = setting.brief.allowances.sds * proud.sd
    if left <= UNSURE_MM:
        return ()
    foot, told = f"{room.ends[0]}0", room.told("back")
    return (
        Finding(
            topic="fit",
            subject=told,
            verdict="caution",
            summary=(
                f"It is known to {setting.said(2 * proud.sd)} only where it may stand out most, so everything stands "
                f"{setting.said(left)} off it."
            ),
            remedy=f"Plumb the {told} from {foot} up, as high as the furniture goes; then it can stand closer.",
        ),
    )
