"""Cuts pieces from lengths of stock, with kerf, end trim, several lengths at their prices, and few of some of them.

A kerf is paid exactly by inflation: every piece and every usable length grows by one kerf. A quick plan comes first,
then the search for the cheapest, which ends when no plan can be cheaper. The same input gives the same plan, as long as
the search is limited by its rounds and not by time.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from nookwright.solvers.bounds import least_lengths
from nookwright.solvers.covering.problem import Pattern, Supply, TimeLeft, unlimited
from nookwright.solvers.covering.search import State, cheapest_covers
from nookwright.solvers.length_patterns import LengthPatterns

ROUNDS = 200
"""Rounds of search for a plan without a limit of time."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Length:
    """A length to cut from.

    Args:
        size: how long it is.
        price: in any whole unit of money; 0 for one that is there anyway.
        most: how many there are; None for one that is sold.
    """

    size: int
    price: int
    most: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """One length of stock and what is cut from it: indices of the length and of its pieces, longest first."""

    stock: int
    pieces: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthsPlan:
    """Every length to cut, its cost, and the least cost any plan can have, as far as known."""

    filled: tuple[Filled, ...]
    cost: int
    least_cost: int

    @property
    def proven(self) -> bool:
        """Whether no plan is cheaper."""
        return self.cost <= self.least_cost


def pack_lengths(
    pieces: Sequence[int], *, stocks: Sequence[Length], kerf: int, end_trim: int = 0, rounds: int = ROUNDS
) -> LengthsPlan:
    """Cut every piece from the cheapest set of lengths that a number of rounds finds.

    Args:
        pieces: lengths wanted; each must fit in a stock.
        stocks: lengths to cut from.
        kerf, end_trim: width of a cut; what the first end of a length loses.
        rounds: rounds of search after the quick plan; fewer when no plan can be cheaper.

    Returns:
        The plan; when `cost` equals `least_cost` no plan is cheaper.

    Raises:
        ValueError: if a piece fits no stock, or there is too little stock.
    """
    best = LengthsPlan(filled=(), cost=0, least_cost=0)
    for plan in islice(lengths_plans(pieces, stocks=stocks, kerf=kerf, end_trim=end_trim), rounds + 1):
        best = plan
    return best


def lengths_plans(
    pieces: Sequence[int], *, stocks: Sequence[Length], kerf: int, end_trim: int = 0, time_left: TimeLeft = unlimited
) -> Iterator[LengthsPlan]:
    """Yield a quick plan, then the best so far after each round; ends when no plan can be cheaper.

    Args:
        pieces: lengths wanted; each must fit in a stock.
        stocks: lengths to cut from.
        kerf, end_trim: width of a cut; what the first end of a length loses.
        time_left: seconds left; the search ends soon after it falls to 0.

    Yields:
        Plans of falling cost and rising least cost.

    Raises:
        ValueError: if a piece fits no stock, or there is too little stock.
    """
    if not pieces:
        return
    rooms = [max(0, stock.size - end_trim + kerf) for stock in stocks]
    sizes = [piece + kerf for piece in pieces]
    if max(sizes) > max(rooms):
        message = f"a piece of {max(pieces)} fits no length; the longest gives {max(rooms) - kerf}"
        raise ValueError(message)
    demand = Counter(sizes)
    kinds = sorted(demand, reverse=True)
    supplies = [Supply(price=stock.price, most=stock.most) for stock in stocks]
    source = LengthPatterns(kinds, [demand[size] for size in kinds], rooms, supplies)
    first = source.complete(source.demand, [stock.most for stock in stocks])
    if first is None:
        message = "there is too little stock for these pieces"
        raise ValueError(message)
    least = _least_cost(sizes, rooms, supplies)
    for state in cheapest_covers(source, first, least=least, time_left=time_left):
        yield _plan(state, sizes, kinds, rooms, supplies)


def _least_cost(sizes: Sequence[int], rooms: Sequence[int], supplies: Sequence[Supply]) -> int:
    """Return a cost that no plan can go below: by the total size at the best price, and by large pieces."""
    total = sum(sizes)
    by_size = min(-(-total * supply.price // room) for room, supply in zip(rooms, supplies, strict=True) if room > 0)
    return max(by_size, min(supply.price for supply in supplies) * least_lengths(sizes, max(rooms)))


def _plan(
    state: State, sizes: Sequence[int], kinds: Sequence[int], rooms: Sequence[int], supplies: Sequence[Supply]
) -> LengthsPlan:
    """Return the plan with its pieces told apart; what patterns give beyond the demand is dropped."""
    waiting: dict[int, list[int]] = defaultdict(list)
    for i in range(len(sizes) - 1, -1, -1):
        waiting[sizes[i]].append(i)
    held: list[tuple[int, tuple[int, ...]]] = []
    for pattern in sorted(state.plan, key=lambda one: _rank(one, kinds)):
        mine: list[int] = []
        for kind in pattern.counts.nonzero()[0].tolist():
            stack = waiting[kinds[kind]]
            mine.extend(stack.pop() for _ in range(min(len(stack), int(pattern.counts[kind]))))
        if mine:
            held.append((pattern.stock, tuple(mine)))
    filled = _in_cheapest(held, sizes, rooms, supplies)
    cost = sum(supplies[one.stock].price for one in filled)
    return LengthsPlan(filled=filled, cost=cost, least_cost=min(state.least, cost))


def _rank(pattern: Pattern, kinds: Sequence[int]) -> tuple[int, int, tuple[int, ...]]:
    """Fullest first; the rest makes the order the same each time."""
    counts = pattern.counts.tolist()
    return -sum(size * count for size, count in zip(kinds, counts, strict=True)), pattern.stock, tuple(counts)


def _in_cheapest(
    held: Sequence[tuple[int, tuple[int, ...]]], sizes: Sequence[int], rooms: Sequence[int], supplies: Sequence[Supply]
) -> tuple[Filled, ...]:
    """Return the lengths, each of the cheapest stock that holds its pieces and is still there.

    Of equal prices the longest is taken, but the shortest of what is there anyway.
    """
    used = Counter(stock for stock, _ in held)
    filled = []
    for stock, pieces in held:
        need = sum(sizes[i] for i in pieces)
        used[stock] -= 1
        fits = [
            i for i, supply in enumerate(supplies)
            if rooms[i] >= need and (supply.most is None or used[i] < supply.most)
        ]  # fmt: skip
        chosen = min(fits, key=lambda i: (supplies[i].price, rooms[i] if supplies[i].price == 0 else -rooms[i], i))
        used[chosen] += 1
        filled.append(Filled(stock=chosen, pieces=pieces))
    return tuple(filled)
