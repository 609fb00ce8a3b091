"""The Design: every box, shelf, door and strip at its place in the room, before it becomes boards.

All sizes are in the room frame (see `geometry/frame.py`): x right, z up, y into the wall, millimetres.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from nookwright.basics.findings import Assumption, Finding
from nookwright.basics.measured import Measured
from nookwright.geometry.frame import Point2
from nookwright.stages.inputs.brief import Bought, Front, Joint, RakeEnd
from nookwright.stages.inputs.shop import BoardStock, SheetStock


@dataclass(frozen=True, slots=True, kw_only=True)
class Rake:
    """The straight line in elevation that a raked box keeps below: z = height_at_0 + slope * x.

    Args:
        height_at_0_mm: its height at x = 0. [mm]
        slope: rise per run, above 0 where it rises to the right.
    """

    height_at_0_mm: float
    slope: float

    def at(self, x_mm: float) -> float:
        """Return its height at x. [mm]"""
        return self.height_at_0_mm + self.slope * x_mm

    def lowered(self, square_mm: float) -> Rake:
        """Return the parallel line that lies lower by a distance measured square to it. [mm]"""
        drop = square_mm * math.hypot(1.0, self.slope)
        return Rake(height_at_0_mm=self.height_at_0_mm - drop, slope=self.slope)

    @property
    def pitch_rad(self) -> float:
        """Angle from level, above 0 whichever way it rises. [rad]"""
        return math.atan(abs(self.slope))


@dataclass(frozen=True, slots=True, kw_only=True)
class Upright:
    """A side or divider: its left face, thickness, and the height of its foot. [mm]

    Args:
        kind: `side` or `divider`.
        x_mm: left face.
        thickness_mm: its thickness.
        z0_mm: its foot (top face of the bottom board for a divider).
        z1_left_mm, z1_right_mm: top at its left and at its right face; they differ under a rake.
    """

    kind: Literal["side", "divider"]
    x_mm: float
    thickness_mm: float
    z0_mm: float
    z1_left_mm: float
    z1_right_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """A shelf or fixed row board between two uprights. [mm]

    Args:
        fixing: `pins`, `fixed`, or `row` for the board between two rows of cells.
        x0_mm, x1_mm: the faces it lies between, at its underside.
        z_mm: its underside.
        thickness_mm: its thickness.
        depth_mm: front to back.
        set_back_mm: how far its front edge stands behind the box's.
        cut_left, cut_right: True where that end is cut to the rake instead of square.
    """

    fixing: Literal["pins", "fixed", "row"]
    x0_mm: float
    x1_mm: float
    z_mm: float
    thickness_mm: float
    depth_mm: float
    set_back_mm: float = 0.0
    cut_left: bool = False
    cut_right: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A clear space inside a box, seen from the front; with its door, if any. [mm]

    Args:
        outline: its corners in elevation (x, z), counter-clockwise.
        front: the door in front of it.
    """

    outline: tuple[Point2, ...]
    front: Front | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rail:
    """A fixing rail against the back, between two uprights; the wall screws go through it.

    Args:
        x0_mm, x1_mm: its ends, cut plumb.
        head_left_mm, head_right_mm: height of its upper edge at either end; they differ under a rake.
        height_mm: its height, measured plumb.
    """

    x0_mm: float
    x1_mm: float
    head_left_mm: float
    head_right_mm: float
    height_mm: float

    def head_at(self, x_mm: float) -> float:
        """Return the height of its upper edge at x. [mm]"""
        share = (x_mm - self.x0_mm) / (self.x1_mm - self.x0_mm)
        return self.head_left_mm + share * (self.head_right_mm - self.head_left_mm)

    @property
    def outline(self) -> tuple[Point2, ...]:
        """Its corners in elevation (x, z), counter-clockwise from the lower left. [mm]"""
        return (
            (self.x0_mm, self.head_left_mm - self.height_mm),
            (self.x1_mm, self.head_right_mm - self.height_mm),
            (self.x1_mm, self.head_right_mm),
            (self.x0_mm, self.head_left_mm),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """One box of a tier, built or bought, plumb and level where it stands. [mm]

    Args:
        name: what the drawings call it.
        letter: first letter(s) of its part numbers.
        x0_mm, x1_mm: its outside left and right.
        y_front_mm, y_back_mm: its front edge and its back's rear face.
        z0_mm: its foot.
        z1_left_mm, z1_right_mm: outside height at its left and right, as heights in the room.
        rake: the line its raked board's upper face follows; None for a level box.
        level_top_mm: height in the room of its level top's upper face; None when the rake runs right across.
        board, back: stock of its boards and back; `back` None for an open back.
        uprights, shelves, openings, rails: its inside.
        rake_low, rake_high: how the raked board meets the short and tall side.
        bought: the cabinet when it is a bought one; then it has no parts of ours.
        finished_left, finished_right: whether that side is seen (no wall or neighbour).
    """

    name: str
    letter: str
    x0_mm: float
    x1_mm: float
    y_front_mm: float
    y_back_mm: float
    z0_mm: float
    z1_left_mm: float
    z1_right_mm: float
    board: SheetStock
    back: SheetStock | None
    rake: Rake | None = None
    level_top_mm: float | None = None
    uprights: tuple[Upright, ...] = ()
    shelves: tuple[Shelf, ...] = ()
    openings: tuple[Opening, ...] = ()
    rails: tuple[Rail, ...] = ()
    rake_low: RakeEnd = "over"
    rake_high: RakeEnd = "between"
    bought: Bought | None = None
    finished_left: bool = False
    finished_right: bool = False

    @property
    def depth_mm(self) -> float:
        """Outside depth, back included. [mm]"""
        return self.y_back_mm - self.y_front_mm

    @property
    def outline(self) -> tuple[Point2, ...]:
        """Its outside corners in elevation (x, z), counter-clockwise from the lower left. [mm]"""
        corners = [(self.x0_mm, self.z0_mm), (self.x1_mm, self.z0_mm), (self.x1_mm, self.z1_right_mm)]
        if self.rake is not None and self.level_top_mm is not None:
            corners.append(((self.level_top_mm - self.rake.height_at_0_mm) / self.rake.slope, self.level_top_mm))
        corners.append((self.x0_mm, self.z1_left_mm))
        return tuple(corners)


@dataclass(frozen=True, slots=True, kw_only=True)
class ScribedEdge:
    """How an edge stands to the wall it meets. [mm]

    Args:
        meets: the surface, for example `left`.
        gap: the gap the edge would leave if cut straight, least and greatest along it.
        sd_mm: standard deviation of those gaps.
        allowance_mm: material to leave on for scribing.
    """

    meets: str
    gap: tuple[float, float]
    sd_mm: float
    allowance_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedTop:
    """A worktop with the straight-edged outline nearest to its walls. [mm]

    Args:
        outline: corners in plan (x, y), counter-clockwise seen from above, from the front left.
        edges: one per side: front, right, back, left; None for a free edge.
        z_mm: its underside.
    """

    name: str
    letter: str
    stock: SheetStock | BoardStock
    outline: tuple[Point2, ...]
    edges: tuple[ScribedEdge | None, ...]
    z_mm: float
    thickness_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedPlatform:
    """The base platform: outside in plan, rails and cross bearers on edge. [mm]

    Args:
        x0_mm, x1_mm, y_front_mm, y_back_mm: its outside.
        z0_mm, z1_mm: underside and top of its rails.
        rail_mm: thickness of a rail.
        bearers_x_mm: left faces of the cross bearers.
        frames_x_mm: from where to where each frame reaches, from the left; one unless it is split.
        high_point: the floor's highest point under it: x, y and its height.
    """

    x0_mm: float
    x1_mm: float
    y_front_mm: float
    y_back_mm: float
    z0_mm: float
    z1_mm: float
    rail_mm: float
    stock: SheetStock | BoardStock
    bearers_x_mm: tuple[float, ...]
    frames_x_mm: tuple[tuple[float, float], ...]
    high_point: tuple[float, float, Measured]


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A face trim strip, seen from the front. [mm]

    Args:
        name: what the drawings call it, for example `left end strip`.
        outline: its corners in elevation (x, z), counter-clockwise; net of scribe allowance.
        long_edge: index of the outline side that runs along its grain.
        scribed: side index and how it stands to the surface it is scribed to; None when nothing is.
        y_back_mm: its rear face.
        stock: what it is ripped from.
    """

    name: str
    letter: str
    outline: tuple[Point2, ...]
    long_edge: int
    scribed: tuple[int, ScribedEdge] | None
    y_back_mm: float
    stock: BoardStock


@dataclass(frozen=True, slots=True, kw_only=True)
class Door:
    """A door leaf, seen from the front; sized, then bought or made. [mm]

    Args:
        name, letter: what the drawings call it, and the first letter of its number.
        outline: its corners in elevation (x, z), counter-clockwise.
        y_back_mm: its rear face.
        stock: what it is made of.
        inset: whether it hangs within its opening.
    """

    name: str
    letter: str
    outline: tuple[Point2, ...]
    y_back_mm: float
    stock: SheetStock
    inset: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class SkirtingReturn:
    """The room's skirting returned along the base: a run in plan with its blank. [mm]

    Args:
        start, end: ends of its rear face in plan (x, y).
        miter_start, miter_end: True where that end is mitred round an outside corner.
        height_mm, thickness_mm: the room's own skirting.
    """

    name: str
    letter: str
    start: Point2
    end: Point2
    miter_start: bool
    miter_end: bool
    height_mm: float
    thickness_mm: float
    z0_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How surely a thing goes in: the space there is, the size chosen, and the chance that it fits.

    Args:
        what: for example `width of linen base`.
        space: the governing clear size with its spread. [mm]
        size_mm: the size chosen. [mm]
        chance: probability that the space is at least the size, 0 to 1.
    """

    what: str
    space: Measured
    size_mm: float
    chance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """Everything at its place.

    Args:
        boxes, tops, platform, strips, doors, skirting: the furniture.
        corners_joint, dividers_joint, housing_mm: how boards are joined.
        fits: what was fitted to what space, and how surely.
        findings: what does not fit or was changed to fit.
        assumptions: figures nobody measured.
    """

    boxes: tuple[Box, ...]
    tops: tuple[FittedTop, ...]
    platform: FittedPlatform | None
    strips: tuple[Strip, ...]
    doors: tuple[Door, ...]
    skirting: tuple[SkirtingReturn, ...]
    corners_joint: Joint
    dividers_joint: Joint
    housing_mm: float
    fits: tuple[Fit, ...]
    findings: tuple[Finding, ...]
    assumptions: tuple[Assumption, ...]
