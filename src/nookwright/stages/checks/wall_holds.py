"""What each wall screw of a box may be pulled with: its thread in the stud, and its head in the rail."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.stages.checks.masses import room_extent
from nookwright.stages.design.design import Box
from nookwright.stages.installing.install_plan import WallFixing
from nookwright.stages.parts.part import PartList
from nookwright.trade.fixings import (
    BOARD_GRAVITY,
    SCREW_DIAMETERS_MM,
    SCREW_HEADS_MM,
    STUD_GRAVITY,
    head_pull_through,
    screw_withdrawal,
)
from nookwright.trade.woods import wood

SCREW = "No. 8"
"""The thinnest screw used into studs, No. 8 to No. 10. Source: [fitting-guides]. Status: read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """What one wall screw may be pulled with.

    Args:
        fixing: the screw.
        thread_mm: its thread in the stud. [mm]
        thread_n, head_n: what the thread and the head hold. [N]
    """

    fixing: WallFixing
    thread_mm: float
    thread_n: float
    head_n: float

    @property
    def holds_n(self) -> float:
        """The lower of the two. [N]"""
        return min(self.thread_n, self.head_n)


def wall_holds(box: Box, fixings: tuple[WallFixing, ...], parts: PartList, board_mm: float) -> tuple[Hold, ...]:
    """Return what each of a box's wall screws holds, in their order; none where the wall takes the maker's anchors.

    Args:
        box: the box.
        fixings: its fixings.
        parts: for the rail the screws pass.
        board_mm: plasterboard or plaster over the studs. [mm]
    """
    if any(fixing.screw_mm <= 0 for fixing in fixings):
        return ()
    passed = through_mm(box, parts)
    figure = None if box.bought is not None else wood(box.board.wood).gravity
    head = head_pull_through(
        gravity=BOARD_GRAVITY if figure is None else figure.value, head_mm=SCREW_HEADS_MM[SCREW], side_mm=passed
    )
    per_mm = screw_withdrawal(gravity=STUD_GRAVITY, diameter_mm=SCREW_DIAMETERS_MM[SCREW])
    threads = [max(0.0, fixing.screw_mm - passed - fixing.packer.value - board_mm) for fixing in fixings]
    return tuple(
        Hold(fixing=fixing, thread_mm=thread, thread_n=thread * per_mm, head_n=head)
        for fixing, thread in zip(fixings, threads, strict=True)
    )


def through_mm(box: Box, parts: PartList) -> float:
    """Return the wood a wall screw passes before the gap: from its rail's face to the box's rear. [mm]"""
    if box.bought is not None:
        return box.bought.side_mm + box.bought.back_mm
    fronts = [room_extent(part)[0][1] for part in parts.parts if part.module == box.name and part.role == "fixing rail"]
    return box.y_back_mm - min(fronts) if fronts else box.board.thickness_mm
