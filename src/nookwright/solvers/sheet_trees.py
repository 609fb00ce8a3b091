"""Stacks of pieces, and the cuts that part them: from what stands in which row to every cut right through a sheet."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.solvers.pack_sheets import Along, Rectangle, Region

if TYPE_CHECKING:
    from nookwright.solvers.kernels.cutting_trees import Forest


@dataclass(frozen=True, slots=True)
class Stack:
    """A part, or a row of stacks cut apart by parallel cuts.

    Args:
        part: index of the part; None for a row.
        turned: whether the part lies turned.
        across: whether the row runs along the sheet's width; else along its length.
        row: what stands in it.
    """

    part: int | None = None
    turned: bool = False
    across: bool = False
    row: tuple[Stack, ...] = ()


def parts_in(stack: Stack) -> list[int]:
    """Return the parts of a stack."""
    return [stack.part] if stack.part is not None else [part for each in stack.row for part in parts_in(each)]


def stacks_of(forest: Forest) -> tuple[tuple[int, Stack], ...]:
    """Return kind and stack of every sheet that holds something."""
    return tuple(
        (int(forest.kind[s]), _stack(forest, s, 0)[0]) for s in range(forest.nodes.size) if forest.nodes[s] > 0
    )


def _stack(forest: Forest, s: int, i: int) -> tuple[Stack, int]:
    """Return the stack that begins at a node, and the node after it."""
    token, depth = int(forest.token[s, i]), int(forest.depth[s, i])
    if token >= 0:
        return Stack(part=token >> 1, turned=bool(token & 1)), i + 1
    row: list[Stack] = []
    at = i + 1
    while at < forest.nodes[s] and forest.depth[s, at] > depth:
        stack, at = _stack(forest, s, at)
        row.append(stack)
    return Stack(across=bool(forest.across[s] ^ (depth & 1)), row=tuple(row)), at


def tree_of(stack: Stack, rectangles: Sequence[Rectangle], *, length: int, width: int, kerf: int) -> Region:
    """Return the cutting tree of a sheet.

    What stays free is first parted off in the largest piece; in every row the largest pieces are cut first, equal
    ones after each other, so that the fence is set once for them.

    Args:
        stack: what is cut from it.
        rectangles: the parts.
        length, width: usable size of the sheet.
        kerf: width of a cut.
    """
    sizes = sizes_of(rectangles, kerf)
    used_l, used_w = sizes(stack)
    whole_l, whole_w = length + kerf, width + kerf
    if (whole_l - used_l) * whole_w >= (whole_w - used_w) * whole_l:
        inner = _parted("length", _region(stack, 0, 0, used_l, used_w, sizes, kerf), whole_w, kerf)
        return _parted("width", inner, whole_l, kerf)
    inner = _parted("width", _region(stack, 0, 0, used_l, used_w, sizes, kerf), whole_l, kerf)
    return _parted("length", inner, whole_w, kerf)


def tree_filling(stack: Stack, rectangles: Sequence[Rectangle], *, length: int, width: int, kerf: int) -> Region:
    """Return the cutting tree of a sheet whose first cuts are those of the stack's outermost row, from edge to edge.

    Args:
        stack: what is cut from it.
        rectangles: the parts.
        length, width: usable size of the sheet.
        kerf: width of a cut.
    """
    return _region(stack, 0, 0, length + kerf, width + kerf, sizes_of(rectangles, kerf), kerf)


def sizes_of(rectangles: Sequence[Rectangle], kerf: int) -> Callable[[Stack], tuple[int, int]]:
    """Return what tells the size of a stack, one kerf in it."""

    def size(stack: Stack) -> tuple[int, int]:
        if stack.part is not None:
            part = rectangles[stack.part]
            l, w = part.length + kerf, part.width + kerf
            return (w, l) if stack.turned else (l, w)
        inside = [size(each) for each in stack.row]
        lengths, widths = [l for l, _ in inside], [w for _, w in inside]
        return (max(lengths), sum(widths)) if stack.across else (sum(lengths), max(widths))

    return size


def _region(
    stack: Stack, x: int, y: int, length: int, width: int, sizes: Callable[[Stack], tuple[int, int]], kerf: int
) -> Region:
    """Return the tree of a stack in a box of at least its size; sizes contain one kerf."""
    if stack.part is not None:
        l, w = sizes(stack)
        part = Region(x=x, y=y, length=l - kerf, width=w - kerf, part=stack.part, turned=stack.turned)
        return _parted("length", _parted("width", part, length, kerf), width, kerf)
    along: Along = "length" if stack.across else "width"
    order = sorted(stack.row, key=lambda each: sizes(each)[stack.across], reverse=True)
    regions: list[Region] = []
    at = y if stack.across else x
    for each in order:
        l, w = sizes(each)
        regions.append(
            _region(each, x, at, length, w, sizes, kerf)
            if stack.across
            else _region(each, at, y, l, width, sizes, kerf)
        )
        at += w if stack.across else l
    end = y + width if stack.across else x + length
    tree = _free(x, at, length, end - at, kerf) if stack.across else _free(at, y, end - at, width, kerf)
    for region in reversed(regions):
        tree = _joined(along, region, tree, kerf)
    return tree


def _free(x: int, y: int, length: int, width: int, kerf: int) -> Region:
    return Region(x=x, y=y, length=length - kerf, width=width - kerf)


def _parted(along: Along, low: Region, size: int, kerf: int) -> Region:
    """Return a piece `size` long or wide, kerf included, from which `low` is cut; cuts along the sheet's `along`."""
    if along == "width":
        return _joined(
            along, low, _free(low.x + low.length + kerf, low.y, size - low.length - kerf, low.width + kerf, kerf), kerf
        )
    return _joined(
        along, low, _free(low.x, low.y + low.width + kerf, low.length + kerf, size - low.width - kerf, kerf), kerf
    )


def _joined(along: Along, low: Region, high: Region, kerf: int) -> Region:
    """Return the piece that one cut parts into two; no cut is made where nothing lies beyond it."""
    if along == "length":
        if high.width + kerf == 0:
            return low
        return Region(
            x=low.x, y=low.y, length=low.length, width=low.width + kerf + high.width, along=along, low=low, high=high
        )
    if high.length + kerf == 0:
        return low
    return Region(
        x=low.x, y=low.y, length=low.length + kerf + high.length, width=low.width, along=along, low=low, high=high
    )
