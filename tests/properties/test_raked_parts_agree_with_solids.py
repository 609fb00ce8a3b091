"""Raked boards' lengths, bevels and heights agree with solids sawn out of slabs by planes of the room.

The solids here know nothing of outlines, bevels or boards: each starts as a block larger than the box and is trimmed
by the rake's planes, by plumb planes and by level planes. Lengths and angles are then read off the trimmed solid.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from nookwright.geometry.frame import Frame, Point2
from nookwright.stages.design.design import Rake, Shelf, Upright
from nookwright.stages.inputs.brief import RakeEnd
from nookwright.stages.parts.part import Edge, Part
from nookwright.stages.parts.raked import (
    RakedBoard,
    Shape,
    level_top_shape,
    raked_board,
    raked_board_shape,
    shelf_shape,
    upright_shape,
    upright_top,
    x_at,
)
from nookwright.stages.parts.solids import solid_of

TOLERANCE_MM = 1e-5
ONE_TENTH_MM = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """A raked box: lengths in mm, the pitch in degrees."""

    pitch_deg: float
    rises: Literal["left", "right"]
    low: RakeEnd
    high: RakeEnd
    side_mm: float
    board_mm: float
    x0_mm: float
    width_mm: float
    short_side_mm: float
    z0_mm: float
    y_front_mm: float
    depth_mm: float

    @property
    def slope(self) -> float:
        """Rise per run, to the right."""
        return math.tan(math.radians(self.pitch_deg)) * (1 if self.rises == "right" else -1)

    @property
    def x1_mm(self) -> float:
        """Outer face of the right side."""
        return self.x0_mm + self.width_mm

    @property
    def y_back_mm(self) -> float:
        """Rear of the box."""
        return self.y_front_mm + self.depth_mm

    @property
    def rake(self) -> Rake:
        """The line, `short_side_mm` above the foot at the outer face of the short side."""
        x_short = self.x0_mm if self.rises == "right" else self.x1_mm
        return Rake(height_at_0_mm=self.z0_mm + self.short_side_mm - self.slope * x_short, slope=self.slope)


@st.composite
def raked_boxes(draw: st.DrawFn) -> Setting:
    """Any raked box whose short side still has wood left under the raked board."""
    side, board = draw(st.floats(9, 40)), draw(st.floats(9, 40))
    pitch = draw(st.floats(20, 70))
    # The short side must be taller than the raked board is deep, plumb, plus its own slope.
    least = board / math.cos(math.radians(pitch)) + side * math.tan(math.radians(pitch)) + 50
    return Setting(
        pitch_deg=pitch,
        rises=draw(st.sampled_from(("left", "right"))),
        low=draw(st.sampled_from(("over", "between"))),
        high=draw(st.sampled_from(("over", "between"))),
        side_mm=side,
        board_mm=board,
        x0_mm=draw(st.floats(-500, 3000)),
        width_mm=draw(st.floats(350, 2500)),
        short_side_mm=least + draw(st.floats(0, 1500)),
        z0_mm=draw(st.floats(0, 600)),
        y_front_mm=draw(st.floats(-900, -300)),
        depth_mm=draw(st.floats(150, 800)),
    )


# ---- the independent solids: a block, and planes of the room ----


class Plane:
    """A plane in elevation; `below` keeps what lies under it or left of it."""

    def __init__(self, a: float, b: float, c: float) -> None:
        """Keep the plane a x + b z = c."""
        length = math.hypot(a, b)
        self.normal, self.offset = (a / length, 0.0, b / length), c / length

    def below(self, block: Manifold) -> Manifold:
        """Return what lies where a x + b z is at most c."""
        return block.trim_by_plane(tuple(-n for n in self.normal), -self.offset)

    def above(self, block: Manifold) -> Manifold:
        """Return what lies where a x + b z is at least c."""
        return block.trim_by_plane(self.normal, self.offset)


def plumb(x: float) -> Plane:
    """The plumb plane at x."""
    return Plane(1, 0, x)


def level(z: float) -> Plane:
    """The level plane at z."""
    return Plane(0, 1, z)


def upper_plane(box: Setting) -> Plane:
    """The plane of the raked board's upper face: z - slope x = height at 0."""
    return Plane(-box.slope, 1, box.rake.height_at_0_mm)


def lower_plane(box: Setting) -> Plane:
    """The plane parallel to it, one board thickness away measured square to it."""
    plane = upper_plane(box)
    plane.offset -= box.board_mm
    return plane


def block(box: Setting) -> Manifold:
    """A block much larger than the box, already of its depth."""
    cube = Manifold.cube((40000.0, box.depth_mm, 40000.0))
    return cube.translate((box.x0_mm - 20000.0, box.y_front_mm, box.z0_mm - 20000.0))


def slab_between(box: Setting, x_left: float, x_right: float) -> Manifold:
    """The raked board: between the two rake planes and two plumb planes."""
    rest = lower_plane(box).above(upper_plane(box).below(block(box)))
    return plumb(x_right).below(plumb(x_left).above(rest))


def post(box: Setting, x: float, thickness: float, top: Plane) -> Manifold:
    """An upright from the box's foot up to a plane."""
    rest = level(box.z0_mm).above(top.below(block(box)))
    return plumb(x + thickness).below(plumb(x).above(rest))


def ends_of_board(box: Setting) -> tuple[float, float]:
    """Where the raked board starts and stops, left to right: outer or inner faces of the sides."""
    left, right = (box.low, box.high) if box.rises == "right" else (box.high, box.low)
    return (
        box.x0_mm if left == "over" else box.x0_mm + box.side_mm,
        box.x1_mm if right == "over" else box.x1_mm - box.side_mm,
    )


def ways_of_sides(box: Setting) -> tuple[RakeEnd, RakeEnd]:
    """How the raked board meets the left and the right side."""
    return (box.low, box.high) if box.rises == "right" else (box.high, box.low)


def vertices(solid: Manifold) -> np.ndarray:
    """The solid's vertices."""
    return np.asarray(solid.to_mesh64().vert_properties)[:, :3]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengths:
    """What one reads off a raked board with a rule."""

    upper_mm: float
    lower_mm: float
    long_point_mm: float
    short_point_mm: float
    bevel_low_rad: float
    bevel_high_rad: float

    def agrees(self, other: Lengths) -> bool:
        """Tell whether all lengths agree within 0.1 mm and the angles within what moves an end by that much."""
        lengths = (
            (self.upper_mm, other.upper_mm),
            (self.lower_mm, other.lower_mm),
            (self.long_point_mm, other.long_point_mm),
            (self.short_point_mm, other.short_point_mm),
        )
        angles = ((self.bevel_low_rad, other.bevel_low_rad), (self.bevel_high_rad, other.bevel_high_rad))
        return all(abs(a - b) < ONE_TENTH_MM for a, b in lengths) and all(abs(a - b) < 1e-3 for a, b in angles)


def lengths_of(board: RakedBoard) -> Lengths:
    """What the formulas say."""
    return Lengths(
        upper_mm=board.length_upper_mm,
        lower_mm=board.length_lower_mm,
        long_point_mm=board.long_point_mm,
        short_point_mm=board.short_point_mm,
        bevel_low_rad=board.bevel_low_rad,
        bevel_high_rad=board.bevel_high_rad,
    )


def measured_lengths(box: Setting, solid: Manifold) -> Lengths:
    """What the vertices of the trimmed slab say, measured uphill along the slope."""
    pitch = math.radians(box.pitch_deg)
    uphill = np.array([math.cos(pitch) * (1 if box.rises == "right" else -1), 0.0, math.sin(pitch)])
    points = vertices(solid)
    plane = upper_plane(box)
    depth = plane.offset - points @ np.array(plane.normal)
    along = points @ uphill
    upper, lower = along[depth < box.board_mm / 2], along[depth > box.board_mm / 2]
    u0, u1, l0, l1 = upper.min(), upper.max(), lower.min(), lower.max()
    return Lengths(
        upper_mm=u1 - u0,
        lower_mm=l1 - l0,
        long_point_mm=max(u1, l1) - min(u0, l0),
        short_point_mm=min(u1, l1) - max(u0, l0),
        bevel_low_rad=math.atan((u0 - l0) / box.board_mm),
        bevel_high_rad=math.atan((l1 - u1) / box.board_mm),
    )


def assert_same(claimed: Lengths, measured: Lengths) -> None:
    """Compare far more sharply than a saw could."""
    for name in Lengths.__slots__:
        assert getattr(claimed, name) == pytest.approx(getattr(measured, name), abs=TOLERANCE_MM), name


# ---- our boards ----


def formulas(box: Setting, level_top_mm: float | None = None) -> RakedBoard:
    """The raked board as the product computes it."""
    return raked_board(
        rake=box.rake,
        x0_mm=box.x0_mm,
        x1_mm=box.x1_mm,
        side_mm=box.side_mm,
        board_mm=box.board_mm,
        low=box.low,
        high=box.high,
        level_top_mm=level_top_mm,
    )


def part(shape: Shape, thickness_mm: float, number: str = "A1") -> Part:
    """A part of that shape."""
    return Part(
        number=number,
        name="board",
        role="raked board",
        module="box",
        stock="ply",
        wood="ply",
        thickness_mm=thickness_mm,
        outline=shape.outline,
        edges=shape.edges,
        frame=shape.frame,
    )


def our_solid(shape: Shape, thickness_mm: float) -> Manifold:
    """The kernel's solid of a part of that shape."""
    return solid_of(part(shape, thickness_mm)).manifold


def our_board(box: Setting) -> Manifold:
    """The raked board made from outline, bevels and frame."""
    shape = raked_board_shape(board=formulas(box), rake=box.rake, y_front_mm=box.y_front_mm, y_back_mm=box.y_back_mm)
    return our_solid(shape, box.board_mm)


def our_upright(box: Setting, x: float, thickness: float, meets: RakeEnd, face_a: Literal["left", "right"]) -> Manifold:
    """A side or divider made from outline, bevels and frame."""
    top = upright_top(rake=box.rake, meets=meets, board_mm=box.board_mm, x_mm=x, thickness_mm=thickness)
    upright = Upright(
        kind="side",
        x_mm=x,
        thickness_mm=thickness,
        z0_mm=box.z0_mm,
        z1_left_mm=top.z_left_mm,
        z1_right_mm=top.z_right_mm,
    )
    shape = upright_shape(upright=upright, face_a=face_a, y_front_mm=box.y_front_mm, y_back_mm=box.y_back_mm)
    return our_solid(shape, thickness)


def difference_mm3(first: Manifold, second: Manifold) -> float:
    """Volume that lies in one of the two solids only."""
    return (first - second).volume() + (second - first).volume()


def skin_mm3(solid: Manifold) -> float:
    """A volume that stands for 1e-6 mm over the solid's surface: what rounding may leave."""
    return 1e-6 * solid.surface_area()


# ---- what must hold ----


@given(box=raked_boxes())
def test_lengths_and_bevels_are_those_of_the_trimmed_slab(box: Setting) -> None:
    """Face lengths, long point, short point and both bevels follow from the planes alone."""
    assert_same(lengths_of(formulas(box)), measured_lengths(box, slab_between(box, *ends_of_board(box))))


@given(box=raked_boxes())
def test_the_raked_board_fills_the_trimmed_slab_and_nothing_else(box: Setting) -> None:
    """Outline, bevels and frame together give the same solid at the same place."""
    expected = slab_between(box, *ends_of_board(box))
    ours = our_board(box)
    assert ours.volume() == pytest.approx(expected.volume(), rel=1e-9)
    assert difference_mm3(ours, expected) < skin_mm3(expected)


@given(box=raked_boxes(), at_left=st.booleans(), face_a=st.sampled_from(("left", "right")))
def test_heights_and_bevel_of_a_side_are_those_of_the_trimmed_post(
    box: Setting, at_left: bool, face_a: Literal["left", "right"]
) -> None:
    """A side ends at the underside when the board lies over it, and at the upper face's line when it does not."""
    meets = ways_of_sides(box)[0 if at_left else 1]
    x = box.x0_mm if at_left else box.x1_mm - box.side_mm
    expected = post(box, x, box.side_mm, lower_plane(box) if meets == "over" else upper_plane(box))
    points = vertices(expected)
    at_left_face = points[np.abs(points[:, 0] - x) < box.side_mm / 2]
    at_right_face = points[np.abs(points[:, 0] - x) > box.side_mm / 2]
    top = upright_top(rake=box.rake, meets=meets, board_mm=box.board_mm, x_mm=x, thickness_mm=box.side_mm)
    assert top.z_left_mm == pytest.approx(at_left_face[:, 2].max(), abs=TOLERANCE_MM)
    assert top.z_right_mm == pytest.approx(at_right_face[:, 2].max(), abs=TOLERANCE_MM)
    assert top.bevel_rad == pytest.approx(math.radians(box.pitch_deg) * (1 if box.rises == "right" else -1), abs=1e-9)
    ours = our_upright(box, x, box.side_mm, meets, face_a)
    assert difference_mm3(ours, expected) < skin_mm3(expected)


@settings(max_examples=60)
@given(box=raked_boxes(), share=st.floats(0.3, 0.7), divider_mm=st.floats(9, 40))
def test_board_sides_and_divider_touch_without_a_gap_or_an_overlap(
    box: Setting, share: float, divider_mm: float
) -> None:
    """Together they are exactly the box under the upper plane, less its clear cells under the lower plane."""
    ways = ways_of_sides(box)
    x_divider = box.x0_mm + share * (box.width_mm - divider_mm)
    boards = [
        our_board(box),
        our_upright(box, box.x0_mm, box.side_mm, ways[0], "left"),
        our_upright(box, box.x1_mm - box.side_mm, box.side_mm, ways[1], "right"),
        our_upright(box, x_divider, divider_mm, "over", "left"),
    ]
    whole = post(box, box.x0_mm, box.width_mm, upper_plane(box))
    cells = [(box.x0_mm + box.side_mm, x_divider), (x_divider + divider_mm, box.x1_mm - box.side_mm)]
    for x_left, x_right in cells:
        whole -= post(box, x_left, x_right - x_left, lower_plane(box))
    skin = skin_mm3(whole)
    for i, first in enumerate(boards):
        for second in boards[i + 1 :]:
            assert (first ^ second).volume() < skin
    union = boards[0] + boards[1] + boards[2] + boards[3]
    assert difference_mm3(union, whole) < skin
    assert sum(one.volume() for one in boards) == pytest.approx(whole.volume(), abs=4 * skin)
    assert all(boards[0].min_gap(one, 10.0) < 1e-6 for one in boards[1:])


@given(box=raked_boxes(), share=st.floats(0.35, 0.7))
def test_a_level_top_and_the_raked_board_meet_in_a_mitre_that_halves_the_angle(box: Setting, share: float) -> None:
    """Rake and level slabs trimmed by the plane that halves the angle between them, against the mitred boards."""
    run_mm = share * box.width_mm
    level_top_mm = box.rake.at(box.x0_mm + run_mm if box.rises == "right" else box.x1_mm - run_mm)
    x_mitre = box.x0_mm + run_mm if box.rises == "right" else box.x1_mm - run_mm
    x_end = box.x1_mm if box.rises == "right" else box.x0_mm
    x_low = ends_of_board(box)[0 if box.rises == "right" else 1]
    toward_tall = 1 if box.rises == "right" else -1
    half = math.radians(box.pitch_deg) / 2
    # The plane through the ridge that halves the angle; its normal lies half-way between both boards' directions.
    a, b = toward_tall * math.cos(half), math.sin(half)
    bisector = Plane(a, b, a * x_mitre + b * level_top_mm)
    sloping = bisector.below(lower_plane(box).above(upper_plane(box).below(block(box))))
    sloping = plumb(x_low).above(sloping) if box.rises == "right" else plumb(x_low).below(sloping)
    flat = bisector.above(level(level_top_mm - box.board_mm).above(level(level_top_mm).below(block(box))))
    flat = plumb(x_end).below(flat) if box.rises == "right" else plumb(x_end).above(flat)

    board = formulas(box, level_top_mm)
    assert_same(lengths_of(board), measured_lengths(box, sloping))
    y = {"y_front_mm": box.y_front_mm, "y_back_mm": box.y_back_mm}
    ours = our_solid(raked_board_shape(board=board, rake=box.rake, **y), box.board_mm)
    top_shape = level_top_shape(rake=box.rake, level_top_mm=level_top_mm, board_mm=box.board_mm, x_end_mm=x_end, **y)
    top = our_solid(top_shape, box.board_mm)
    assert difference_mm3(ours, sloping) < skin_mm3(sloping)
    assert difference_mm3(top, flat) < skin_mm3(flat)
    assert (ours ^ top).volume() < skin_mm3(flat)


@given(box=raked_boxes(), shelf_mm=st.floats(9, 40), up=st.floats(0.05, 0.6))
def test_a_shelf_end_is_sawn_to_the_underside_of_the_raked_board(box: Setting, shelf_mm: float, up: float) -> None:
    """A level slab trimmed by the lower plane and by the tall side's inner face, against the shelf."""
    rises_right = box.rises == "right"
    x_tall = box.x1_mm - box.side_mm if rises_right else box.x0_mm + box.side_mm
    z_short = lower_height(box, box.x0_mm if rises_right else box.x1_mm)
    z = z_short + up * (lower_height(box, x_tall) - z_short)
    room_left = lower_height(box, x_tall) - z - shelf_mm
    assume(room_left >= 20)
    expected = lower_plane(box).below(level(z + shelf_mm).below(level(z).above(block(box))))
    expected = plumb(x_tall).below(expected) if rises_right else plumb(x_tall).above(expected)
    x_cut = x_at(box.rake.lowered(box.board_mm), z)
    shelf = Shelf(
        fixing="fixed",
        x0_mm=x_cut if rises_right else x_tall,
        x1_mm=x_tall if rises_right else x_cut,
        z_mm=z,
        thickness_mm=shelf_mm,
        depth_mm=box.depth_mm,
        cut_left=rises_right,
        cut_right=not rises_right,
    )
    shape = shelf_shape(shelf=shelf, pitch_rad=box.rake.pitch_rad, y_front_mm=box.y_front_mm)
    points = vertices(expected)
    for is_upper, face in ((True, shape.outline), (False, part(shape, shelf_mm).face_b())):
        seen = points[(points[:, 2] > z + shelf_mm / 2) == is_upper][:, 0]
        assert width(face) == pytest.approx(seen.max() - seen.min(), abs=TOLERANCE_MM)
    assert difference_mm3(our_solid(shape, shelf_mm), expected) < skin_mm3(expected)


def lower_height(box: Setting, x: float) -> float:
    """Height of the lower plane at x, from its own equation."""
    plane = lower_plane(box)
    return (plane.offset - plane.normal[0] * x) / plane.normal[2]


def width(face: tuple[Point2, ...]) -> float:
    """Extent of an outline along u."""
    return max(u for u, _ in face) - min(u for u, _ in face)


# ---- wrong formulas must be caught ----


@given(box=raked_boxes())
def test_a_formula_that_forgets_the_thickness_is_caught(box: Setting) -> None:
    """Without t tan(pitch) the long point and the short point are out by more than 0.1 mm."""
    measured = measured_lengths(box, slab_between(box, *ends_of_board(box)))
    right = lengths_of(formulas(box))
    assert right.agrees(measured)
    length = right.upper_mm
    assert not Lengths(
        upper_mm=length,
        lower_mm=length,
        long_point_mm=length,
        short_point_mm=length,
        bevel_low_rad=right.bevel_low_rad,
        bevel_high_rad=right.bevel_high_rad,
    ).agrees(measured)


@given(box=raked_boxes())
def test_swapped_bevels_are_caught(box: Setting) -> None:
    """A board sawn with its faces mistaken is not the trimmed slab: it is the mirror image that does not fit."""
    expected = slab_between(box, *ends_of_board(box))
    shape = raked_board_shape(board=formulas(box), rake=box.rake, y_front_mm=box.y_front_mm, y_back_mm=box.y_back_mm)
    mirrored = tuple(Edge(bevel_rad=-edge.bevel_rad) for edge in shape.edges)
    wrong = our_solid(Shape(outline=shape.outline, edges=mirrored, frame=shape.frame), box.board_mm)
    assert wrong.volume() == pytest.approx(expected.volume(), rel=1e-9)
    assert difference_mm3(wrong, expected) > 100 * skin_mm3(expected)


@given(box=raked_boxes())
def test_an_upright_cut_to_the_upper_line_fouls_the_board_over_it(box: Setting) -> None:
    """Forgetting the raked board's thickness makes the upright run through it."""
    board = slab_between(box, box.x0_mm, box.x1_mm)
    wrong = our_upright(box, box.x0_mm, box.side_mm, "between", "left")
    assert (wrong ^ board).volume() == pytest.approx(
        box.side_mm * box.depth_mm * box.board_mm / math.cos(math.radians(box.pitch_deg)), rel=1e-6
    )


def test_the_frame_of_a_raked_board_is_right_handed_and_looks_up() -> None:
    """A board rising 3 in 4 to the right: u = (0.8, 0, 0.6), v into the wall, its face A looks up and to the left."""
    rake = Rake(height_at_0_mm=1000.0, slope=0.75)
    board = raked_board(rake=rake, x0_mm=0.0, x1_mm=800.0, side_mm=18.0, board_mm=18.0, low="over", high="over")
    frame = raked_board_shape(board=board, rake=rake, y_front_mm=-400.0, y_back_mm=0.0).frame
    assert frame == Frame(
        origin=(0.0, -400.0, 1000.0), u=(pytest.approx(0.8), 0.0, pytest.approx(0.6)), v=(0.0, 1.0, 0.0)
    )
    assert frame.out_of_face == pytest.approx((-0.6, 0.0, 0.8))
