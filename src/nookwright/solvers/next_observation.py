"""Which observations to take next: those that make what is wanted surer, for what they cost."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nookwright.solvers.linear_fit import Matrix, Vector


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Choice:
    """One observation chosen.

    Args:
        row: which one.
        before, after: variances of what is wanted before and after it is taken, all chosen before it taken.
    """

    row: int
    before: Vector
    after: Vector


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Prospects:
    """What observations would tell of what is wanted.

    Args:
        cross: covariance of each wanted value (row) with each observation's computed value (column).
        among: covariance of the observations' computed values.
        noise: variance of each observation's own error.
        variances: of the wanted values now.
        weights: how much a unit of each variance matters.
        costs: of each observation, above 0.
    """

    cross: Matrix
    among: Matrix
    noise: Vector
    variances: Vector
    weights: Vector
    costs: Vector


def choose(prospects: Prospects, count: int) -> tuple[Choice, ...]:
    """Choose observations one after another, each the one that takes most off the weighted variances for its cost.

    Nothing is adjusted again: an observation with covariance c to a wanted value and variance g + n in all takes
    c^2 / (g + n) off that value's variance, and changes the other covariances likewise.

    Args:
        prospects: the observations.
        count: how many to choose.

    Returns:
        The choices in order; fewer when nothing helps any more.

    Source:
        Rank-one update of a covariance, as in a Kalman filter. Status: recalled.
    """
    cross, among, variances = prospects.cross.copy(), prospects.among.copy(), prospects.variances.copy()
    found: list[Choice] = []
    for _ in range(count):
        whole = np.diag(among) + prospects.noise
        saved = cross**2 / whole
        worth = prospects.weights @ saved / prospects.costs
        best = int(np.argmax(worth)) if len(worth) else -1
        if best < 0 or worth[best] <= 0:
            break
        after = np.maximum(variances - saved[:, best], 0.0)
        found.append(Choice(row=best, before=variances, after=after))
        cross, among = (
            cross - np.outer(cross[:, best], among[best]) / whole[best],
            among - np.outer(among[best], among[best]) / whole[best],
        )
        variances = after
    return tuple(found)
