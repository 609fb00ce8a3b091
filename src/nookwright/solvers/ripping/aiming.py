"""Plans for many pieces: boards with a little to spare, ripped as the linear program of lanes says, made whole.

The less there is to spare the cheaper the plan, and the harder it is to find; so aims are taken one after the other,
each with less to spare.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from nookwright.solvers.covering.problem import Supply, Whole
from nookwright.solvers.ripping.lanes import Lanes
from nookwright.solvers.ripping.mix import LaneMix
from nookwright.solvers.stock_counts import Worth

SPARE_SHARES = (0.03, 0.02, 0.014, 0.01, 0.007, 0.005, 0.0035)
"""What boards may be worth more than all pieces, one aim after the other."""
_NODES = 40
"""Steps taken to make one mix whole."""
_NEAR = 1e-6


def with_spare(
    found: Sequence[tuple[int, tuple[int, ...]]], supplies: Sequence[Supply], worth: Worth, share: float, below: int
) -> tuple[int, ...] | None:
    """Return the cheapest numbers of boards that are worth more than the pieces by a share.

    Args:
        found: cost and numbers to begin with; boards of one stock are added.
        supplies: price and number of each stock.
        worth: what pieces are worth, and the most that a board of each stock can hold.
        share: how much more than the pieces the boards are worth at least.
        below: a cost that is too much.

    Returns:
        The numbers, or None where all cost too much.
    """
    best: tuple[int, ...] | None = None
    for cost, counts in found:
        lacking = (1 + share) * worth.parts - sum(n * top for n, top in zip(counts, worth.tops, strict=True))
        for stock, (supply, top) in enumerate(zip(supplies, worth.tops, strict=True)):
            more = 0 if lacking <= 0 or top <= 0 else int(-(-lacking // top))
            if lacking > more * top or (supply.most is not None and counts[stock] + more > supply.most):
                continue
            if cost + more * supply.price < below:
                below = cost + more * supply.price
                best = (*counts[:stock], counts[stock] + more, *counts[stock + 1 :])
    return best


def whole_rips(mix: LaneMix, lanes: Lanes, boards: Sequence[int]) -> Iterator[Whole]:
    """Yield how often each way to rip is used, near the best mix of so many boards; a few such, or none.

    With each of them all pieces have their lane, as long as parts of lanes are allowed.
    """
    stack = [(np.zeros(len(lanes.rips), dtype=np.int64), np.full(len(lanes.rips), int(lanes.demand.sum())))]
    for _ in range(_NODES):
        if not stack:
            return
        low, high = stack.pop()
        mixed = mix.roughly(boards=([0] * len(boards), list(boards)), low=low, high=high)
        if mixed.missing > _NEAR:
            continue
        parts = mixed.rips - np.floor(mixed.rips + _NEAR)
        if parts.max(initial=0.0) < _NEAR:
            yield np.rint(mixed.rips).astype(np.int64)
            continue
        at = int(np.argmax(parts))
        less, more = high.copy(), low.copy()
        less[at] = int(np.floor(mixed.rips[at] + _NEAR))
        more[at] = less[at] + 1
        stack += [(low, less), (more, high)]
