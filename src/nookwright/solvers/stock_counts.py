"""How many sheets of each kind a plan must use: the cheapest counts that no proof rules out, by trying all of them.

A proof gives every part a value and says what the parts on one sheet of a kind can be worth at most. A plan whose
sheets together cannot be worth as much as its parts does not exist, whatever the cuts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

_MOST_LOOKED_AT = 15_000
"""Counts looked at before the search for them gives up; it then says nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Worth:
    """What the parts are worth together, and the most that a sheet of each kind can hold of it; whole numbers."""

    parts: int
    tops: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """What a kind of sheet costs, and how many there are; None for any."""

    price: int
    most: int | None = None


class TooManyCountsError(Exception):
    """There are more counts than can be looked at."""


def counts_below(
    supplies: Sequence[Supply], proofs: Sequence[Worth], below: int, ruled_out: Sequence[tuple[int, ...]] = ()
) -> Iterator[tuple[int, tuple[int, ...]]]:
    """Yield cost and counts that cost less than `below` and that no proof rules out, each cheaper than the one before.

    The last one yielded is therefore the cheapest. Sheets that cost nothing are all used. Where one count fewer of the
    kind looked at last would do, that is taken.

    Args:
        supplies: price and number of each kind.
        proofs: what rules counts out.
        below: a cost that is too much.
        ruled_out: counts known not to do; fewer sheets do not either.

    Raises:
        TooManyCountsError: if there are too many counts to look at.
    """
    yield from _counts(supplies, proofs, below, ruled_out, only_cheaper=True)


def all_counts_below(
    supplies: Sequence[Supply], proofs: Sequence[Worth], below: int, ruled_out: Sequence[tuple[int, ...]] = ()
) -> Iterator[tuple[int, tuple[int, ...]]]:
    """Yield cost and counts as `counts_below`, but all of them.

    Args:
        supplies, proofs, below, ruled_out: as there.

    Raises:
        TooManyCountsError: if there are too many counts to look at.
    """
    yield from _counts(supplies, proofs, below, ruled_out, only_cheaper=False)


def _counts(
    supplies: Sequence[Supply],
    proofs: Sequence[Worth],
    below: int,
    ruled_out: Sequence[tuple[int, ...]],
    *,
    only_cheaper: bool,
) -> Iterator[tuple[int, tuple[int, ...]]]:
    free = [0 if supply.price else supply.most or 0 for supply in supplies]
    priced = sorted((j for j, supply in enumerate(supplies) if supply.price), key=lambda j: -supplies[j].price)
    lacking = [proof.parts - sum(n * top for n, top in zip(free, proof.tops, strict=True)) for proof in proofs]
    limit = below
    looked = 0
    waiting = [(0, 0, tuple(lacking), tuple(free))]
    while waiting:
        depth, cost, lack, counts = waiting.pop()
        looked += 1
        if looked > _MOST_LOOKED_AT:
            raise TooManyCountsError
        if cost >= limit or _dearer(supplies, proofs, priced[depth:], lack, limit - cost):
            continue
        enough = all(each <= 0 for each in lack)
        if enough and not _within(counts, ruled_out):
            if only_cheaper:
                limit = cost
            yield cost, counts
            continue
        if depth == len(priced):
            continue
        j = priced[depth]
        useful = _most_useful(j, supplies, proofs, lack)
        if ruled_out:
            useful = max(useful, 1 + max(each[j] for each in ruled_out))
            most = supplies[j].most
            useful = useful if most is None else min(useful, most)
        for n in range(useful + 1):
            less = tuple(each - n * proof.tops[j] for each, proof in zip(lack, proofs, strict=True))
            waiting.append((depth + 1, cost + n * supplies[j].price, less, (*counts[:j], n, *counts[j + 1 :])))


def _within(counts: tuple[int, ...], ruled_out: Sequence[tuple[int, ...]]) -> bool:
    """Return whether counts are no more than others that are ruled out."""
    return any(all(n <= most for n, most in zip(counts, each, strict=True)) for each in ruled_out)


def _most_useful(j: int, supplies: Sequence[Supply], proofs: Sequence[Worth], lack: Sequence[int]) -> int:
    """Return how many sheets of a kind can still help."""
    useful = [(each, proof.tops[j]) for each, proof in zip(lack, proofs, strict=True) if each > 0 and proof.tops[j] > 0]
    need = max((-(-each // top) for each, top in useful), default=0)
    most = supplies[j].most
    return need if most is None else min(need, most)


def _dearer(
    supplies: Sequence[Supply], proofs: Sequence[Worth], kinds: Sequence[int], lack: Sequence[int], room: int
) -> bool:
    """Return whether what is lacking costs at least `room`, by the kind of sheet that gives most for its price."""
    for each, proof in zip(lack, proofs, strict=True):
        if each <= 0:
            continue
        # cost >= each * price / top for every kind, so also for the one with the least price per worth
        if all(each * supplies[j].price > (room - 1) * proof.tops[j] for j in kinds):
            return True
    return False
