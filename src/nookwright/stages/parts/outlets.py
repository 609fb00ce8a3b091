"""Outlets brought through a back: where the hole lies in the panel's own coordinates.

The chain runs from the two references the outlet was measured from, through the room's true corner and floor,
to the panel's own edges where it finally stands, gap and platform included.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nookwright.stages.design.design import Box, Design
from nookwright.stages.inputs.survey import Outlet
from nookwright.stages.parts.part import Part
from nookwright.stages.room.room import Room

HOLE_CLEARANCE_MM = 3.0
"""A hole is this much larger than the box on each side: 3 to 6 mm, less than the plate covers.
Source: [trade-practice]. Status: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OutletPlace:
    """An outlet in the room, and the box in front of it.

    Args:
        outlet: the outlet as measured.
        box: the box whose back it comes through; None when nothing stands in front of it.
        x_mm, z_mm: its centre in the room.
        sd_mm: standard deviation of either.
        forward_mm: from the wall's face to the inner face of the box's back.
    """

    outlet: Outlet
    box: Box | None
    x_mm: float
    z_mm: float
    sd_mm: float
    forward_mm: float

    @property
    def hole_mm(self) -> tuple[float, float]:
        """Width and height of the hole. [mm]"""
        return (
            self.outlet.box_width_mm + 2 * HOLE_CLEARANCE_MM,
            self.outlet.box_height_mm + 2 * HOLE_CLEARANCE_MM,
        )


def outlet_places(design: Design, room: Room) -> tuple[OutletPlace, ...]:
    """Return where every outlet of the back wall lies, and the box in front of it."""
    return tuple(_place(outlet, design, room) for outlet in room.survey.outlets if outlet.wall == "back")


def comes_through(place: OutletPlace, part: Part) -> bool:
    """Return whether an outlet comes through a board: a back of the box in front of it that covers its centre."""
    if place.box is None or part.role != "back" or part.module != place.box.name:
        return False
    xs = [part.frame.to_room(u, v)[0] for u, v in part.outline]
    return min(xs) <= place.x_mm < max(xs)


def _place(outlet: Outlet, design: Design, room: Room) -> OutletPlace:
    """Return an outlet's place in the room."""
    corner_x, corner_sd = _wall_end(outlet, room)
    x = corner_x + (outlet.from_side_mm if outlet.side == "left" else -outlet.from_side_mm)
    floor = room.at("floor", x, 0.0)
    z = floor.value + outlet.above_floor_mm
    wall = room.at("back", x, z)
    box = next((b for b in design.boxes if b.x0_mm < x < b.x1_mm and _spans(b, x, z)), None)
    forward = wall.value - box.y_back_mm + _back_mm(box) if box else 0.0
    sd = math.hypot(max(outlet.from_side_sd_mm, outlet.above_floor_sd_mm), max(corner_sd, floor.sd))
    return OutletPlace(outlet=outlet, box=box, x_mm=x, z_mm=z, sd_mm=sd, forward_mm=forward)


def _wall_end(outlet: Outlet, room: Room) -> tuple[float, float]:
    """Return x of the end of the back wall the outlet was measured from, with its spread. [mm]"""
    if room.has(outlet.side):
        corner = room.at(outlet.side, 0.0, outlet.above_floor_mm)
        return corner.value, corner.sd
    column = room.ends[0] if outlet.side == "left" else room.ends[1]
    spot = next(spot for spot in room.spots if room.column(spot.name) == column)
    return spot.xyz[0], spot.sd[0]


def _spans(box: Box, x: float, z: float) -> bool:
    """Return whether a place on the back wall lies behind a box."""
    share = (x - box.x0_mm) / (box.x1_mm - box.x0_mm)
    top = box.z1_left_mm + share * (box.z1_right_mm - box.z1_left_mm)
    return box.z0_mm < z < top


def _back_mm(box: Box) -> float:
    """Return the thickness of a box's back; 0 for an open one. [mm]"""
    if box.bought is not None:
        return box.bought.back_mm
    return box.back.thickness_mm if box.back else 0.0
