"""What a covering problem is: kinds of pieces with a demand, stocks with a price, and a source of cutting patterns.

A pattern says how many pieces of each kind one length (or board) of a stock gives. A cover is a list of patterns that
together give every kind as often as demanded. Everything is in whole numbers: sizes, prices, counts.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from nookwright.solvers.covering.program import Program

Whole = NDArray[np.int64]
TimeLeft = Callable[[], float]
"""Seconds that are left for a search; infinity when only its rounds are counted."""


def unlimited() -> float:
    """Return infinity: a search that is limited by its rounds alone."""
    return float("inf")


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """A stock as the search sees it: its price in any whole unit of money, and how many there are at most."""

    price: int
    most: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pattern:
    """What one length or board of a stock is cut into: how many pieces of each kind.

    Args:
        stock: index of the stock.
        counts: pieces of each kind.
        lanes: of a board, the same for each of its lanes; together they are `counts`. Empty for a length.
    """

    stock: int
    counts: Whole
    lanes: tuple[Whole, ...] = ()

    @property
    def key(self) -> tuple[int, bytes]:
        """What makes two patterns the same one."""
        return self.stock, self.counts.tobytes()


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """How many of each stock a plan uses at least and at most; None for no limit."""

    low: tuple[int, ...]
    high: tuple[int | None, ...]

    def without(self, patterns: Sequence[Pattern]) -> Limits:
        """Return what is left of the limits once these patterns are cut."""
        used = Counter(pattern.stock for pattern in patterns)
        return Limits(
            low=tuple(max(0, low - used[i]) for i, low in enumerate(self.low)),
            high=tuple(None if high is None else high - used[i] for i, high in enumerate(self.high)),
        )

    def at(self, stock: int, low: int, high: int | None) -> Limits:
        """Return these limits with another span for one stock."""
        return Limits(
            low=(*self.low[:stock], low, *self.low[stock + 1 :]),
            high=(*self.high[:stock], high, *self.high[stock + 1 :]),
        )


def limits_of(supplies: Sequence[Supply]) -> Limits:
    """Return the limits that the stocks themselves set."""
    return Limits(low=(0,) * len(supplies), high=tuple(supply.most for supply in supplies))


class Source(Protocol):
    """Knows which patterns a stock allows."""

    @property
    def supplies(self) -> tuple[Supply, ...]:
        """The stocks."""

    @property
    def demand(self) -> Whole:
        """How many pieces of each kind are wanted."""

    @property
    def most_pieces(self) -> int:
        """No pattern holds more pieces."""

    def best(self, values: Whole, left: Whole) -> list[tuple[int, Pattern]]:
        """Return for each stock a value that none of its patterns exceeds, and a pattern worth that or nearly that.

        Values are whole, none above 2**30 / `most_pieces`. The pattern holds no kind more often than is left.
        """

    def loose(self, values: Whole, left: Whole) -> list[tuple[int, Pattern]]:
        """Return the same values, with patterns that are worth just that; they may hold a kind more often than is left.

        They serve only to find prices of pieces; no plan is made of them.
        """

    def complete(self, left: Whole, most: Sequence[int | None]) -> list[Pattern] | None:
        """Return a quick plan for what is left, with at most so many of each stock; None if stock runs out."""

    def listed(self, values: Whole, tops: Sequence[int], waste: int, limits: Limits, most: int) -> Program | None:
        """Return a program of everything that a plan may be made of, or None when that is too much to list.

        Args:
            values: whole prices of the pieces.
            tops: for each stock a value that none of its patterns exceeds.
            waste: how far all patterns of a plan together stay at most below those.
            limits: how many of each stock are used.
            most: more columns are too many.
        """


def price_of(plan: Sequence[Pattern], supplies: Sequence[Supply]) -> int:
    """Return what a plan costs."""
    return sum(supplies[pattern.stock].price for pattern in plan)


def covers(plan: Sequence[Pattern], demand: Whole, limits: Limits) -> bool:
    """Whether a plan gives every kind as often as demanded, with no more of a stock than there may be."""
    given = np.zeros_like(demand)
    for pattern in plan:
        given += pattern.counts
    used = Counter(pattern.stock for pattern in plan)
    within = all(high is None or used[i] <= high for i, high in enumerate(limits.high))
    return within and bool(np.all(given >= demand))
