"""Raked boards worked by hand on a 3-4-5 slope: rise 3 in 4, so cos = 0.8, sin = 0.6, tan = 0.75.

A 20 mm board measured plumb is 20 / 0.8 = 25 mm deep, and a plumb cut shifts by 20 x 0.75 = 15 mm along the slope.
"""

from __future__ import annotations

import math
from typing import Literal

import pytest

from nookwright.geometry.frame import Frame
from nookwright.stages.design.design import Rake, Shelf, Upright
from nookwright.stages.inputs.brief import RakeEnd
from nookwright.stages.parts.raked import (
    RakedBoard,
    level_top_shape,
    panel_shape,
    raked_board,
    raked_board_shape,
    shelf_shape,
    upright_shape,
    upright_top,
)

PITCH = math.atan(0.75)
RISING = Rake(height_at_0_mm=1000.0, slope=0.75)
FALLING = Rake(height_at_0_mm=1600.0, slope=-0.75)


def board(low: RakeEnd, high: RakeEnd, rake: Rake = RISING, level_top_mm: float | None = None) -> RakedBoard:
    """A box from x = 0 to 800 with sides and boards of 20."""
    return raked_board(
        rake=rake,
        x0_mm=0.0,
        x1_mm=800.0,
        side_mm=20.0,
        board_mm=20.0,
        low=low,
        high=high,
        level_top_mm=level_top_mm,
    )


@pytest.mark.parametrize(
    ("low", "high", "upper"),
    [
        ("over", "over", 1000.0),  # 800 / 0.8
        ("over", "between", 975.0),  # 780 / 0.8
        ("between", "over", 975.0),
        ("between", "between", 950.0),  # 760 / 0.8
    ],
)
def test_a_board_with_two_plumb_ends_has_equal_faces_shifted_along_the_slope(
    low: RakeEnd, high: RakeEnd, upper: float
) -> None:
    """Long point = face + 15, short point = face - 15."""
    for rake in (RISING, FALLING):
        found = board(low, high, rake)
        assert found.length_upper_mm == pytest.approx(upper)
        assert found.length_lower_mm == pytest.approx(upper)
        assert found.long_point_mm == pytest.approx(upper + 15.0)
        assert found.short_point_mm == pytest.approx(upper - 15.0)
        assert found.bevel_low_rad == pytest.approx(PITCH)
        assert found.bevel_high_rad == pytest.approx(-PITCH)


def test_the_short_side_is_the_right_one_where_the_rake_falls_to_the_right() -> None:
    """`between` at the low end then takes the thickness off at the right."""
    found = board("between", "over", FALLING)
    assert (found.x_left_mm, found.x_right_mm) == (0.0, 780.0)
    assert not found.rises_right


def test_a_mitre_takes_half_the_pitch_off_the_lower_face() -> None:
    """Level top at 1300, so the ridge is at x = 400: upper face 500; tan(pitch / 2) = 0.6 / 1.8 = 1/3."""
    found = board("over", "between", level_top_mm=1300.0)
    assert found.x_right_mm == pytest.approx(400.0)
    assert found.length_upper_mm == pytest.approx(500.0)
    assert found.bevel_high_rad == pytest.approx(-PITCH / 2)
    assert found.length_lower_mm == pytest.approx(500.0 + 15.0 - 20.0 / 3)
    assert found.long_point_mm == pytest.approx(515.0)
    assert found.short_point_mm == pytest.approx(500.0 - 20.0 / 3)


def test_the_shape_of_a_raked_board_puts_each_bevel_at_its_own_end() -> None:
    """Edge 1 is the right end, edge 3 the left; the low end has the bevel above 0."""
    rising = raked_board_shape(board=board("over", "over"), rake=RISING, y_front_mm=-300.0, y_back_mm=0.0)
    falling = raked_board_shape(board=board("over", "over", FALLING), rake=FALLING, y_front_mm=-300.0, y_back_mm=0.0)
    assert [edge.bevel_rad for edge in rising.edges] == pytest.approx([0.0, -PITCH, 0.0, PITCH])
    assert [edge.bevel_rad for edge in falling.edges] == pytest.approx([0.0, PITCH, 0.0, -PITCH])
    assert falling.frame.origin == (0.0, -300.0, 1600.0)
    assert falling.frame.u == pytest.approx((0.8, 0.0, -0.6))
    assert rising.outline[2] == pytest.approx((1000.0, 300.0))


@pytest.mark.parametrize(
    ("meets", "left", "right"),
    [("over", 975.0 + 75.0, 975.0 + 90.0), ("between", 1000.0 + 75.0, 1000.0 + 90.0)],
)
def test_an_upright_ends_under_the_board_or_flush_with_it(meets: RakeEnd, left: float, right: float) -> None:
    """At x = 100 and 120 the line has risen by 75 and 90; the underside is 25 lower, plumb."""
    top = upright_top(rake=RISING, meets=meets, board_mm=20.0, x_mm=100.0, thickness_mm=20.0)
    assert top.z_left_mm == pytest.approx(left)
    assert top.z_right_mm == pytest.approx(right)
    assert top.bevel_rad == pytest.approx(PITCH)


@pytest.mark.parametrize(
    ("meets", "x", "left", "right"),
    [
        ("over", 600.0, 1280.0, 1280.0),
        ("between", 600.0, 1300.0, 1300.0),
        ("over", 395.0, 975.0 + 0.75 * 395.0, 1280.0),  # under the mitre: below both boards
        ("over", 100.0, 1050.0, 1065.0),
    ],
)
def test_an_upright_keeps_below_the_level_top(meets: RakeEnd, x: float, left: float, right: float) -> None:
    """A level top at 1300, 20 thick: its underside is at 1280."""
    top = upright_top(rake=RISING, meets=meets, board_mm=20.0, x_mm=x, thickness_mm=20.0, level_top_mm=1300.0)
    assert top.z_left_mm == pytest.approx(left)
    assert top.z_right_mm == pytest.approx(right)


@pytest.mark.parametrize(
    ("face_a", "height", "sign", "origin"),
    [("left", 950.0, 1, (100.0, -300.0, 100.0)), ("right", 965.0, -1, (120.0, 0.0, 100.0))],
)
def test_the_same_upright_drawn_on_either_face_has_the_opposite_bevel(
    face_a: Literal["left", "right"], height: float, sign: int, origin: tuple[float, float, float]
) -> None:
    """From 100 up to 1050 at its left face and 1065 at its right."""
    upright = Upright(kind="side", x_mm=100.0, thickness_mm=20.0, z0_mm=100.0, z1_left_mm=1050.0, z1_right_mm=1065.0)
    shape = upright_shape(upright=upright, face_a=face_a, y_front_mm=-300.0, y_back_mm=0.0)
    assert shape.outline[1] == pytest.approx((height, 0.0))
    assert [edge.bevel_rad for edge in shape.edges] == pytest.approx([0.0, sign * PITCH, 0.0, 0.0])
    assert shape.frame.origin == origin
    assert shape.frame.out_of_face == pytest.approx((-sign, 0.0, 0.0))


def test_a_level_upright_has_square_edges() -> None:
    """No bevel of a millionth of a degree."""
    upright = Upright(kind="side", x_mm=0.0, thickness_mm=18.0, z0_mm=0.0, z1_left_mm=700.0, z1_right_mm=700.0)
    shape = upright_shape(upright=upright, face_a="left", y_front_mm=-300.0, y_back_mm=0.0)
    assert all(edge.bevel_rad == 0.0 for edge in shape.edges)


@pytest.mark.parametrize(
    ("rake", "x_end", "origin_x", "length", "bevels"),
    [
        (RISING, 780.0, 400.0, 380.0, [0.0, 0.0, 0.0, -PITCH / 2]),
        (FALLING, 20.0, 20.0, 380.0, [0.0, -PITCH / 2, 0.0, 0.0]),
    ],
)
def test_a_level_top_is_mitred_where_it_meets_the_rake(
    rake: Rake, x_end: float, origin_x: float, length: float, bevels: list[float]
) -> None:
    """The ridge is at x = 400 on both rakes."""
    shape = level_top_shape(
        rake=rake, level_top_mm=1300.0, board_mm=20.0, x_end_mm=x_end, y_front_mm=-300.0, y_back_mm=0.0
    )
    assert shape.frame.origin == pytest.approx((origin_x, -300.0, 1300.0))
    assert shape.outline[2] == pytest.approx((length, 300.0))
    assert [edge.bevel_rad for edge in shape.edges] == pytest.approx(bevels)


def test_a_level_top_shorter_than_its_mitre_is_refused() -> None:
    """The mitre takes 20 / 3 mm; 5 mm of top cannot hold it."""
    with pytest.raises(ValueError, match=r"no level top is left beyond the mitre at x = 400\.0 mm"):
        level_top_shape(
            rake=RISING, level_top_mm=1300.0, board_mm=20.0, x_end_mm=405.0, y_front_mm=-300.0, y_back_mm=0.0
        )


def test_a_shelf_end_under_the_rake_is_longer_below() -> None:
    """Underside at 1050 meets the lower line (975 at x = 0) at x = 100; 15 / 0.75 = 20 further at its top."""
    shelf = Shelf(
        fixing="fixed", x0_mm=100.0, x1_mm=700.0, z_mm=1050.0, thickness_mm=15.0, depth_mm=280.0, cut_left=True
    )
    shape = shelf_shape(shelf=shelf, pitch_rad=PITCH, y_front_mm=-300.0)
    assert shape.frame.origin == pytest.approx((120.0, -300.0, 1065.0))
    assert shape.outline[1] == pytest.approx((580.0, 0.0))
    assert [edge.bevel_rad for edge in shape.edges] == pytest.approx([0.0, 0.0, 0.0, math.pi / 2 - PITCH])


def test_a_shelf_with_nothing_left_on_top_is_refused() -> None:
    """15 mm of shelf under a 3-in-4 slope loses 20 mm of length."""
    shelf = Shelf(
        fixing="fixed", x0_mm=100.0, x1_mm=119.0, z_mm=1050.0, thickness_mm=15.0, depth_mm=280.0, cut_left=True
    )
    with pytest.raises(ValueError, match=r"nothing is left of the upper face of the shelf at z = 1050\.0 mm"):
        shelf_shape(shelf=shelf, pitch_rad=PITCH, y_front_mm=-300.0)


OUTLINE = ((100.0, 50.0), (500.0, 50.0), (500.0, 650.0), (100.0, 350.0))


def test_a_back_with_standing_grain_is_turned_not_mirrored() -> None:
    """U is up and v runs to the left: the same corners, from the lower right."""
    shape = panel_shape(outline=OUTLINE, y_face_mm=-6.0)
    assert shape.outline == ((0.0, 400.0), (0.0, 0.0), (600.0, 0.0), (300.0, 400.0))
    assert shape.frame == Frame(origin=(500.0, -6.0, 50.0), u=(0.0, 0.0, 1.0), v=(-1.0, 0.0, 0.0))
    assert [shape.frame.to_room(u, v)[::2] for u, v in shape.outline] == list(OUTLINE)


def test_a_back_with_lying_grain_is_seen_as_it_stands() -> None:
    """U runs right, v up; the thickness runs into the wall."""
    shape = panel_shape(outline=OUTLINE, y_face_mm=-6.0, grain_up=False)
    assert shape.outline[2] == (400.0, 600.0)
    assert [shape.frame.to_room(u, v)[::2] for u, v in shape.outline] == list(OUTLINE)
    assert shape.frame.to_room(0.0, 0.0, 6.0)[1] == 0.0


def test_an_inset_back_keeps_inside_by_the_inset_square_to_each_edge() -> None:
    """2 mm in: the raked edge drops 2 / 0.8 = 2.5 plumb, and 2 mm to the right its line is 1.5 higher."""
    shape = panel_shape(outline=OUTLINE, y_face_mm=-6.0, grain_up=False, inset_mm=2.0)
    in_room = [shape.frame.to_room(u, v)[::2] for u, v in shape.outline]
    assert in_room[0] == pytest.approx((102.0, 52.0))
    assert in_room[3] == pytest.approx((102.0, 350.0 + 1.5 - 2.5))
    assert in_room[2] == pytest.approx((498.0, 650.0 - 1.5 - 2.5))
