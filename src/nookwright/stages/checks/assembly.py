"""Does everything fit together: no two boards in the same place, nothing through a wall."""

from __future__ import annotations

from nookwright.basics.findings import Finding
from nookwright.stages.checks.said import fine
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.parts.part import PartList
from nookwright.stages.parts.solids import interferences, outside_room
from nookwright.stages.room.room import Room

TOUCH_MM3 = 50.0
"""Two solids that share less than this only touch: a hundredth of a millimetre over a board's edge."""

INTO_WALL_MM = 0.6
"""A board may reach this far into a surface: less than people mark. Common practice, no source."""


def check_assembly(parts: PartList, room: Room, brief: Brief) -> tuple[Finding, ...]:
    """Return what the solid model of all parts, standing in the room, says of the design.

    Args:
        parts: every part where it stands, scribe allowances not counted.
        room: the room as adjusted.
        brief: for the units people read.

    Returns:
        A fail for every clash and for every board that reaches through a surface; two passes when there are none.
    """
    clashes = interferences(parts, TOUCH_MM3)
    through = outside_room(parts, room, INTO_WALL_MM)
    fails = [
        Finding(
            topic="assembly",
            subject=f"{clash.first} and {clash.second}",
            verdict="fail",
            summary=f"They fill the same space: {_volume(clash.volume_mm3, brief)} of it.",
            demand=clash.volume_mm3,
            limit=TOUCH_MM3,
            unit="mm3",
            remedy="Change the brief so that the two keep apart; please report the job, it should not happen.",
        )
        for clash in clashes
    ]
    fails.extend(
        Finding(
            topic="assembly",
            subject=one.number,
            verdict="fail",
            summary=f"It reaches {fine(one.depth_mm, brief)} through the {one.surface}.",
            demand=one.depth_mm,
            limit=INTO_WALL_MM,
            unit="mm",
            remedy="Move or shorten what it belongs to, or raise the least gap under `allowances`.",
        )
        for one in through
    )
    held = []
    if not clashes:
        held.append(_held(f"No two of the {len(parts.parts)} parts fill the same space.", "all parts"))
    if not through:
        held.append(_held("No part reaches through a wall, the floor, the slope or the ceiling.", "all parts"))
    return (*fails, *held)


def _volume(mm3: float, brief: Brief) -> str:
    """Return a volume: `1.2 cm3` or `0.07 in3`."""
    return f"{mm3 / 1000.0:.1f} cm3" if brief.units == "mm" else f"{mm3 / 25.4**3:.2f} in3"


def _held(summary: str, subject: str) -> Finding:
    return Finding(topic="assembly", subject=subject, verdict="pass", summary=summary)
