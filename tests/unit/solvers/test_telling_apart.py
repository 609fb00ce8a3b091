"""Observations that tell explanations apart: by hand, and never more than help."""

from __future__ import annotations

import math

import numpy as np

from nookwright.solvers.telling_apart import Rivals, telling


def rivals(says: list[list[float]], costs: list[float], spread: list[list[float]] | None = None) -> Rivals:
    """Return explanations that are equally likely, of independent observations with a spread of 1."""
    count = len(says)
    return Rivals(
        likely=np.full(count, 1 / count),
        says=np.array(says),
        spread=np.eye(len(costs)) if spread is None else np.array(spread),
        costs=np.array(costs),
    )


def test_the_observation_that_tells_most_for_its_cost_comes_first() -> None:
    """By hand: 2 and 6 standard deviations apart leave exp(-1/2) and exp(-9/2) of the likeness.

    They take 0.39 and 0.99 of it. For the same cost the second wins, and is enough; at three times the cost the first
    one wins, and the second comes after it.
    """
    assert math.exp(-36 / 8) < 0.05 < math.exp(-4 / 8)
    assert telling(rivals([[0, 0], [2, 6]], [1, 1]), 3) == (1,)
    assert telling(rivals([[0, 0], [2, 6]], [1, 3]), 3) == (0, 1)


def test_what_says_the_same_of_all_is_never_taken() -> None:
    """The second observation tells nothing, nor does any when there is one explanation."""
    assert telling(rivals([[0, 5], [9, 5], [18, 5]], [1, 0.01]), 3) == (0,)
    assert telling(rivals([[0, 5]], [1, 1]), 3) == ()


def test_three_explanations_may_take_two_observations() -> None:
    """By hand: the first parts A from B and C, the second B from the others; neither alone is enough."""
    assert sorted(telling(rivals([[9, 0], [0, 9], [0, 0]], [1, 1]), 3)) == [0, 1]
    assert len(telling(rivals([[9, 0], [0, 9], [0, 0]], [1, 1]), 1)) == 1


def test_an_observation_that_only_repeats_another_is_worth_nothing_after_it() -> None:
    """Two that share all their error: having both tells no more than one, so a third that stands alone is better."""
    spread = [[1.0, 0.999, 0.0], [0.999, 1.0, 0.0], [0.0, 0.0, 1.0]]
    assert telling(rivals([[0, 0, 0], [3, 3, 2.9]], [1, 1, 1], spread), 2)[1] == 2
