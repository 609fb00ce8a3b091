"""Where steps lead, on maps worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.solvers.adjust import adjust
from nookwright.solvers.trail import Trail
from nookwright.solvers.whitened import Block


def test_steps_that_swing_to_and_fro_lead_to_the_middle() -> None:
    """By hand: from 0 a step of +1, from 1 a step of -1: a line through both is nil at 0.5, half a step back."""
    trail = Trail().longer(np.array([0.0]), np.array([1.0]), np.ones(1))
    trail = trail.longer(np.array([1.0]), np.array([-1.0]), np.ones(1))
    assert trail.step() == pytest.approx([-0.5])


def test_two_slow_directions_are_settled_at_once() -> None:
    """By hand: x shrinks by 0.9 and y by -0.8 a step; three places tell both, and the step leads to 0, 0."""
    place, trail = np.array([1.0, 1.0]), Trail()
    for _ in range(3):
        step = np.array([-0.1, -1.8]) * place
        trail = trail.longer(place, step, np.ones(2))
        place = place + step
    led = trail.step()
    assert led is not None
    assert trail.places[-1] + led == pytest.approx([0, 0], abs=1e-9)


def test_steps_that_shrink_fast_are_left_alone() -> None:
    """The plain step is best then; and one place tells nothing."""
    trail = Trail().longer(np.array([0.0]), np.array([1.0]), np.ones(1))
    assert trail.step() is None
    assert trail.longer(np.array([1.0]), np.array([0.1]), np.ones(1)).step() is None


def test_readings_far_off_settle_in_a_few_steps() -> None:
    """Two lengths to a point from places 2 apart that sum to far less than 2: plain steps swing to and fro for ever.

    By hand: lengths of 0.3 from -1 and from 1 are best met on the line between them, at 0, and off it nothing is better.
    """
    ends = np.array([[-1.0, 0.0], [1.0, 0.0]])

    def lengths(state: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        along = state - ends
        size = np.sqrt((along**2).sum(axis=1))
        return np.append(size - 0.3, 0.9 * state[1]), np.vstack([along / size[:, None], [0.0, 0.9]])

    fit = adjust(start=np.array([0.3, 0.5]), blocks=[Block(evaluate=lengths, columns=np.arange(2), sd=np.ones(3))])
    assert fit.converged
    assert fit.iterations < 40
    assert fit.state == pytest.approx([0, 0], abs=1e-6)
