"""The search for the cheapest cover, round after round; better plans and bounds are handed out as they are found.

The tree splits on how many of each stock are used. Where the best mix uses whole numbers of every stock, its price is
that of any plan with those numbers, and only the question is left whether there is such a plan: dives and the closing
search answer it. The least price of all open nodes is a bound on every plan.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from nookwright.solvers.covering.closing import Closing, opened
from nookwright.solvers.covering.dive import dive
from nookwright.solvers.covering.generate import Generator
from nookwright.solvers.covering.master import Relaxed, row_limits
from nookwright.solvers.covering.problem import (
    Limits,
    Pattern,
    Source,
    TimeLeft,
    limits_of,
    price_of,
    unlimited,
)
from nookwright.solvers.covering.program import program_of_patterns, whole_plan
from nookwright.solvers.shaking import Shaker

_ROUNDS = 3000
_FIRST_STEPS = 6
"""Dives differ in their first steps, where choices matter most."""
_NODES = 10
"""Nodes of the closing search at the first try, more at later ones."""
_PROGRAM_TRIES = frozenset({1, 3, 6, 12, 24})
"""Tries at which a whole-number program is asked too."""
_FEW_PATTERNS = 3000
_LATE_PROGRAM_TRIES = frozenset({24, 96})
"""The same for more than a few patterns: dives are quicker there."""
_PROGRAM_NODES = 100
_NEAR = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class State:
    """The best plan so far, and the least price any plan can have."""

    plan: tuple[Pattern, ...]
    cost: int
    least: int

    @property
    def proven(self) -> bool:
        """Whether no plan is cheaper."""
        return self.cost <= self.least


@dataclass(slots=True, kw_only=True, order=True)
class _Node:
    """Plans within limits: none is cheaper than `least`. Those tried in vain come after fresh ones of one price.

    Args:
        least: a price that no plan within the limits goes below.
        tries: how often a plan for it was sought.
        number: tells nodes apart.
        limits: how many of each stock are used.
        closing: the search over all patterns it may need, once begun.
    """

    least: int
    tries: int
    number: int
    limits: Limits = field(compare=False)
    closing: Closing | None = field(default=None, compare=False)


def cheapest_covers(
    source: Source, first: Sequence[Pattern], *, least: int = 0, time_left: TimeLeft = unlimited, seed: int = 1,
    limits: Limits | None = None,
) -> Iterator[State]:  # fmt: skip
    """Yield the best plan and the best bound after each round; ends when the plan is proven best.

    Args:
        source: the problem.
        first: a plan to start from.
        least: a price already known that no plan goes below.
        time_left: seconds left; long steps end early when it runs out, and the search then ends.
        seed: start of the shaking; the same seed gives the same plans.
        limits: how many of each stock a plan uses; those that the stocks set when left out.

    Yields:
        The state after each round; cost never rises, the bound never falls.
    """
    best = list(first)
    cost = price_of(best, source.supplies)
    yield State(plan=tuple(best), cost=cost, least=min(least, cost))
    if cost <= least or time_left() <= 0:
        return
    search = _Search(source, best, least, time_left, seed)
    for _ in search.rounds(limits or limits_of(source.supplies)):
        yield State(plan=tuple(search.best), cost=search.cost, least=min(search.least, search.cost))
        if search.cost <= search.least or time_left() <= 0:
            return


class _Search:
    """The open nodes and the best plan."""

    def __init__(self, source: Source, best: list[Pattern], least: int, time_left: TimeLeft, seed: int) -> None:
        self.source = source
        self.best = best
        self.least = least
        self._floor = least
        self._time_left = time_left
        self._shaker = Shaker(seed)
        self._generator = Generator(source, time_left)
        self._generator.master.add(best)
        self._open: list[_Node] = []
        self._numbers = 0

    @property
    def cost(self) -> int:
        """Price of the best plan."""
        return price_of(self.best, self.source.supplies)

    def rounds(self, limits: Limits) -> Iterator[None]:
        """Look at one node a round."""
        self._push(self._floor, limits)
        while self._open and self._time_left() > 0:
            self._visit(heapq.heappop(self._open))
            self.least = max(self.least, min([self.cost, *(node.least for node in self._open)]))
            yield

    def _push(self, least: int, limits: Limits) -> None:
        self._numbers += 1
        heapq.heappush(self._open, _Node(least=least, tries=0, number=self._numbers, limits=limits))

    def _visit(self, node: _Node) -> None:
        """Close a node, split it, or try once more to find a plan in it."""
        if node.least >= self.cost:
            return
        mix: Relaxed | None = None
        if node.tries == 0:
            grown = self._generator.run(self.source.demand, node.limits, enough=self.cost, rounds=_ROUNDS, loose=True)
            node.least, mix = max(node.least, grown.least), grown.relaxed
            if self._time_left() <= 0:
                heapq.heappush(self._open, node)
                return
        if node.least < self.cost:
            self._dive(node)
        if node.least >= self.cost or self._contradicts(node):
            return
        if mix is not None and self._split(node, mix):
            return
        self._close(node)

    def _dive(self, node: _Node) -> None:
        skipped = {self._shaker.below(_FIRST_STEPS): 1 for _ in range(node.tries // 2 + 1)} if node.tries else {}
        self.best = dive(self._generator, self.best, node.limits, least=node.least, skipped=skipped)

    def _contradicts(self, node: _Node) -> bool:
        """Whether the boards that a node fixes cost less than any plan made of them must: then there is none."""
        low = node.limits.low
        price = sum(supply.price * number for supply, number in zip(self.source.supplies, low, strict=True))
        return low == node.limits.high and price < node.least

    def _split(self, node: _Node, mix: Relaxed) -> bool:
        """Split a node where the mix uses part of a stock; return whether it did."""
        used = [0.0] * len(self.source.supplies)
        for pattern, share in zip(self._generator.master.patterns, mix.shares, strict=False):
            used[pattern.stock] += float(share)
        parts = [abs(number - round(number)) for number in used]
        stock = max(range(len(used)), key=lambda i: parts[i])
        low, high = node.limits.low, node.limits.high
        if parts[stock] > _NEAR:
            down = math.floor(used[stock])
            spans: list[tuple[int, int | None]] = [(low[stock], down), (down + 1, high[stock])]
        else:
            loose = [i for i in range(len(used)) if low[i] != high[i]]
            if not loose:
                return False
            stock = loose[0]
            whole = round(used[stock])
            spans = [(whole, whole), (low[stock], whole - 1), (whole + 1, high[stock])]
        for least, most in spans:
            if least >= 0 and (most is None or least <= most):
                self._push(node.least, node.limits.at(stock, least, most))
        return True

    def _close(self, node: _Node) -> None:
        """Search a node whose mix uses whole numbers of every stock, as long as its patterns can be listed."""
        node.tries += 1
        if node.closing is None or node.closing.below > self.cost:
            node.closing = opened(self._generator, node.limits, below=self.cost)
        if node.closing is not None:
            size = len(node.closing.program.prices)
            node.closing.run(_NODES * node.tries * min(1000, size) // max(1, size), self._time_left)
            found = node.closing.best
            tries = _PROGRAM_TRIES if size <= _FEW_PATTERNS else _LATE_PROGRAM_TRIES
            if found is None and node.tries in tries and not node.closing.finished:
                found = whole_plan(
                    node.closing.program, below=self.cost, seconds=self._time_left() / 2,
                    nodes=_PROGRAM_NODES * node.tries, seed=node.tries,
                )  # fmt: skip
            if found is not None and price_of(found, self.source.supplies) < self.cost:
                self.best = found
            if node.closing.finished:
                return
        elif node.tries in _PROGRAM_TRIES:
            self._from_known(node)
        heapq.heappush(self._open, node)

    def _from_known(self, node: _Node) -> None:
        """Ask for the cheapest plan of the patterns known, where not all can be listed."""
        source = self.source
        known = tuple(
            pattern for pattern in self._generator.master.patterns if bool((pattern.counts <= source.demand).all())
        )
        low, high = row_limits(source.demand, limits_of(source.supplies))
        kinds = len(source.demand)
        prices = np.array([supply.price for supply in source.supplies], dtype=np.int64)
        program = program_of_patterns(known, source.demand, prices, low[kinds:], high[kinds:], exactly=False)
        seconds = self._time_left() / 4
        found = whole_plan(program, below=self.cost, seconds=seconds, nodes=_PROGRAM_NODES, seed=node.tries)
        self.best = self.best if found is None else found
