"""A box becomes boards: sides, bottom, top, raked board, dividers, shelves, fixing rails and back.

The cut length of a shelf is decided in `_shelf`, that of a raked board in `raked.py`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from itertools import combinations, pairwise
from typing import Literal

from nookwright.geometry.frame import Frame, Point2
from nookwright.geometry.plane import clipped_between, moved_edges
from nookwright.stages.design.carcase import inner_depth
from nookwright.stages.design.design import Box, Design, Shelf, Upright
from nookwright.stages.design.rails import ceiling_at
from nookwright.stages.inputs.brief import RakeEnd
from nookwright.stages.inputs.shop import SheetStock, Shop
from nookwright.stages.parts.joinery import BACK_SPACING_MM, housing, housing_depth, joined
from nookwright.stages.parts.numbering import Numbers
from nookwright.stages.parts.part import SQUARE, JointMade, Part, PinHoles, Role
from nookwright.stages.parts.raked import (
    Shape,
    facing_shape,
    level_top_shape,
    panel_shape,
    raked_board,
    raked_board_shape,
    shelf_shape,
    upright_shape,
    upright_top,
)

BACK_INSET_MM = 1.0
"""A back stays this far inside the box's outline, so that it never stands proud. Common practice, no source."""

PIN_MM = 5.0
"""Diameter of a pin's hole. Source: [fitting-guides]. Status: read."""

PIN_INSET_MM = 37.0
"""Pin holes from a shelf's front and rear edge. Source: [fitting-guides]. Status: read."""

LOOSE_MM = 3.0
"""A shelf on pins is this much shorter than its opening. Common practice, no source (2 to 3 mm)."""


@dataclass(slots=True)
class Made:
    """The boards and joints of a box made so far."""

    box: Box
    design: Design
    shop: Shop
    numbers: Numbers
    parts: list[Part] = field(default_factory=list)
    joints: list[JointMade] = field(default_factory=list)

    def add(
        self,
        name: str,
        role: Role,
        shape: Shape,
        *,
        stock: SheetStock | None = None,
        faces: int = 2,
        notes: tuple[str, ...] = (),
    ) -> Part:
        """Make one board and return it."""
        stock = stock or self.box.board
        part = Part(
            number=self.numbers.next(self.box.letter),
            name=name,
            role=role,
            module=self.box.name,
            stock=stock.key,
            wood=stock.wood,
            thickness_mm=stock.thickness_mm,
            outline=shape.outline,
            edges=shape.edges,
            frame=shape.frame,
            faces_painted=faces,
            notes=notes,
        )
        self.parts.append(part)
        return part

    def change(self, part: Part) -> None:
        """Put a changed board in the place of the one with its number."""
        self.parts = [part if each.number == part.number else each for each in self.parts]

    def now(self, number: str) -> Part:
        """Return the board of that number as it is now."""
        return next(part for part in self.parts if part.number == number)


def box_parts(box: Box, design: Design, shop: Shop, numbers: Numbers) -> Made:
    """Return the boards and joints of a built box; a bought cabinet has none of ours."""
    made = Made(box=box, design=design, shop=shop, numbers=numbers)
    if box.bought is not None:
        return made
    uprights = _sides(made)
    lids = _bottom_and_lids(made, uprights)
    uprights += _dividers(made, lids)
    for shelf in box.shelves:
        _shelf(made, shelf, uprights, lids)
    _fixing_rails(made, uprights)
    _back(made)
    return made


def front_and_rear(box: Box) -> tuple[float, float]:
    """Return y of the front and rear edges of a box's boards. [mm]"""
    return box.y_front_mm, box.y_front_mm + inner_depth(box)


def _meeting(box: Box, upright: Upright) -> RakeEnd:
    """Return how the raked board meets an upright."""
    if upright.kind == "divider" or box.rake is None:
        return "over"
    left = upright.x_mm < (box.x0_mm + box.x1_mm) / 2
    low = left == (box.rake.slope > 0)
    return box.rake_low if low else box.rake_high


def _sides(made: Made) -> list[tuple[Upright, Part]]:
    """Make the two sides; their outer faces are face A."""
    box = made.box
    y0, y1 = front_and_rear(box)
    sides: list[tuple[Upright, Part]] = []
    for upright in (u for u in box.uprights if u.kind == "side"):
        left = upright.x_mm < (box.x0_mm + box.x1_mm) / 2
        fitted = _side_top(box, upright)
        shape = upright_shape(upright=fitted, face_a="left" if left else "right", y_front_mm=y0, y_back_mm=y1)
        seen = box.finished_left if left else box.finished_right
        hand = "left" if left else "right"
        length = "" if box.rake is None else ("short " if _is_low(box, upright) else "tall ")
        part = made.add(f"{length}{hand} side", "side", shape, faces=2 if seen else 1, notes=(f"{hand} hand",))
        sides.append((fitted, part))
    return sides


def _is_low(box: Box, upright: Upright) -> bool:
    """Return whether an upright stands at the low end of the rake."""
    left = upright.x_mm < (box.x0_mm + box.x1_mm) / 2
    return box.rake is not None and left == (box.rake.slope > 0)


def _side_top(box: Box, upright: Upright) -> Upright:
    """Return the side with its top as it meets the raked board or, level, the box's own height."""
    if box.rake is None:
        return upright
    if box.level_top_mm is not None and not _is_low(box, upright):
        return replace(upright, z1_left_mm=box.level_top_mm, z1_right_mm=box.level_top_mm)
    top = upright_top(
        rake=box.rake,
        meets=_meeting(box, upright),
        board_mm=box.board.thickness_mm,
        x_mm=upright.x_mm,
        thickness_mm=upright.thickness_mm,
    )
    return replace(upright, z1_left_mm=top.z_left_mm, z1_right_mm=top.z_right_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lids:
    """The boards that close a box below and above."""

    bottom: Part
    raked: Part | None
    level: Part | None


def _bottom_and_lids(made: Made, sides: list[tuple[Upright, Part]]) -> Lids:
    """Make the bottom and the top; a raked box gets its raked board, mitred to a level top where it has one."""
    box, t = made.box, made.box.board.thickness_mm
    y0, y1 = front_and_rear(box)
    bottom = _across(made, "bottom", "bottom", box.z0_mm, sides)
    raked: Part | None = None
    level: Part | None = None
    if box.rake is not None:
        board = raked_board(
            rake=box.rake, x0_mm=box.x0_mm, x1_mm=box.x1_mm, side_mm=t, board_mm=t, low=box.rake_low,
            high=box.rake_high, level_top_mm=box.level_top_mm,
        )  # fmt: skip
        shape = raked_board_shape(board=board, rake=box.rake, y_front_mm=y0, y_back_mm=y1)
        raked = made.add("raked board", "raked board", shape, notes=("face A is the upper face",))
        low = next(part for upright, part in sides if _is_low(box, upright))
        made.joints.append(_lid_joint(raked, low, box.rake_low, made.shop))
        if box.level_top_mm is None:
            high = next(part for upright, part in sides if not _is_low(box, upright))
            made.joints.append(_lid_joint(raked, high, box.rake_high, made.shop))
    if box.level_top_mm is not None:
        level = _level_top(made, sides, raked)
    return Lids(bottom=bottom, raked=raked, level=level)


def _lid_joint(raked: Part, side: Part, meets: RakeEnd, shop: Shop) -> JointMade:
    """Return the joint of a raked board with a side: screwed down on it, or through it into the board's end."""
    return joined(raked, side, "butt and screws", raked.blank_mm[1], shop, deep=meets == "between")


def _level_top(made: Made, sides: list[tuple[Upright, Part]], raked: Part | None) -> Part:
    """Make the level top: between the sides, or from the mitre to the tall side."""
    box, t = made.box, made.box.board.thickness_mm
    if box.level_top_mm is None or box.rake is None or raked is None:
        level = box.level_top_mm or 0.0
        return _across(made, "top", "top", level - t, sides)
    y0, y1 = front_and_rear(box)
    tall_upright, tall = next(pair for pair in sides if not _is_low(box, pair[0]))
    inner = tall_upright.x_mm if box.rake.slope > 0 else tall_upright.x_mm + t
    shape = level_top_shape(
        rake=box.rake, level_top_mm=box.level_top_mm, board_mm=t, x_end_mm=inner, y_front_mm=y0, y_back_mm=y1
    )
    top = made.add("level top", "top", shape, notes=("mitred to the raked board",))
    made.joints.append(joined(top, tall, "butt and screws", top.blank_mm[1], made.shop, deep=True))
    made.joints.append(joined(top, raked, "butt and brads", top.blank_mm[1], made.shop, deep=False))
    return top


def _across(made: Made, name: str, role: Role, z_mm: float, sides: list[tuple[Upright, Part]]) -> Part:
    """Make a level board between the sides at z: butted, pocket-screwed, or entering a housing in each."""
    box, t = made.box, made.box.board.thickness_mm
    y0, y1 = front_and_rear(box)
    housed = made.design.corners_joint in {"housing", "rebate"}
    into = [housing_depth(side, made.design.housing_mm) if housed else 0.0 for _, side in sides]
    x0, x1 = box.x0_mm + t - into[0], box.x1_mm - t + into[1]
    shape = Shape(
        outline=((0.0, 0.0), (x1 - x0, 0.0), (x1 - x0, y1 - y0), (0.0, y1 - y0)),
        edges=(SQUARE, SQUARE, SQUARE, SQUARE),
        frame=Frame(origin=(x0, y0, z_mm + t), u=(1.0, 0.0, 0.0), v=(0.0, 1.0, 0.0)),
    )
    part = made.add(name, role, shape)
    joint = "housing" if housed else made.design.corners_joint
    for (upright, side), depth in zip(sides, into, strict=True):
        if depth > 0:
            _groove(made, side, upright, part, z_mm, depth, y1 - y0)
        deep = joint in {"butt and screws", "butt and brads"}
        made.joints.append(joined(part, side, joint, y1 - y0, made.shop, deep=deep))
    return part


def _groove(made: Made, holder: Part, upright: Upright, held: Part, z_mm: float, depth: float, run: float) -> None:
    """Cut the housing for `held` into the face of an upright that looks towards it."""
    on_face = _face_towards(holder, upright, held)
    cut = housing(
        holder, at_mm=z_mm - upright.z0_mm, thickness_mm=held.thickness_mm, depth_mm=depth, on_face=on_face,
        end_mm=run, receives=held.number,
    )  # fmt: skip
    current = made.now(holder.number)
    made.change(replace(current, grooves=(*current.grooves, cut)))


def _dividers(made: Made, lids: Lids) -> list[tuple[Upright, Part]]:
    """Make the dividers, screwed through what is below and above them."""
    box = made.box
    y0, y1 = front_and_rear(box)
    dividers: list[tuple[Upright, Part]] = []
    for upright in (u for u in box.uprights if u.kind == "divider"):
        shape = upright_shape(upright=upright, face_a="left", y_front_mm=y0, y_back_mm=y1)
        part = made.add("divider", "divider", shape)
        dividers.append((upright, part))
        if abs(upright.z0_mm - (box.z0_mm + box.board.thickness_mm)) < 0.01:
            made.joints.append(joined(part, lids.bottom, "butt and screws", y1 - y0, made.shop, deep=True))
        above = _lid_above(box, upright, lids)
        if above is not None:
            made.joints.append(joined(part, above, "butt and screws", y1 - y0, made.shop, deep=True))
    return dividers


def _lid_above(box: Box, upright: Upright, lids: Lids) -> Part | None:
    """Return the board right above an upright that reaches the box's own top; None under a row board."""
    top = max(upright.z1_left_mm, upright.z1_right_mm)
    if top < ceiling_at(box, upright.x_mm) - 1.0 and top < ceiling_at(box, upright.x_mm + upright.thickness_mm) - 1.0:
        return None
    t = box.board.thickness_mm
    if lids.level is not None and box.level_top_mm is not None and top > box.level_top_mm - t - 1.0:
        return lids.level
    return lids.raked


def _shelf(made: Made, shelf: Shelf, uprights: list[tuple[Upright, Part]], lids: Lids) -> None:
    """Make one shelf: loose on pins, or held by the uprights beside it and the raked board it runs into."""
    box = made.box
    holders = _beside(made, shelf, uprights)
    y = box.y_front_mm + shelf.set_back_mm
    pitch = box.rake.pitch_rad if box.rake else 0.0
    if shelf.fixing == "pins":
        loose = replace(shelf, x0_mm=shelf.x0_mm + LOOSE_MM / 2, x1_mm=shelf.x1_mm - LOOSE_MM / 2)
        part = made.add("shelf on pins", "loose shelf", shelf_shape(shelf=loose, pitch_rad=pitch, y_front_mm=y))
        for upright, holder in holders:
            if upright is not None and holder is not None:
                _pin_holes(made, holder, upright, part, shelf)
        return
    housed = made.design.dividers_joint in {"housing", "rebate"}
    depths = [
        _housed_mm(made, shelf, part, end) if housed and part is not None else 0.0
        for (_, part), end in zip(holders, (shelf.x0_mm, shelf.x1_mm), strict=True)
    ]
    longer = replace(shelf, x0_mm=shelf.x0_mm - depths[0], x1_mm=shelf.x1_mm + depths[1])
    shape = shelf_shape(shelf=longer, pitch_rad=pitch, y_front_mm=y)
    notes: tuple[str, ...] = ()
    tilt_deg = math.degrees(max(abs(edge.bevel_rad) for edge in shape.edges))
    if tilt_deg > made.shop.saw.max_tilt_deg:
        shape = replace(shape, edges=(SQUARE, SQUARE, SQUARE, SQUARE))
        notes = (f"the raked end would need {tilt_deg:.1f} deg: cut square, its upper edge touches the raked board",)
    name = "fixed shelf" if shelf.fixing == "fixed" else "row board"
    part = made.add(name, "shelf", shape, notes=notes)
    for (upright, holder), depth in zip(holders, depths, strict=True):
        if upright is None or holder is None:
            if lids.raked is not None:
                made.joints.append(joined(part, lids.raked, "butt and screws", shelf.depth_mm, made.shop, deep=True))
            continue
        if depth > 0:
            _groove(made, holder, upright, part, shelf.z_mm, depth, shelf.set_back_mm + shelf.depth_mm)
        joint = made.design.dividers_joint if not housed else "housing" if depth > 0 else "butt and screws"
        deep = joint in {"butt and screws", "butt and brads"}
        made.joints.append(joined(part, made.now(holder.number), joint, shelf.depth_mm, made.shop, deep=deep))


def _housed_mm(made: Made, shelf: Shelf, holder: Part, end_mm: float) -> float:
    """Return how deep a shelf's end enters an upright; 0 where it would run into the raked board there. [mm]"""
    depth = housing_depth(holder, made.design.housing_mm)
    beyond = end_mm - depth if end_mm == shelf.x0_mm else end_mm + depth
    return depth if ceiling_at(made.box, beyond) >= shelf.z_mm + shelf.thickness_mm else 0.0


def _pin_holes(made: Made, holder: Part, upright: Upright, held: Part, shelf: Shelf) -> None:
    """Drill two holes in an upright for the pins under one end of a loose shelf."""
    u = shelf.z_mm - PIN_MM / 2 - upright.z0_mm
    width = max(v for _, v in holder.outline)
    front = shelf.set_back_mm + PIN_INSET_MM
    rear = shelf.set_back_mm + shelf.depth_mm - PIN_INSET_MM
    across = (front, rear) if holder.frame.v[1] > 0 else (width - front, width - rear)
    drilled = PinHoles(
        face=_face_towards(holder, upright, held), u_mm=u, v_mm=across, diameter_mm=PIN_MM, receives=held.number
    )
    current = made.now(holder.number)
    made.change(replace(current, pin_holes=(*current.pin_holes, drilled)))


def _face_towards(holder: Part, upright: Upright, held: Part) -> Literal["A", "B"]:
    """Return the face of an upright that looks towards a board beside it."""
    towards_right = held.frame.origin[0] + held.blank_mm[0] / 2 > upright.x_mm
    face_a_left = holder.frame.out_of_face[0] < 0
    return "B" if towards_right == face_a_left else "A"


def _beside(made: Made, shelf: Shelf, uprights: list[tuple[Upright, Part]]) -> list[tuple[Upright | None, Part | None]]:
    """Return the uprights that a shelf's left and right ends stand against; None at an end cut to the rake."""
    ends: list[tuple[Upright | None, Part | None]] = []
    for x, cut, face in ((shelf.x0_mm, shelf.cut_left, "right"), (shelf.x1_mm, shelf.cut_right, "left")):
        found: tuple[Upright | None, Part | None] = (None, None)
        for upright, part in uprights:
            at = upright.x_mm + (upright.thickness_mm if face == "right" else 0.0)
            top = max(upright.z1_left_mm, upright.z1_right_mm)
            if not cut and abs(at - x) < 0.05 and upright.z0_mm <= shelf.z_mm < top:
                found = (upright, made.now(part.number))
        ends.append(found)
    return ends


def _fixing_rails(made: Made, uprights: list[tuple[Upright, Part]]) -> None:
    """Make the rails that the wall screws go through, pocket-screwed to the uprights beside them."""
    box, t = made.box, made.box.board.thickness_mm
    for rail in box.rails:
        shape = facing_shape(outline=rail.outline, long_edge=0, y_face_mm=front_and_rear(box)[1] - t)
        board = made.add("fixing rail", "fixing rail", shape, faces=1)
        for upright, part in uprights:
            beside = min(abs(upright.x_mm + t - rail.x0_mm), abs(upright.x_mm - rail.x1_mm)) < 0.05
            head = rail.head_left_mm if upright.x_mm < rail.x0_mm else rail.head_right_mm
            if beside and max(upright.z1_left_mm, upright.z1_right_mm) > head - rail.height_mm:
                holder = made.now(part.number)
                made.joints.append(joined(board, holder, "pocket screws", rail.height_mm, made.shop, deep=False))


def _back(made: Made) -> None:
    """Make the back, planted on the rear edges of the boards; a wide one is divided over uprights."""
    box = made.box
    if box.back is None:
        return
    whole = moved_edges(box.outline, tuple(-BACK_INSET_MM for _ in box.outline))
    panels = _panels(whole, box, box.back, made.shop.saw.trim_mm)
    for outline in panels:
        shape = panel_shape(outline=outline, y_face_mm=front_and_rear(box)[1], grain_up=True)
        note = f"planted on the rear edges, {BACK_INSET_MM:g} mm (1/32 in) in" + (
            "; meets its neighbour over an upright" if len(panels) > 1 else ""
        )
        back = made.add("back", "back", shape, stock=box.back, faces=1, notes=(note,))
        for part in made.parts:
            if part.role in {"side", "bottom", "top", "raked board", "divider"} and _behind(outline, part):
                length = min(part.blank_mm[0], max(back.blank_mm))
                made.joints.append(
                    joined(back, part, "butt and screws", length, made.shop, deep=False, spacing_mm=BACK_SPACING_MM)
                )


def _panels(whole: tuple[Point2, ...], box: Box, stock: SheetStock, trim_mm: float) -> list[tuple[Point2, ...]]:
    """Return a back as one panel, or divided at the middles of uprights into as few as the sheet's width allows."""
    widest = stock.width_mm - 2 * trim_mm
    x0, x1 = min(x for x, _ in whole), max(x for x, _ in whole)
    middles = [u.x_mm + u.thickness_mm / 2 for u in box.uprights if u.kind == "divider" and u.z0_mm < box.z0_mm + 50.0]
    choices = (chosen for count in range(len(middles) + 1) for chosen in combinations(middles, count))

    def judged(chosen: tuple[float, ...]) -> tuple[int, int, float]:
        widths = [end - start for start, end in pairwise((x0, *chosen, x1))]
        return sum(width > widest for width in widths), len(widths), max(widths)

    best = min(choices, key=judged)
    return [clipped_between(whole, start, end) for start, end in pairwise((x0, *best, x1))]


def _behind(outline: tuple[Point2, ...], part: Part) -> bool:
    """Return whether a back panel covers some of a board's rear edge."""
    xs = [part.frame.to_room(u, v)[0] for u, v in part.outline]
    x0, x1 = min(x for x, _ in outline), max(x for x, _ in outline)
    # A side is known by one of its faces, the outer or the inner one.
    return min(xs) < x1 + part.thickness_mm and max(xs) > x0 - part.thickness_mm
