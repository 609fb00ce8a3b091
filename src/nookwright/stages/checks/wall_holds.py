"""What each wall fixing of a box may be pulled with: thread in the stud and head in the rail, or its maker's figure."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.stages.checks.masses import room_extent
from nookwright.stages.design.design import Box
from nookwright.stages.inputs.brief import WallScrew
from nookwright.stages.installing.install_plan import WallFixing
from nookwright.stages.parts.part import PartList
from nookwright.trade.fixing_rules import lag_thread_depth
from nookwright.trade.fixings import (
    BOARD_GRAVITY,
    LAG_SIZES_MM,
    LAG_TIPS_MM,
    MM_PER_INCH,
    SCREW_DIAMETERS_MM,
    SCREW_HEADS_MM,
    STUD_GRAVITY,
    WASHER_MM,
    head_pull_through,
    lag_withdrawal,
    screw_withdrawal,
)
from nookwright.trade.woods import wood


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """What one wall fixing may be pulled with.

    Args:
        fixing: the fixing.
        thread_mm: its thread in the stud; 0 of an anchor. [mm]
        thread_n, head_n: what the thread and the head hold; both the maker's figure of an anchor. [N]
        thread_said, head_said: both with their numbers put in; empty of an anchor.
    """

    fixing: WallFixing
    thread_mm: float
    thread_n: float
    head_n: float
    thread_said: str = ""
    head_said: str = ""

    @property
    def holds_n(self) -> float:
        """The lower of the two. [N]"""
        return min(self.thread_n, self.head_n)

    @property
    def holds_said(self) -> str:
        """The lower of the two, with its numbers put in."""
        return f"thread {self.thread_said}" if self.thread_n <= self.head_n else f"head {self.head_said}"


def wall_holds(
    box: Box, fixings: tuple[WallFixing, ...], parts: PartList, board_mm: float, wish: WallScrew
) -> tuple[Hold, ...]:
    """Return what each of a box's wall fixings holds, in their order; none where only an anchor's maker can say.

    Args:
        box: the box.
        fixings: its fixings.
        parts: for the rail the screws pass.
        board_mm: plasterboard or plaster over the studs. [mm]
        wish: the screw or anchor chosen, with its maker's own figure.
    """
    figure = None if box.bought is not None else wood(box.board.wood).gravity
    gravity = BOARD_GRAVITY if figure is None else figure.value
    return holds_through(through_mm(box, parts), gravity, fixings, board_mm, wish)


def holds_through(
    passed_mm: float, gravity: float, fixings: tuple[WallFixing, ...], board_mm: float, wish: WallScrew
) -> tuple[Hold, ...]:
    """Return what wall fixings hold through some thickness of wood; none where only an anchor's maker can say.

    Args:
        passed_mm: wood that each screw passes. [mm]
        gravity: of that wood.
        fixings: the fixings.
        board_mm: plasterboard or plaster over the studs. [mm]
        wish: the screw or anchor chosen.
    """
    if any(fixing.screw_mm <= 0 for fixing in fixings):
        if wish.anchor_pull_n <= 0:
            return ()
        own = wish.anchor_pull_n
        return tuple(Hold(fixing=fixing, thread_mm=0.0, thread_n=own, head_n=own) for fixing in fixings)
    head = head_pull_through(gravity=gravity, head_mm=head_mm(wish.screw), side_mm=passed_mm)
    per_mm = thread_n_mm(wish.screw)
    threads = [
        lag_thread_depth(
            length_mm=fixing.screw_mm,
            side_mm=passed_mm + fixing.packer.value + board_mm,
            tip_mm=LAG_TIPS_MM.get(wish.screw, 0.0),
        )
        for fixing in fixings
    ]
    bears = head_mm(wish.screw)
    head_said = (
        f"690 pi x {bears / MM_PER_INCH:.3f} x {gravity:g}^2 x {min(passed_mm, 2.5 * bears) / MM_PER_INCH:.3f} lb = "
        f"{head:.0f} N"
    )
    return tuple(
        Hold(
            fixing=fixing,
            thread_mm=thread,
            thread_n=thread * per_mm,
            head_n=head,
            thread_said=f"{_thread_rule(wish.screw)} = {per_mm:.1f} N/mm x {thread:.0f} mm = {thread * per_mm:.0f} N",
            head_said=head_said,
        )
        for fixing, thread in zip(fixings, threads, strict=True)
    )


def _thread_rule(screw: str) -> str:
    """Return the withdrawal formula of a screw or lag in a stud with its numbers put in."""
    if screw in LAG_SIZES_MM:
        return f"1800 x {STUD_GRAVITY:g}^1.5 x {LAG_SIZES_MM[screw] / MM_PER_INCH:.3f}^0.75 lb/in"
    return f"2850 x {STUD_GRAVITY:g}^2 x {SCREW_DIAMETERS_MM[screw] / MM_PER_INCH:.3f} lb/in"


def thread_n_mm(screw: str) -> float:
    """Return what a screw or lag holds in a stud for each length of thread. [N/mm]"""
    if screw in LAG_SIZES_MM:
        return lag_withdrawal(gravity=STUD_GRAVITY, diameter_mm=LAG_SIZES_MM[screw])
    return screw_withdrawal(gravity=STUD_GRAVITY, diameter_mm=SCREW_DIAMETERS_MM[screw])


def head_mm(screw: str) -> float:
    """Return the diameter a screw bears with under its head: a lag has a washer. [mm]"""
    return WASHER_MM if screw in LAG_SIZES_MM else SCREW_HEADS_MM[screw]


def through_mm(box: Box, parts: PartList) -> float:
    """Return the wood a wall screw passes before the gap: from its rail's face to the box's rear. [mm]"""
    if box.bought is not None:
        return box.bought.side_mm + box.bought.back_mm
    fronts = [room_extent(part)[0][1] for part in parts.parts if part.module == box.name and part.role == "fixing rail"]
    return box.y_back_mm - min(fronts) if fronts else box.board.thickness_mm
