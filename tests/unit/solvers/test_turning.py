"""Turns and shifts: found again from points, and their derivatives."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.solvers.turning import rigid_fit, spread_off_line, turn_about_axes

CORNERS = np.array([[0.0, 0, 0], [900, 0, 0], [0, 500, 0], [900, 500, 2000.0]])


def test_a_turn_and_shift_are_found_again() -> None:
    """A quarter turn about z takes x to y and y to -x: exact by hand."""
    moved = np.column_stack([10 - CORNERS[:, 1], CORNERS[:, 0] - 20, CORNERS[:, 2] + 30])
    turn, shift = rigid_fit(CORNERS, moved)
    assert turn == pytest.approx(np.array([[0.0, -1, 0], [1, 0, 0], [0, 0, 1]]), abs=1e-9)
    assert shift == pytest.approx([10, -20, 30], abs=1e-6)


def test_a_mirror_image_is_never_taken_for_a_turn() -> None:
    """Left and right changed over leaves a miss; the turn stays a turn."""
    turn, _ = rigid_fit(CORNERS, CORNERS * (-1, 1, 1))
    assert np.linalg.det(turn) == pytest.approx(1)


def test_points_on_a_line_have_no_spread_off_it() -> None:
    """Three in a row tell nothing of the turn about it; the corners of a square of side 2 stray by 1 from any middle line."""
    assert spread_off_line(np.array([[0.0, 0, 0], [1, 1, 1], [2, 2, 2]])) == pytest.approx(0, abs=1e-9)
    square = np.array([[1.0, 1, 5], [1, -1, 5], [-1, 1, 5], [-1, -1, 5]])
    assert spread_off_line(square) == pytest.approx(1)


def test_derivatives_of_a_turn_are_those_of_differences() -> None:
    """Central differences of 1e-6 rad agree to 1e-8."""
    angles = np.array([0.3, -0.2, 1.1])
    _, slopes = turn_about_axes(angles)
    for axis, slope in enumerate(slopes):
        step = np.eye(3)[axis] * 1e-6
        by_difference = (turn_about_axes(angles + step)[0] - turn_about_axes(angles - step)[0]) / 2e-6
        assert slope == pytest.approx(by_difference, abs=1e-8)


def test_a_turn_keeps_lengths_and_hands() -> None:
    """R' R is 1 and its determinant +1."""
    turn, _ = turn_about_axes(np.array([0.3, -0.2, 1.1]))
    assert turn.T @ turn == pytest.approx(np.eye(3), abs=1e-12)
    assert np.linalg.det(turn) == pytest.approx(1)
