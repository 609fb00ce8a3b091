"""Searches for the cheapest boards: pieces cut off square, and, where slanted ends can share cuts, laid head to tail.

Three searches are made where ends can share cuts: with every piece as long as its box; with pieces in pairs that share
a cut; and with every piece shortened by all that its ends could save at most. No plan of shared cuts is cheaper than
the last one's bound, and where its lanes can be laid so, it is such a plan. Where that settles nothing and few ends
are slanted, every way to share cuts is tried: the cheapest of their bounds holds for all plans.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from nookwright.solvers.board_leftovers import BoardJob, longest_left
from nookwright.solvers.pack_boards import Board, BoardsPlan, boards_plans
from nookwright.stages.cutting.end_chains import Chain, Nesting, chained, every_way
from nookwright.stages.cutting.more_time import MoreTime, no_more_time
from nookwright.stages.cutting.slanted_ends import most_saved

_MONEY_STEPS = 100
"""Money becomes whole hundredths for the search."""
_ROUNDS = 40
"""Rounds of search that every plan gets: enough to prove most jobs, and the same on every machine."""
_FAR, _FAR_TIMES = 1.05, 3
"""A plan that costs this many times its bound gets so many times the rounds: with boards on hand the first good plan
of 60 pieces came after 42 rounds, and cost 11 % less than the one before."""
_PROBES, _NESTED_PROBES, _PROBE_ROUNDS = 20, 6, 8
"""Lengths tried as the longest left over (fewer where ends share cuts: the proof goes by shorter pieces then, and is
seldom sharp), and rounds for each."""
_MOST_WAYS = 80
"""Ways to share cuts that are all tried where the bound is not reached: six slanted ends have 76 at most."""
_WAY_ROUNDS = 200_000
"""Rounds for all those ways together, over the square of the number of pieces, as a round takes longer with more of
them: 60 pieces took over two minutes else. With time to search each way gets as many rounds as any other plan."""
_LEFT_PIECES = 16
"""Pieces for which it is looked into how long a piece another plan of shared cuts could leave over."""

Unit = tuple[int, ...]
"""Pieces that are cut as one: a chain, or a piece by itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A length of board that can be had. [mm, 0.1 mm]

    Args:
        usable: what is left of its length once its ends are trimmed.
        width: what is left of its width once its edges are straight.
        cut_from: of one on hand, the flawed board that it is cut out of, in words; else empty.
    """

    length_mm: float
    trim: int
    usable: int
    width: int
    price: Decimal
    most: int | None
    cut_from: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidBoard:
    """One board: which offer it is of, and the chains of each lane."""

    offer: int
    lanes: tuple[tuple[Chain, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundBoards:
    """The best plan found.

    Args:
        boards: each board.
        cost, least: what they cost, and what no plan can cost less than; in hundredths.
        nested: whether ends could share cuts, so that `least` counts them.
        left: longest piece left over of a bought board. [0.1 mm]
        beyond: no plan for the money leaves as much; 0 where that is not known. [0.1 mm]
    """

    boards: tuple[LaidBoard, ...]
    cost: int
    least: int
    nested: bool
    left: int
    beyond: int

    @property
    def price(self) -> Decimal:
        """What no plan costs less than, in money."""
        return Decimal(self.least) / _MONEY_STEPS


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tried:
    """A plan of units; without a job its pieces are shorter than they are, and its lanes may not do."""

    units: list[Unit]
    job: BoardJob | None
    plan: BoardsPlan


def best_boards(nesting: Nesting, offers: Sequence[Offer], more_time: MoreTime = no_more_time) -> FoundBoards:
    """Return the best plan of the rounds that every job gets, and of as many more as there is time for.

    Money comes first; of plans for the same money the one is taken that leaves the longest piece over.

    Args:
        nesting: the pieces, and how they may lie.
        offers: lengths that can be had.
        more_time: whether the search may go on; asked often.
    """
    single: list[Unit] = [(piece,) for piece in range(len(nesting.blanks))]
    saved = _saved_at_most(nesting)
    if not any(saved):
        job = _job(nesting, single, offers)
        found = longest_left(_searched(job, more_time), job, probes=_PROBES, rounds=_PROBE_ROUNDS)
        made = _made(nesting, single, found.plan, offers)
        return FoundBoards(
            boards=made, cost=found.plan.cost, least=found.plan.least_cost, nested=False, left=found.left,
            beyond=found.beyond,
        )  # fmt: skip
    return _nested(nesting, saved, offers, more_time)


def shortened(nesting: Nesting) -> list[int]:
    """Return for each piece the length it takes at least, whatever its ends share. [0.1 mm]"""
    return [max(1, blank.length - saved) for blank, saved in zip(nesting.blanks, _saved_at_most(nesting), strict=True)]


def _nested(nesting: Nesting, saved: Sequence[int], offers: Sequence[Offer], more_time: MoreTime) -> FoundBoards:
    """Return the best plan of shared cuts, with the best bound."""
    single: list[Unit] = [(piece,) for piece in range(len(nesting.blanks))]
    short = [max(1, blank.length - less) for blank, less in zip(nesting.blanks, saved, strict=True)]
    least_job = _job(nesting, single, offers, short)
    relaxed = _searched(least_job, more_time, real=False)
    tried = [_Tried(units=single, job=None, plan=relaxed)]
    for units in (single, _pairs(nesting, offers)):
        job = _job(nesting, units, offers)
        tried.append(_Tried(units=units, job=job, plan=_searched(job, more_time)))
    (found, its), least = _best(nesting, tried, offers), relaxed.least_cost
    ways = every_way(nesting, _MOST_WAYS) if found.cost > least else None
    cheapest = found.cost
    few = _WAY_ROUNDS // (len(nesting.blanks) ** 2 * len(ways)) if ways else 0
    for way in ways or ():
        rounds = _ROUNDS if more_time() else max(1, min(_ROUNDS, few))
        units = [chain.pieces for chain in way]
        job = _job(nesting, units, offers)
        if any(all(length > one.length or wide > one.width for one in job.boards) for length, wide in job.pieces):
            continue  # a chain that fits no board is in no plan
        tried.append(_Tried(units=units, job=job, plan=_searched(job, no_more_time, found.cost, rounds)))
        cheapest = min(cheapest, tried[-1].plan.least_cost)
    if ways:
        (found, its), least = _best(nesting, tried, offers), max(least, cheapest)
    if its.job is not None:
        plan = longest_left(its.plan, its.job, probes=_NESTED_PROBES, rounds=_PROBE_ROUNDS).plan
        longer = _found(nesting, replace(its, plan=plan), offers)
        found = longer if longer is not None and longer.left > found.left else found
    beyond = 0  # what no plan of pieces so short leaves, no plan of shared cuts leaves
    if relaxed.cost == found.cost and len(nesting.blanks) <= _LEFT_PIECES:
        beyond = longest_left(relaxed, least_job, probes=_NESTED_PROBES, rounds=_PROBE_ROUNDS).beyond
    return replace(found, least=min(found.cost, least), beyond=max(beyond, found.left + 1) if beyond else 0)


def _pairs(nesting: Nesting, offers: Sequence[Offer]) -> list[Unit]:
    """Return pieces in pairs that share a cut, each pair of one width, so that it takes no wider lane."""
    longest = max(offer.usable for offer in offers if offer.most is None)
    return [
        chain.pieces
        for wide in sorted({blank.width for blank in nesting.blanks})
        for chain in chained(
            nesting, [i for i, blank in enumerate(nesting.blanks) if blank.width == wide], most=2, longest=longest
        )
    ]


def _best(nesting: Nesting, tried: Sequence[_Tried], offers: Sequence[Offer]) -> tuple[FoundBoards, _Tried]:
    """Return the cheapest plan whose lanes can be laid; of equal ones the one that leaves the longest piece over."""
    able = [(found, one) for one in tried if (found := _found(nesting, one, offers)) is not None]
    return min(able, key=lambda pair: (pair[0].cost, -pair[0].left))


def _found(nesting: Nesting, one: _Tried, offers: Sequence[Offer]) -> FoundBoards | None:
    """Return a plan with its lanes laid; None where one is too long for its board."""
    boards = _made(nesting, one.units, one.plan, offers)
    if not _fit(nesting, boards, offers):
        return None
    left = _left(boards, offers, nesting.kerf)
    return FoundBoards(boards=boards, cost=one.plan.cost, least=0, nested=True, left=left, beyond=0)


def _saved_at_most(nesting: Nesting) -> list[int]:
    """Return for each piece half of what both its ends could save at most: each cut is shared by two. [0.1 mm]"""
    kinds = {
        (blank, turns): sum(one.slanted and one == blank for one in nesting.blanks)
        for blank, turns in zip(nesting.blanks, nesting.turns, strict=True)
        if blank.slanted
    }
    saved: dict[object, int] = {}
    for (blank, turns), count in kinds.items():
        others = [(other, its) for other, its in kinds if count > 1 or (other, its) != (blank, turns)]
        both = most_saved(blank, turns, others, nesting.kerf)
        saved[blank, turns] = -(-sum(both) // 2)
    return [saved.get((blank, turns), 0) for blank, turns in zip(nesting.blanks, nesting.turns, strict=True)]


def _job(
    nesting: Nesting, units: Sequence[Unit], offers: Sequence[Offer], lengths: Sequence[int] | None = None
) -> BoardJob:
    """Return what is searched: each unit as long as its chain, and as wide as its widest piece."""
    pieces = []
    for number, unit in enumerate(units):
        length = lengths[number] if lengths else _length(nesting, chained(nesting, unit))
        pieces.append((length, max(nesting.blanks[piece].width for piece in unit)))
    boards = [
        Board(length=offer.usable, width=offer.width, price=round(offer.price * _MONEY_STEPS), most=offer.most)
        for offer in offers
    ]
    return BoardJob(pieces=tuple(pieces), boards=tuple(boards), kerf=nesting.kerf)


def _searched(
    job: BoardJob, more_time: MoreTime, enough: int | None = None, most: int = _ROUNDS, *, real: bool = True
) -> BoardsPlan:
    """Return the best plan of the rounds there are; no more are made once none can cost less than `enough`.

    What a plan costs whose pieces are shorter than they `real`-ly are is not told to whoever watches.
    """
    rounds = 0
    best = BoardsPlan(boards=(), cost=0, least_cost=0)

    def time_left() -> float:
        times = _FAR_TIMES if best.cost > best.least_cost * _FAR else 1
        if rounds < most * times:
            return float("inf")
        standing = (Decimal(best.cost) / _MONEY_STEPS, Decimal(best.least_cost) / _MONEY_STEPS) if real else ()
        return float("inf") if more_time(*standing) else 0.0

    for best in boards_plans(job.pieces, boards=job.boards, kerf=job.kerf, time_left=time_left):
        rounds += 1
        if enough is not None and best.least_cost >= enough:
            break
    return best


def _made(nesting: Nesting, units: Sequence[Unit], plan: BoardsPlan, offers: Sequence[Offer]) -> tuple[LaidBoard, ...]:
    """Return the plan's lanes with their pieces laid head to tail."""
    return tuple(
        LaidBoard(
            offer=one.stock,
            lanes=tuple(tuple(_chains(nesting, units, lane, offers[one.stock].usable)) for lane in one.lanes),
        )
        for one in plan.boards
    )


def _fit(nesting: Nesting, boards: Sequence[LaidBoard], offers: Sequence[Offer]) -> bool:
    return all(_length(nesting, lane) <= offers[one.offer].usable for one in boards for lane in one.lanes)


def _chains(nesting: Nesting, units: Sequence[Unit], lane: Sequence[int], room: int) -> Iterator[Chain]:
    """Yield a lane's chains: all its pieces joined anew, or else unit by unit."""
    anew = chained(nesting, [piece for unit in lane for piece in units[unit]])
    if _length(nesting, anew) <= room:
        yield from anew
    else:
        for unit in lane:
            yield from chained(nesting, units[unit])


def _length(nesting: Nesting, lane: Sequence[Chain]) -> int:
    return sum(chain.length + nesting.kerf for chain in lane) - nesting.kerf


def _left(boards: Sequence[LaidBoard], offers: Sequence[Offer], kerf: int) -> int:
    """Return the longest piece that a bought board leaves over."""
    return max(
        [
            0,
            *(
                offers[one.offer].usable - max(sum(chain.length + kerf for chain in lane) for lane in one.lanes)
                for one in boards
                if offers[one.offer].most is None
            ),
        ]
    )
