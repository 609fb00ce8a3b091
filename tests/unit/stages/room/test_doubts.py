"""Readings exchanged: how much likelier an exchange must make a good field book before it is told."""

from __future__ import annotations

import math

import numpy as np
import pytest

from nookwright.stages.room.doubts import EXCHANGE_ALARM, LEAST_GAIN, _pair_limits


def chance_above(limit: float, weight: float) -> float:
    """Return how often a normal value about minus the weight, with four times that as its variance, is above a limit."""
    return 0.5 * math.erfc((limit + weight) / (2 * math.sqrt(weight)) / math.sqrt(2))


@pytest.mark.parametrize("weight", [0.1, 1.0, 5.0, 11.0, 30.0, 200.0])
def test_no_exchange_is_told_by_chance_more_often_than_chosen(weight: float) -> None:
    """Each of five pairs has a fifth of the chance, whatever its two readings differ by."""
    (limit, *_) = _pair_limits(np.array([weight] * 5))
    assert chance_above(limit, weight) <= EXCHANGE_ALARM / 5 * (1 + 1e-9)
    if limit > LEAST_GAIN:  # and no less often: a limit too high would miss what could be found
        assert chance_above(limit, weight) == pytest.approx(EXCHANGE_ALARM / 5)


def test_the_gains_of_chance_are_spread_as_the_limits_take_them() -> None:
    """By chance drawn, 20,000 good field books: errors a known, a gain of 2 a'Pe - a'Pa with e of covariance P^-1."""
    chance = np.random.default_rng(3)
    root = chance.normal(size=(3, 3))
    hold = root @ root.T
    errors = chance.multivariate_normal(np.zeros(3), np.linalg.inv(hold), 20_000)
    planted = np.array([1.0, -1.0, 0.0])
    weight = float(planted @ hold @ planted)
    gains = 2 * errors @ hold @ planted - weight
    assert gains.mean() == pytest.approx(-weight, abs=0.05 * weight)
    assert gains.var() == pytest.approx(4 * weight, rel=0.05)


def test_readings_that_hardly_differ_are_never_told_to_be_exchanged_for_little() -> None:
    """Where the limit of chance is low, everything must still become 20 times likelier."""
    assert _pair_limits(np.array([0.01, 400.0])) == [LEAST_GAIN, LEAST_GAIN]
