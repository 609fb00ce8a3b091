"""Cuts pieces from lengths of stock, with kerf, end trim and several lengths for sale at their prices.

A kerf is paid exactly by inflation: every piece and every usable length grows by one kerf. Small jobs are searched to
the end within a limit of steps; larger ones start from best-fit and fullest-length plans and are improved by taking a
few lengths apart again and again. The same input gives the same plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from nookwright.solvers.bounds import least_lengths
from nookwright.solvers.shaking import Shaker

_EXACT_PIECES = 12
"""Jobs up to this many pieces are searched to the end."""
_EXACT_STEPS = 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Length:
    """A length for sale: its size, and its price in any whole unit of money."""

    size: int
    price: int


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


@dataclass(frozen=True, slots=True)
class _Job:
    """Inflated sizes; `stocks` from short to long as (room, price, index), none dearer than a longer one."""

    sizes: tuple[int, ...]
    stocks: tuple[tuple[int, int, int], ...]

    @property
    def room(self) -> int:
        return self.stocks[-1][0]

    def cheapest(self, used: int) -> tuple[int, int, int]:
        return next(stock for stock in self.stocks if stock[0] >= used)


_Groups = tuple[tuple[int, ...], ...]


def pack_lengths(
    pieces: Sequence[int], *, stocks: Sequence[Length], kerf: int, end_trim: int = 0, tries: int = 600
) -> LengthsPlan:
    """Cut every piece from the cheapest set of lengths the search finds.

    Args:
        pieces: lengths wanted; each must fit in the longest stock.
        stocks: lengths for sale.
        kerf, end_trim: width of a cut; what the first end of a length loses.
        tries: rounds of taking apart and repacking.

    Returns:
        The plan; when `cost` equals `least_cost` no plan is cheaper.

    Raises:
        ValueError: if a piece fits no stock.
    """
    if not pieces:
        return LengthsPlan(filled=(), cost=0, least_cost=0)
    job = _job(pieces, stocks, kerf, end_trim)
    least = _least_cost(job)
    best: _Groups = ()
    for groups in islice(plans(job, least), tries + 1):
        best = groups
    if len(pieces) <= _EXACT_PIECES and _cost(job, best) > least:
        best, finished = _search_all(job, best)
        least = _cost(job, best) if finished else least
    filled = sorted(
        (Filled(stock=job.cheapest(_used(job, group))[2], pieces=group) for group in best),
        key=lambda one: (-sum(job.sizes[i] for i in one.pieces), one.pieces),
    )
    return LengthsPlan(filled=tuple(filled), cost=_cost(job, best), least_cost=least)


def plans(job: _Job, least: int) -> Iterator[_Groups]:
    """Yield the best grouping so far, round after round; ends when the least cost is reached."""
    order = sorted(range(len(job.sizes)), key=lambda i: -job.sizes[i])
    starts = [_best_fit(job, order, stock[0]) for stock in job.stocks] + [
        _fullest(job, order, stock[0]) for stock in job.stocks
    ]
    best = now = min(starts, key=lambda groups: _rank(job, groups))
    yield best
    shaker = Shaker()
    while _cost(job, best) > least and len(best) > 1:
        changed = _repacked(job, now, shaker)
        if _rank(job, changed) <= _rank(job, now):
            now = changed
        if _rank(job, now) < _rank(job, best):
            best = now
        yield best


def _job(pieces: Sequence[int], stocks: Sequence[Length], kerf: int, end_trim: int) -> _Job:
    rooms = sorted((stock.size - end_trim + kerf, stock.price, i) for i, stock in enumerate(stocks))
    worth = [one for i, one in enumerate(rooms) if all(one[1] < longer[1] for longer in rooms[i + 1 :])]
    sizes = tuple(piece + kerf for piece in pieces)
    if max(sizes) > worth[-1][0]:
        message = f"a piece of {max(pieces)} fits no length; the longest gives {worth[-1][0] - kerf}"
        raise ValueError(message)
    return _Job(sizes, tuple(worth))


def _used(job: _Job, group: Sequence[int]) -> int:
    return sum(job.sizes[i] for i in group)


def _cost(job: _Job, groups: _Groups) -> int:
    return sum(job.cheapest(_used(job, group))[1] for group in groups)


def _rank(job: _Job, groups: _Groups) -> tuple[int, int, int]:
    """Cheaper first, then fewer lengths, then the waste gathered on few of them."""
    return _cost(job, groups), len(groups), -sum(_used(job, group) ** 2 for group in groups)


def _least_cost(job: _Job) -> int:
    """Return a cost no plan can go below: by total length at the best price per length, and piece by piece.

    With one length for sale it is the bound L2 times its price.
    """
    total = sum(job.sizes)
    by_length = min(-(-total * price // room) for room, price, _ in job.stocks)
    lone = sum(job.cheapest(size)[1] for size in job.sizes if 2 * size > job.room)
    cheapest = min(price for _, price, _ in job.stocks)
    fewest = cheapest * least_lengths(job.sizes, job.room)
    return max(by_length, lone, fewest)


def _best_fit(job: _Job, order: Sequence[int], room: int) -> _Groups:
    """Put each piece where the least is left over; open a length of the given room, or longer if it must be."""
    groups: list[list[int]] = []
    left: list[int] = []
    for i in order:
        size = job.sizes[i]
        fitting = [g for g, rest in enumerate(left) if rest >= size]
        if fitting:
            g = min(fitting, key=lambda g: left[g])
            groups[g].append(i)
            left[g] -= size
        else:
            groups.append([i])
            left.append((room if size <= room else job.room) - size)
    return tuple(tuple(group) for group in groups)


def _fullest(job: _Job, order: Sequence[int], room: int) -> _Groups:
    """Fill length after length as full as possible, each round its first remaining piece."""
    rest = list(order)
    groups: list[tuple[int, ...]] = []
    while rest:
        space = room if job.sizes[rest[0]] <= room else job.room
        chosen = _fill(job, rest, space)
        groups.append(tuple(sorted(chosen, key=lambda i: (-job.sizes[i], i))))
        taken = set(chosen)
        rest = [i for i in rest if i not in taken]
    return tuple(groups)


def _fill(job: _Job, rest: Sequence[int], room: int) -> list[int]:
    """Return the first piece and those others that fill the room best: all sums as the bits of one number."""
    chosen = [rest[0]]
    space = room - job.sizes[rest[0]]
    mask = (1 << (space + 1)) - 1
    steps = [1]
    others = []
    for i in rest[1:]:
        if job.sizes[i] <= space:
            others.append(i)
            steps.append((steps[-1] | steps[-1] << job.sizes[i]) & mask)
            if steps[-1] >> space:
                break
    target = steps[-1].bit_length() - 1
    for number in range(len(others), 0, -1):
        if not steps[number - 1] >> target & 1:
            chosen.append(others[number - 1])
            target -= job.sizes[others[number - 1]]
    return chosen


def _repacked(job: _Job, groups: _Groups, shaker: Shaker) -> _Groups:
    """Return the grouping with a few lengths taken apart and filled again in a shaken order."""
    count = min(len(groups), 2 + shaker.below(5))
    taken: list[int] = []
    if shaker.below(2):
        taken.append(min(range(len(groups)), key=lambda g: _used(job, groups[g])))
    while len(taken) < count:
        pick = shaker.below(len(groups))
        if pick not in taken:
            taken.append(pick)
    loose = sorted(i for g in taken for i in groups[g])
    spread = 1 + shaker.below(80)
    weights = {i: job.sizes[i] * (100 + shaker.below(spread)) for i in loose}
    loose.sort(key=lambda i: (-weights[i], i))
    room = job.stocks[shaker.below(len(job.stocks))][0]
    again = _fullest(job, loose, room) if shaker.below(3) else _best_fit(job, loose, room)
    return tuple(group for g, group in enumerate(groups) if g not in taken) + again


def _search_all(job: _Job, best: _Groups) -> tuple[_Groups, bool]:
    """Try every grouping that could be cheaper; return the cheapest and whether the search came to its end."""
    order = sorted(range(len(job.sizes)), key=lambda i: -job.sizes[i])
    found, cost = best, _cost(job, best)
    steps = 0
    groups: list[list[int]] = []
    used: list[int] = []

    def place(number: int) -> None:
        nonlocal found, cost, steps
        steps += 1
        now = sum(job.cheapest(size)[1] for size in used)
        if steps > _EXACT_STEPS or now >= cost:
            return
        if number == len(order):
            found, cost = tuple(tuple(group) for group in groups), now
            return
        size = job.sizes[order[number]]
        tried: set[int] = set()
        for g in range(len(groups)):
            if used[g] + size <= job.room and used[g] not in tried:
                tried.add(used[g])
                groups[g].append(order[number])
                used[g] += size
                place(number + 1)
                used[g] -= size
                groups[g].pop()
        groups.append([order[number]])
        used.append(size)
        place(number + 1)
        groups.pop()
        used.pop()

    place(0)
    return found, steps <= _EXACT_STEPS
