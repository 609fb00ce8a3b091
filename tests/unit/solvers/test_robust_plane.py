"""Planes found behind things that stand before them."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.solvers.robust_plane import clipped_plane, outermost_plane

GRID = np.array(np.meshgrid(np.arange(0, 1000, 100.0), np.arange(0, 2000, 100.0))).reshape(2, -1).T


def test_the_plane_behind_a_cupboard_is_found() -> None:
    """A cupboard 100 mm deep hides more than half of the wall; its front is the larger plane, the wall the outer one."""
    true = 5 + 0.01 * GRID[:, 0] - 0.02 * GRID[:, 1]
    hidden = (GRID[:, 0] >= 200) & (GRID[:, 1] < 1400)
    assert 0.5 < np.mean(hidden) < 0.6
    plane = outermost_plane(GRID, np.where(hidden, 100 + true, true), near=10, most_tilt=0.2)
    assert plane == pytest.approx([5, 0.01, -0.02], abs=1e-9)


def test_a_few_points_behind_the_wall_do_not_carry_it_away() -> None:
    """What is seen through a window lies farther out, but little of it is on one plane."""
    heights = np.zeros(len(GRID))
    heights[::10] = -150.0
    assert outermost_plane(GRID, heights, near=10, most_tilt=0.2) == pytest.approx([0, 0, 0], abs=1e-9)


def test_too_few_places_make_no_plane() -> None:
    """Two, or three on a line."""
    assert outermost_plane(GRID[:2], np.zeros(2), near=10, most_tilt=0.2) is None
    assert outermost_plane(np.array([[0.0, 0], [1, 1], [2, 2]]), np.zeros(3), near=10, most_tilt=0.2) is None


def test_a_patch_leaves_out_what_lies_off_it() -> None:
    """One point in five stands 12 mm out, as a moulding does."""
    rng = np.random.default_rng(1)
    places = rng.uniform(-100, 100, (400, 2))
    heights = 3 + 0.01 * places[:, 0] + rng.normal(0, 1, 400)
    heights[:80] += 12
    plane, sd, counted = clipped_plane(places, heights, least_sd=0.5)
    assert plane[0] == pytest.approx(3, abs=0.2)
    assert plane[1:] == pytest.approx([0.01, 0], abs=0.004)
    assert sd == pytest.approx(1, abs=0.15)
    assert not counted[:80].any()
