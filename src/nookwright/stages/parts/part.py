"""One piece: outline, thickness, grain, bevel per edge, cut-outs, scribe edges; and the joints between pieces.

A board is drawn as one sees its face A: u to the right (the grain), v up. Its outline is given on face A,
counter-clockwise. Edge i runs from corner i to corner i+1. A bevel is the saw's tilt from square; it is above 0
where face B (the far face) is the larger one at that edge, so the edge leans outward going away from the viewer.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from nookwright.geometry.frame import Frame, Point2
from nookwright.geometry.plane import moved_edges
from nookwright.stages.inputs.brief import Grain, Joint

Role = Literal[
    "side", "bottom", "top", "raked board", "divider", "shelf", "loose shelf", "back", "fixing rail",
    "platform rail", "platform bearer", "worktop", "door", "strip", "skirting",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """One edge of a board.

    Args:
        bevel_rad: saw tilt from square; above 0 where face B is larger. [rad]
        scribe_mm: extra left on this edge for scribing, outside the outline. [mm]
        meets: what it meets, for the drawing, for example `left wall` or `short side`.
    """

    bevel_rad: float = 0.0
    scribe_mm: float = 0.0
    meets: str = ""


SQUARE = Edge()


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOut:
    """A rectangular hole through the board, in face A coordinates. [mm]"""

    u_mm: float
    v_mm: float
    width_mm: float
    height_mm: float
    purpose: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Groove:
    """A housing or rebate across a face: its centre line's ends, width and depth. [mm]

    Args:
        face: `A` (the one drawn) or `B`.
        start, end: ends of its centre line in face A coordinates.
    """

    face: Literal["A", "B"]
    start: Point2
    end: Point2
    width_mm: float
    depth_mm: float
    receives: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PinHoles:
    """The two holes in an upright that carry one end of a loose shelf.

    Args:
        face: `A` (the one drawn) or `B`.
        u_mm: their height from the board's foot. [mm]
        v_mm: the front and the rear one, in face A coordinates. [mm]
        diameter_mm: of the pin. [mm]
        receives: number of the shelf.
    """

    face: Literal["A", "B"]
    u_mm: float
    v_mm: tuple[float, float]
    diameter_mm: float
    receives: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One board to cut, and where it goes.

    Args:
        number: stable part number, for example `C3`.
        name: what it is, in the trade's words.
        role: its role; decides fastenings, finish and checks.
        module: the box, platform or trim group it belongs to.
        stock: key of the stock it is cut from.
        wood: key of the stock's properties in `trade/tables/woods.csv`.
        thickness_mm: real thickness. [mm]
        outline: corners of face A, counter-clockwise, u along the grain. [mm]
        edges: one per outline side.
        frame: where face A stands in the room.
        cutouts, grooves, pin_holes: holes through it; housings and rebates in it; holes for shelf pins.
        pieces: how many boards are glued edge to edge to make its width; 1 for a plain board.
        faces_painted: how many of its two faces are finished.
        notes: what else the sawyer must know.
        grain: how a sheet's grain runs on it.
        edging, edged, edging_mm: what is glued on which of its edges, and how long they are together; nothing is taken
            off for it. [mm]
    """

    number: str
    name: str
    role: Role
    module: str
    stock: str
    wood: str
    thickness_mm: float
    outline: tuple[Point2, ...]
    edges: tuple[Edge, ...]
    frame: Frame
    cutouts: tuple[CutOut, ...] = ()
    grooves: tuple[Groove, ...] = ()
    pin_holes: tuple[PinHoles, ...] = ()
    pieces: int = 1
    faces_painted: int = 2
    notes: tuple[str, ...] = ()
    grain: Grain = "along"
    edging: str = ""
    edged: str = ""
    edging_mm: float = 0.0

    @property
    def rectangular(self) -> bool:
        """Whether it is a plain rectangle with square edges."""
        corners = self.outline
        if len(corners) != 4 or any(abs(edge.bevel_rad) > 1e-9 for edge in self.edges):
            return False
        us, vs = {round(u, 4) for u, _ in corners}, {round(v, 4) for _, v in corners}
        return len(us) == 2 and len(vs) == 2

    @property
    def plain(self) -> bool:
        """Whether a line in the parts list says all there is to it: rectangular, and nothing worked into it."""
        return self.rectangular and not (self.cutouts or self.grooves or self.pin_holes)

    def face_b(self) -> tuple[Point2, ...]:
        """Return the corners of face B, in face A coordinates: each edge moved out by t tan(bevel). [mm]"""
        return moved_edges(self.outline, tuple(self.thickness_mm * math.tan(edge.bevel_rad) for edge in self.edges))

    def with_scribe(self) -> tuple[Point2, ...]:
        """Return face A's corners with every scribe allowance left on. [mm]"""
        return moved_edges(self.outline, tuple(edge.scribe_mm for edge in self.edges))

    @property
    def blank_mm(self) -> tuple[float, float]:
        """Length along the grain and width of the smallest rectangle it is cut from, allowances included. [mm]"""
        corners = self.blank_corners()
        us, vs = [u for u, _ in corners], [v for _, v in corners]
        return max(us) - min(us), max(vs) - min(vs)

    def blank_corners(self) -> tuple[Point2, ...]:
        """Return the corners of both faces, allowances included: what the blank must hold. [mm]"""
        on_b = tuple(self.thickness_mm * math.tan(edge.bevel_rad) + edge.scribe_mm for edge in self.edges)
        return self.with_scribe() + moved_edges(self.outline, on_b)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastening:
    """A row of equal fasteners.

    Args:
        kind: `pocket screw`, `wood screw`, `brad`, `glue`.
        length_mm: fastener length; 0 for glue. [mm]
        count: how many.
        spacing_mm: centre to centre. [mm]
        end_mm: first one from the end of the joint. [mm]
        reason: how the length follows from the stack.
    """

    kind: Literal["pocket screw", "wood screw", "brad", "glue"]
    length_mm: float
    count: int
    spacing_mm: float
    end_mm: float
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JointMade:
    """Two parts joined.

    Args:
        held: number of the part held (the fastener's head sits in it, or it enters the housing).
        holder: number of the part it is fixed to.
        joint: the kind of joint.
        length_mm: length of the joint line. [mm]
        fastenings: what holds it.
    """

    held: str
    holder: str
    joint: Joint
    length_mm: float
    fastenings: tuple[Fastening, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartList:
    """Every part and every joint of the job.

    Args:
        matched: numbers of parts whose figure runs over from one to the next, in order.
    """

    parts: tuple[Part, ...]
    joints: tuple[JointMade, ...]
    matched: tuple[tuple[str, ...], ...] = ()

    def part(self, number: str) -> Part:
        """Return the part of that number."""
        return next(part for part in self.parts if part.number == number)
