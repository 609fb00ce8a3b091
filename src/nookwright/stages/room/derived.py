"""What a room is judged by: corner angles, leans, falls, widths, depths, heights and pitch."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from nookwright.basics.measured import Measured
from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.inputs.survey import Side, SurfaceName, Survey
from nookwright.stages.room.height_field import HeightField
from nookwright.stages.room.room import Derived
from nookwright.stages.survey.kinds import INTO_ROOM, WALLS
from nookwright.stages.survey.readings import corner_angle_deg, pitch_deg
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
    unknowns, state = adjusted.unknowns, adjusted.state
    for side in (side for side in SIDES if side in unknowns.surfaces):
        here, there = side[0].upper(), "R" if side == "left" else "L"
        advice = f"measure the floor diagonal B{there}0 - F{here}0"
        back, beside = unknowns.surface("back") + 1, unknowns.surface(side) + 1
        row, sign = np.zeros(len(state)), 1 if side == "left" else -1
        for place in (back, beside):
            row[place] = sign * math.degrees(1 / (1 + state[place] ** 2))
        value = corner_angle_deg(side, state[back], state[beside])
        yield _Quantity(name=f"back {side} corner", unit="deg", value=value, row=row, advice=advice)
        for level, told in _levels(adjusted):
            corner, along, out = f"B{here}{level}", f"B{there}{level}", f"F{here}{level}"
            if adjusted.has_spots(corner, along, out):
                value, row = _chord_angle(adjusted, corner, along, out)
                yield _Quantity(name=f"back {side} corner {told}", unit="deg", value=value, row=row, advice=advice)


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
    row = np.zeros(len(adjusted.state))
    row[adjusted.unknowns.surface(surface) + order] = 1000 * sign
    return _Quantity(name=name, unit="mm/m", value=float(row @ adjusted.state), row=row, advice=advice)


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
                middle = (adjusted.place(left) + adjusted.place(right)) / 2
                at = (float(middle[1]), float(middle[2]))
                yield _gap(adjusted, f"width at the {place} {told}", "left", "right", at, f"tape {left} - {right}")


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
    unknowns = adjusted.unknowns
    if "slope" not in unknowns.surfaces:
        return
    pitch, row = pitch_deg(adjusted.state, unknowns.surface("slope"), unknowns.surface("back"))
    sign = 1.0 if pitch >= 0 else -1.0
    advice = "read BLS and BRS with the level"
    yield _Quantity(name="slope pitch", unit="deg", value=sign * pitch, row=sign * row, advice=advice)
    forward = "read BLS and a slope spot at the front with the level"
    yield _tilt(adjusted, "slope fall to the front", "slope", 2, 1, forward)
    yield _gap(adjusted, "slope height at the back left", "floor", "slope", (0.0, 0.0), advice)
    there = _gap(adjusted, "slope height at the back right", "floor", "slope", (_back_right(adjusted), 0.0), advice)
    # Above the back right spot, wherever exactly that is: its own spread counts by the slope's rise.
    row = there.row.copy()
    row[_back_right_at(adjusted)] += adjusted.fields["slope"].plane[1] - adjusted.fields["floor"].plane[1]
    yield replace(there, row=row)


def _back_right(adjusted: Adjusted) -> float:
    """Return how far right the back right column stands. [mm]"""
    return float(adjusted.state[_back_right_at(adjusted)])


def _back_right_at(adjusted: Adjusted) -> int:
    """Return the place in the state of the x of the lowest spot at the back right."""
    return adjusted.unknowns.spot(next(spot.name for spot in adjusted.unknowns.spots if spot.column.name == "BR"))
