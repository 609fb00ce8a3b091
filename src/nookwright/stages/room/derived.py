"""What a room is judged by: corner angles, leans, falls, widths, depths, heights and pitch."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from nookwright.basics.measured import Measured
from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.inputs.survey import PlumbReading, Reading, Side, SurfaceName, Survey, TapeReading
from nookwright.stages.room.height_field import HeightField
from nookwright.stages.room.mean_plane import MeanPlane, mean_plane
from nookwright.stages.room.room import Derived
from nookwright.stages.survey.kinds import INTO_ROOM, WALLS
from nookwright.stages.survey.readings import corner_angle_deg
from nookwright.stages.survey.spots import spots_named_by
from nookwright.stages.survey.unknowns import Unknowns

FIXED_GROWTH = 1.5
"""A value whose standard deviation grows by more than this when vague beliefs are made ten times vaguer rests on
those beliefs, not on readings. Computed: chosen on simulated rooms; no source."""

GOOD_ENOUGH = {"mm": 3.0, "deg": 0.5, "mm/m": 5.0}
"""A value at least this sure, one standard deviation, is called fixed whatever it rests on: building to it is safe.
Common practice, no source."""

SIDES: tuple[Side, ...] = ("left", "right")


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjusted:
    """The adjusted room before it is judged.

    Args:
        survey: the field book.
        unknowns: the unknowns.
        state: their adjusted values.
        covariance: of the state.
        loose: the covariance had nothing vague been believed, nearly.
        fields: the surfaces.
    """

    survey: Survey
    unknowns: Unknowns
    state: Vector
    covariance: Matrix
    loose: Matrix
    fields: dict[SurfaceName, HeightField]

    def has_spots(self, *names: str) -> bool:
        """Return whether all these spots were named in readings."""
        known = {spot.name for spot in self.unknowns.spots[: self.unknowns.named]}
        return known.issuperset(names)

    def place(self, name: str) -> Vector:
        """Return a spot's adjusted position. [mm]"""
        at = self.unknowns.spot(name)
        found: Vector = self.state[at : at + 3]
        return found

    def mean_plane(self, surface: SurfaceName) -> MeanPlane:
        """Return the plane that fits a surface best at its named spots.

        On a wall those that only a level read do not count: it says nothing of how far the wall stands out there.
        """
        read = {name for reading in self.survey.readings for name in spots_named_by(reading) if _says_where(reading)}
        spots = [
            self.unknowns.spot(spot.name)
            for spot in self.unknowns.spots[: self.unknowns.named]
            if surface in spot.surfaces and (surface not in WALLS or spot.name in read)
        ]
        return mean_plane(self.fields[surface], self.state, np.array(spots, dtype=np.intp))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Quantity:
    """A value with its derivatives by the state, and what its standard deviation takes besides."""

    name: str
    unit: Literal["mm", "deg", "mm/m"]
    value: float
    row: Vector
    advice: str
    own_variance: float = 0.0


def derive(adjusted: Adjusted) -> tuple[Derived, ...]:
    """Return everything a room is judged by, each with its spread and whether the readings fix it.

    Args:
        adjusted: the adjusted room.

    Returns:
        Corners, leans, widths, depths, floor, ceiling, slope, in that order.
    """
    makers = (_corners, _leans, _widths, _depths, _floor, _ceiling, _slope)
    return tuple(_judged(quantity, adjusted) for maker in makers for quantity in maker(adjusted))


def _says_where(reading: Reading) -> bool:
    """Return whether a reading says where on plan a spot is."""
    return isinstance(reading, (TapeReading, PlumbReading))


def _judged(quantity: _Quantity, adjusted: Adjusted) -> Derived:
    variance = float(quantity.row @ adjusted.covariance @ quantity.row) + quantity.own_variance
    loose = float(quantity.row @ adjusted.loose @ quantity.row) + quantity.own_variance
    sure = math.sqrt(variance) <= GOOD_ENOUGH[quantity.unit]
    fixed = sure or math.sqrt(loose) <= FIXED_GROWTH * math.sqrt(variance)
    advice = "" if fixed else f"The {quantity.name} is not fixed by what was measured; {quantity.advice}."
    measured = Measured(value=quantity.value, sd=math.sqrt(variance))
    return Derived(name=quantity.name, unit=quantity.unit, measured=measured, fixed=fixed, advice=advice)


def _levels(adjusted: Adjusted) -> Iterator[tuple[str, str]]:
    """Give every marked level with its name: `0` at the floor, `2` at level 2."""
    yield "0", "at the floor"
    for number in range(1, len(adjusted.survey.heights_mm) + 1):
        yield str(number), f"at level {number}"


def _corners(adjusted: Adjusted) -> Iterator[_Quantity]:
    for side in (side for side in SIDES if side in adjusted.unknowns.surfaces):
        here, there = side[0].upper(), "R" if side == "left" else "L"
        advice = f"measure the floor diagonal B{there}0 - F{here}0"
        yield _mean_corner(adjusted, side, advice)
        for level, told in _levels(adjusted):
            corner, along, out = f"B{here}{level}", f"B{there}{level}", f"F{here}{level}"
            if adjusted.has_spots(corner, along, out):
                value, row = _chord_angle(adjusted, corner, along, out)
                yield _Quantity(name=f"back {side} corner {told}", unit="deg", value=value, row=row, advice=advice)


def _mean_corner(adjusted: Adjusted, side: Side, advice: str) -> _Quantity:
    """The angle between the mean planes of the back wall and a side wall, in plan."""
    back, beside = adjusted.mean_plane("back"), adjusted.mean_plane(side)
    row, own, sign = np.zeros(len(adjusted.state)), 0.0, 1 if side == "left" else -1
    for plane in (back, beside):
        turn = sign * math.degrees(1 / (1 + plane.tilts[0] ** 2))
        row += turn * plane.rows[0]
        own += turn**2 * float(plane.own_covariance[0, 0])
    value = corner_angle_deg(side, float(back.tilts[0]), float(beside.tilts[0]))
    return _Quantity(name=f"back {side} corner", unit="deg", value=value, row=row, own_variance=own, advice=advice)


def _chord_angle(adjusted: Adjusted, corner: str, first: str, second: str) -> tuple[float, Vector]:
    """Return the angle in plan at a corner between two other spots, with its derivatives. [deg]"""
    row = np.zeros(len(adjusted.state))
    at = adjusted.unknowns.spot(corner)
    bearings = []
    for name, sign in ((first, 1.0), (second, -1.0)):
        dx, dy, _ = adjusted.place(name) - adjusted.place(corner)
        turn = sign * np.degrees(np.array([-dy, dx]) / (dx**2 + dy**2))
        far = adjusted.unknowns.spot(name)
        row[far : far + 2] += turn
        row[at : at + 2] -= turn
        bearings.append(math.degrees(math.atan2(dy, dx)))
    angle = (bearings[0] - bearings[1]) % 360
    return (angle, row) if angle < 180 else (360 - angle, -row)


def _leans(adjusted: Adjusted) -> Iterator[_Quantity]:
    """A wall's lean is how far it comes into the room for each metre of height."""
    for wall in (wall for wall in WALLS if wall in adjusted.unknowns.surfaces):
        column = "BR" if wall == "right" else "BL"
        top = max(len(adjusted.survey.heights_mm), 1)
        yield _tilt(
            adjusted,
            f"{wall} wall lean",
            wall,
            2,
            INTO_ROOM[wall],
            f"plumb it from {column}0 to {column}{top}",
        )


def _tilt(adjusted: Adjusted, name: str, surface: SurfaceName, order: int, sign: int, advice: str) -> _Quantity:
    """Return one tilt of a surface's mean plane: order 1 is along its first other axis, 2 along its second."""
    plane, factor = adjusted.mean_plane(surface), 1000.0 * sign
    return _Quantity(
        name=name,
        unit="mm/m",
        value=factor * float(plane.tilts[order - 1]),
        row=factor * plane.rows[order - 1],
        own_variance=factor**2 * float(plane.own_covariance[order - 1, order - 1]),
        advice=advice,
    )


def _gap(
    adjusted: Adjusted, name: str, low: SurfaceName, high: SurfaceName, at: tuple[float, float], advice: str
) -> _Quantity:
    p, q = np.array([at[0]]), np.array([at[1]])
    below, above = adjusted.fields[low], adjusted.fields[high]
    return _Quantity(
        name=name,
        unit="mm",
        value=float((above.values(p, q) - below.values(p, q))[0]),
        row=(above.rows(p, q) - below.rows(p, q))[0],
        own_variance=float((above.own_variance(p, q) + below.own_variance(p, q))[0]),
        advice=advice,
    )


def _widths(adjusted: Adjusted) -> Iterator[_Quantity]:
    if not {"left", "right"} <= set(adjusted.unknowns.surfaces):
        return
    for level, told in _levels(adjusted):
        for row_of, place in (("B", "back"), ("F", "front")):
            left, right = f"{row_of}L{level}", f"{row_of}R{level}"
            if adjusted.has_spots(left, right):
                name, advice = f"width at the {place} {told}", f"tape {left} - {right}"
                yield _width_between(adjusted, name, left, right, advice)


def _width_between(adjusted: Adjusted, name: str, left: str, right: str, advice: str) -> _Quantity:
    """Return the distance of the side walls along x, midway between two spots that are nearly level and in line."""
    # Each wall is followed from its spot to there along its plane: a few millimetres, over which it does not wave.
    apart = adjusted.place(right) - adjusted.place(left)
    row, value = np.zeros(len(adjusted.state)), float(apart[0])
    walls: tuple[tuple[SurfaceName, str, float, float], ...] = (("left", left, -1.0, 0.5), ("right", right, 1.0, -0.5))
    for surface, spot, sign, away in walls:
        plane = adjusted.unknowns.surface(surface)
        tilts = adjusted.state[plane + 1 : plane + 3]
        row[adjusted.unknowns.spot(spot)] += sign
        value += sign * away * float(tilts @ apart[1:])
        row[plane + 1 : plane + 3] += sign * away * apart[1:]
        for far, end in ((right, 1.0), (left, -1.0)):
            at = adjusted.unknowns.spot(far)
            row[at + 1 : at + 3] += sign * away * end * tilts
    return _Quantity(name=name, unit="mm", value=value, row=row, advice=advice)


def _depths(adjusted: Adjusted) -> Iterator[_Quantity]:
    for side in SIDES:
        for level, told in _levels(adjusted):
            back, front = f"B{side[0].upper()}{level}", f"F{side[0].upper()}{level}"
            if not adjusted.has_spots(back, front):
                continue
            along = adjusted.place(front) - adjusted.place(back)
            length = float(np.linalg.norm(along))
            row = np.zeros(len(adjusted.state))
            for name, sign in ((front, 1), (back, -1)):
                at = adjusted.unknowns.spot(name)
                row[at : at + 3] = sign * along / length
            name = f"depth on the {side} {told}"
            yield _Quantity(name=name, unit="mm", value=length, row=row, advice=f"tape {back} - {front}")


def _reach(adjusted: Adjusted) -> tuple[float, float]:
    """Return how far right and how far out (y, below 0) the named spots go. [mm]"""
    places = np.array([adjusted.place(spot.name) for spot in adjusted.unknowns.spots[: adjusted.unknowns.named]])
    return float(places[:, 0].max()), float(places[:, 1].min())


def _floor(adjusted: Adjusted) -> Iterator[_Quantity]:
    advice = "read BL0, BR0, FL0 and FR0 with the level"
    yield _tilt(adjusted, "floor fall to the right", "floor", 1, -1, advice)
    yield _tilt(adjusted, "floor fall to the front", "floor", 2, 1, advice)
    right, out = _reach(adjusted)
    across, deep = np.meshgrid(np.linspace(0, right, 9), np.linspace(0, out, 5), indexing="ij")
    x, y = across.ravel(), deep.ravel()
    floor = adjusted.fields["floor"]
    heights, rows, own = floor.values(x, y), floor.rows(x, y), floor.own_variance(x, y)
    high, low = int(np.argmax(heights)), int(np.argmin(heights))
    if high == low:  # nothing was read of the floor: ask for the spread of its fall from corner to corner
        low = len(heights) - 1 - high
    yield _Quantity(
        name="floor, highest less lowest",
        unit="mm",
        value=float(heights[high] - heights[low]),
        row=rows[high] - rows[low],
        own_variance=float(own[high] + own[low]),
        advice=advice,
    )
    yield _Quantity(
        name=f"floor high point, near {_nearest_foot(adjusted, float(x[high]), float(y[high]))}",
        unit="mm",
        value=float(heights[high]),
        row=rows[high],
        own_variance=float(own[high]),
        advice=advice,
    )


def _nearest_foot(adjusted: Adjusted, x: float, y: float) -> str:
    """Return the name of the floor spot nearest to a place."""
    feet = [name for name in ("BL0", "BR0", "FL0", "FR0") if adjusted.has_spots(name)]
    return min(feet, key=lambda name: math.hypot(adjusted.place(name)[0] - x, adjusted.place(name)[1] - y))


def _ceiling(adjusted: Adjusted) -> Iterator[_Quantity]:
    if "ceiling" not in adjusted.unknowns.surfaces:
        return
    advice = "read BLT, BRT and a ceiling spot at the front with the level"
    yield _gap(adjusted, "ceiling height at the back", "floor", "ceiling", (_back_right(adjusted) / 2, 0.0), advice)
    yield _tilt(adjusted, "ceiling fall to the right", "ceiling", 1, -1, advice)
    yield _tilt(adjusted, "ceiling fall to the front", "ceiling", 2, 1, advice)


def _slope(adjusted: Adjusted) -> Iterator[_Quantity]:
    if "slope" not in adjusted.unknowns.surfaces:
        return
    advice = "read BLS and BRS with the level"
    yield _pitch(adjusted, advice)
    forward = "read BLS and a slope spot at the front with the level"
    yield _tilt(adjusted, "slope fall to the front", "slope", 2, 1, forward)
    yield _gap(adjusted, "slope height at the back left", "floor", "slope", (0.0, 0.0), advice)
    there = _gap(adjusted, "slope height at the back right", "floor", "slope", (_back_right(adjusted), 0.0), advice)
    # Above the back right spot, wherever exactly that is: its own spread counts by the slope's rise.
    row = there.row.copy()
    row[_back_right_at(adjusted)] += adjusted.fields["slope"].plane[1] - adjusted.fields["floor"].plane[1]
    yield replace(there, row=row)


def _pitch(adjusted: Adjusted, advice: str) -> _Quantity:
    """The mean slope's angle from level along the mean back wall, above 0 whichever way it rises."""
    slope, back = adjusted.mean_plane("slope"), adjusted.mean_plane("back")
    yaw = float(back.tilts[0])
    norm = math.sqrt(1 + yaw**2)
    ways = np.array([1.0, yaw]) / norm
    rise = float(ways @ slope.tilts)
    by_yaw = float(slope.tilts[1]) / norm - rise * yaw / norm**2
    turn = math.copysign(math.degrees(1 / (1 + rise**2)), rise)
    return _Quantity(
        name="slope pitch",
        unit="deg",
        value=abs(math.degrees(math.atan(rise))),
        row=turn * (ways @ slope.rows + by_yaw * back.rows[0]),
        own_variance=turn**2 * float(ways @ slope.own_covariance @ ways + by_yaw**2 * back.own_covariance[0, 0]),
        advice=advice,
    )


def _back_right(adjusted: Adjusted) -> float:
    """Return how far right the back right column stands. [mm]"""
    return float(adjusted.state[_back_right_at(adjusted)])


def _back_right_at(adjusted: Adjusted) -> int:
    """Return the place in the state of the x of the lowest spot at the back right."""
    return adjusted.unknowns.spot(next(spot.name for spot in adjusted.unknowns.spots if spot.column.name == "BR"))
