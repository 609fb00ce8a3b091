"""A tree search over a full list of patterns: finds the cheapest plan made of them, or proves that there is none.

Each node splits on how often a set of patterns is cut: those that hold two given kinds, or one pattern alone. A node is
given up only when prices of pieces prove, counted in whole numbers, that no plan below it is cheap enough; the linear
program only suggests those prices.
"""

from __future__ import annotations

from dataclasses import dataclass

import highspy
import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.covering.bound import price_step
from nookwright.solvers.covering.generate import Generator
from nookwright.solvers.covering.master import add_stand_ins, run
from nookwright.solvers.covering.problem import Limits, Pattern, TimeLeft, Whole
from nookwright.solvers.covering.program import Program

_MOST_COLUMNS = 12_000
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
    grown = generator.run(source.demand, loose, rounds=_ROUNDS, sharp=True, loose=True)
    fair = grown.proof.scaled(supplies, limits)
    target = below - price_step(supplies)
    if limits.low == limits.high:
        target = sum(supply.price * low for supply, low in zip(supplies, limits.low, strict=True))
    least = fair.least(source.demand, supplies, limits)
    waste = int((target - least) * fair.scale) + 1
    program = source.listed(fair.values, fair.tops, waste, limits, _MOST_COLUMNS)
    return None if program is None else Closing(program, price_step(supplies), below=below)


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

    def __init__(self, program: Program, step: int, *, below: int) -> None:
        """Start at the root.

        Args:
            program: everything that a plan cheaper than `below` can be made of.
            step: all prices are multiples of this.
            below: price of the best plan known.
        """
        self.below = below
        self.best: list[Pattern] | None = None
        self.program = program
        self.cost = below
        self._step = step
        self._model = program.model()
        self._model.setOptionValue("presolve", "off")
        count, rows = len(program.prices), len(program.low)
        add_stand_ins(self._model, rows)
        stand_ins = np.arange(count, count + rows, dtype=np.int32)
        self._model.changeColsCost(rows, stand_ins, np.full(rows, 2.0 * max(below, 1)))
        self._stack = [_Node(allowed=program.tops > 0, splits=())]

    @property
    def finished(self) -> bool:
        """Whether no cheaper plan is left to find."""
        return not self._stack

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
        real = shares[: len(self.program.prices)]
        if float(shares[len(real) :].max(initial=0.0)) < _NEAR:
            times = np.rint(real).astype(np.int64)
            if np.all(np.abs(real - times) < _NEAR) and self._offered(times):
                return
        self._branch(node, allowed, real)

    def _solved(self, node: _Node) -> tuple[_Floats, _Floats]:
        """Return the best mix of a node's patterns, and the prices of its rows."""
        model, base = self._model, len(self.program.low)
        count = model.getNumRow()
        if count > base:
            model.deleteRows(count - base, np.arange(base, count, dtype=np.int32))
        for split in node.splits:
            members = np.flatnonzero(split.members).astype(np.int32)
            model.addRow(split.low, split.high, len(members), members, np.ones(len(members)))
        columns = np.arange(len(self.program.prices), dtype=np.int32)
        tops = np.where(node.allowed, self.program.tops, 0).astype(np.float64)
        model.changeColsBounds(len(columns), columns, np.zeros(len(columns)), tops)
        run(model)
        solution = model.getSolution()
        return np.array(solution.col_value), np.array(solution.row_dual)

    def _still_worth(self, node: _Node, duals: _Floats) -> _Mask | None:
        """Return the patterns that a cheap enough plan below this node can hold; None if there is no such plan.

        With whole prices y of the rows, chosen by sign so that each row's own limit applies, a plan costs at least the
        sum of y times that limit, plus for each pattern its price less the worth of what it gives, as often as that is
        below 0. A pattern whose surplus lifts this above the target is out.
        """
        lows = np.concatenate([self.program.low, [split.low for split in node.splits]])
        highs = np.concatenate([self.program.high, [split.high for split in node.splits]])
        prices = np.rint(np.nan_to_num(duals) * _SCALE).astype(np.int64)
        bounded = np.where(prices > 0, np.isfinite(lows), np.isfinite(highs))
        prices = np.where(bounded, prices, 0)
        limit = np.where(prices > 0, np.where(np.isfinite(lows), lows, 0), np.where(np.isfinite(highs), highs, 0))
        base = len(self.program.low)
        surplus = self.program.prices * _SCALE - self.program.rows @ prices[:base]
        for split, price in zip(node.splits, prices[base:], strict=True):
            surplus = surplus - np.where(split.members, price, 0)
        tops = np.where(node.allowed, self.program.tops, 0)
        least = sum(int(p) * int(l) for p, l in zip(prices, limit, strict=True))
        least += sum((np.minimum(surplus, 0) * tops).tolist())
        room = (self.cost - self._step) * _SCALE - least
        return None if room < 0 else node.allowed & (surplus <= room)

    def _offered(self, times: Whole) -> bool:
        """Take numbers that make a plan; return whether they do."""
        plan = self.program.plan_of(times)
        cost = int(times @ self.program.prices)
        if plan is not None and cost < self.cost:
            self.best, self.cost = plan, cost
        return plan is not None

    def _branch(self, node: _Node, allowed: _Mask, shares: _Floats) -> None:
        """Split on two kinds that share patterns by part, else on a pattern cut by part; togetherness comes first."""
        members = self._group(shares)
        if members is None:
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

    def _group(self, shares: _Floats) -> _Mask | None:
        """Return the group whose number is the least whole; None if all are whole."""
        parts = [abs(total - round(total)) for total in (float(shares[group].sum()) for group in self.program.groups)]
        at = max(range(len(parts)), key=parts.__getitem__, default=-1)
        return self.program.groups[at] if at >= 0 and parts[at] > _NEAR else None

    def _pair(self, shares: _Floats) -> _Mask | None:
        """Return the patterns that hold both of the two kinds whose togetherness is the least whole."""
        cut = np.flatnonzero(shares > _NEAR)
        kinds = self.program.rows[:, : self.program.kinds]
        held = (kinds[cut] > 0).astype(np.float64)
        together = (held * shares[cut][:, None]).T @ held
        np.fill_diagonal(together, 0.0)
        parts = together - np.floor(together + _NEAR)
        parts = np.where(parts < _NEAR, 0.0, parts)
        if parts.max(initial=0.0) <= _NEAR:
            return None
        first, second = np.unravel_index(int(np.argmax(parts)), parts.shape)
        members: _Mask = (kinds[:, first] > 0) & (kinds[:, second] > 0)
        return members
