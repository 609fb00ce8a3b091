"""The least money that sheets can cost, step after step stronger, for any plan that cuts right through.

Every part gets a value; dynamic programming says what the parts on one sheet of each kind can be worth at most. That
rules out sets of sheets which cannot hold the worth of all parts. The cheapest set not yet ruled out is the bound; the
next values are chosen, by a linear program over patterns, to rule that very set out. All that a proof rests on is
counted in whole numbers again.

Source:
    Gilmore and Gomory, Operations Research 14, 1966; Farley, Operations Research 38, 1990. Status: recalled. Ruling
    out whole sets of sheets one by one: derived here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.alike_parts import taken_for_alike
from nookwright.solvers.counted_proofs import CountedProofs
from nookwright.solvers.counted_tree import CountedTree
from nookwright.solvers.listed_proofs import ListedProof
from nookwright.solvers.pack_sheets import Rectangle
from nookwright.solvers.pattern_mix import GrowingMix, MixOfPatterns, cheapest_mix
from nookwright.solvers.refit_sheets import SheetKind, SheetsFound
from nookwright.solvers.sheet_grids import PartKind, ways_on
from nookwright.solvers.sheet_tables import SheetTables
from nookwright.solvers.sheet_trees import parts_in
from nookwright.solvers.stock_counts import Supply, TooManyCountsError, Worth, all_counts_below, counts_below

_Whole = NDArray[np.int64]
_Floats = NDArray[np.float64]
_SCALE = 1 << 40
_POINTS = (200, 500)
"""Points in each direction, first few and then more."""
_MANY = 100
_POINTS_FOR_MANY = (800,)
"""The same from so many different parts on: there only fine tables tell more than area does."""
_TOO_MANY = 200
"""From so many different parts on sets of sheets are not ruled out one by one while the gap is more than a sheet."""
_PENALTY = 10.0
_NEAR = 1e-7
_BLOCKS = (40_000, 150_000)
"""Blocks that one search for a pattern may make when copies are counted, first few and then more."""
_QUICK_STEPS = 60
"""Steps of a proof about smaller parts: most that succeed do so sooner."""
_MOST_OPEN = 10
"""Sets of sheets that may withstand before the bound is left as it is."""
_SMOOTHING = 0.7
"""Share of the best values so far in the values tried next. Source: common practice, no source."""
NO_LIMIT = 1 << 60


@dataclass(frozen=True, slots=True)
class _Pattern:
    kind: int
    pieces: _Whole


class SheetBound:
    """The bound as it stands: `least` money, and `proofs` that rule sets of sheets out, besides those `ruled_out`.

    `counts_copies` says that its steps are slow ones now, but `quick` that few of them will do; `slow` that they are so
    as there are many parts. `worths` are the values of the rectangles in the last proof that made the bound stronger.
    """

    def __init__(self, rectangles: Sequence[Rectangle], kinds: Sequence[SheetKind], *, kerf: int) -> None:
        """Begin with the bound by area."""
        alike = Counter((part.length + kerf, part.width + kerf, part.turnable) for part in rectangles)
        self._parts = [PartKind(length=l, width=w, turnable=turn, wanted=n) for (l, w, turn), n in alike.items()]
        self.part_kinds = len(self._parts)
        number = {key: i for i, key in enumerate(alike)}
        self._alike = [number[part.length + kerf, part.width + kerf, part.turnable] for part in rectangles]
        self._wanted = np.array([part.wanted for part in self._parts], dtype=np.int64)
        self._sizes = [(kind.length + kerf, kind.width + kerf) for kind in kinds]
        self.supplies = [Supply(price=kind.price, most=kind.most) for kind in kinds]
        self._areas = np.array([part.length * part.width for part in self._parts], dtype=np.int64)
        self.proofs = [Worth(parts=int(self._areas @ self._wanted), tops=tuple(l * w for l, w in self._sizes))]
        self._patterns: list[_Pattern] = []
        self._of_plan: dict[tuple[int, bytes], _Pattern] = {}
        self._known: set[tuple[int, bytes]] = set()
        self.ruled_out: list[tuple[int, ...]] = []
        self.least = 0
        self.below = NO_LIMIT
        self.counts_copies = self.quick = self.slow = False
        self._not_listable: list[CountedProofs] = []
        self.counts: tuple[int, ...] | None = None
        self.worths: _Floats | None = None

    @property
    def by_area(self) -> int:
        """The bound by area alone, where parts of sheets could be bought."""
        return self._least_by_shares(self.proofs[:1])

    def learn(self, plan: SheetsFound) -> None:
        """Begin every table with the patterns of a plan too: the first prices are then near the last ones."""
        for kind, stack in plan.sheets:
            pieces = np.zeros(len(self._parts), dtype=np.int64)
            np.add.at(pieces, [self._alike[part] for part in parts_in(stack)], 1)
            self._of_plan[kind, pieces.tobytes()] = _Pattern(kind, pieces)

    def _single_patterns(self) -> list[_Pattern]:
        """Return a pattern with one piece for every part on every kind of sheet that holds it."""
        unit = np.eye(len(self._parts), dtype=np.int64)
        return [
            _Pattern(j, unit[i])
            for j, (length, width) in enumerate(self._sizes)
            for i in sorted({part for _, _, part in ways_on(self._parts, length, width)})
        ]

    def steps(self, below: int = NO_LIMIT) -> Iterator[int]:
        """Yield the bound after every step; ends when it is proven that nothing costs less than `below`, or stuck.

        Args:
            below: cost of a plan already known; `self.below` may be lowered between steps when a cheaper one is found.
        """
        self.below = below
        yield self._look()
        for points in _POINTS_FOR_MANY if self.part_kinds >= _MANY else _POINTS:
            tables = SheetTables(self._parts, self._sizes, points)
            # A pattern that few points allow may be a little too large in truth: every table begins anew.
            self._patterns = [*self._single_patterns(), *self._of_plan.values()]
            self._known = {(one.kind, one.pieces.tobytes()) for one in self._patterns}
            for _ in self._by_cheapest_mix(tables):
                yield self.least
            self.slow = self.part_kinds >= _MANY
            yield self._look()
            if self.part_kinds >= _TOO_MANY and self.below - self.least > max(supply.price for supply in self.supplies):
                return
            while self.least < self.below and self.counts is not None:
                count = len(self.proofs)
                for _ in self._ruled_out(self.counts, tables):
                    yield self.least
                if len(self.proofs) == count:
                    break
                yield self._look()
            if self.least >= self.below:
                return
            if tables.exact:
                break
        yield from self._counted(tables)

    def _counted(self, tables: SheetTables) -> Iterator[int]:
        """Yield the bound while proofs that count copies are sought against one set of sheets after the other.

        The cheapest open set holds the bound down, so it gets every effort; once one has withstood all, the others get
        a short look: what is ruled out there the search need not try. Parts nearly alike are first taken for the
        smaller of them: that is quick, and often enough.
        """
        self.counts_copies = True
        counted = CountedProofs(self._parts, self._sizes, tables)
        smaller = self._of_fewer_kinds()
        tried: set[tuple[int, ...]] = set()
        withstood = 0
        while withstood < _MOST_OPEN and (counts := self._next_open(tried)) is not None:
            tried.add(counts)
            many = len(self.proofs) + len(self.ruled_out)
            if smaller is not None:
                self.quick = True
                for _ in islice(self._against(smaller, counts, short=True), _QUICK_STEPS):
                    yield self.least
                self.quick = False
            if len(self.proofs) + len(self.ruled_out) == many:
                for _ in self._against(counted, counts, short=withstood > 0):
                    yield self.least
            withstood += len(self.proofs) + len(self.ruled_out) == many
            self._look()
            yield self.least
        self.counts_copies = False

    def _of_fewer_kinds(self) -> CountedProofs | None:
        """Return proofs about parts of fewer kinds, none larger than in truth; None where all differ, or are many.

        None for a single kind of sheet too: there it has not been tried on enough jobs.
        """
        smaller = taken_for_alike(self._parts)
        if len(smaller) == self.part_kinds or self.part_kinds >= _MANY or len(self.supplies) == 1:
            return None
        return CountedProofs(smaller, self._sizes, SheetTables(smaller, self._sizes, _POINTS[-1]))

    def _against(self, counted: CountedProofs, counts: tuple[int, ...], *, short: bool) -> Iterator[None]:
        """Seek a proof against a set of sheets, with ever more effort."""
        for most_blocks in _BLOCKS[:1] if short else _BLOCKS:
            for proof in counted.against(counts, most_blocks):
                yield
                if proof is not None:
                    self.proofs.append(proof)
                    return
            if counted.mixed:
                break
        if counted.mixed:
            for ruled_out in self._by_trying(counted, counts, short=short):
                yield
                if ruled_out:
                    self.ruled_out.append(counts)
                    return

    def _by_trying(self, counted: CountedProofs, counts: tuple[int, ...], *, short: bool) -> Iterator[bool]:
        """Yield False step after step, and True once a set that a mix of patterns fits is ruled out all the same."""
        if counted not in self._not_listable:
            listed = ListedProof(counted, counts)
            yield from listed.steps()
            if listed.too_many:
                self._not_listable.append(counted)
        if not short:
            yield from CountedTree(counted, counts).nodes(_BLOCKS[0])

    def _next_open(self, tried: set[tuple[int, ...]]) -> tuple[int, ...] | None:
        """Return the cheapest set of sheets that is neither ruled out nor tried; None if there is none."""
        below = min(self.below, self._dearest())
        try:
            listed = sorted(all_counts_below(self.supplies, self.proofs, below, self.ruled_out))
        except TooManyCountsError:
            return None if self.counts is None or self.counts in tried else self.counts
        return next((counts for _, counts in listed if counts not in tried), None)

    def _look(self) -> int:
        """Find the cheapest set of sheets that is not ruled out."""
        limit = min(self.below, self._dearest())
        try:
            *_, (cost, self.counts) = (limit, None), *counts_below(self.supplies, self.proofs, limit, self.ruled_out)
        except TooManyCountsError:
            cost, self.counts = self._least_by_shares(self.proofs), None
        self.least = max(self.least, cost)
        return self.least

    def _dearest(self) -> int:
        """Return more than any sensible plan costs: every part on a dearest sheet of its own."""
        return 1 + int(self._wanted.sum()) * max(supply.price for supply in self.supplies)

    def _least_by_shares(self, proofs: Sequence[Worth]) -> int:
        """Return the bound where parts of sheets could be bought."""
        best = 0
        for proof in proofs:
            free = sum(
                (supply.most or 0) * top
                for supply, top in zip(self.supplies, proof.tops, strict=True)
                if supply.price == 0
            )
            lack = proof.parts - free
            priced = [(s.price, top) for s, top in zip(self.supplies, proof.tops, strict=True) if s.price and top]
            if lack > 0 and priced:
                best = max(best, min(-(-lack * price // top) for price, top in priced))
        return best

    def _ruled_out(self, counts: tuple[int, ...], tables: SheetTables) -> Iterator[bool]:
        """Add a proof against a set of sheets.

        Yields:
            After every table of values, at last whether a proof was added.
        """
        while True:
            mix, costs = self._mix(counts, tables)
            if mix.cost < _NEAR:
                yield False
                return
            values, scale = self._values(np.maximum(mix.prices[: len(self._parts)], 0.0), tables)
            worth, best = tables.worth(values, self._wanted)
            if sum(n * top for n, top in zip(counts, worth.tops, strict=True)) < worth.parts:
                self.proofs.append(worth)
                yield True
                return
            fresh = self._fresh(best, [cost * scale for cost in costs])
            if not fresh:
                yield False
                return
            self._patterns += fresh
            yield False

    def _by_cheapest_mix(self, tables: SheetTables) -> Iterator[None]:
        """Add the strongest proof that prices of the cheapest mix give, with ever more patterns.

        Yields:
            After every table of values.
        """
        dearest = _PENALTY * max(1, *(supply.price for supply in self.supplies))
        wanted = [0 if i in tables.lost else int(n) for i, n in enumerate(self._wanted)]
        mix = GrowingMix(wanted, dearest)
        costs = [float(supply.price) for supply in self.supplies]
        offered = [supply.price for supply in self.supplies] if self.part_kinds >= _MANY else None
        fresh, best_share = self._patterns, 0
        centre: _Floats | None = None
        while fresh:
            mix.add([one.pieces for one in fresh], [self.supplies[one.kind].price for one in fresh])
            prices = mix.prices()
            for share in (_SMOOTHING, 0.0):
                tried = prices if centre is None else share * centre + (1 - share) * prices
                values, scale = self._values(tried, tables)
                worth, best = tables.worth(values, self._wanted, offered)
                best_share, centre = self._kept(worth, best_share, values / scale, centre)
                # A pattern counts by the prices of the mix, whatever values it was found with.
                by_mix = [(j, int(scale * float(prices @ pieces)), pieces) for j, _, pieces in best]
                fresh = self._fresh(by_mix, [cost * scale for cost in costs])
                if fresh:
                    break
            self._patterns = [*self._patterns, *fresh]
            yield
        if offered and centre is not None:
            worth, _ = tables.worth(self._values(centre, tables)[0], self._wanted)
            self._kept(worth, best_share - 1, centre, centre)

    def _kept(self, worth: Worth, best: int, values: _Floats, centre: _Floats | None) -> tuple[int, _Floats | None]:
        """Keep a proof that is stronger than the one before; return its bound and its values, else those before."""
        bound = self._least_by_shares([worth])
        if bound <= best:
            return best, centre if centre is not None else values
        if best:
            self.proofs.pop()
        self.proofs.append(worth)
        if bound >= self.least:
            self.least, self.worths = bound, values[self._alike]
        return bound, values

    def _fresh(self, best: Sequence[tuple[int, int, _Whole]], costs: Sequence[float]) -> list[_Pattern]:
        """Return the patterns worth more than they cost that are not known yet."""
        fresh = []
        for j, top, pieces in best:
            key = (j, pieces.tobytes())
            if top > costs[j] * (1 + _NEAR) + 2 * len(self._parts) and key not in self._known:
                self._known.add(key)
                fresh.append(_Pattern(j, pieces))
        return fresh

    def _values(self, prices: _Floats, tables: SheetTables) -> tuple[_Whole, float]:
        """Return whole values of the parts by prices, and how many units make one of theirs."""
        prices = prices.copy()
        prices[list(tables.lost)] = 0.0
        scale = _SCALE / max(1e-9, float(prices.max()) * float(self._wanted.sum()))
        return np.floor(prices * scale).astype(np.int64), scale

    def _mix(self, counts: tuple[int, ...], tables: SheetTables) -> tuple[MixOfPatterns, list[float]]:
        """Return the mix of patterns that leaves out least area of parts, and what a sheet of each kind costs in it."""
        many = len(self._parts)
        wanted = np.where([i in tables.lost for i in range(many)], 0, self._wanted)
        pieces = np.array([one.pieces for one in self._patterns], dtype=float).T
        kinds = np.array([one.kind for one in self._patterns])
        left_out = np.eye(many)
        used = -(kinds[None, :] == np.arange(len(counts))[:, None]).astype(float)
        columns = np.vstack([np.hstack([left_out, pieces]), np.hstack([np.zeros((len(counts), many)), used])])
        share = self._areas / self._areas.max()
        mix = cheapest_mix(
            columns, [*share, *np.zeros(len(kinds))], [*(float(n) for n in wanted), *(-float(n) for n in counts)]
        )
        return mix, [max(0.0, float(price)) for price in mix.prices[many:]]
