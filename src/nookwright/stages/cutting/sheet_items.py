"""What is placed on a sheet as one piece: a part, or matched parts side by side; and the parts cut out of it again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from nookwright.basics.lengths import Marks
from nookwright.solvers.guillotine import Wanted
from nookwright.solvers.pack_sheets import Rectangle, Region
from nookwright.stages.cutting.blanks import cut_tenths, tenths_up
from nookwright.stages.inputs.shop import Saw, SheetStock
from nookwright.stages.parts.part import Part


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetItem:
    """A piece to place: its parts side by side across their widths, lengths in line.

    Args:
        parts: one part, or matched ones in order.
        blanks: length along the grain and width of each. [0.1 mm]
        length, width: of the piece, along and across its parts' lengths, cuts between them included. [0.1 mm]
        across: whether its parts' lengths lie across the sheet's grain.
        turnable: whether it may lie either way.
    """

    parts: tuple[Part, ...]
    blanks: tuple[tuple[int, int], ...]
    length: int
    width: int
    across: bool
    turnable: bool

    @property
    def rectangle(self) -> Rectangle:
        """What the search places."""
        length, width = (self.width, self.length) if self.across else (self.length, self.width)
        return Rectangle(length=length, width=width, turnable=self.turnable)


def sheet_items(
    parts: Sequence[Part], matched: Sequence[tuple[str, ...]], stock: SheetStock, saw: Saw, marks: Marks
) -> tuple[SheetItem, ...]:
    """Return the pieces to place, matched parts as one.

    Args:
        parts: the parts of one stock.
        matched: numbers of matched parts, of this stock or another.
        stock: tells whether the grain counts.
        saw: its cut lies between matched parts.
        marks: what the sawyer sets.
    """
    group_of = {number: group for group in matched for number in group}
    by_number = {part.number: part for part in parts}
    items: list[SheetItem] = []
    done: set[str] = set()
    for part in parts:
        if part.number in done:
            continue
        group = tuple(by_number[number] for number in group_of.get(part.number, (part.number,)) if number in by_number)
        done.update(each.number for each in group)
        items.append(_item(group, stock, saw, marks))
    return tuple(items)


def single_items(item: SheetItem, stock: SheetStock, saw: Saw, marks: Marks) -> tuple[SheetItem, ...]:
    """Return the parts of an item, each to be placed by itself."""
    return tuple(_item((part,), stock, saw, marks) for part in item.parts)


def wanted(part: Part, stock: SheetStock, marks: Marks) -> Wanted:
    """Return what the checker expects of a part on a sheet."""
    length, width = cut_tenths(part, marks)
    across, turnable = _lies(part, stock)
    return (
        Wanted(length=width, width=length, turnable=turnable)
        if across
        else Wanted(length=length, width=width, turnable=turnable)
    )


def parts_cut_out(tree: Region, items: Sequence[SheetItem], saw: Saw) -> Region:
    """Return a cutting tree of parts for one of items: matched parts are cut out of their piece, one after another.

    Args:
        tree: its leaves hold indexes of items.
        items: the items.
        saw: its cut lies between matched parts.

    Returns:
        The tree; its leaves hold indexes of parts, counted through the items in order. A leaf is turned where its
        part's length lies across the sheet's length.
    """
    firsts = [0]
    for item in items:
        firsts.append(firsts[-1] + len(item.parts))
    return _opened(tree, items, firsts, tenths_up(saw.kerf_mm))


def _item(group: tuple[Part, ...], stock: SheetStock, saw: Saw, marks: Marks) -> SheetItem:
    blanks = tuple(cut_tenths(part, marks) for part in group)
    across, turnable = _lies(group[0], stock)
    return SheetItem(
        parts=group, blanks=blanks, length=max(length for length, _ in blanks),
        width=sum(width for _, width in blanks) + (len(group) - 1) * tenths_up(saw.kerf_mm),
        across=across, turnable=turnable,
    )  # fmt: skip


def _lies(part: Part, stock: SheetStock) -> tuple[bool, bool]:
    """Return whether a part's length must lie across the sheet's grain, and whether it may lie either way."""
    free = not stock.grained or part.grain == "any"
    return part.grain == "across" and not free, free


def _opened(region: Region, items: Sequence[SheetItem], firsts: Sequence[int], kerf: int) -> Region:
    if region.low is not None and region.high is not None:
        low, high = (_opened(half, items, firsts, kerf) for half in (region.low, region.high))
        return replace(region, low=low, high=high)
    if region.part is None:
        return region
    item, first = items[region.part], firsts[region.part]
    leaf = replace(region, turned=region.turned != item.across)
    return _row(leaf, item.blanks, first, kerf)


def _row(piece: Region, blanks: Sequence[tuple[int, int]], first: int, kerf: int) -> Region:
    """Return a piece parted into its parts, from its corner on; each part is then cut to its own length."""
    length, width = blanks[0]
    if len(blanks) == 1:
        return _shortened(piece, length, first, kerf)
    if piece.turned:
        low = replace(piece, length=width)
        high = replace(piece, x=piece.x + width + kerf, length=piece.length - width - kerf)
    else:
        low = replace(piece, width=width)
        high = replace(piece, y=piece.y + width + kerf, width=piece.width - width - kerf)
    return replace(
        piece, part=None, turned=False, along="width" if piece.turned else "length",
        low=_shortened(low, length, first, kerf), high=_row(high, blanks[1:], first + 1, kerf),
    )  # fmt: skip


def _shortened(piece: Region, length: int, part: int, kerf: int) -> Region:
    """Return a part, cut to its own length where its piece is longer."""
    whole = piece.width if piece.turned else piece.length
    if whole == length:
        return replace(piece, part=part)
    if piece.turned:
        low = replace(piece, width=length, part=part)
        high = replace(piece, y=piece.y + length + kerf, width=whole - length - kerf, part=None, turned=False)
    else:
        low = replace(piece, length=length, part=part)
        high = replace(piece, x=piece.x + length + kerf, length=whole - length - kerf, part=None, turned=False)
    return replace(piece, part=None, turned=False, along="length" if piece.turned else "width", low=low, high=high)
