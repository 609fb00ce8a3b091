"""Packs rectangles on equal sheets by cuts right through, with kerf and a turning rule per rectangle.

A kerf is paid exactly by inflation: every rectangle grows by one kerf in both directions and so does the sheet, so
that a rectangle flush with the sheet's far edge pays none there. All sizes are whole numbers in one unit.

The search first tries plain orders and splitting rules, then takes a few sheets apart again and again and repacks
them in a slightly shaken order. Its shaking is a fixed sequence of numbers, so the same input gives the same plan.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice, product
from types import MappingProxyType
from typing import Literal

from nookwright.solvers.shaking import Shaker

Along = Literal["length", "width"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rectangle:
    """A rectangle to place; `turnable` when its length may lie along the sheet's width."""

    length: int
    width: int
    turnable: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """A piece of a sheet: cut in two, or a rectangle, or free.

    Args:
        x, y, length, width: where it lies; below 0 in size where the saw left nothing.
        part: index of the rectangle it is; None when it is free or cut further.
        turned: whether that rectangle lies turned.
        along: direction of the cut right through it; None when it is not cut.
        low, high: the two pieces of that cut, nearer to and further from the sheet's corner.
    """

    x: int
    y: int
    length: int
    width: int
    part: int | None = None
    turned: bool = False
    along: Along | None = None
    low: Region | None = None
    high: Region | None = None


_MEMORY = 20
"""Rounds after which a round must be no worse: longer searches wider, shorter ends sooner."""
_MOST_TAKEN = 4
"""Most sheets taken apart in one round."""
_MOST_SPREAD_PCT = 60
"""Most that a round's order is shaken."""

# One rectangle put in a free place: (rectangle, turned, number of the place, rip first).
# Place 0 is the whole sheet; rectangle j of a sheet makes place 2j+1 beside it and place 2j+2 above it.
_Put = tuple[int, bool, int, bool]
_Sheet = list[_Put]
_Size = tuple[int, int, bool]
_Place = tuple[int, int, int, int]  # length, width, sheet, number of the place
_FitRule = Callable[[int, int, int, int], int]
_SplitRule = Callable[[int, int, int, int], bool]


@dataclass(frozen=True, slots=True)
class Packing:
    """Sheets as lists of rectangles in the order they were put; `score` rises as free area gathers on few sheets."""

    sheets: tuple[_Sheet, ...]
    score: int


@dataclass(frozen=True, slots=True)
class _Job:
    """Inflated sizes of everything, ready for the inner loop."""

    sizes: tuple[_Size, ...]
    length: int
    width: int
    least: int  # a free place with a side below this holds nothing
    any_free: bool  # whether any rectangle may turn


_FITS: tuple[_FitRule, ...] = (
    lambda spare_l, spare_w, length, width: length * width,  # smallest place
    lambda spare_l, spare_w, length, width: min(spare_l, spare_w),  # snuggest on one side
)
_SPLITS: tuple[_SplitRule, ...] = (
    lambda spare_l, spare_w, length, width: spare_l * width < spare_w * length,  # largest single free place
    lambda spare_l, spare_w, length, width: spare_l < spare_w,  # cut first across the shorter spare side
    lambda spare_l, spare_w, length, width: True,  # always rip first
    lambda spare_l, spare_w, length, width: False,  # always crosscut first
)
_KEYS: tuple[Callable[[_Size], int], ...] = (
    lambda size: size[0] * size[1],
    lambda size: max(size[0], size[1]),
    lambda size: size[0] * 100_000 + size[1],
    lambda size: size[1] * 100_000 + size[0],
    lambda size: size[0] + size[1],
)


def pack_sheets(
    rectangles: Sequence[Rectangle], *, length: int, width: int, kerf: int, tries: int = 1200, enough: int = 0
) -> tuple[Region, ...]:
    """Place every rectangle on as few sheets as the search finds.

    Args:
        rectangles: what to place; each must fit on an empty sheet.
        length, width: usable size of a sheet.
        kerf: width of a cut, in the same unit.
        tries: rounds of taking apart and repacking.
        enough: a proven least number of sheets; the search ends there.

    Returns:
        One cutting tree per sheet, fullest sheet first.

    Raises:
        ValueError: if a rectangle fits no sheet.
    """
    last = None
    for packing in islice(packings(rectangles, length=length, width=width, kerf=kerf, enough=enough), tries + 1):
        last = packing
    return () if last is None else trees(last, rectangles, length=length, width=width, kerf=kerf)


def packings(
    rectangles: Sequence[Rectangle], *, length: int, width: int, kerf: int, enough: int = 0
) -> Iterator[Packing]:
    """Yield the best packing so far, round after round; ends when `enough` sheets are reached or nothing is to do."""
    if not rectangles:
        return
    job = _job(rectangles, length + kerf, width + kerf, kerf)
    best = _first_packing(job)
    yield best
    shaker = Shaker()
    while len(best.sheets) > max(1, enough):
        for better in _with_one_less(job, best, shaker):
            best = better
            yield best


def _with_one_less(job: _Job, packing: Packing, shaker: Shaker) -> Iterator[Packing]:
    """Clear the emptiest sheet and try to place what lay on it elsewhere, round after round.

    A round may leave out somewhat more than the one before, but not more than some rounds ago: so the search climbs
    out of dead ends.

    Yields:
        The best packing after each round; the last one has a sheet less.
    """
    kept = sorted(packing.sheets, key=lambda sheet: _filled(job, sheet))
    left_out = [put[0] for put in kept.pop(0)]
    best = packing
    least = now = _area(job, left_out)
    history = [now] * _MEMORY
    rounds = 0
    while left_out:
        changed, out = _repacked(job, kept, left_out, shaker)
        area = _area(job, out)
        if area <= max(now, history[rounds % _MEMORY]):
            kept, left_out, now = changed, out, area
        history[rounds % _MEMORY] = now
        rounds += 1
        if 0 < now < least:
            least = now
            best = _gathered(job, best, kept, left_out)
        if left_out:
            yield best
    yield _scored(job, [sheet for sheet in kept if sheet])


def _gathered(job: _Job, best: Packing, kept: Sequence[_Sheet], left_out: Sequence[int]) -> Packing:
    """Return the packing with what is left out on one last sheet, if that is a better one."""
    last, out = _decode(job, _ordered(job, left_out, _KEYS[0]), _FITS[0], _SPLITS[0], 1)
    packing = _scored(job, [*(sheet for sheet in kept if sheet), *last])
    return best if out or packing.score < best.score else packing


def trees(
    packing: Packing, rectangles: Sequence[Rectangle], *, length: int, width: int, kerf: int
) -> tuple[Region, ...]:
    """Return the cutting tree of each sheet of a packing, fullest sheet first."""
    job = _job(rectangles, length + kerf, width + kerf, kerf)
    fullest_first = sorted(packing.sheets, key=lambda sheet: -_filled(job, sheet))
    return tuple(_tree(job, sheet, kerf) for sheet in fullest_first)


def _job(rectangles: Sequence[Rectangle], length: int, width: int, kerf: int) -> _Job:
    sizes = tuple((part.length + kerf, part.width + kerf, part.turnable) for part in rectangles)
    for l, w, turnable in sizes:
        if not ((l <= length and w <= width) or (turnable and w <= length and l <= width)):
            message = f"a rectangle of {l - kerf} x {w - kerf} fits no sheet of {length - kerf} x {width - kerf}"
            raise ValueError(message)
    return _Job(sizes, length, width, min(min(size[:2]) for size in sizes), any(size[2] for size in sizes))


def _first_packing(job: _Job) -> Packing:
    """Return the best of the plain orders and rules."""
    packed: list[Packing] = []
    for key in _KEYS:
        order = _ordered(job, range(len(job.sizes)), key)
        for fit, split in product(_FITS, _SPLITS):
            packed.append(_scored(job, _decode(job, order, fit, split, len(order))[0]))
    return min(packed, key=lambda packing: (len(packing.sheets), -packing.score))


def _ordered(job: _Job, items: Sequence[int], key: Callable[[_Size], int]) -> list[int]:
    return sorted(items, key=lambda i: -key(job.sizes[i]))


def _scored(job: _Job, sheets: Sequence[_Sheet]) -> Packing:
    return Packing(tuple(sheets), sum(_filled(job, sheet) ** 2 for sheet in sheets))


def _filled(job: _Job, sheet: _Sheet) -> int:
    return sum(job.sizes[put[0]][0] * job.sizes[put[0]][1] for put in sheet)


def _area(job: _Job, items: Sequence[int]) -> int:
    return sum(job.sizes[i][0] * job.sizes[i][1] for i in items)


def _repacked(
    job: _Job, sheets: Sequence[_Sheet], left_out: Sequence[int], shaker: Shaker
) -> tuple[list[_Sheet], list[int]]:
    """Take a few sheets apart and pack them again with what was left out, in a shaken order."""
    count = min(len(sheets), 1 + shaker.below(_MOST_TAKEN))
    taken: set[int] = set()
    while len(taken) < count:
        taken.add(shaker.below(len(sheets)))
    loose = sorted([*(put[0] for i in taken for put in sheets[i]), *left_out])
    key = _KEYS[shaker.below(len(_KEYS))]
    spread = 1 + shaker.below(_MOST_SPREAD_PCT)
    weights = {i: key(job.sizes[i]) * (100 + shaker.below(spread)) for i in loose}
    loose.sort(key=lambda i: (-weights[i], i))
    fit, split = _FITS[shaker.below(len(_FITS))], _SPLITS[shaker.below(len(_SPLITS))]
    again, out = _decode(job, loose, fit, split, count, _lying(job, loose, shaker))
    return [sheet for i, sheet in enumerate(sheets) if i not in taken] + again, out


def _lying(job: _Job, items: Sequence[int], shaker: Shaker) -> dict[int, bool]:
    """Choose for some turnable rectangles how they must lie this round: the snuggest place is not always the best."""
    if not job.any_free or shaker.below(2):
        return {}
    return {i: bool(shaker.below(2)) for i in items if job.sizes[i][2] and not shaker.below(3)}


def _decode(
    job: _Job,
    order: Sequence[int],
    fit: _FitRule,
    split: _SplitRule,
    most: int,
    lying: Mapping[int, bool] = MappingProxyType({}),
) -> tuple[list[_Sheet], list[int]]:
    """Put each rectangle in turn in the free place that suits it best; open a sheet when none holds it.

    Returns:
        At most `most` sheets, and the rectangles left out.
    """
    sheets: list[_Sheet] = []
    free: list[_Place] = []
    out: list[int] = []
    for item in order:
        l, w, turnable = job.sizes[item]
        turned = turnable and lying.get(item, False)
        score, at = _best_place(free, w, l, fit) if turned else _best_place(free, l, w, fit)
        if turnable and l != w and item not in lying:
            turned_score, turned_at = _best_place(free, w, l, fit)
            turned = turned_score < score
            at = turned_at if turned else at
        if at < 0:
            if len(sheets) == most:
                out.append(item)
                continue
            at = len(free)
            free.append((job.length, job.width, len(sheets), 0))
            sheets.append([])
            turned = not (l <= job.length and w <= job.width) or (turned and w <= job.length and l <= job.width)
        length, width, sheet, place = free.pop(at)
        if turned:
            l, w = w, l
        rip_first = split(length - l, width - w, length, width)
        number = len(sheets[sheet])
        beside = (length - l, w if rip_first else width, sheet, 2 * number + 1)
        above = (length if rip_first else l, width - w, sheet, 2 * number + 2)
        free.extend(spot for spot in (beside, above) if min(spot[0], spot[1]) >= job.least)
        sheets[sheet].append((item, turned, place, rip_first))
    return sheets, out


_NO_PLACE = (1 << 62, -1)


def _best_place(free: Sequence[_Place], l: int, w: int, fit: _FitRule) -> tuple[int, int]:
    """Return the best place's score and index; index -1 when nothing holds l x w."""
    best, at = _NO_PLACE
    for i, (length, width, _, _) in enumerate(free):
        if length >= l and width >= w:
            score = fit(length - l, width - w, length, width)
            if score < best:
                best, at = score, i
    return best, at


def _tree(job: _Job, sheet: _Sheet, kerf: int) -> Region:
    puts = {put[2]: (number, put) for number, put in enumerate(sheet)}

    def region(place: int, x: int, y: int, length: int, width: int) -> Region:
        held = puts.get(place)
        if held is None:
            return Region(x=x, y=y, length=length - kerf, width=width - kerf)
        number, (item, turned, _, rip_first) = held
        l, w, _ = job.sizes[item]
        if turned:
            l, w = w, l
        part = Region(x=x, y=y, length=l - kerf, width=w - kerf, part=item, turned=turned)
        if rip_first:
            beside = region(2 * number + 1, x + l, y, length - l, w)
            above = region(2 * number + 2, x, y + w, length, width - w)
            return _cut("length", _cut("width", part, beside, kerf), above, kerf)
        beside = region(2 * number + 1, x + l, y, length - l, width)
        above = region(2 * number + 2, x, y + w, l, width - w)
        return _cut("width", _cut("length", part, above, kerf), beside, kerf)

    return region(0, 0, 0, job.length, job.width)


def _cut(along: Along, low: Region, high: Region, kerf: int) -> Region:
    """Return the piece that one cut parts into two; no cut is made where nothing lies beyond it."""
    if along == "length":
        if high.width + kerf == 0:
            return low
        length, width = low.length, low.width + kerf + high.width
    else:
        if high.length + kerf == 0:
            return low
        length, width = low.length + kerf + high.length, low.width
    return Region(x=low.x, y=low.y, length=length, width=width, along=along, low=low, high=high)
