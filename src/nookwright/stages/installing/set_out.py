"""Design + parts + room -> InstallPlan: packers, wall fixings, outlet holes and the order of work."""

from __future__ import annotations

import math
from dataclasses import replace

from nookwright.basics.lengths import Marks
from nookwright.basics.measured import Measured
from nookwright.stages.design.design import Box, Design, FittedPlatform, Rail
from nookwright.stages.design.rails import RAIL_MM
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.shop import Shop
from nookwright.stages.installing.install_plan import PLATFORM, InstallPlan, OutletHole, Packer, WallFixing
from nookwright.stages.installing.order_of_work import order_of_work
from nookwright.stages.installing.scribe_lines import scribe_lines
from nookwright.stages.parts.outlets import OutletPlace, comes_through, outlet_places
from nookwright.stages.parts.part import PartList
from nookwright.stages.room.room import Room
from nookwright.trade.fastener_choice import STUD_EDGE_MM, wall_screw
from nookwright.trade.shimming import packer_kind, solid_packer

BOUGHT_RAIL_MM = 16.0
"""Thickness of a bought cabinet's own fixing rail when nobody measured it. Common practice, no source."""

BLIND_SPACING_MM = 400.0
"""Spacing of fixings where no stud is known or the wall is masonry. Common practice, no source."""


def set_out(design: Design, parts: PartList, brief: Brief, room: Room, shop: Shop) -> InstallPlan:
    """Set the installation out.

    Args:
        design: everything at its place.
        parts: every board.
        brief: the units people read.
        room: floor, walls and studs.
        shop: screw lengths on sale.

    Returns:
        Packers from the floor's high point, wall fixings where studs are, outlet holes, the order of work, and how deep
        edges are scribed.
    """
    packers = _packers(design.platform, room) if design.platform else ()
    found = (
        *(_platform_fixings(design.platform, room, shop) if design.platform else ()),
        *(fixing for box in design.boxes for fixing in _fixings(box, room, shop)),
    )
    fixings = tuple(replace(fixing, screw=brief.wall_screw.screw) for fixing in found)
    holes = tuple(_hole(place, parts) for place in outlet_places(design, room))
    marks = Marks(units=brief.units, resolution=brief.resolution)
    steps = order_of_work(design, parts, room, packers, fixings, holes, marks)
    scribes = scribe_lines(parts, room, brief.units)
    return InstallPlan(packers=packers, fixings=fixings, holes=holes, steps=steps, scribes=scribes)


def _packers(platform: FittedPlatform, room: Room) -> tuple[Packer, ...]:
    """Return the packer under every end of every bearer, front row first."""
    t = platform.rail_mm
    packers: list[Packer] = []
    for y in (platform.y_front_mm + t / 2, platform.y_back_mm - t / 2):
        for x in _packed_x_mm(platform):
            floor = room.at("floor", x, y)
            height = Measured(value=max(0.0, platform.z0_mm - floor.value), sd=floor.sd)
            packers.append(
                Packer(
                    station=len(packers) + 1,
                    x_mm=x,
                    y_mm=y,
                    height=height,
                    kind=packer_kind(height.value),
                    solid_mm=solid_packer(height.value),
                )
            )
    return tuple(packers)


def _packed_x_mm(platform: FittedPlatform) -> list[float]:
    """Return where packers stand along the rails: under every bearer, one under the two where frames meet. [mm]"""
    joints = [x1 for _, x1 in platform.frames_x_mm[:-1]]
    middles = [x + platform.rail_mm / 2 for x in platform.bearers_x_mm]
    alone = [x for x in middles if all(abs(x - joint) > platform.rail_mm for joint in joints)]
    return sorted([*alone, *joints])


REACH_MM = 25.0
"""A platform's back rail further than this from the wall is not packed to it but held by blocks on the floor. Common
practice, no source."""


def _platform_fixings(platform: FittedPlatform, room: Room, shop: Shop) -> list[WallFixing]:
    """Return the screws of the platform's back rail: one in each stud behind it that is in reach."""
    if room.survey.wall.kind != "studs":
        return []
    z, fixings = (platform.z0_mm + platform.z1_mm) / 2, []
    for x, into in _places(platform.x0_mm, platform.x1_mm, room):
        wall = room.at("back", x, z)
        gap = Measured(value=max(0.0, wall.value - platform.y_back_mm), sd=wall.sd)
        if gap.value <= REACH_MM:
            fixings.append(_fixing(PLATFORM, x, z, gap, into, platform.rail_mm, room, shop))
    return fixings


def _fixings(box: Box, room: Room, shop: Shop) -> list[WallFixing]:
    """Return the wall screws of a box: one in each stud behind each of its fixing rails."""
    fixings: list[WallFixing] = []
    for rail, rail_mm in _rails(box):
        back = box.bought.back_mm if box.bought else box.back.thickness_mm if box.back else 0.0
        for x, into in _places(rail.x0_mm, rail.x1_mm, room):
            z = rail.head_at(x) - rail.height_mm / 2
            wall = room.at("back", x, z)
            gap = Measured(value=max(0.0, wall.value - box.y_back_mm), sd=wall.sd)
            fixings.append(_fixing(box.name, x, z, gap, into, rail_mm + back, room, shop))
    return fixings


def _rails(box: Box) -> list[tuple[Rail, float]]:
    """Return a box's fixing rails with their thickness; a bought cabinet's own lies under its top. [mm]"""
    if box.bought is None:
        return [(rail, box.board.thickness_mm) for rail in box.rails]
    top = min(box.z0_mm + box.bought.height_mm - box.bought.toe_height_mm, box.z1_left_mm)
    inset = box.bought.side_mm
    own = Rail(
        x0_mm=box.x0_mm + inset,
        x1_mm=box.x1_mm - inset,
        head_left_mm=top,
        head_right_mm=top,
        height_mm=RAIL_MM,
    )
    return [(own, BOUGHT_RAIL_MM)]


def _places(x0: float, x1: float, room: Room) -> list[tuple[float, str]]:
    """Return where a rail is screwed to the wall: at studs, or spaced evenly where none are known."""
    wall = room.survey.wall
    margin = STUD_EDGE_MM
    if wall.kind == "studs":
        return [
            (centre, f"stud {i}")
            for i, centre in enumerate(wall.stud_centres_mm, start=1)
            if x0 + margin <= centre <= x1 - margin
        ]
    count = max(2, math.ceil((x1 - x0) / BLIND_SPACING_MM))
    step = (x1 - x0) / count
    into = "masonry" if wall.kind == "masonry" else "unknown wall"
    return [(x0 + step * (i + 0.5), into) for i in range(count)]


def _fixing(
    box: str,
    x: float,
    z: float,
    gap: Measured,
    into: str,
    through_mm: float,
    room: Room,
    shop: Shop,
) -> WallFixing:
    """Return one wall screw; its length is the maker's to say where it does not go into a stud."""
    if not into.startswith("stud"):
        reason = (
            f"{through_mm:.1f} of rail and back + {gap.value:.1f} gap (mm); "
            "length and plug by the anchor maker's own figure"
        )
        return WallFixing(box=box, x_mm=x, z_mm=z, packer=gap, screw_mm=0.0, into=into, reason=reason)
    screw = wall_screw(
        through_mm=through_mm, gap_mm=gap.value, board_mm=room.survey.wall.board_mm, lengths_mm=shop.screw_lengths_mm
    )
    return WallFixing(box=box, x_mm=x, z_mm=z, packer=gap, screw_mm=screw.length_mm, into=into, reason=screw.reason)


def _hole(place: OutletPlace, parts: PartList) -> OutletHole:
    """Return an outlet's hole from the panel's own left and bottom edges as seen from the room."""
    width, height = place.hole_mm
    left, bottom = place.x_mm - width / 2, place.z_mm - height / 2
    number = ""
    if place.box is not None:
        panel = next((part for part in parts.parts if comes_through(place, part)), None)
        x_edge, z_edge = place.box.x0_mm, place.box.z0_mm
        if panel is not None:
            number = panel.number
            x_edge = panel.frame.origin[0] - max(v for _, v in panel.outline)
            z_edge = panel.frame.origin[2]
        left, bottom = left - x_edge, bottom - z_edge
    return OutletHole(
        outlet=place.outlet.name,
        box=place.box.name if place.box else "",
        part=number,
        left_mm=left,
        bottom_mm=bottom,
        width_mm=width,
        height_mm=height,
        sd_mm=place.sd_mm,
        forward_mm=place.forward_mm,
    )
