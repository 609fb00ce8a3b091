"""Proofs that a set of sheets does not hold the parts, where a pattern takes each part only as often as there is of it.

Tables that count no copies say which values of parts come nearest to such a proof. Around those values a box is drawn;
the best values in it, for all patterns known, are tried: the search over blocks of parts finds a pattern worth too
much, which is then known, or that there is none, which is the proof. Where no values in the box can do, the box grows.
A linear program suggests the values; all that a proof rests on is counted in whole numbers.

Source:
    Boxes around the values: Marsten, Hogan and Blankenship, Operations Research 23, 1975. Status: recalled.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.pattern_mix import cheapest_mix
from nookwright.solvers.sheet_grids import PartKind, ways_on
from nookwright.solvers.sheet_tables import SheetTables
from nookwright.solvers.stock_counts import Worth

if TYPE_CHECKING:
    from nookwright.solvers.kernels.blocks import Around, Blocks, Offer

_Whole = NDArray[np.int64]
_Floats = NDArray[np.float64]
_Words = NDArray[np.uint64]
_SCALE = 1 << 40
_NEAR = 1e-7
_BOXES = (0.03, 0.06, 0.12, 0.25, 0.5, 1.0, 3.0)
"""How far values may be from those that come nearest, as shares of them."""
_AREA_SHARE = 0.5
"""Share of its area that a part may be worth at least, however little it was worth before."""
_QUICK = 150
"""Blocks of each number of parts that the quick search keeps."""
_QUICK_BLOCKS = 60_000
_MOST_BLOCKS = 400_000
_SLOTS = 1 << 16
_WORD = 64
_BITS = 29
"""Binary digits of a sheet's worth in the table of what stands around blocks."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """What is cut from a sheet of a kind: how many of each part."""

    kind: int
    pieces: _Whole


class CountedProofs:
    """The patterns known so far, shared by the proofs against many sets of sheets.

    `centres` holds for each set the values that come nearest to a proof without counting copies; `mixed` says whether
    the last search ended because a mix of parts of patterns needs no more sheets than there are.
    """

    def __init__(self, parts: Sequence[PartKind], sizes: Sequence[tuple[int, int]], tables: SheetTables) -> None:
        """Begin with one part on each sheet.

        Args:
            parts: the parts, kerfs included.
            sizes: of the kinds of sheet, kerfs included.
            tables: the tables that count no copies.
        """
        self._parts, self._sizes, self.tables = parts, sizes, tables
        self.mixed = False
        self.centres: dict[tuple[int, ...], _Floats] = {}
        self.wanted = np.array([part.wanted for part in parts], dtype=np.int64)
        self._areas = np.array([part.length * part.width for part in parts], dtype=np.int64)
        self._ways = [ways_on(parts, length, width) for length, width in sizes]
        unit = np.eye(len(parts), dtype=np.int64)
        single = [Pattern(j, unit[i]) for j, ways in enumerate(self._ways) for i in sorted({way[2] for way in ways})]
        self._wide, self.counted = list(single), list(single)
        self._known = {(True, one.kind, one.pieces.tobytes()) for one in single}

    def against(self, counts: Sequence[int], most_blocks: int) -> Iterator[Worth | None]:
        """Yield None step after step, at last a proof that so many sheets of each kind do not hold the parts.

        Ends without one when there is none, or when it would take more blocks than allowed.

        Args:
            counts: how many sheets of each kind.
            most_blocks: blocks that one search may make.
        """
        self.mixed = False
        kinds = [j for j, count in enumerate(counts) if count]
        centre: _Floats | None = None
        for values in self._nearest(kinds, counts):
            centre = values
            yield None
        if centre is None:
            return
        self.centres[tuple(counts)] = centre
        floor = self.area_values(counts) * _AREA_SHARE
        for box in _BOXES:
            high = np.maximum(centre, floor) * (1 + box)
            low = centre * max(0.0, 1 - box)
            while True:
                cost, prices, shares = self.mix(kinds, counts, self.counted, (low, high))
                if cost <= 1 + _NEAR:
                    break
                tops = self._tops(kinds, counts, prices, shares, most_blocks)
                if isinstance(tops, Worth):
                    yield tops
                    return
                if not tops:
                    return
                yield None
        self.mixed = True

    def area_values(self, counts: Sequence[int]) -> _Floats:
        """Return the parts' shares of the area of a set of sheets; none for parts that tables leave out."""
        room = sum(n * length * width for n, (length, width) in zip(counts, self._sizes, strict=True))
        kept = [i not in self.tables.lost for i in range(len(self._parts))]
        return self._areas * kept / room

    def _nearest(self, kinds: Sequence[int], counts: Sequence[int]) -> Iterator[_Floats]:
        """Yield values, at last those that come nearest to a proof in tables that count no copies."""
        while True:
            _, prices, shares = self.mix(kinds, counts, self._wide, None)
            prices[list(self.tables.lost)] = 0.0
            values = np.floor(prices * _SCALE).astype(np.int64)
            fresh, total = False, 0
            for j, share in zip(kinds, shares, strict=True):
                top, pieces = self.tables.richest(values, j)
                total += counts[j] * top
                if top > share * _SCALE * (1 + _NEAR) + len(self._parts):
                    fresh |= self._noted(self._wide, j, pieces)
            yield values / max(1, total)
            if not fresh:
                return

    def _noted(self, patterns: list[Pattern], kind: int, pieces: _Whole) -> bool:
        """Add a pattern; return whether it was new."""
        key = (patterns is self._wide, kind, pieces.tobytes())
        if key in self._known:
            return False
        self._known.add(key)
        patterns.append(Pattern(kind, pieces))
        return True

    def mix(
        self,
        kinds: Sequence[int],
        counts: Sequence[int],
        patterns: Sequence[Pattern],
        box: tuple[_Floats, _Floats] | None,
    ) -> tuple[float, _Floats, _Floats]:
        """Return how many times the sheets the parts need, the values of parts, and what a sheet of each kind holds."""
        used = [one for one in patterns if counts[one.kind]]
        many = len(self._parts)
        pieces = np.array([one.pieces for one in used], dtype=float).T
        belongs = -(np.array([one.kind for one in used])[None, :] == np.array(kinds)[:, None]).astype(float)
        all_sheets = np.array([0.0] * many + [float(counts[j]) for j in kinds])[:, None]
        columns = np.hstack([np.vstack([pieces, belongs]), all_sheets])
        costs = [0.0] * len(used) + [1.0]
        if box is not None:
            low, high = box
            unit = np.vstack([np.eye(many), np.zeros((len(kinds), many))])
            columns = np.hstack([columns, unit, -unit])
            costs += [*high, *(-low)]
        wanted = [0.0 if i in self.tables.lost else float(n) for i, n in enumerate(self.wanted)]
        mix = cheapest_mix(columns, costs, [*wanted, *[0.0] * len(kinds)])
        return mix.cost, np.maximum(mix.prices[:many], 0.0), np.maximum(mix.prices[many:], 0.0)

    def _tops(
        self, kinds: Sequence[int], counts: Sequence[int], prices: _Floats, shares: _Floats, most_blocks: int
    ) -> Worth | bool:
        """Return the proof if no pattern is worth too much, else whether a new pattern was found that is."""
        prices[list(self.tables.lost)] = 0.0
        values = np.floor(prices * _SCALE).astype(np.int64)
        parts = int(values @ self.wanted)
        total = sum(counts[j] * float(share) for j, share in zip(kinds, shares, strict=True))
        limits = {j: int((parts - 1) * (float(share) / total)) for j, share in zip(kinds, shares, strict=True)}
        if sum(counts[j] * limit for j, limit in limits.items()) >= parts:
            return False
        fresh, proven = False, True
        tops: list[int] = []
        for j in range(len(self._sizes)):
            top, pieces = self.tables.richest(values, j)
            if j in limits and top > limits[j]:
                clipped = np.minimum(pieces, self.wanted)
                if self.tables.exact and int(values @ clipped) > limits[j] and self._noted(self.counted, j, clipped):
                    found, whole = True, False
                else:
                    found, whole = self.searched(j, values, self.wanted, limits[j], most_blocks)
                fresh |= found
                proven = proven and whole and not found
                top = limits[j]
            tops.append(top)
        return Worth(parts=parts, tops=tuple(tops)) if proven else fresh

    def searched(self, kind: int, values: _Whole, wanted: _Whole, limit: int, most_blocks: int) -> tuple[bool, bool]:
        """Return whether a pattern worth more than a limit was found, and whether the search for one was complete.

        Args:
            kind: the kind of sheet; its table must have been filled with the same values.
            values, wanted: of the parts.
            limit: what a pattern may be worth.
            most_blocks: blocks that the search may make.
        """
        from nookwright.solvers.kernels.blocks import most_valuable

        around = _around(self.tables, kind, self._sizes[kind])
        offer = _offer(self._ways[kind], self._sizes[kind], self._parts, values, wanted)
        for most, room in ((_QUICK, _QUICK_BLOCKS), (0, most_blocks)):
            pieces = np.zeros(len(values), dtype=np.int64)
            blocks = _blocks(room, len(offer.guard))
            _, whole, _ = most_valuable(offer, around, blocks, limit, most, False, pieces)
            if pieces.any():
                return self._noted(self.counted, kind, pieces), whole
            if whole:
                return False, True
        return False, False

    def listed(self, kind: int, values: _Whole, limit: int, most_blocks: int) -> list[Pattern] | None:
        """Return every pattern worth more than a limit that is not within another one; None if there are too many.

        Args:
            kind: the kind of sheet; its table must have been filled with the same values.
            values: of the parts, all those above 0 that are to be told apart.
            limit: what a pattern must be worth more than.
            most_blocks: blocks that the search may make.
        """
        from nookwright.solvers.kernels.blocks import most_valuable

        around = _around(self.tables, kind, self._sizes[kind])
        offer = _offer(self._ways[kind], self._sizes[kind], self._parts, values, self.wanted)
        blocks = _blocks(most_blocks, len(offer.guard))
        _, whole, many = most_valuable(offer, around, blocks, max(limit, 0), 0, True, np.zeros_like(self.wanted))
        if not whole:
            return None
        words = np.unique(blocks.words[:many][blocks.value[:many] > max(limit, 0)], axis=0)
        held = ((words[:, offer.word] >> offer.shift) & offer.mask).astype(np.int64)
        units = np.zeros((len(values), words.shape[1]), dtype=np.uint64)
        units[np.arange(len(values)), offer.word] = np.uint64(1) << offer.shift
        known = {each.tobytes() for each in words}
        return [
            Pattern(kind, pieces)
            for row, pieces in zip(words, held, strict=True)
            if not any((row + unit).tobytes() in known for unit in units[pieces < self.wanted])
        ]


def most_counted(
    parts: Sequence[PartKind], size: tuple[int, int], tables: SheetTables, values: _Whole
) -> tuple[int, _Whole]:
    """Return the greatest worth of one sheet where each part is taken only as often as there is of it, and its pieces.

    Args:
        parts: the parts.
        size: of the sheet.
        tables: of that sheet alone.
        values: of the parts.

    Raises:
        ValueError: if there are too many blocks to look at.
    """
    from nookwright.solvers.kernels.blocks import most_valuable

    tables.richest(values, 0)
    pieces = np.zeros(len(parts), dtype=np.int64)
    wanted = np.array([part.wanted for part in parts], dtype=np.int64)
    offer = _offer(ways_on(parts, *size), size, parts, values, wanted)
    around = _around(tables, 0, size)
    blocks = _blocks(_MOST_BLOCKS, len(offer.guard))
    value, whole, _ = most_valuable(offer, around, blocks, 0, 0, False, pieces)
    if not whole:
        message = "too many blocks of parts to look at"
        raise ValueError(message)
    return int(value), pieces


def _around(tables: SheetTables, kind: int, size: tuple[int, int]) -> Around:
    """Return what can stand around blocks on a kind of sheet, by its table as it was filled last."""
    from nookwright.solvers.kernels.blocks import Around, values_around

    grid, table = tables.of(kind)
    # The quick loops hold few digits: values are rounded up to them.
    digits = max(0, int(table[-1, -1]).bit_length() - _BITS)
    small = (-(-table >> digits)).astype(np.int32)
    around = np.empty_like(small)
    values_around(grid, small, around)
    return Around(
        value=around.astype(np.int64) << digits,
        along=grid.at_or_below_along[np.arange(size[0] + 1) * grid.along[-1] // size[0]],
        across=grid.at_or_below_across[np.arange(size[1] + 1) * grid.across[-1] // size[1]],
    )


def _offer(
    ways: Sequence[tuple[int, int, int]],
    size: tuple[int, int],
    parts: Sequence[PartKind],
    values: _Whole,
    wanted: _Whole,
) -> Offer:
    from nookwright.solvers.kernels.blocks import Offer

    def whole(numbers: Sequence[int]) -> _Whole:
        return np.array(numbers, dtype=np.int64)

    ways = [way for way in ways if values[way[2]] > 0]
    areas = whole([part.length * part.width for part in parts])
    order = np.argsort(-values / areas, kind="stable").astype(np.int64)
    word, shift, mask, guard, bias = _packed(wanted.tolist())
    return Offer(
        size=whole(size), length=whole([l for l, _, _ in ways]), width=whole([w for _, w, _ in ways]),
        part=whole([i for _, _, i in ways]), value=values, wanted=wanted, area=areas,
        richest=order[values[order] > 0], word=word, shift=shift, mask=mask, guard=guard, bias=bias,
    )  # fmt: skip


def _packed(wanted: Sequence[int]) -> tuple[_Whole, _Words, _Words, _Words, _Words]:
    """Return where numbers up to those wanted are kept in words: word, shift and mask of each, guard and bias of words.

    Two numbers of a part added, and the bias, reach its guard bit just when they are more than wanted.
    """
    word: list[int] = []
    shift: list[int] = []
    guard, bias, used = [0], [0], 0
    for most in wanted:
        bits = most.bit_length()
        if used + bits + 1 > _WORD:
            guard, bias, used = [*guard, 0], [*bias, 0], 0
        word.append(len(guard) - 1)
        shift.append(used)
        guard[-1] |= 1 << (used + bits)
        bias[-1] |= ((1 << bits) - 1 - most) << used
        used += bits + 1
    mask = [(1 << most.bit_length()) - 1 for most in wanted]

    def words(numbers: Sequence[int]) -> _Words:
        return np.array(numbers, dtype=np.uint64)

    return np.array(word, dtype=np.int64), words(shift), words(mask), words(guard), words(bias)


def _blocks(room: int, words: int) -> Blocks:
    from nookwright.solvers.kernels.blocks import Blocks

    def row() -> _Whole:
        return np.empty(room, dtype=np.int64)

    kept = np.empty((room, words), dtype=np.uint64)
    return Blocks(row(), row(), row(), row(), kept, row(), np.full(_SLOTS, -1, dtype=np.int64))
