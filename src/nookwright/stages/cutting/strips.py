"""Plain strips for saws with limits: rectangles stand in strips right across the sheet, strips side by side."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from nookwright.solvers.pack_sheets import Rectangle, Region
from nookwright.solvers.sheet_trees import Stack, tree_filling

Made = Callable[[Region], bool]
"""Whether the saws can make the cuts of a sheet."""

_Laid = tuple[int, bool, int, int]  # rectangle, turned, size along the strip, size across it; a kerf in both
_Strip = list[_Laid]


def in_strips(
    rectangles: Sequence[Rectangle], chosen: Sequence[int], *, length: int, width: int, kerf: int, made: Made
) -> tuple[list[Region], list[int]]:
    """Lay rectangles in strips along the sheet, or across it, whichever takes fewer sheets.

    Args:
        rectangles: all of them.
        chosen: which are laid; each fits the sheet.
        length, width: usable size of the sheet.
        kerf: width of a cut.
        made: whether the saws can make the cuts of a sheet.

    Returns:
        The sheets' cutting trees, and the rectangles that the saws cannot cut even alone from a sheet.
    """
    sheet = (length, width)
    found = [_one_way(rectangles, chosen, sheet, kerf, made, across) for across in (True, False)]
    return min(found, key=lambda one: (len(one[1]), len(one[0])))


def _one_way(
    rectangles: Sequence[Rectangle],
    chosen: Sequence[int],
    sheet: tuple[int, int],
    kerf: int,
    made: Made,
    across: bool,
) -> tuple[list[Region], list[int]]:
    """Lay them in strips that lie side by side across the sheet's width, or along its length."""
    along, wide = (sheet[0] + kerf, sheet[1] + kerf) if across else (sheet[1] + kerf, sheet[0] + kerf)

    def tree(strips: Sequence[_Strip]) -> Region:
        rows = tuple(
            Stack(across=not across, row=tuple(Stack(part=part, turned=turned) for part, turned, _, _ in strip))
            for strip in strips
        )
        return tree_filling(
            Stack(across=across, row=rows), rectangles, length=sheet[0], width=sheet[1], kerf=kerf
        )  # fmt: skip

    lying = [(i, _lying(rectangles[i], i, along, wide, kerf, across)) for i in chosen]
    laid = [one for _, one in lying if one is not None and made(tree([[one]]))]
    missing = [i for i, one in lying if one not in laid]
    trees: list[Region] = []
    pending = _on_sheets(_strips(laid, along), wide)
    while pending:
        strips = pending.pop(0)
        whole = tree(strips)
        if made(whole):
            trees.append(whole)
        elif len(strips) > 1:
            pending += [[strip] for strip in strips]
        elif len(strips[0]) > 1:
            pending += [[[one]] for one in strips[0]]
        else:
            missing.append(strips[0][0][0])
    return trees, missing


def _lying(one: Rectangle, number: int, along: int, wide: int, kerf: int, across: bool) -> _Laid | None:
    """Return a rectangle as it lies in a strip, the flatter way where it may turn; None where it does not fit."""
    ways = [(False, one.length + kerf, one.width + kerf)]
    if one.turnable:
        ways.append((True, one.width + kerf, one.length + kerf))
    lying = [(number, turned, l, w) if across else (number, turned, w, l) for turned, l, w in ways]
    return min((way for way in lying if way[2] <= along and way[3] <= wide), key=lambda way: way[3], default=None)


def _strips(laid: Sequence[_Laid], along: int) -> list[_Strip]:
    """Return strips filled in turn, the widest rectangles first; each goes into the first strip with room."""
    strips: list[_Strip] = []
    for one in sorted(laid, key=lambda each: (-each[3], -each[2], each[0])):
        strip = next((strip for strip in strips if sum(each[2] for each in strip) + one[2] <= along), None)
        if strip is None:
            strips.append([one])
        else:
            strip.append(one)
    return strips


def _on_sheets(strips: Sequence[_Strip], wide: int) -> list[list[_Strip]]:
    """Return strips on sheets, each on the first sheet with room."""
    sheets: list[list[_Strip]] = []
    for strip in strips:
        room = next((one for one in sheets if sum(each[0][3] for each in one) + strip[0][3] <= wide), None)
        if room is None:
            sheets.append([strip])
        else:
            room.append(strip)
    return sheets
