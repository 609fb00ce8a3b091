"""The room's skirting, returned along the base of the furniture."""

from __future__ import annotations

from nookwright.basics.findings import Finding
from nookwright.geometry.frame import Point2
from nookwright.stages.design.design import FittedPlatform, SkirtingReturn
from nookwright.stages.design.openings import Reach
from nookwright.stages.design.setting import Setting
from nookwright.stages.inputs.survey import Skirting, SurfaceName
from nookwright.stages.room.room import Room

FAR_MM = 120.0
"""The skirting is not carried on to a wall this far beside the furniture. Common practice, no source."""


def skirting_returns(
    platform: FittedPlatform, reach: Reach, skirting: Skirting, room: Room
) -> tuple[SkirtingReturn, ...]:
    """Return the room's skirting carried along the platform, mitred round a seen end and back to the wall.

    Skirting higher than the platform is ripped to it, so that doors and strips stay clear.
    """
    y, t = platform.y_front_mm, skirting.thickness_mm
    z0 = platform.high_point[2].value
    height = min(skirting.height_mm, platform.z1_mm - z0)

    def end(is_open: bool, side: SurfaceName, free_x: float) -> float:
        if is_open:
            return free_x
        return room.governing(side, (y - t, y), (z0, z0 + height), "greatest" if side == "left" else "least").value

    left_open = _goes_round(room, "left", platform, FAR_MM if reach.left else t, t)
    right_open = _goes_round(room, "right", platform, FAR_MM if reach.right else t, t)
    x0 = end(left_open, "left", platform.x0_mm)
    x1 = end(right_open, "right", platform.x1_mm)

    def piece(name: str, start: Point2, finish: Point2, mitred: tuple[bool, bool]) -> SkirtingReturn:
        return SkirtingReturn(
            name=name,
            letter="K",
            start=start,
            end=finish,
            miter_start=mitred[0],
            miter_end=mitred[1],
            height_mm=height,
            thickness_mm=t,
            z0_mm=z0,
        )

    pieces = [piece("front skirting", (x0, y), (x1, y), (left_open, right_open))]
    if left_open:
        pieces.append(piece("left skirting return", (x0, platform.y_back_mm), (x0, y), (False, True)))
    if right_open:
        pieces.append(piece("right skirting return", (x1, y), (x1, platform.y_back_mm), (True, False)))
    return tuple(pieces)


def _goes_round(room: Room, side: SurfaceName, platform: FittedPlatform, gap_mm: float, thickness_mm: float) -> bool:
    """Return whether the skirting turns the corner: no wall stands there, or none nearer than the gap."""
    if not room.has(side):
        return True
    y_range = (platform.y_front_mm - thickness_mm, platform.y_back_mm)
    z_range = (platform.high_point[2].value, platform.z1_mm)
    if side == "left":
        return platform.x0_mm - room.governing(side, y_range, z_range, "greatest").value >= gap_mm
    return room.governing(side, y_range, z_range, "least").value - platform.x1_mm >= gap_mm


def ripped_skirting(platform: FittedPlatform, skirting: Skirting, setting: Setting) -> tuple[Finding, ...]:
    """Return the finding that the skirting is higher than the platform, if it is."""
    room_for = platform.z1_mm - platform.high_point[2].value
    if skirting.height_mm <= room_for:
        return ()
    return (
        Finding(
            topic="fit",
            subject="skirting",
            verdict="caution",
            summary=(
                f"The room's skirting is {setting.said(skirting.height_mm)} high, the platform"
                f" {setting.said(room_for)}: its return is ripped lower and will not line up with the rest."
            ),
            demand=skirting.height_mm,
            limit=room_for,
            unit="mm",
            remedy=f"Make the platform {setting.said(skirting.height_mm)} high.",
        ),
    )
