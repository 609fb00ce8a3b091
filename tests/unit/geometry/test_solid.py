"""Solids against volumes worked by hand and against an independent mesh library."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from nookwright.geometry.frame import Frame
from nookwright.geometry.mesh import Mesh, mesh_of
from nookwright.geometry.solid import (
    Solid,
    bounds_overlap,
    box,
    interference_mm3,
    less,
    placed,
    slab,
)

RECTANGLE = ((0.0, 0.0), (100.0, 0.0), (100.0, 40.0), (0.0, 40.0))
L_SHAPE = ((0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (20.0, 20.0), (20.0, 50.0), (0.0, 50.0))


def in_trimesh(solid: Solid) -> trimesh.Trimesh:
    """The same solid in the independent library."""
    mesh = mesh_of(solid)
    return trimesh.Trimesh(vertices=np.array(mesh.vertices), faces=np.array(mesh.triangles), process=False)


def wedge_ended() -> Solid:
    """A 100 x 40 x 10 board whose right end leans out by 10, at 45 degrees: face B is 110 long."""
    far = ((0.0, 0.0), (110.0, 0.0), (110.0, 40.0), (0.0, 40.0))
    return slab(near=RECTANGLE, far=far, near_mm=0.0, far_mm=10.0)


def test_a_bevelled_board_has_the_volume_of_its_mean_face() -> None:
    """Mean length 105, so 105 x 40 x 10 mm3."""
    assert wedge_ended().volume_mm3 == pytest.approx(105 * 40 * 10)


def test_a_board_lies_below_its_face_a() -> None:
    """Thickness runs along minus the third axis."""
    assert wedge_ended().bounds == ((0.0, 0.0, -10.0), (110.0, 40.0, 0.0))


def test_a_board_with_an_inside_corner_is_closed_and_exact() -> None:
    """L of 60 x 20 and 20 x 30: 1800 mm2, 5 thick."""
    solid = slab(near=L_SHAPE, far=L_SHAPE, near_mm=0.0, far_mm=5.0)
    mesh = in_trimesh(solid)
    assert solid.volume_mm3 == pytest.approx(1800 * 5)
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(1800 * 5)


@pytest.mark.parametrize("moved", [(0.0, 0.0, 0.0), (300.0, -50.0, 20.0)])
def test_volume_agrees_with_an_independent_library_wherever_the_board_stands(
    moved: tuple[float, float, float],
) -> None:
    """The divergence theorem over the triangles, in another library, gives the same volume."""
    frame = Frame(origin=moved, u=(0.6, 0.0, 0.8), v=(0.0, 1.0, 0.0))
    solid = less(placed(wedge_ended(), frame), (box(low=moved, high=tuple(c + 15.0 for c in moved)),))
    mesh = in_trimesh(solid)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.volume == pytest.approx(solid.volume_mm3, rel=1e-6)


def test_bevels_that_meet_inside_the_board_are_refused() -> None:
    """Both ends lean in by 60 on a board 100 long: nothing is left of face B."""
    far = ((60.0, 0.0), (40.0, 0.0), (40.0, 40.0), (60.0, 40.0))
    with pytest.raises(ValueError, match="the bevels beside edge 0 meet inside the board"):
        slab(near=RECTANGLE, far=far, near_mm=0.0, far_mm=10.0)


def test_an_outline_the_wrong_way_round_is_refused() -> None:
    """A clockwise outline would turn the board inside out."""
    clockwise = tuple(reversed(RECTANGLE))
    with pytest.raises(ValueError, match="the outlines do not bound a solid"):
        slab(near=clockwise, far=clockwise, near_mm=0.0, far_mm=10.0)


def test_a_frame_puts_the_board_behind_its_face() -> None:
    """Face A seen from the room (u right, v up): the thickness runs into the wall, towards larger y."""
    frame = Frame(origin=(10.0, -300.0, 5.0), u=(1.0, 0.0, 0.0), v=(0.0, 0.0, 1.0))
    low, high = placed(wedge_ended(), frame).bounds
    assert low == pytest.approx((10.0, -300.0, 5.0))
    assert high == pytest.approx((120.0, -290.0, 45.0))


def test_shared_volume_is_that_of_the_overlap() -> None:
    """Two cubes of 10 that overlap by 1 x 2 x 3; side by side they share nothing."""
    cube = box(low=(0.0, 0.0, 0.0), high=(10.0, 10.0, 10.0))
    other = box(low=(9.0, 8.0, 7.0), high=(19.0, 18.0, 17.0))
    beside = box(low=(10.0, 0.0, 0.0), high=(20.0, 10.0, 10.0))
    assert interference_mm3(cube, other) == pytest.approx(6.0)
    assert interference_mm3(cube, beside) == pytest.approx(0.0, abs=1e-9)
    assert bounds_overlap(cube, other, 0.5)
    assert not bounds_overlap(cube, other, 1.5)


def test_a_mesh_is_in_the_same_order_however_the_solid_was_made() -> None:
    """A cube cut from a longer box, and a cube made at once, are written alike."""
    at_once = mesh_of(box(low=(0.0, 0.0, 0.0), high=(1.0, 1.0, 1.0)))
    assert at_once.vertices[0] == (0.0, 0.0, 0.0)
    assert at_once.vertices == tuple(sorted(at_once.vertices))
    assert at_once.triangles == tuple(sorted(at_once.triangles))
    assert all(triangle[0] == min(triangle) for triangle in at_once.triangles)
    turned = placed(
        box(low=(0.0, 0.0, 0.0), high=(1.0, 1.0, 1.0)),
        Frame(origin=(0.0, 0.0, 0.0), u=(1.0, 0.0, 0.0), v=(0.0, 1.0, 0.0)),
    )
    assert mesh_of(turned) == at_once


def test_a_mesh_has_no_needless_vertices() -> None:
    """A box is 8 corners and 12 triangles."""
    mesh: Mesh = mesh_of(box(low=(0.0, 0.0, 0.0), high=(3.0, 2.0, 1.0)))
    assert (len(mesh.vertices), len(mesh.triangles)) == (8, 12)
