"""The inside of a box: uprights, shelves and openings from the brief's nested cells."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from nookwright.basics.findings import Finding
from nookwright.geometry.frame import Point2
from nookwright.geometry.plane import clipped_below
from nookwright.stages.design.design import Box, Opening, Rail, Shelf, Upright
from nookwright.stages.design.rails import ceiling_at, fixing_rails
from nookwright.stages.design.setting import Setting
from nookwright.stages.design.sizes import shared_out
from nookwright.stages.inputs.brief import Brief, Cell, Unit

PIN_SETBACK_MM = 3.0
"""A shelf stays this far behind what closes the front. Common practice, no source."""

LEAST_BETWEEN_MM = 40.0
"""Two shelves stand at least this far apart. Common practice, no source."""

SLIDING_GAP_MM = 2.0
"""Gap between two doors that slide past each other. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """A clear space between boards: its left and right faces, its floor, and its own ceiling. [mm]

    Args:
        top_mm: underside of the board above; inf when the box's own top closes it.
    """

    x0_mm: float
    x1_mm: float
    z0_mm: float
    top_mm: float


@dataclass(slots=True)
class Filling:
    """What has been placed in a box so far."""

    uprights: list[Upright] = field(default_factory=list)
    shelves: list[Shelf] = field(default_factory=list)
    openings: list[Opening] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)


def inner_depth(box: Box) -> float:
    """Return the depth of a box's boards: its own depth less the back planted on their rear edges. [mm]"""
    return box.depth_mm - (box.back.thickness_mm if box.back else 0.0)


def furnished(box: Box, unit: Unit, setting: Setting) -> tuple[Box, tuple[Finding, ...]]:
    """Return the box with its sides, dividers, shelves and openings, and what was found on the way.

    A bought cabinet comes as it is.
    """
    if box.bought is not None:
        return box, ()
    t = box.board.thickness_mm
    filling = Filling(uprights=list(_sides(box)))
    space = Space(x0_mm=box.x0_mm + t, x1_mm=box.x1_mm - t, z0_mm=box.z0_mm + t, top_mm=math.inf)
    _fill(filling, unit.inside, space, box, setting)
    uprights = tuple(sorted(filling.uprights, key=lambda upright: (upright.x_mm, upright.z0_mm)))
    rails = fixing_rails(box, uprights)
    filled = replace(
        box,
        uprights=uprights,
        shelves=tuple(_clear_of(shelf, rails, t) for shelf in filling.shelves),
        openings=tuple(filling.openings),
        rails=rails,
    )
    return filled, tuple(filling.findings)


def _clear_of(shelf: Shelf, rails: tuple[Rail, ...], rail_mm: float) -> Shelf:
    """Return the shelf, made shallower where a fixing rail runs behind it."""
    for rail in rails:
        x0, x1 = max(shelf.x0_mm, rail.x0_mm), min(shelf.x1_mm, rail.x1_mm)
        heads = rail.head_at(x0), rail.head_at(x1)
        below = shelf.z_mm + shelf.thickness_mm <= min(heads) - rail.height_mm
        if x0 < x1 and not below and shelf.z_mm < max(heads):
            return replace(shelf, depth_mm=shelf.depth_mm - rail_mm)
    return shelf


def _sides(box: Box) -> tuple[Upright, Upright]:
    """Return a box's two sides at outside height; how they meet the raked board is decided with the parts."""
    t = box.board.thickness_mm

    def side(x: float) -> Upright:
        level = box.level_top_mm if box.level_top_mm is not None else math.inf
        left, right = (min(level, box.rake.at(at) if box.rake else math.inf) for at in (x, x + t))
        return Upright(kind="side", x_mm=x, thickness_mm=t, z0_mm=box.z0_mm, z1_left_mm=left, z1_right_mm=right)

    return side(box.x0_mm), side(box.x1_mm - t)


def _fill(filling: Filling, cell: Cell, space: Space, box: Box, setting: Setting) -> None:
    """Place what the cell asks for in the space."""
    if cell.split == "columns":
        _columns(filling, cell, space, box, setting)
    elif cell.split == "rows":
        _rows(filling, cell, space, box, setting)
    else:
        _leaf(filling, cell, space, box, setting)


def _columns(filling: Filling, cell: Cell, space: Space, box: Box, setting: Setting) -> None:
    """Divide a space by dividers and fill the columns."""
    t = box.board.thickness_mm
    clear = space.x1_mm - space.x0_mm - t * (len(cell.cells) - 1)
    what = f"columns of {box.name}"
    sizes = [c.size for c in cell.cells]
    widths = shared_out(sizes, clear, what=what, where=cell.where, inspection=setting.inspection)
    x = space.x0_mm
    for i, (column, width) in enumerate(zip(cell.cells, widths, strict=True)):
        _fill(filling, column, replace(space, x0_mm=x, x1_mm=x + width), box, setting)
        x += width
        if i < len(widths) - 1:
            _add_divider(filling, x, space, box, setting)
            x += t


def _add_divider(filling: Filling, x: float, space: Space, box: Box, setting: Setting) -> None:
    """Stand one divider, its top cut to what is above; none where the slope leaves it no height."""
    t = box.board.thickness_mm
    left, right = (min(space.top_mm, ceiling_at(box, at)) for at in (x, x + t))
    if min(left, right) < space.z0_mm + t:
        filling.findings.append(_above_slope(box, x, x + t, space.z0_mm, setting))
        return
    filling.uprights.append(
        Upright(kind="divider", x_mm=x, thickness_mm=t, z0_mm=space.z0_mm, z1_left_mm=left, z1_right_mm=right)
    )


def _above_slope(box: Box, x0: float, x1: float, z0: float, setting: Setting) -> Finding:
    """Return the finding that a wished space or divider lies above the slope."""
    return Finding(
        topic="fit",
        subject=box.name,
        verdict="fail",
        summary=(
            f"What is wished {setting.said(x0)} to {setting.said(x1)} right of {setting.room.origin},"
            f" {setting.said(z0)} up, lies above the slope."
        ),
        remedy="Give it a lower row, or a column nearer the tall side.",
    )


def _rows(filling: Filling, cell: Cell, space: Space, box: Box, setting: Setting) -> None:
    """Stack rows in a space, a board between each two, and fill them."""
    t = box.board.thickness_mm
    clear = _tallest(space, box) - space.z0_mm - t * (len(cell.cells) - 1)
    what = f"rows of {box.name}"
    sizes = [c.size for c in cell.cells]
    heights = shared_out(sizes, clear, what=what, where=cell.where, inspection=setting.inspection)
    z = space.z0_mm
    for i, (row, height) in enumerate(zip(cell.cells, heights, strict=True)):
        last = i == len(heights) - 1
        top = space.top_mm if last else z + height
        _fill(filling, row, replace(space, z0_mm=z, top_mm=top), box, setting)
        if not last:
            z += height
            _add_shelf(filling, "row", z, space, box, 0.0)
            z += t


def _leaf(filling: Filling, cell: Cell, space: Space, box: Box, setting: Setting) -> None:
    """Place a space's shelves and note its opening."""
    outline = _outline(space, box)
    if not outline:
        filling.findings.append(_above_slope(box, space.x0_mm, space.x1_mm, space.z0_mm, setting))
        return
    filling.openings.append(Opening(outline=outline, front=cell.front))
    t = box.board.thickness_mm
    height = _tallest(space, box) - space.z0_mm
    count = min(cell.shelves, max(0, int((height - LEAST_BETWEEN_MM) // (LEAST_BETWEEN_MM + t))))
    if count < cell.shelves:
        filling.findings.append(_too_many(box, cell.shelves, count, height, setting))
    step = (height - count * t) / (count + 1)
    for i in range(count):
        z = space.z0_mm + step * (i + 1) + t * i
        _add_shelf(filling, cell.shelf_fixing, z, space, box, _front_room(cell, box, setting.brief))


def _too_many(box: Box, wished: int, placed: int, height_mm: float, setting: Setting) -> Finding:
    """Return the finding that a space is too low for its shelves."""
    return Finding(
        topic="fit",
        subject=box.name,
        verdict="fail",
        summary=f"{wished} shelves do not go into a space {setting.said(height_mm)} high; {placed} are drawn.",
        demand=float(wished),
        limit=float(placed),
        unit="shelves",
        remedy="Wish for fewer shelves there, or make the space higher.",
    )


def _front_room(cell: Cell, box: Box, brief: Brief) -> float:
    """Return how far a shelf stays back from the box's front edge. [mm]"""
    t = box.board.thickness_mm
    doors = 0.0
    if cell.front is not None and cell.front.hang == "inset":
        leaves = 2 if cell.front.leaves == "sliding" else 1
        doors = (leaves - (1 if brief.trim else 0)) * (t + SLIDING_GAP_MM)
    return doors + (PIN_SETBACK_MM if doors > 0 or cell.shelf_fixing == "pins" else 0.0)


def _add_shelf(filling: Filling, fixing: str, z: float, space: Space, box: Box, set_back: float) -> None:
    """Place one shelf, cut to the rake where it runs into it."""
    t = box.board.thickness_mm
    x0, x1 = space.x0_mm, space.x1_mm
    cut_left = ceiling_at(box, x0) < z + t
    cut_right = ceiling_at(box, x1) < z + t
    if (cut_left and cut_right) or (box.rake is None and (cut_left or cut_right)):
        return
    if (cut_left or cut_right) and box.rake is not None:
        under = box.rake.lowered(t)
        meets = (z - under.height_at_0_mm) / under.slope
        x0, x1 = (max(x0, meets), x1) if cut_left else (x0, min(x1, meets))
    loose = fixing == "pins" and not (cut_left or cut_right)
    filling.shelves.append(
        Shelf(
            fixing="pins" if loose else "row" if fixing == "row" else "fixed",
            x0_mm=x0,
            x1_mm=x1,
            z_mm=z,
            thickness_mm=t,
            depth_mm=inner_depth(box) - set_back,
            set_back_mm=set_back,
            cut_left=cut_left,
            cut_right=cut_right,
        )
    )


def _tallest(space: Space, box: Box) -> float:
    """Return the greatest height of a space's ceiling. [mm]"""
    return min(space.top_mm, max(ceiling_at(box, space.x0_mm), ceiling_at(box, space.x1_mm)))


def _outline(space: Space, box: Box) -> tuple[Point2, ...]:
    """Return a space's corners in elevation, counter-clockwise; empty when nothing is left of it. [mm]"""
    top = _tallest(space, box)
    if top <= space.z0_mm + 1.0:
        return ()
    x0, x1, z0 = space.x0_mm, space.x1_mm, space.z0_mm
    corners: tuple[Point2, ...] = ((x0, z0), (x1, z0), (x1, top), (x0, top))
    if box.rake is None:
        return corners
    under = box.rake.lowered(box.board.thickness_mm)
    return clipped_below(corners, (under.height_at_0_mm, under.slope))
