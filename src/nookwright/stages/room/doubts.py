"""One look at a network: how much likelier everything is with a reading wrong, or with two exchanged."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np

from nookwright.solvers.chance import normal_quantile
from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.shared_scale import ScaleScan, scan_scales
from nookwright.stages.room.chosen_waviness import near_declared, scales_tried
from nookwright.stages.room.network import Network, scaled_system
from nookwright.stages.room.slip_kinds import mirrored_pairs

FALSE_ALARM = 0.0125
"""Chance that a good field book is told to hold a slip, on walls about as wavy as declared; walls twice as wavy double
it. Our choice: 0.03 is the most that is borne."""

EXCHANGE_ALARM = 0.005
"""Chance that a good field book is told to hold two readings exchanged, likewise. Our choice, as above."""

LEAST_GAIN = 6.0
"""Exchanging two readings must make everything at least so much likelier: exp(3) = 20 times. Common practice, no
source."""

LEAST_SHARE = 1e-300
"""Keeps the logarithm of a scale's share finite."""

Pair = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Doubts:
    """What a look shows.

    Args:
        waviness_mm: root mean square over the scales, each as likely as it is. [mm]
        gains: for each reading's place: twice the logarithm of how much likelier everything is with a slip there.
        exchanges: the same for two readings of the two sides, were each written where the other belongs.
        limit: what the greatest gain exceeds by chance only.
        pair_limits: what each exchange's gain exceeds by chance only.
    """

    waviness_mm: float
    gains: dict[int, float]
    exchanges: dict[Pair, float]
    limit: float
    pair_limits: dict[Pair, float]

    @property
    def worst(self) -> int | None:
        """The most suspect reading, if it is suspect at all."""
        place = max(self.gains, key=lambda place: self.gains[place], default=None)
        return place if place is not None and self.gains[place] > self.limit else None

    @property
    def worst_pair(self) -> Pair | None:
        """The two readings that were probably exchanged, if that explains more than any single slip."""
        least = max(self.gains.values(), default=0.0)
        good = (pair for pair, gain in self.exchanges.items() if gain > max(least, self.pair_limits[pair]))
        return max(good, key=lambda pair: self.exchanges[pair], default=None)

    def as_well(self, place: int, within: float) -> tuple[int, ...]:
        """Return the other readings whose slip would explain the rest nearly as well as that of this one."""
        least = max(self.limit, self.gains[place] - within)
        return tuple(other for other, gain in self.gains.items() if gain > least and other != place)


def doubts_of(network: Network, state: Vector, aside: Collection[int]) -> Doubts:
    """Look at a network.

    Each reading is judged by how much likelier all readings become when it is free to be wrong, with the waviness
    free to be what it then wants to be: one bad reading gains a lot by that, a wavy wall gains nothing. Walls much
    wavier than declared are less likely than a slip.

    Args:
        network: the network.
        state: what is linear is linear about it.
        aside: readings that do not count, by their place in the survey.

    Returns:
        How suspect every reading is that counts.
    """
    scales = scales_tried(network.survey.tools)
    system = scaled_system(network, state, aside)
    counted = [(place, value) for place, value in network.rows.read if place not in aside]
    scan = scan_scales(system, scales, range(len(counted)))
    shares = scan.likelihoods(near_declared(scales, network.survey.tools))
    gains = _averaged(scan.precisions * scan.errors**2 / 2, shares)
    rows = {place: row for row, (place, _) in enumerate(counted)}
    pairs = [pair for pair in mirrored_pairs(network.survey.readings) if rows.keys() >= set(pair)]
    values = np.array([value for _, value in counted])
    logs, weights = _of_pairs(scan, [(rows[one], rows[two]) for one, two in pairs], values)
    exchanged = _averaged(logs, shares)
    checked = int(np.count_nonzero(np.any(scan.precisions > 0, axis=0)))
    return Doubts(
        waviness_mm=float(np.sqrt(shares @ scales**2)),
        gains=dict(zip(rows, gains.tolist(), strict=True)),
        exchanges=dict(zip(pairs, exchanged.tolist(), strict=True)),
        limit=normal_quantile(1 - FALSE_ALARM / (2 * max(checked, 1))) ** 2,
        pair_limits=dict(zip(pairs, _pair_limits(shares @ weights), strict=True)),
    )


def _pair_limits(weights: Vector) -> list[float]:
    """Return what the gain of each exchange exceeds by chance only.

    Both errors a are known, so a good field book's gain is normal about -a'Pa with four times that as its variance:
    readings that differ much would have to look exchanged by chance against all that they say.

    Args:
        weights: a'Pa of each.
    """
    reach = normal_quantile(1 - EXCHANGE_ALARM / max(len(weights), 1))
    limits: Vector = np.maximum(2 * reach * np.sqrt(weights) - weights, LEAST_GAIN)
    return [float(limit) for limit in limits]


def _of_pairs(scan: ScaleScan, pairs: list[Pair], values: Vector) -> tuple[Matrix, Matrix]:
    """Return the log likelihood gained at each scale if each pair was exchanged, and what its errors weigh.

    With errors a known that is a'Pe - a'Pa / 2; they weigh a'Pa.
    """
    found, weights = (np.zeros((len(scan.scales), len(pairs))) for _ in range(2))
    for column, (one, two) in enumerate(pairs):
        error = values[one] - values[two]
        pull = scan.precisions[:, one] * scan.errors[:, one] - scan.precisions[:, two] * scan.errors[:, two]
        hold = scan.weights(one, one) + scan.weights(two, two) - 2 * scan.weights(one, two)
        weights[:, column] = error**2 * np.maximum(hold, 0.0)
        found[:, column] = error * pull - weights[:, column] / 2
    return found, weights


def _averaged(logs: Matrix, shares: Vector) -> Vector:
    """Return twice the logarithm of the mean over the scales of the exponentials, each scale by its share."""
    if not logs.shape[1]:
        return np.zeros(0)
    logs = logs + np.log(np.maximum(shares, LEAST_SHARE))[:, None]
    most = logs.max(axis=0)
    found: Vector = 2 * (most + np.log(np.sum(np.exp(logs - most), axis=0)))
    return found
