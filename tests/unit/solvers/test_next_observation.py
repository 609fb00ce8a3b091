"""The choice of the next observation, by hand and against adjusting all over again."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.solvers.next_observation import Prospects, choose


def prospects(
    covariance: np.ndarray, rows: np.ndarray, aims: np.ndarray, noise: np.ndarray, costs: np.ndarray
) -> Prospects:
    """Return what the rows would tell of the aims."""
    return Prospects(
        cross=aims @ covariance @ rows.T,
        among=rows @ covariance @ rows.T,
        noise=noise,
        variances=np.diag(aims @ covariance @ aims.T),
        weights=np.ones(len(aims)),
        costs=costs,
    )


def test_measuring_a_thing_directly_averages_it_with_what_was_known() -> None:
    """By hand: variance 4 known, 1 read: 1 / (1/4 + 1) = 0.8; a second reading: 1 / (1/4 + 2) = 0.444."""
    one = np.eye(1)
    first, second = choose(prospects(4 * one, one, one, np.ones(1), np.ones(1)), 2)
    assert (first.before[0], first.after[0]) == pytest.approx((4, 0.8))
    assert second.after[0] == pytest.approx(4 / 9)


def test_what_costs_less_wins_when_it_tells_the_same() -> None:
    """And a reading that tells nothing is never chosen."""
    rows = np.array([[1.0, 0.0], [1.0, 0.0], [0.0, 1.0]])
    aims = np.array([[1.0, 0.0]])
    (only,) = choose(prospects(np.eye(2), rows, aims, np.ones(3), np.array([2.0, 1.0, 0.1])), 1)
    assert only.row == 1
    assert choose(prospects(np.eye(2), rows[2:], aims, np.ones(1), np.ones(1)), 3) == ()
    assert choose(prospects(np.eye(2), rows[:0], aims, np.ones(0), np.ones(0)), 3) == ()


def test_three_choices_agree_with_adjusting_all_over_again() -> None:
    """The variances after each choice are those of the information with the chosen rows added."""
    rng = np.random.default_rng(5)
    root = rng.normal(size=(6, 9))
    information = root @ root.T
    rows, aims, noise = rng.normal(size=(20, 6)), rng.normal(size=(3, 6)), rng.uniform(0.2, 2, 20)
    covariance = np.linalg.inv(information)
    for choice in choose(prospects(covariance, rows, aims, noise, rng.uniform(1, 2, 20)), 3):
        row = rows[choice.row]
        information = information + np.outer(row, row) / noise[choice.row]
        expected = np.diag(aims @ np.linalg.inv(information) @ aims.T)
        assert choice.after == pytest.approx(expected)
