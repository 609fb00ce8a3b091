"""A tree search over a full list of patterns: finds the cheapest plan made of them, or proves that there is none.

Each node splits on how often a set of patterns is cut: those that hold two given kinds, or one pattern alone. A node is
given up only when prices of pieces prove, counted in whole numbers, that no plan below it is cheap enough; the linear
program only suggests those prices.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import highspy
import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.covering.bound import price_step
from nookwright.solvers.covering.generate import Generator
from nookwright.solvers.covering.master import Program, add_columns, add_rows, add_stand_ins, quiet_model
from nookwright.solvers.covering.problem import Limits, Pattern, TimeLeft, Whole, price_of

_MOST_PATTERNS = 12_000
_SCALE = 1 << 30
_NEAR = 1e-6
_ROUNDS = 3000
_Floats = NDArray[np.float64]
_Mask = NDArray[np.bool_]


def opened(generator: Generator, limits: Limits, *, below: int) -> Closing | None:
    """Return the search over every pattern that a plan within limits and below a price can hold.

    Args:
        generator: the problem and its patterns.
        limits: how many of each stock are used.
        below: price of the best plan known.

    Returns:
        The search, not yet begun; None when its patterns are too many to list.
    """
    source = generator.source
    supplies = source.supplies
    loose = Limits(low=(0,) * len(supplies), high=limits.high)
    grown = generator.run(source.demand, loose, rounds=_ROUNDS, sharp=True)
    fair = grown.proof.scaled(supplies, limits)
    target = below - price_step(supplies)
    if limits.low == limits.high:
        target = sum(supply.price * low for supply, low in zip(supplies, limits.low, strict=True))
    least = fair.least(source.demand, supplies, limits)
    waste = int((target - least) * fair.scale) + 1
    for full in (False, True):
        patterns = source.worth(fair.values, [top - waste for top in fair.tops], _MOST_PATTERNS, full=full)
        if patterns is not None:
            program = Program(
                patterns=tuple(patterns), demand=source.demand, supplies=supplies, limits=limits, exactly=not full
            )
            return Closing(program, below=below)
    return None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Split:
    """Patterns of a set are cut at least, or at most, so often in total."""

    members: _Mask
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Node:
    """Patterns still allowed, and the splits that lead here."""

    allowed: _Mask
    splits: tuple[_Split, ...]


class Closing:
    """The tree, node after node, deepest first; it can be left and taken up again."""

    def __init__(self, program: Program, *, below: int) -> None:
        """Start at the root.

        Args:
            program: every pattern that a plan cheaper than `below` can be made of, and the demand.
            below: price of the best plan known.
        """
        self.below = below
        self.best: list[Pattern] | None = None
        self.program = program
        demand, supplies, patterns = program.demand, program.supplies, program.patterns
        self._target = below - price_step(supplies)
        counts = np.array([pattern.counts for pattern in patterns], dtype=np.int64).reshape(-1, len(demand))
        stocks = np.array([pattern.stock for pattern in patterns], dtype=np.int64)
        self._counts = counts
        self._rows: Whole = np.hstack([counts, (stocks[:, None] == np.arange(len(supplies))).astype(np.int64)])
        self._prices: Whole = np.array([supply.price for supply in supplies], dtype=np.int64)[stocks]
        often = np.where(counts > 0, -(-demand // np.maximum(counts, 1)), 0)
        self._tops: Whole = often.max(axis=1, initial=0)
        self._low, self._high = program.rows()
        self._model = self._root_model(2.0 * max(below, 1))
        self._stack = [_Node(allowed=self._tops > 0, splits=())]

    def _root_model(self, penalty: float) -> Any:
        """Return the program of the root, with dear stand-ins so that it always has a solution."""
        model, rows, count = quiet_model(), len(self._low), len(self.program.patterns)
        model.setOptionValue("presolve", "off")
        add_rows(model, self._low, self._high)
        add_columns(model, self.program.patterns, self.program.supplies, self.program.demand)
        add_stand_ins(model, rows)
        model.changeColsCost(rows, np.arange(count, count + rows, dtype=np.int32), np.full(rows, penalty))
        return model

    @property
    def finished(self) -> bool:
        """Whether no cheaper plan is left to find."""
        return not self._stack

    @property
    def cost(self) -> int:
        """Price of the best plan found here."""
        return self.below if self.best is None else price_of(self.best, self.program.supplies)

    def run(self, nodes: int, time_left: TimeLeft) -> None:
        """Look at so many nodes, or until the time is up."""
        for _ in range(nodes):
            if not self._stack or time_left() <= 0:
                return
            self._visit(self._stack.pop())

    def _visit(self, node: _Node) -> None:
        shares, duals = self._solved(node)
        allowed = self._still_worth(node, duals)
        if allowed is None:
            return
        if float(shares[len(self.program.patterns) :].max(initial=0.0)) < _NEAR:
            real = shares[: len(self.program.patterns)]
            times = np.rint(real).astype(np.int64)
            if np.all(np.abs(real - times) < _NEAR) and np.all(times @ self._counts >= self.program.demand):
                self._offer(times)
                return
        self._branch(node, allowed, shares[: len(self.program.patterns)])

    def _solved(self, node: _Node) -> tuple[_Floats, _Floats]:
        """Return the best mix of a node's patterns, and the prices of its rows."""
        model, base = self._model, len(self._low)
        count = model.getNumRow()
        if count > base:
            model.deleteRows(count - base, np.arange(base, count, dtype=np.int32))
        for split in node.splits:
            members = np.flatnonzero(split.members).astype(np.int32)
            model.addRow(split.low, split.high, len(members), members, np.ones(len(members)))
        columns = np.arange(len(self.program.patterns), dtype=np.int32)
        tops = np.where(node.allowed, self._tops, 0).astype(np.float64)
        model.changeColsBounds(len(columns), columns, np.zeros(len(columns)), tops)
        model.run()
        solution = model.getSolution()
        return np.array(solution.col_value), np.array(solution.row_dual)

    def _still_worth(self, node: _Node, duals: _Floats) -> _Mask | None:
        """Return the patterns that a cheap enough plan below this node can hold; None if there is no such plan.

        With whole prices y of the rows, chosen by sign so that each row's own limit applies, a plan costs at least the
        sum of y times that limit, plus for each pattern its price less the worth of what it gives, as often as that is
        below 0. A pattern whose surplus lifts this above the target is out.
        """
        lows = np.concatenate([self._low, [split.low for split in node.splits]])
        highs = np.concatenate([self._high, [split.high for split in node.splits]])
        prices = np.rint(np.nan_to_num(duals) * _SCALE).astype(np.int64)
        bounded = np.where(prices > 0, np.isfinite(lows), np.isfinite(highs))
        prices = np.where(bounded, prices, 0)
        limit = np.where(prices > 0, np.where(np.isfinite(lows), lows, 0), np.where(np.isfinite(highs), highs, 0))
        surplus = self._prices * _SCALE - self._rows @ prices[: self._rows.shape[1]]
        for split, price in zip(node.splits, prices[self._rows.shape[1] :], strict=True):
            surplus = surplus - np.where(split.members, price, 0)
        tops = np.where(node.allowed, self._tops, 0)
        least = sum(int(p) * int(l) for p, l in zip(prices, limit, strict=True))
        least += sum((np.minimum(surplus, 0) * tops).tolist())
        room = self._target * _SCALE - least
        return None if room < 0 else node.allowed & (surplus <= room)

    def _offer(self, times: Whole) -> None:
        plan = [pattern for pattern, often in zip(self.program.patterns, times, strict=True) for _ in range(int(often))]
        cost = price_of(plan, self.program.supplies)
        if cost < self.cost:
            self.best = plan
            self._target = cost - price_step(self.program.supplies)

    def _branch(self, node: _Node, allowed: _Mask, shares: _Floats) -> None:
        """Split on two kinds that share patterns by part, else on a pattern cut by part; togetherness comes first."""
        members = self._pair(shares)
        if members is None:
            parts = np.abs(shares - np.rint(shares))
            members = np.zeros(len(shares), dtype=np.bool_)
            members[int(np.argmax(parts))] = True
        total = float(shares[members].sum())
        down = float(np.floor(total + _NEAR))
        less = _Split(members=members, low=-highspy.kHighsInf, high=down)
        more = _Split(members=members, low=down + 1, high=highspy.kHighsInf)
        for split in (less, more):
            self._stack.append(_Node(allowed=allowed, splits=(*node.splits, split)))

    def _pair(self, shares: _Floats) -> _Mask | None:
        """Return the patterns that hold both of the two kinds whose togetherness is the least whole."""
        cut = np.flatnonzero(shares > _NEAR)
        held = (self._counts[cut] > 0).astype(np.float64)
        together = (held * shares[cut][:, None]).T @ held
        np.fill_diagonal(together, 0.0)
        parts = together - np.floor(together + _NEAR)
        parts = np.where(parts < _NEAR, 0.0, parts)
        if parts.max(initial=0.0) <= _NEAR:
            return None
        first, second = np.unravel_index(int(np.argmax(parts)), parts.shape)
        members: _Mask = (self._counts[:, first] > 0) & (self._counts[:, second] > 0)
        return members
