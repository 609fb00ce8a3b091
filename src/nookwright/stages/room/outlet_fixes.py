"""Where the outlets are: each distance checked by a second one where there is one, and the place both agree on."""

from __future__ import annotations

import math
from dataclasses import replace

from nookwright.basics.measured import Measured
from nookwright.stages.inputs.survey import Outlet
from nookwright.stages.room.behind_wall import OutletFix
from nookwright.stages.room.room import Room
from nookwright.stages.survey.kinds import shape_in
from nookwright.stages.survey.tools import MARK_SD_MM


def outlet_fixes(room: Room) -> tuple[OutletFix, ...]:
    """Return every outlet that was measured from two references.

    Args:
        room: the room as adjusted.

    Returns:
        The outlets, in the order typed; those measured once are not among them.
    """
    walls = shape_in(room.survey).walls
    fixes = (_fix(outlet, room) for outlet in room.survey.outlets if outlet.wall in walls)
    return tuple(fix for fix in fixes if fix.along_off is not None or fix.above_off is not None)


def settled(outlet: Outlet, fixes: tuple[OutletFix, ...]) -> Outlet:
    """Return an outlet at the place that both its references agree on; where they disagree, as it was typed."""
    fix = next((each for each in fixes if each.name == outlet.name), None)
    if fix is None or fix.disagrees:
        return outlet
    along = fix.along or Measured(value=outlet.from_side_mm, sd=outlet.from_side_sd_mm)
    above = fix.above or Measured(value=outlet.above_floor_mm, sd=outlet.above_floor_sd_mm)
    return replace(
        outlet,
        from_side_mm=along.value,
        from_side_sd_mm=along.sd,
        above_floor_mm=above.value,
        above_floor_sd_mm=above.sd,
    )


def _fix(outlet: Outlet, room: Room) -> OutletFix:
    along, along_off = _along(outlet, room)
    above, above_off = _above(outlet, room)
    return OutletFix(name=outlet.name, along=along, along_off=along_off, above=above, above_off=above_off)


def _along(outlet: Outlet, room: Room) -> tuple[Measured | None, Measured | None]:
    """Return the distance from its side that both agree on, and by how much the second is off. [mm]"""
    length = _wall_length(outlet, room) if outlet.from_other_side_mm is not None else None
    if length is None or outlet.from_other_side_mm is None:
        return None, None
    second = Measured(value=length.value - outlet.from_other_side_mm, sd=math.hypot(length.sd, outlet.from_side_sd_mm))
    return _agreed(Measured(value=outlet.from_side_mm, sd=outlet.from_side_sd_mm), second)


def _above(outlet: Outlet, room: Room) -> tuple[Measured | None, Measured | None]:
    """Return the height that floor and mark agree on, and by how much the mark is off. [mm]"""
    if outlet.mark is None:
        return None, None
    floor = room.at("floor", *_foot(outlet, room))
    mark = room.survey.heights_mm[outlet.mark - 1]
    second = Measured(
        value=mark + outlet.above_mark_mm - floor.value, sd=math.hypot(MARK_SD_MM, floor.sd, outlet.above_floor_sd_mm)
    )
    return _agreed(Measured(value=outlet.above_floor_mm, sd=outlet.above_floor_sd_mm), second)


def _foot(outlet: Outlet, room: Room) -> tuple[float, float]:
    """Return where on plan an outlet is, near enough for the floor below it. [mm]"""
    shape = shape_in(room.survey)
    wall = shape.walls[outlet.wall]
    end, step = (wall.ends[0], outlet.from_side_mm) if outlet.side == "left" else (wall.ends[1], -outlet.from_side_mm)
    places = (spot.xyz for spot in room.spots if shape.taken_apart(spot.name)[0] == end)
    x, y, _ = next(places, (*shape.columns[end].place, 0.0))
    out_x, out_y = wall.facing
    return x - out_y * step, y + out_x * step  # to the right, seen from the room


def _agreed(first: Measured, second: Measured) -> tuple[Measured, Measured]:
    """Return the mean of two, the surer counting more, and the second less the first."""
    share = second.sd**2 / (first.sd**2 + second.sd**2)
    mean = Measured(
        value=share * first.value + (1 - share) * second.value,
        sd=math.sqrt(share) * first.sd,
    )
    return mean, Measured(value=second.value - first.value, sd=math.hypot(first.sd, second.sd))


def _wall_length(outlet: Outlet, room: Room) -> Measured | None:
    """Return how long the outlet's wall is at its height; None when no readings tell. [mm]"""
    height = outlet.above_floor_mm
    if outlet.wall == "back" and room.has("left") and room.has("right"):
        return room.between("left", "right", room.at("back", outlet.from_side_mm, height).value, height)
    shape = shape_in(room.survey)
    first, second = shape.walls[outlet.wall].ends
    lengths = []
    for spot in room.spots:
        column, level = shape.taken_apart(spot.name)
        other = room.spot(second + level) if column == first else None
        if other is not None:
            sd = math.sqrt(sum(one**2 for one in (*spot.sd[:2], *other.sd[:2])))
            lengths.append(Measured(value=math.dist(spot.xyz[:2], other.xyz[:2]), sd=sd))
    return min(lengths, key=lambda one: one.sd, default=None)
