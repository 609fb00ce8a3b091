"""The installation plan: datum, packers, wall fixings, outlet holes and the order of work."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.basics.measured import Measured
from nookwright.stages.inputs.brief import ScrewKind
from nookwright.stages.room.scribe import ScribeGap
from nookwright.trade.shimming import PackerKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Packer:
    """The packer at one bearing point of the platform. [mm]

    Args:
        station: its number on the plan, from 1.
        x_mm, y_mm: where it goes.
        height: floor to the platform's underside.
        kind: what fills it.
        solid_mm: thickness of the solid piece in it; 0 where there is none.
    """

    station: int
    x_mm: float
    y_mm: float
    height: Measured
    kind: PackerKind
    solid_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WallFixing:
    """One screw through a box's fixing rail, or through the platform's back rail, into the wall. [mm]

    Args:
        box: the box it holds; `platform` for the platform.
        x_mm, z_mm: where it goes, in the room.
        packer: gap to the wall there, to be filled with a packer.
        screw_mm: screw length chosen; 0 when the wall is not studs and the maker's figure rules.
        into: `stud 3` or `masonry` or `unknown wall`.
        reason: how the length follows from the stack.
        screw: what kind of screw.
    """

    box: str
    x_mm: float
    z_mm: float
    packer: Measured
    screw_mm: float
    into: str
    reason: str
    screw: ScrewKind = "No. 8"


PLATFORM = "platform"
"""What the platform is called among wall fixings."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OutletHole:
    """The hole that brings a socket through a back panel. [mm]

    Args:
        outlet: the outlet's name.
        box: the box it comes through; empty when no box is in front of it.
        part: number of the panel, or empty for a bought cabinet.
        left_mm, bottom_mm: the hole's lower left corner from the panel's own left and bottom edges, seen in front.
        width_mm, height_mm: the hole.
        sd_mm: how sure its place is.
        forward_mm: how far the outlet must come forward to the panel's face.
    """

    outlet: str
    box: str
    part: str
    left_mm: float
    bottom_mm: float
    width_mm: float
    height_mm: float
    sd_mm: float
    forward_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ScribeLine:
    """The gaps that a board's edge, cut straight and laid on, leaves to the surface it is scribed to. [mm]

    Args:
        part: number of the board.
        name: what it is called.
        edge: which of its edges, from 0.
        meets: the surface, in words.
        start: which end of the edge the places count from.
        allowance_mm: what is left on for scribing.
        gaps: place by place, each with its band.
    """

    part: str
    name: str
    edge: int
    meets: str
    start: str
    allowance_mm: float
    gaps: tuple[ScribeGap, ...]

    @property
    def deepest(self) -> ScribeGap:
        """The widest gap that has to be reckoned with."""
        return max(self.gaps, key=lambda gap: gap.high_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of the order of work, numbered by its place in the list.

    Args:
        title: a few words.
        text: what to do, with its figures.
        caution: what can hurt; empty when nothing does.
        parts: numbers of the parts new in this step.
    """

    title: str
    text: str
    caution: str = ""
    parts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class InstallPlan:
    """How it goes in."""

    packers: tuple[Packer, ...]
    fixings: tuple[WallFixing, ...]
    holes: tuple[OutletHole, ...]
    steps: tuple[Step, ...]
    scribes: tuple[ScribeLine, ...] = ()
