"""The hunt for slips: readings that the others contradict, told apart from walls wavier than assumed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nookwright.solvers.chance import normal_quantile
from nookwright.solvers.linear_fit import Vector
from nookwright.solvers.shared_scale import ScaleScan, scan_scales
from nookwright.stages.room.chosen_waviness import Waviness, chosen_waviness, scales_tried
from nookwright.stages.room.network import (
    ROUGH,
    SEARCHING,
    THOROUGH,
    Network,
    Solution,
    readings_off,
    scaled_system,
    solve,
)

FALSE_ALARM = 0.03
"""Chance that a good field book is told to hold a slip."""

AS_WELL = 6.0
"""Readings whose slip would explain the rest nearly as well, within a likelihood ratio of exp(3) = 20, share the
suspicion. Common practice, no source."""

BLUNDER = 60.0
"""A gain beyond this is a slip so great that it bends the whole room: it is looked at again from a room that gives
way to it. Common practice, no source."""

GIVING_WAY_SDS = 2.0
GIVING_WAY_ROUNDS = 4
"""A reading this far off counts less from then on, in so many rounds: least absolute sums, nearly. Common practice,
no source."""

LEAST_SHARE = 1e-300
"""Keeps the logarithm of a scale's share finite."""

MOST_SLIPS = 6
"""More slips than this in one field book are not sorted out: it is read again."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Hunt:
    """What the hunt found.

    Args:
        waviness: how wavy the surfaces are, the suspects left out.
        suspects: readings that are probably slips, by their place in the survey, the first found first, each with
            the others that would explain the rest as well.
        without: the network adjusted without the suspects.
    """

    waviness: Waviness
    suspects: dict[int, tuple[int, ...]]
    without: Solution


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Look:
    """One look at a network: which reading is most suspect, and how wavy the walls are if none is.

    Args:
        waviness_mm: root mean square over the scales, each as likely as it is. [mm]
        gains: for each reading's place: twice the logarithm of how much likelier everything is with a slip there.
        limit: what the greatest gain exceeds by chance only.
    """

    waviness_mm: float
    gains: dict[int, float]
    limit: float


def hunt(network: Network, first: Solution) -> Hunt:
    """Find the readings that are probably slips, one after another, and the waviness that the others show.

    Each reading is judged by how much likelier all readings become when it is free to be wrong, with the waviness
    free to be what it then wants to be: one bad reading gains a lot by that, a wavy wall gains nothing. The most
    suspect one is set aside, the rest adjusted again, until none exceeds the limit. Then every one set aside is
    looked at once more beside the good ones, and put back if it agrees with them.

    Args:
        network: the network.
        first: it adjusted with everything in, as far as a search needs.

    Returns:
        Suspects and waviness.
    """
    suspects: dict[int, tuple[int, ...]] = {}
    solution = first
    look = _look(network, solution, suspects)
    if not first.adjustment.converged or max(look.gains.values(), default=0.0) > BLUNDER:
        solution = _giving_way(network)
        look = _look(network, solution, suspects)
    while len(suspects) < MOST_SLIPS:
        worst = max(look.gains, key=lambda place: look.gains[place], default=None)
        if worst is None or look.gains[worst] <= look.limit:
            break
        least = max(look.limit, look.gains[worst] - AS_WELL)
        suspects[worst] = tuple(place for place, gain in look.gains.items() if gain > least and place != worst)
        solution = solve(network, look.waviness_mm, suspects, solution.adjustment.state, effort=SEARCHING)
        look = _look(network, solution, suspects)
    for place in tuple(suspects) if len(suspects) > 1 else ():
        others = suspects.keys() - {place}
        beside = solve(network, look.waviness_mm, others, solution.adjustment.state, effort=SEARCHING)
        again = _look(network, beside, others)
        if again.gains.get(place, 0.0) <= again.limit:
            del suspects[place]
            solution, look = beside, again
    waviness = chosen_waviness(network, solution.adjustment.state, suspects)
    solution = solve(network, waviness.at_spots_mm, suspects, solution.adjustment.state, effort=THOROUGH)
    return Hunt(waviness=waviness, suspects=suspects, without=solution)


def _giving_way(network: Network) -> Solution:
    """Adjust so that readings far off count less: a great slip then stands alone instead of bending the room."""
    waviness_mm = network.survey.tools.waviness_mm
    solution = solve(network, waviness_mm, effort=ROUGH, slack=_slack(network, network.start))
    for _ in range(GIVING_WAY_ROUNDS - 1):
        state = solution.adjustment.state
        solution = solve(network, waviness_mm, (), state, effort=ROUGH, slack=_slack(network, state))
    return solution


def _slack(network: Network, state: Vector) -> Vector:
    """Return by how much each reading's standard deviation grows, in the order of `Solution.places`."""
    return np.sqrt(np.maximum(np.abs(readings_off(network, state)) / GIVING_WAY_SDS, 1.0))


def _look(network: Network, solution: Solution, aside: dict[int, tuple[int, ...]] | set[int]) -> _Look:
    system = scaled_system(network, solution.adjustment.state, aside)
    scales, log_prior = scales_tried(network.survey.tools)
    scan = scan_scales(system, scales, range(len(solution.places)))
    shares = scan.likelihoods(log_prior)
    gains = dict(zip(solution.places, _gains(scan, shares).tolist(), strict=True))
    checked = int(np.count_nonzero(np.any(scan.precisions > 0, axis=0)))
    limit = normal_quantile(1 - FALSE_ALARM / (2 * max(checked, 1))) ** 2
    return _Look(waviness_mm=float(np.sqrt(shares @ scales**2)), gains=gains, limit=limit)


def _gains(scan: ScaleScan, shares: Vector) -> Vector:
    """Return twice the logarithm of the mean over the scales of exp(w^2 / 2), each scale by its share."""
    logs = scan.precisions * scan.errors**2 / 2 + np.log(np.maximum(shares, LEAST_SHARE))[:, None]
    most = logs.max(axis=0)
    gains: Vector = 2 * (most + np.log(np.sum(np.exp(logs - most), axis=0)))
    return gains
