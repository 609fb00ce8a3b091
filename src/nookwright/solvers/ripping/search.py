"""The cheapest boards to rip: how many of each stock first, then how each is ripped, then what each lane holds.

Numbers of boards are tried in the order of their price. Proofs, each a worth of the pieces that boards ripped in every
way cannot reach, rule most of them out; what is left is split by how often each way to rip is used, until every lane is
known, and then it is a matter of lengths. The price of the cheapest numbers that are not ruled out is a bound.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import islice

import numpy as np

from nookwright.solvers.covering.bound import Proof, rounded_up
from nookwright.solvers.covering.problem import Pattern, Supply, TimeLeft, Whole, limits_of, price_of
from nookwright.solvers.covering.search import State, cheapest_covers
from nookwright.solvers.ripping.aiming import SPARE_SHARES, whole_rips, with_spare
from nookwright.solvers.ripping.filling import Filling
from nookwright.solvers.ripping.lanes import Lanes
from nookwright.solvers.ripping.mix import LaneMix, Worth, most_worth
from nookwright.solvers.ripping.packing import LanePatterns
from nookwright.solvers.ripping.refill import Refill
from nookwright.solvers.stock_counts import Supply as Kind
from nookwright.solvers.stock_counts import TooManyCountsError, all_counts_below
from nookwright.solvers.stock_counts import Worth as StockWorth

_NEAR = 1e-6
_NODES = 12
"""Nodes of ways to rip looked at in one round."""
_MOVES, _AIMED_MOVES = 150, 40
"""Moves of refilling lanes for each such round, and for each piece in each try of an aim."""
_AIMED_RIPS = 3
"""Tries of an aim: ways to rip its boards."""
_FIRST_ROUNDS, _ROUNDS = 2, 4
"""Rounds of the search for lengths at its first try, and at later ones."""
_RUNS = 60
"""Runs of trying every filling of lanes, at later tries."""


@dataclass(slots=True, eq=False)
class _Node:
    """Least and most of each way to rip."""

    low: Whole
    high: Whole


@dataclass(slots=True, eq=False)
class _Lengths:
    """Lanes that the mix says may do: the search for what each holds, and how long it has gone on."""

    rips: Whole
    refill: Refill
    states: Iterator[State]
    lacking: int
    filling: Filling | None = None


@dataclass(slots=True, eq=False)
class _Numbers:
    """Numbers of boards under trial: nodes still to look at, lanes still to fill."""

    boards: tuple[int, ...]
    cost: int
    nodes: list[_Node]
    lengths: list[_Lengths] = field(default_factory=list)
    tries: int = 0

    @property
    def settled(self) -> bool:
        """Whether no plan has these numbers."""
        return not self.nodes and not self.lengths


class RipSearch:
    """The search; `least` and `best` get better round by round."""

    def __init__(self, lanes: Lanes, supplies: Sequence[Supply], first: Sequence[Pattern], time_left: TimeLeft) -> None:
        """Start from a plan.

        Args:
            lanes: pieces, lanes and ways to rip.
            supplies: price and number of each stock.
            first: a plan.
            time_left: seconds left.
        """
        self.lanes = lanes
        self.supplies = tuple(supplies)
        self.best = list(first)
        self.cost = price_of(first, supplies)
        self.least = 0
        self._time_left = time_left
        self._mix = LaneMix(lanes, supplies, time_left)
        self._proofs: list[Worth] = []
        self._ruled_out: list[tuple[int, ...]] = []
        self._open: dict[tuple[int, ...], _Numbers] = {}
        self._most = int(lanes.demand.sum())

    def rounds(self) -> Iterator[State]:
        """Yield plan and bound after each look at some numbers, until the plan is proven best or they are too many."""
        nothing, all_of_them = np.zeros(len(self.lanes.rips), dtype=np.int64), self._any_number()
        mixed = self._mix.solved(
            boards=([0] * len(self.supplies), [one.most for one in self.supplies]), low=nothing, high=all_of_them,
            money=True,
        )  # fmt: skip
        self._proofs += mixed.proofs[-3:]
        last = mixed.proofs[-1]
        proof = Proof(values=last.values, tops=self._tops(last).tops, scale=last.scale)
        least = proof.least(self.lanes.demand, self.supplies, limits_of(self.supplies))
        self.least = rounded_up(least, self.supplies)
        yield from self._aimed()
        while self._time_left() > 0 and self.least < self.cost:
            numbers = self._next()
            if numbers is None:
                break
            self._look_at(numbers)
            yield self._state()
        yield self._state()

    def _aimed(self) -> Iterator[State]:
        """Yield a plan after each try with boards that have a little to spare, and less each time."""
        proof = self._tops(self._proofs[-1])
        tried: set[tuple[int, ...]] = set()
        for share in SPARE_SHARES:
            found = self._cheap_enough()
            if found is None or self._time_left() <= 0:
                return
            boards = with_spare(found, self.supplies, proof, share, self.cost)
            if boards is None or boards in tried:
                continue
            tried.add(boards)
            for rips in islice(whole_rips(self._mix, self.lanes, boards), _AIMED_RIPS):
                refill = Refill(self.lanes, (rips @ self.lanes.rips).tolist())
                if any(self._time_left() <= 0 or refill.run(_AIMED_MOVES) for _ in range(self._most)):
                    if refill.done:
                        self._take(rips, refill.lanes())
                    break
            yield self._state()

    def _state(self) -> State:
        return State(plan=tuple(self.best), cost=self.cost, least=min(self.least, self.cost))

    def _any_number(self) -> Whole:
        return np.full(len(self.lanes.rips), self._most, dtype=np.int64)

    def _next(self) -> _Numbers | None:
        """Return the numbers to look at: the cheapest that are new, or tried ones in turn; raise the bound."""
        tried = [one for one in self._open.values() if one.cost < self.cost]
        found = self._cheap_enough()
        if found is None:
            return None
        fresh = [(cost, counts) for cost, counts in found if counts not in self._open]
        waiting = min((one.cost for one in tried), default=self.cost)
        self.least = max(self.least, min([self.cost, waiting, *(cost for cost, _ in fresh)]))
        if fresh:
            cost, counts = min(fresh)
            if not tried or cost <= min(one.cost for one in tried) or min(one.tries for one in tried) > 0:
                nothing = np.zeros(len(self.lanes.rips), dtype=np.int64)
                numbers = _Numbers(counts, cost, [_Node(nothing, self._any_number())])
                self._open[counts] = numbers
                return numbers
        return min(tried, key=lambda one: (one.tries, one.cost), default=None)

    def _cheap_enough(self) -> list[tuple[int, tuple[int, ...]]] | None:
        """Return cost and numbers of boards that are not ruled out and cheaper than the plan; None if too many."""
        tops = [self._tops(proof) for proof in self._proofs]
        kinds = [Kind(price=one.price, most=one.most) for one in self.supplies]
        try:
            return list(all_counts_below(kinds, tops, self.cost, self._ruled_out))
        except TooManyCountsError:
            return None

    def _tops(self, proof: Worth) -> StockWorth:
        most = [int(proof.rips[self.lanes.rip_stock == stock].max(initial=0)) for stock in range(len(self.supplies))]
        return StockWorth(parts=proof.pieces, tops=tuple(most))

    def _look_at(self, numbers: _Numbers) -> None:
        numbers.tries += 1
        self._split(numbers)
        if numbers.settled and numbers.cost < self.cost:
            del self._open[numbers.boards]
            self._ruled_out.append(numbers.boards)

    def _split(self, numbers: _Numbers) -> None:
        """Go on with how boards are ripped, and with what is in lanes already known."""
        for one in list(numbers.lengths):
            if self._time_left() <= 0 or numbers.cost >= self.cost:
                return
            if self._fill(one, _ROUNDS):
                numbers.lengths.remove(one)
        for _ in range(_NODES):
            if not numbers.nodes or self._time_left() <= 0 or numbers.cost >= self.cost:
                return
            self._visit(numbers, numbers.nodes.pop())

    def _visit(self, numbers: _Numbers, node: _Node) -> None:
        """Rule a node out, split it, or put its lanes down to be filled."""
        boards = numbers.boards
        for stock, count in enumerate(boards):
            mine = self.lanes.rip_stock == stock
            if not int(node.low[mine].sum()) <= count <= int(node.high[mine].sum()):
                return
        if any(most_worth(proof, self.lanes, boards, node.low, node.high) < proof.pieces for proof in self._proofs):
            return
        mixed = self._mix.solved(boards=(boards, boards), low=node.low, high=node.high, money=False)
        for proof in mixed.proofs[-1:]:
            if most_worth(proof, self.lanes, boards, node.low, node.high) < proof.pieces:
                self._proofs.append(proof)
                return
        if self._time_left() <= 0:
            numbers.nodes.append(node)
            return
        parts = np.abs(mixed.rips - np.rint(mixed.rips))
        if parts.max(initial=0.0) < _NEAR:
            rips = np.rint(mixed.rips).astype(np.int64)
            one = self._lengths(rips)
            if not self._fill(one, _FIRST_ROUNDS):
                numbers.lengths.append(one)
            if numbers.cost < self.cost:
                numbers.nodes.extend(_others(node, rips))
            return
        at = int(np.argmax(mixed.rips - np.floor(mixed.rips + _NEAR)))
        down = int(np.floor(mixed.rips[at] + _NEAR))
        less, more = node.high.copy(), node.low.copy()
        less[at], more[at] = down, down + 1
        numbers.nodes += [_Node(node.low, less), _Node(more, node.high)]

    def _lengths(self, rips: Whole) -> _Lengths:
        source = LanePatterns(self.lanes, (rips @ self.lanes.rips).tolist())
        first = source.complete(self.lanes.demand, source.limits.high)
        assert first is not None  # noqa: S101  lanes that are lacking have no end
        states = cheapest_covers(source, first, time_left=self._time_left, limits=source.limits)
        return _Lengths(rips, Refill(self.lanes, (rips @ self.lanes.rips).tolist()), states, source.lacking)

    def _fill(self, one: _Lengths, rounds: int) -> bool:
        """Search on for what the lanes hold; take a plan found; return whether the search is at its end."""
        if one.refill.run(_MOVES * rounds):
            self._take(one.rips, one.refill.lanes())
            return True
        if rounds > _FIRST_ROUNDS and self._every_filling(one):
            return True
        for _ in range(rounds):
            state = next(one.states, None)
            if state is None:  # the time is up
                return False
            if state.least >= one.lacking:
                return True
            if state.cost < one.lacking:
                self._take(one.rips, [(pattern.stock, pattern.counts) for pattern in state.plan])
                return True
        return False

    def _every_filling(self, one: _Lengths) -> bool:
        """Go on trying every filling of the lanes; take a plan found; return whether that is at its end."""
        if one.filling is None:
            one.filling = Filling(self.lanes, (one.rips @ self.lanes.rips).tolist())
        ended = one.filling.run(_RUNS, self._time_left)
        if one.filling.found is not None:
            self._take(one.rips, one.filling.found)
        return ended

    def _take(self, rips: Whole, lanes: Sequence[tuple[int, Whole]]) -> None:
        """Take the boards with their lanes filled as the plan."""
        waiting: dict[int, list[Whole]] = {}
        left = self.lanes.demand.copy()
        for kind, counts in lanes:
            held = np.minimum(counts, left)
            left = left - held
            waiting.setdefault(kind, []).append(held)
        plan: list[Pattern] = []
        for rip in np.flatnonzero(rips).tolist():
            for _ in range(int(rips[rip])):
                held_lanes = [
                    waiting[kind].pop()
                    for kind in np.flatnonzero(self.lanes.rips[rip]).tolist()
                    for _ in range(min(int(self.lanes.rips[rip][kind]), len(waiting.get(kind, []))))
                ]
                kept = tuple(lane for lane in held_lanes if lane.any())
                if kept:
                    stock = int(self.lanes.rip_stock[rip])
                    plan.append(Pattern(stock=stock, counts=np.sum(kept, axis=0), lanes=kept))
        assert not left.any()  # noqa: S101  the lanes hold every piece
        self.best, self.cost = plan, price_of(plan, self.supplies)


def _others(node: _Node, rips: Whole) -> list[_Node]:
    """Return nodes that together allow every way to rip that a node allows, but for one."""
    found: list[_Node] = []
    low, high = node.low, node.high
    for at in np.flatnonzero(high > low).tolist():
        if rips[at] > low[at]:
            less = high.copy()
            less[at] = rips[at] - 1
            found.append(_Node(low, less))
        if rips[at] < high[at]:
            more = low.copy()
            more[at] = rips[at] + 1
            found.append(_Node(more, high))
        low, high = low.copy(), high.copy()
        low[at] = high[at] = rips[at]
    return found
