"""Distances and points along an outline, worked by hand."""

from __future__ import annotations

import pytest

from nookwright.geometry.polygon import distance_to_boundary_mm, points_along

SQUARE = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))


@pytest.mark.parametrize(
    ("point", "distance"), [((2.0, 1.0), 1.0), ((2.0, 0.0), 0.0), ((7.0, 8.0), 5.0), ((-3.0, 2.0), 3.0)]
)
def test_distance_to_the_boundary_is_taken_from_either_side(point: tuple[float, float], distance: float) -> None:
    """Inside, on a side, off a corner (3-4-5), off a side."""
    assert distance_to_boundary_mm(point, SQUARE) == pytest.approx(distance)


def test_points_along_keep_every_corner_and_the_spacing() -> None:
    """Sides of 4 at most 3 apart: one point half-way along each."""
    assert points_along(SQUARE, 3.0) == (
        (0.0, 0.0), (2.0, 0.0), (4.0, 0.0), (4.0, 2.0), (4.0, 4.0), (2.0, 4.0), (0.0, 4.0), (0.0, 2.0),
    )  # fmt: skip
