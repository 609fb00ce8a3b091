"""Which observations to take to find out which of several explanations is the true one."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from nookwright.solvers.linear_fit import Matrix, Vector

APART = 0.05
"""Explanations count as told apart once this is left of their likeness. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rivals:
    """Explanations of what was observed, and what each says of observations that could be taken.

    Args:
        likely: how likely each is, adding up to 1.
        says: the value each expects (row) of each observation (column), up to a constant for each column.
        spread: covariance of the observations about that, their own errors included.
        costs: of each observation, above 0.
    """

    likely: Vector
    says: Matrix
    spread: Matrix
    costs: Vector


def telling(rivals: Rivals, count: int) -> tuple[int, ...]:
    """Choose observations one after another, each the one that makes the explanations least alike for its cost.

    Two explanations are as alike as their two normal laws overlap: sqrt(p q) exp(-d^2 / 8), d the distance of what
    they expect in standard deviations, of all observations chosen together. That bounds how often they are confused.

    Args:
        rivals: the explanations.
        count: how many observations to choose at most.

    Returns:
        The observations in order; fewer when the explanations are told apart before, or nothing tells them apart.

    Source:
        The Bhattacharyya bound of the error between two normal laws of one covariance. Status: recalled.
    """
    says, spread = rivals.says.copy(), rivals.spread.copy()
    pairs = list(combinations(range(len(rivals.likely)), 2))
    if not pairs or not len(rivals.costs):
        return ()
    first, second = (np.array(side) for side in zip(*pairs, strict=True))
    alike = np.sqrt(rivals.likely[first] * rivals.likely[second])
    enough, found = APART * float(alike.sum()), list[int]()
    while len(found) < count and alike.sum() > enough:
        whole = np.diag(spread)
        left = alike[:, None] * np.exp(-((says[first] - says[second]) ** 2) / whole / 8)
        worth = (alike.sum() - left.sum(axis=0)) / rivals.costs
        worth[found] = 0.0
        best = int(np.argmax(worth))
        if worth[best] * rivals.costs[best] <= APART * alike.sum():
            break
        found.append(best)
        alike = left[:, best]
        pull = spread[:, best] / whole[best]
        says = says - np.outer(says[:, best], pull)
        spread = spread - np.outer(pull, spread[best])
        spread[np.diag_indices(len(spread))] = np.maximum(np.diag(spread), 1e-9 * np.diag(rivals.spread))
    return tuple(found)
