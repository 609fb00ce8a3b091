"""The order of cuts on one sheet: edges, what makes it light, then piece after piece; each cut one that a saw makes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from nookwright.solvers.pack_sheets import Along, Region
from nookwright.stages.cutting.blanks import TENTHS
from nookwright.stages.cutting.cutting_plan import Cut
from nookwright.stages.cutting.handling import Exact, Handling, Way

Order = Literal["largest", "same setting", "same way"]
"""Which piece is next: the largest, one that is cut at the last fence setting, or one cut in the last direction."""
ORDERS: tuple[Order, ...] = ("largest", "same setting", "same way")

_Piece = tuple[Along, list[Region]]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSize:
    """A whole sheet, what is trimmed off each of its edges, and the width of a cut. [0.1 mm]"""

    length: int
    width: int
    trim: int
    kerf: int


@dataclass(frozen=True, slots=True)
class _Line:
    """One cut: direction, how it is made, its centre line and the mass it is made in. [0.1 mm, kg]"""

    along: Along
    way: Way
    ends: tuple[float, float, float, float]
    kg: float


def cut_order(tree: Region, sheet: SheetSize, handling: Handling, order: Order = "largest") -> tuple[Cut, ...] | None:
    """Return every cut of one sheet in the order it is made.

    Args:
        tree: the cutting tree of the sheet's usable part. [0.1 mm]
        sheet: the whole sheet.
        handling: what pieces weigh, and which cuts the saws make.
        order: which piece is taken in hand next, once all are light.

    Returns:
        Cuts numbered from 1; None where a cut is one that no saw makes. Where the saws allow it the factory edges come
        off the whole sheet first, else off the pieces. Pieces too heavy for one person are parted nearest to their
        middle, the largest first.
    """
    inner = _shifted(tree, sheet.trim)
    edges = _edge_cuts(sheet, handling)
    if edges is None:
        lines = _inner_cuts(_untrimmed(inner, sheet), sheet.kerf, handling, order)
    else:
        rest = _inner_cuts(inner, sheet.kerf, handling, order)
        lines = None if rest is None else [*edges, *rest]
    if lines is None:
        return None
    return tuple(_cut(number, line) for number, line in enumerate(lines, start=1))


def _cut(number: int, line: _Line) -> Cut:
    by, from_far, distance = line.way
    x1, y1, x2, y2 = (end / TENTHS for end in line.ends)
    return Cut(
        order=number, along=line.along, at_mm=round(distance / TENTHS, 1), x1_mm=x1, y1_mm=y1, x2_mm=x2, y2_mm=y2,
        by=by, from_far=from_far, kg=round(line.kg, 1),
    )  # fmt: skip


def _shifted(region: Region, by: int) -> Region:
    """Return a tree in the whole sheet's coordinates."""
    low, high = (None if half is None else _shifted(half, by) for half in (region.low, region.high))
    return replace(region, x=region.x + by, y=region.y + by, low=low, high=high)


def _edge_cuts(sheet: SheetSize, handling: Handling) -> list[_Line] | None:
    """Return the four cuts that take the factory edges off the whole sheet; None where a saw cannot make one of them.

    Each is measured from the edge opposite to it.
    """
    length, width, trim, kerf = sheet.length, sheet.width, sheet.trim, sheet.kerf
    if trim == 0:
        return []
    half = kerf / 2
    near_at, far_x, far_y = trim - half, length - trim + half, width - trim + half
    wanted: tuple[tuple[Along, int, int, int, tuple[float, float, float, float]], ...] = (
        ("length", length, width - trim, width, (0, far_y, length, far_y)),
        ("length", length, width - 2 * trim, width - trim, (0, near_at, length, near_at)),
        ("width", width - 2 * trim, length - trim, length, (far_x, trim, far_x, width - trim)),
        ("width", width - 2 * trim, length - 2 * trim, length - trim, (near_at, trim, near_at, width - trim)),
    )
    lines: list[_Line] = []
    for number, (along, cut, kept, across, ends) in enumerate(wanted):
        kg = handling.kg(cut, across)
        way = handling.way(cut=cut, near=kept, far=0, heavy=kg > handling.saw.lift_kg)
        if way is None:
            return None
        from_far = handling.saw.limited and number % 2 == 1
        lines.append(_Line(along, (way[0], from_far, way[2]), ends, kg))
    return lines


def _untrimmed(tree: Region, sheet: SheetSize) -> Region:
    """Return the tree of the whole sheet: its pieces lose their factory edges one by one, leftovers keep them."""
    if sheet.trim == 0:
        return tree
    along, slabs = _slabs(tree)
    beside: Along = "width" if along == "length" else "length"
    long, wide = (sheet.length, sheet.width) if along == "length" else (sheet.width, sheet.length)
    ended = [_with_ends(beside, _slabs(slab)[1] if slab.along == beside else [slab], long, sheet) for slab in slabs]
    return _with_ends(along, ended, wide, sheet)


def _with_ends(along: Along, slabs: list[Region], size: int, sheet: SheetSize) -> Region:
    """Return slabs as a piece from edge to edge of the sheet, whose factory edges are still to be cut off both ends."""
    waste = sheet.trim - sheet.kerf
    last = slabs[-1]
    if _free(last):
        slabs = [*slabs[:-1], _spanning(along, last, _start(along, last), size)]
    else:
        slabs = [*slabs, _spanning(along, last, size - waste, size)]
    first = slabs[0]
    if _free(first):
        slabs = [_spanning(along, first, 0, _end(along, first)), *slabs[1:]]
    else:
        slabs = [_spanning(along, first, 0, waste), *slabs]
    return _row(along, slabs)


def _free(region: Region) -> bool:
    """Whether nothing is cut from a piece."""
    return region.part is None and region.along is None


def _spanning(along: Along, beside: Region, start: int, end: int) -> Region:
    """Return a free piece between two places, as long as its neighbour."""
    if along == "length":
        return Region(x=beside.x, y=start, length=beside.length, width=end - start)
    return Region(x=start, y=beside.y, length=end - start, width=beside.width)


def _row(along: Along, slabs: list[Region]) -> Region:
    """Return the piece that parallel cuts part into slabs."""
    if len(slabs) == 1:
        return slabs[0]
    rest = _row(along, slabs[1:])
    first, last = slabs[0], slabs[-1]
    if along == "length":
        span = last.y + last.width - first.y
        return Region(x=first.x, y=first.y, length=first.length, width=span, along=along, low=first, high=rest)
    span = last.x + last.length - first.x
    return Region(x=first.x, y=first.y, length=span, width=first.width, along=along, low=first, high=rest)


def _inner_cuts(tree: Region, kerf: int, handling: Handling, order: Order) -> list[_Line] | None:
    pieces = [_slabs(tree)]
    lines: list[_Line] = []
    while pieces:
        pieces.sort(key=_area)
        if len(pieces[-1][1]) == 1:
            (only,) = pieces.pop()[1]
            if only.along is not None:
                pieces.append(_slabs(only))
            continue
        number = _next_piece(pieces, lines, kerf, handling, order)
        along, slabs = pieces.pop(number)
        chosen = _chosen_cut((along, slabs), kerf, handling, lines[-1:], order)
        if chosen is None:
            return None
        at, way = chosen
        lines.append(_Line(along, way, _ends(along, slabs, at, kerf), handling.kg(*_size(along, slabs))))
        pieces.append((along, slabs[at:]))
        pieces.append((along, slabs[:at]))
    return lines


def _next_piece(pieces: list[_Piece], lines: list[_Line], kerf: int, handling: Handling, order: Order) -> int:
    """Return which piece is taken in hand: the largest while it is heavy, then as the order says."""
    largest = len(pieces) - 1
    if order == "largest" or not lines or handling.heavy(*_size(*pieces[largest])):
        return largest
    last = lines[-1]
    for number in range(largest, -1, -1):
        along, slabs = _opened(pieces[number])
        if len(slabs) == 1:
            continue
        if order == "same way":
            if along == last.along:
                pieces[number] = (along, slabs)
                return number
        elif any(_same(way, last.way) for _, way in _cuts((along, slabs), kerf, handling)):
            pieces[number] = (along, slabs)
            return number
    return largest


def _opened(piece: _Piece) -> _Piece:
    """Return a piece with the cuts that are made in it next."""
    along, slabs = piece
    return _slabs(slabs[0]) if len(slabs) == 1 else (along, slabs)


def _chosen_cut(
    piece: _Piece, kerf: int, handling: Handling, before: list[_Line], order: Order
) -> tuple[int, Way] | None:
    """Return which cut is made in a piece and how; None where no saw makes any of them."""
    possible = list(_cuts(piece, kerf, handling))
    if not possible:
        return None
    along, slabs = piece
    if handling.heavy(*_size(along, slabs)):
        return min(possible, key=lambda cut: _off_middle(along, slabs, cut[0]))
    if before and order == "same setting":
        return next((cut for cut in possible if _same(cut[1], before[0].way)), possible[0])
    return possible[0]


def _same(way: Way, other: Way) -> bool:
    """Whether a cut needs no new setting after another."""
    return (way[0], way[2]) == (other[0], other[2])


def _cuts(piece: _Piece, kerf: int, handling: Handling) -> Iterator[tuple[int, Way]]:
    """Yield the cuts that a saw makes in a piece: that of the slab it comes before, and how it is made."""
    along, slabs = piece
    start, end = _start(along, slabs[0]), _end(along, slabs[-1])
    length, width = _size(along, slabs)
    cut = length if along == "length" else width
    heavy = handling.heavy(length, width)
    for at in range(1, len(slabs)):
        beyond = _start(along, slabs[at])
        exact = _exact(slabs[:at], slabs[at:])
        way = handling.way(cut=cut, near=beyond - kerf - start, far=end - beyond, heavy=heavy, exact=exact)
        if way is not None:
            yield at, way


def _exact(near: list[Region], far: list[Region]) -> Exact:
    """Return which side of a cut has its size by it: one slab that is no waste, the nearer one first."""
    if len(near) == 1 and not _free(near[0]):
        return "near"
    return "far" if len(far) == 1 and not _free(far[0]) else "neither"


def _slabs(region: Region) -> _Piece:
    """Return the pieces that parallel cuts right through a region leave, from its corner outward."""
    along = region.along
    if along is None or region.low is None or region.high is None:
        return "length", [region]
    slabs: list[Region] = []
    for half in (region.low, region.high):
        slabs.extend(_slabs(half)[1] if half.along == along else [half])
    return along, slabs


def _size(along: Along, slabs: list[Region]) -> tuple[int, int]:
    """Return length and width of a piece."""
    span = _end(along, slabs[-1]) - _start(along, slabs[0])
    return (slabs[0].length, span) if along == "length" else (span, slabs[0].width)


def _area(piece: _Piece) -> int:
    length, width = _size(*piece)
    return max(0, length) * max(0, width)


def _start(along: Along, slab: Region) -> int:
    return slab.y if along == "length" else slab.x


def _end(along: Along, slab: Region) -> int:
    return slab.y + slab.width if along == "length" else slab.x + slab.length


def _off_middle(along: Along, slabs: list[Region], at: int) -> int:
    """Return twice how far a cut lies from the middle of a piece."""
    return abs(2 * _start(along, slabs[at]) - _start(along, slabs[0]) - _end(along, slabs[-1]))


def _ends(along: Along, slabs: list[Region], at: int, kerf: int) -> tuple[float, float, float, float]:
    """Return the ends of a cut's centre line on the sheet."""
    first, beyond = slabs[0], slabs[at]
    if along == "length":
        middle = beyond.y - kerf / 2
        return first.x, middle, first.x + first.length, middle
    middle = beyond.x - kerf / 2
    return middle, first.y, middle, first.y + first.width
