"""A tree over how many of each part are cut from each kind of sheet: it rules out what no single set of values can.

Every node says at least, or at most, how many of some parts come from all sheets of some kinds. It is given up when
values of the parts, with rewards and fines for what the node says, prove in whole numbers that the sheets cannot hold
them; else it is split where the best mix of patterns cuts a part by part.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.counted_proofs import CountedProofs, Pattern
from nookwright.solvers.pattern_mix import MixOfPatterns, cheapest_mix

_Whole = NDArray[np.int64]
_Floats = NDArray[np.float64]
_SCALE = 1 << 40
_NEAR = 1e-6
_BOXES = (0.25, 1.0, 4.0)
"""How much more than nearest a part may be worth, as shares, and what a reward or a fine may be, as shares of that."""
_AREA_SHARE = 0.5
_MOST_NODES = 120


@dataclass(frozen=True, slots=True)
class _Says:
    """So many of a part, at least or at most, come from all sheets of a kind."""

    kind: int
    part: int
    least: bool
    number: int


@dataclass(frozen=True, slots=True, eq=False)
class _Node:
    """What a node says, and the most of each part that one sheet of each kind can hold by it."""

    says: tuple[_Says, ...]
    most: _Whole


class CountedTree:
    """The tree for one set of sheets."""

    def __init__(self, proofs: CountedProofs, counts: Sequence[int]) -> None:
        """Begin at the root.

        Args:
            proofs: where patterns are known from; it must have been asked for a proof against these sheets before.
            counts: how many sheets of each kind.
        """
        self._proofs, self._counts = proofs, tuple(counts)
        self._kinds = [j for j, count in enumerate(counts) if count]
        centre = proofs.centres[self._counts]
        self._high = np.maximum(centre, proofs.area_values(counts) * _AREA_SHARE)
        self._lost = list(proofs.tables.lost)
        self._wanted = proofs.wanted.copy()
        self._wanted[self._lost] = 0

    def nodes(self, most_blocks: int) -> Iterator[bool]:
        """Yield False step after step, at last True when the sheets cannot hold the parts; ends without when unknown.

        Args:
            most_blocks: blocks that one search for a pattern may make.
        """
        waiting = [node for node in [self._node(())] if node]
        for _ in range(_MOST_NODES):
            if not waiting:
                yield True
                return
            node = waiting.pop()
            mix: MixOfPatterns | None = None
            for found in self._judged(node, most_blocks):
                yield False
                mix = found
            if mix is not None:
                split = self._split(node, mix)
                if split is None:
                    return
                waiting += split

    def _judged(self, node: _Node, most_blocks: int) -> Iterator[MixOfPatterns | None]:
        """Yield the mixes that were looked at; None at last when the node is ruled out."""
        for box in _BOXES:
            while True:
                mix = self._mix(node, box)
                yield mix
                if mix.cost <= 1 + _NEAR:
                    break
                ruled_out = self._ruled_out(node, mix, most_blocks)
                if ruled_out:
                    yield None
                    return
                if ruled_out is None:
                    break

    def _usable(self, node: _Node) -> list[Pattern]:
        return [
            one
            for one in self._proofs.counted
            if self._counts[one.kind] and bool((one.pieces <= node.most[one.kind]).all())
        ]

    def _mix(self, node: _Node, box: float) -> MixOfPatterns:
        """Return the best mix of patterns; what is missing can be had at the most that it may be worth."""
        used = self._usable(node)
        many, rows = len(self._wanted), len(self._wanted) + len(self._kinds)
        columns = np.zeros((rows + len(node.says), len(used) + 1 + many + len(node.says)))
        for at, one in enumerate(used):
            columns[:many, at] = one.pieces
            columns[many + self._kinds.index(one.kind), at] = -1.0
            for row, says in enumerate(node.says, start=rows):
                if says.kind == one.kind:
                    columns[row, at] = one.pieces[says.part] * (1 if says.least else -1)
        columns[many:rows, len(used)] = [float(self._counts[j]) for j in self._kinds]
        high = self._high * (1 + box)
        fines = [box * high[says.part] for says in node.says]
        columns[:many, len(used) + 1 : len(used) + 1 + many] = np.eye(many)
        columns[rows:, len(used) + 1 + many :] = np.eye(len(node.says))
        at_least = [*self._wanted.astype(float), *[0.0] * len(self._kinds)]
        at_least += [float(says.number if says.least else -says.number) for says in node.says]
        return cheapest_mix(columns, [*[0.0] * len(used), 1.0, *high, *fines], at_least)

    def _ruled_out(self, node: _Node, mix: MixOfPatterns, most_blocks: int) -> bool | None:
        """Return whether prices prove that the node has no plan; None when neither proof nor pattern is found."""
        many, rows = len(self._wanted), len(self._wanted) + len(self._kinds)
        prices = np.floor(np.maximum(mix.prices, 0.0) * _SCALE).astype(np.int64)
        values = np.repeat(prices[None, :many], len(self._counts), axis=0)
        values[:, self._lost] = 0
        total = int(values[0] @ self._wanted)
        for price, says in zip(prices[rows:].tolist(), node.says, strict=True):
            sign = 1 if says.least else -1
            values[says.kind, says.part] += sign * price
            total += sign * price * says.number
        shares = [max(0.0, float(share)) for share in mix.prices[many:rows]]
        sum_of_shares = sum(self._counts[j] * share for j, share in zip(self._kinds, shares, strict=True))
        limits = [int((total - 1) * share / max(sum_of_shares, 1e-12)) for share in shares]
        if total <= 0 or sum(self._counts[j] * limit for j, limit in zip(self._kinds, limits, strict=True)) >= total:
            return None
        proven, fresh = True, False
        for j, limit in zip(self._kinds, limits, strict=True):
            worth = np.where(node.most[j] > 0, np.maximum(values[j], 0), 0)
            top, _ = self._proofs.tables.richest(worth, j)
            if top > limit:
                found, whole = self._proofs.searched(j, worth, node.most[j], limit, most_blocks)
                fresh |= found
                proven = proven and whole and not found
        return True if proven else (False if fresh else None)

    def _split(self, node: _Node, mix: MixOfPatterns) -> list[_Node] | None:
        """Return two nodes instead of one, at the part and kind whose number is least whole; None if all is said."""
        used = self._usable(node)
        cut = np.zeros(node.most.shape)
        for share, one in zip(mix.shares, used, strict=False):
            cut[one.kind] += share * one.pieces
        fixed = {(says.kind, says.part, says.least, says.number) for says in node.says}
        best: tuple[float, int, int, int] | None = None
        for j in self._kinds:
            for part in np.flatnonzero(node.most[j] > 0).tolist():
                below = int(np.floor(cut[j, part] + _NEAR))
                away = cut[j, part] - below
                whole = away < _NEAR * 10
                number = below if whole and below else below + 1
                if whole and ((j, part, True, number) in fixed or (j, part, False, number - 1) in fixed):
                    continue
                score = self._high[part] * (_NEAR if whole else min(away, 1 - away))
                if best is None or score > best[0]:
                    best = (float(score), j, part, number)
        if best is None:
            return None
        _, j, part, number = best
        split = [_Says(j, part, False, number - 1), _Says(j, part, True, number)]
        return [new for says in split if (new := self._node((*node.says, says)))]

    def _node(self, says: tuple[_Says, ...]) -> _Node | None:
        """Return the node that says all this; None when that contradicts itself."""
        least = np.zeros((len(self._counts), len(self._wanted)), dtype=np.int64)
        most = np.repeat(self._wanted[None, :], len(self._counts), axis=0)
        for one in says:
            at = (one.kind, one.part)
            if one.least:
                least[at] = max(least[at], one.number)
            else:
                most[at] = min(most[at], one.number)
        most = np.minimum(most, self._wanted - (least.sum(axis=0) - least))
        return None if (most < least).any() else _Node(says, most)
