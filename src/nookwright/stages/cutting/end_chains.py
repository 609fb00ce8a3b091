"""Chains of pieces laid head to tail so that equal slanted ends share a cut, and where each lies in its lane."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

from nookwright.stages.cutting.cutting_plan import Laid
from nookwright.stages.cutting.slanted_ends import EVERY_TURN, TURNS, Blank, Joint, joint, turned_again

_DUST = 1e-6


@dataclass(frozen=True, slots=True)
class Nesting:
    """Pieces that may share cuts.

    Args:
        blanks: each piece as drawn.
        turns: for each, how it may lie.
        kerf: width of a cut. [0.1 mm]
    """

    blanks: tuple[Blank, ...]
    turns: tuple[tuple[Laid, ...], ...]
    kerf: int


@dataclass(frozen=True, slots=True)
class Link:
    """One piece of a chain: how it lies, where it starts, and the cut shared with the piece before it. [0.1 mm]"""

    piece: int
    turn: Laid
    start: int
    shared: Joint | None = None


@dataclass(frozen=True, slots=True)
class Chain:
    """Pieces one after the other, and how far they reach along. [0.1 mm]"""

    links: tuple[Link, ...]
    length: int

    @property
    def pieces(self) -> tuple[int, ...]:
        """The pieces, in order."""
        return tuple(link.piece for link in self.links)


End = tuple[int, bool]
"""A piece, and whether it is its last end as drawn."""
Meeting = tuple[int, End, End]
"""What two ends save that share a cut, and the ends. [0.1 mm]"""


def chained(nesting: Nesting, pieces: Sequence[int], *, most: int = 0, longest: int = 0) -> tuple[Chain, ...]:
    """Return pieces in chains: what saves most length is joined first.

    Args:
        nesting: what the pieces are.
        pieces: which of them.
        most: pieces in a chain at most; 0 for any number.
        longest: chains no longer than this; 0 for any length. [0.1 mm]

    Returns:
        Chains by their first piece in the order given; a piece that shares no cut is a chain by itself.
    """
    chains = {piece: _single(nesting, piece) for piece in pieces}
    for _, one, other in sorted(meetings(nesting, pieces), key=lambda found: (-found[0], found[1:])):
        a, b = chains[one[0]], chains[other[0]]
        if a is b or (most and len(a.links) + len(b.links) > most):
            continue
        joined = _joined(nesting, a, b, one, other)
        if joined is not None and not 0 < longest < joined.length:
            chains.update(dict.fromkeys(joined.pieces, joined))
    return _in_order(chains, pieces)


def every_way(nesting: Nesting, most: int) -> list[tuple[Chain, ...]] | None:
    """Return every way in which ends of all pieces can share cuts, with none shared too; None if they are too many.

    Args:
        nesting: the pieces.
        most: ways that are too many.
    """
    pieces = range(len(nesting.blanks))
    pairs = [(one, other) for _, one, other in meetings(nesting, pieces)]
    if len(pairs) >= most:  # each alone is one way
        return None
    ways: list[tuple[Chain, ...]] = []

    def join(number: int, taken: frozenset[End], chains: dict[int, Chain]) -> bool:
        if number == len(pairs):
            ways.append(_in_order(chains, pieces))
            return len(ways) <= most
        one, other = pairs[number]
        if not join(number + 1, taken, chains):
            return False
        a, b = chains[one[0]], chains[other[0]]
        if one in taken or other in taken or a is b:
            return True
        joined = _joined(nesting, a, b, one, other)
        if joined is None:
            return True
        return join(number + 1, taken | {one, other}, {**chains, **dict.fromkeys(joined.pieces, joined)})

    return ways if join(0, frozenset(), {piece: _single(nesting, piece) for piece in pieces}) else None


def _in_order(chains: Mapping[int, Chain], pieces: Sequence[int]) -> tuple[Chain, ...]:
    return tuple({id(chains[piece]): chains[piece] for piece in pieces}.values())


def _single(nesting: Nesting, piece: int) -> Chain:
    return Chain((Link(piece, nesting.turns[piece][0], 0),), nesting.blanks[piece].length)


def meetings(nesting: Nesting, pieces: Sequence[int]) -> list[Meeting]:
    """Return every pair of ends, of two of the pieces, that can share a cut."""
    slanted = [piece for piece in pieces if nesting.blanks[piece].slanted]
    known: dict[tuple[object, ...], dict[tuple[bool, bool], int]] = {}
    found: list[Meeting] = []
    for number, one in enumerate(slanted):
        for other in slanted[number + 1 :]:
            key = (nesting.blanks[one], nesting.turns[one], nesting.blanks[other], nesting.turns[other])
            if key not in known:
                known[key] = _savings(nesting, one, other)
            found.extend((saved, (one, mine), (other, its)) for (mine, its), saved in known[key].items())
    return found


def _savings(nesting: Nesting, one: int, other: int) -> dict[tuple[bool, bool], int]:
    """Return what each pair of ends saves at best."""
    best: dict[tuple[bool, bool], int] = {}
    for turn in nesting.turns[one]:
        for its in nesting.turns[other]:
            mine, theirs = nesting.blanks[one].lying(turn), nesting.blanks[other].lying(its)
            for found, last in ((joint(mine, theirs, nesting.kerf), True), (joint(theirs, mine, nesting.kerf), False)):
                if found is not None:
                    ends = (last != TURNS[turn][0], last == TURNS[its][0])
                    best[ends] = max(best.get(ends, 0), found.saved)
    return best


def _joined(nesting: Nesting, a: Chain, b: Chain, one: End, other: End) -> Chain | None:
    """Return the shortest chain in which two ends of chains meet; None if they cannot."""
    ways = [
        made
        for first, second, meet, met in ((a, b, one, other), (b, a, other, one))
        for turn in EVERY_TURN
        for its in EVERY_TURN
        if (head := _turned(nesting, first, turn)) is not None
        and (tail := _turned(nesting, second, its)) is not None
        and (head[-1][0], not TURNS[head[-1][1]][0]) == meet
        and (tail[0][0], TURNS[tail[0][1]][0]) == met
        and (made := laid(nesting, [*head, *tail])) is not None
    ]
    cuts = len(a.links) + len(b.links) - 1
    whole = [chain for chain in ways if sum(link.shared is not None for link in chain.links) == cuts]
    return min(
        whole, key=lambda chain: (chain.length, sum(link.turn != "as drawn" for link in chain.links)), default=None
    )


def _turned(nesting: Nesting, chain: Chain, turn: Laid) -> list[tuple[int, Laid]] | None:
    """Return a chain's pieces and how they lie once all of it is turned; None where one of them may not lie so."""
    again = partial(turned_again, then=turn)
    lying = [(link.piece, again(link.turn)) for link in chain.links]
    if any(way not in nesting.turns[piece] for piece, way in lying):
        return None
    return lying[::-1] if TURNS[turn][0] else lying


def laid(nesting: Nesting, lying: Sequence[tuple[int, Laid]]) -> Chain | None:
    """Return pieces laid one after the other, equal ends sharing a cut.

    None where a cut would meet another piece, or where a long point would lie on no edge that one can measure along: a
    piece narrower than the widest of its chain lies at the near edge, so its long points must lie there.

    Args:
        nesting: what the pieces are.
        lying: pieces in order, and how each lies.
    """
    links: list[Link] = []
    reach = 0
    for piece, turn in lying:
        blank = nesting.blanks[piece].lying(turn)
        shared = None
        if links:
            before = nesting.blanks[links[-1].piece].lying(links[-1].turn)
            shared = joint(before, blank, nesting.kerf)
        start = links[-1].start + shared.step if shared else (reach + nesting.kerf if links else 0)
        if start + blank.length < reach:
            return None  # it ends before a piece that lies before it: nothing could be cut off square behind it
        links.append(Link(piece, turn, start, shared))
        reach = max(reach, start + blank.length)
    clear = _cuts_are_clear(nesting, links) and _can_be_set_off(nesting, links)
    return Chain(tuple(links), reach) if clear else None


def _can_be_set_off(nesting: Nesting, links: Sequence[Link]) -> bool:
    """Return whether the long point of every mitre that is shared lies on an edge of the chain."""
    widest = max(nesting.blanks[link.piece].width for link in links)
    for before, after in pairwise(links):
        if after.shared is not None and after.shared.slant.mitred:
            farther = before if after.shared.slant.run > 0 else after  # whose long point lies away from the near edge
            if nesting.blanks[farther.piece].width < widest:
                return False
    return True


def _cuts_are_clear(nesting: Nesting, links: Sequence[Link]) -> bool:
    """Return whether every shared cut leaves the pieces before it on one side and those after it on the other."""
    for number, link in enumerate(links):
        if link.shared is None:
            continue
        slant = link.shared.slant
        near = links[number - 1].start + link.shared.place
        far = near + nesting.kerf * slant.stretch
        for place, other in enumerate(links):
            corners = nesting.blanks[other.piece].lying(other.turn).corners
            places = [other.start + slant.place(corner) for corner in corners]
            if max(places) > near + _DUST if place < number else min(places) < far - _DUST:
                return False
    return all(link.start >= links[0].start for link in links)
