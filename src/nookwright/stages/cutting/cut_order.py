"""The order of cuts on one sheet: edges first, then the cuts that make it light, then strip after strip."""

from __future__ import annotations

from collections.abc import Iterator

from nookwright.solvers.pack_sheets import Along, Region
from nookwright.stages.cutting.blanks import TENTHS
from nookwright.stages.cutting.cutting_plan import Cut

LIFTABLE_TENTHS2 = 15_000 * 10_000
"""A piece of 1.5 m2 (about 18 kg at 18 mm) is turned by one person. Source: common practice, no source."""

_Line = tuple[Along, float, float, float, float, float]  # direction, fence, ends of its centre line; tenths of a mm


def cut_order(tree: Region, *, length: int, width: int, trim: int, kerf: int) -> tuple[Cut, ...]:
    """Return every cut of one sheet in the order it is made.

    Args:
        tree: the cutting tree of the sheet's usable part. [0.1 mm]
        length, width: the whole sheet. [0.1 mm]
        trim, kerf: taken off each factory edge; width of a cut. [0.1 mm]

    Returns:
        Cuts numbered from 1. Pieces too heavy for one person are parted nearest to their middle, the largest first;
        from the others strip after strip comes off at the fence.
    """
    lines = [*_edge_cuts(length, width, trim, kerf), *_inner_cuts(tree, trim, kerf)]
    return tuple(
        Cut(
            order=number, along=along, at_mm=round(fence / TENTHS, 1),
            x1_mm=x1 / TENTHS, y1_mm=y1 / TENTHS, x2_mm=x2 / TENTHS, y2_mm=y2 / TENTHS,
        )
        for number, (along, fence, x1, y1, x2, y2) in enumerate(lines, start=1)
    )  # fmt: skip


def _edge_cuts(length: int, width: int, trim: int, kerf: int) -> list[_Line]:
    """Return the four cuts that take the factory edges off, each measured from the edge opposite to it."""
    if trim == 0:
        return []
    half = kerf / 2
    near, far_x, far_y = trim - half, length - trim + half, width - trim + half
    return [
        ("length", width - trim, 0, far_y, length, far_y),
        ("length", width - 2 * trim, 0, near, length, near),
        ("width", length - trim, far_x, trim, far_x, width - trim),
        ("width", length - 2 * trim, near, trim, near, width - trim),
    ]


def _inner_cuts(tree: Region, trim: int, kerf: int) -> Iterator[_Line]:
    pieces = [_slabs(tree)]
    while pieces:
        pieces.sort(key=_area)
        along, slabs = pieces.pop()
        if len(slabs) == 1:
            if slabs[0].along is not None:
                pieces.append(_slabs(slabs[0]))
            continue
        at = _middle_cut(along, slabs) if _area((along, slabs)) > LIFTABLE_TENTHS2 else 1
        yield _line(along, slabs, at, trim, kerf)
        pieces.append((along, slabs[at:]))
        pieces.append((along, slabs[:at]))


_Piece = tuple[Along, list[Region]]


def _slabs(region: Region) -> _Piece:
    """Return the pieces that parallel cuts right through a region leave, from its corner outward."""
    along = region.along
    if along is None or region.low is None or region.high is None:
        return "length", [region]
    slabs: list[Region] = []
    for half in (region.low, region.high):
        slabs.extend(_slabs(half)[1] if half.along == along else [half])
    return along, slabs


def _area(piece: _Piece) -> int:
    return sum(max(0, slab.length) * max(0, slab.width) for slab in piece[1])


def _start(along: Along, slab: Region) -> int:
    return slab.y if along == "length" else slab.x


def _middle_cut(along: Along, slabs: list[Region]) -> int:
    """Return which cut lies nearest to the middle: that of the slab it comes before."""
    last = slabs[-1]
    start = _start(along, slabs[0])
    end = _start(along, last) + (last.width if along == "length" else last.length)
    return min(range(1, len(slabs)), key=lambda i: abs(2 * _start(along, slabs[i]) - start - end))


def _line(along: Along, slabs: list[Region], at: int, trim: int, kerf: int) -> _Line:
    first, beyond = slabs[0], slabs[at]
    if along == "length":
        middle = trim + beyond.y - kerf / 2
        return along, beyond.y - kerf - first.y, trim + first.x, middle, trim + first.x + first.length, middle
    middle = trim + beyond.x - kerf / 2
    return along, beyond.x - kerf - first.x, middle, trim + first.y, middle, trim + first.y + first.width
