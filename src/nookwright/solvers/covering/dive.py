"""Dives: the best mix of patterns is made whole step by step, with patterns generated anew for what is left."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from nookwright.solvers.covering.generate import Generator
from nookwright.solvers.covering.master import Relaxed
from nookwright.solvers.covering.problem import Limits, Pattern, Whole, price_of

_ROUNDS = 40
_TAKEN_TOGETHER = 0.9
"""Patterns cut at least this often in the mix are all taken in one step."""
_NONE_SKIPPED: Mapping[int, int] = MappingProxyType({})


def dive(
    generator: Generator, best: list[Pattern], limits: Limits, *, least: int, skipped: Mapping[int, int] = _NONE_SKIPPED
) -> list[Pattern]:
    """Return a plan at least as cheap as the best so far.

    Args:
        generator: the problem and its patterns.
        best: the best plan so far.
        limits: how many of each stock the plan may use.
        least: a price no plan within the limits goes below; the dive ends when it is reached.
        skipped: at these steps so many of the most wanted patterns are passed over: it makes dives differ.

    Returns:
        The best plan seen, `best` itself if none was cheaper.
    """
    source = generator.source
    left, taken = source.demand.copy(), list[Pattern]()
    step = 0
    while left.any():
        within = limits.without(taken)
        rest = source.complete(left, within.high)
        if rest is not None:
            generator.master.add(rest)
            best = min(best, taken + rest, key=lambda plan: price_of(plan, source.supplies))
        cost = price_of(best, source.supplies)
        if cost <= least:
            return best
        room = cost - price_of(taken, source.supplies)
        grown = generator.run(left, within, enough=room, rounds=_ROUNDS)
        chosen = _rounded(generator, grown.relaxed, left, within, skipped.get(step, 0))
        if grown.least >= room or not chosen:
            return best
        for pattern in chosen:
            left = left - pattern.counts
        taken += chosen
        step += 1
    return min(best, taken, key=lambda plan: price_of(plan, source.supplies))


def _rounded(generator: Generator, relaxed: Relaxed, left: Whole, limits: Limits, skip: int) -> list[Pattern]:
    """Return the patterns to take for good: those cut whole times or nearly so, or else the one cut most."""
    chosen: list[Pattern] = []
    rest, high = left.copy(), list(limits.high)
    for j in np.argsort(-relaxed.shares, kind="stable"):
        share = float(relaxed.shares[j])
        if share < 1e-6 or (chosen and share < _TAKEN_TOGETHER):
            break
        if skip > 0:
            skip -= 1
            continue
        pattern = generator.master.patterns[j]
        held = np.flatnonzero(pattern.counts)
        most = high[pattern.stock]
        times = min(
            max(1, int(share + 1e-6)),
            int(np.min(rest[held] // pattern.counts[held])),
            max(1, int(share + 1e-6)) if most is None else most,
        )
        if times > 0:
            chosen += [pattern] * times
            rest = rest - times * pattern.counts
            high[pattern.stock] = None if most is None else most - times
    return chosen
