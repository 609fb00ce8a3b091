"""What a room is judged by: corner angles, leans, falls, widths, depths, heights and pitch."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Literal

import numpy as np

from nookwright.basics.measured import Measured
from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.inputs.survey import SurfaceName, Survey
from nookwright.stages.room.height_field import HeightField
from nookwright.stages.room.mean_plane import MeanPlane, mean_plane, mean_plane_of_pieces
from nookwright.stages.room.room import Derived
from nookwright.stages.room.strays import pieces_on, places_of
from nookwright.stages.survey.coverings import NAMES
from nookwright.stages.survey.readings import corner_angle_deg, wall_turn
from nookwright.stages.survey.shape import Corner, Shape, Slope, Span
from nookwright.stages.survey.sight import in_sight, inside
from nookwright.stages.survey.spots import spots_read_across
from nookwright.stages.survey.unknowns import Unknowns

FIXED_GROWTH = 1.5
"""A value whose standard deviation grows by more than this when vague beliefs are made ten times vaguer rests on
those beliefs, not on readings. Computed: chosen on simulated rooms; no source."""

TOLD_APART = 0.7
"""A thickness that the readings make surer than this share of what was told of it is told apart by them: they count
as much as what was told. Computed: equal shares leave 1 / sqrt 2."""

GOOD_ENOUGH = {"mm": 3.0, "deg": 0.5, "mm/m": 5.0}
"""A value at least this sure, one standard deviation, is called fixed whatever it rests on: building to it is safe.
Common practice, no source."""


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
        planes: their mean planes, as far as they were asked for: each is reckoned once.
    """

    survey: Survey
    unknowns: Unknowns
    state: Vector
    covariance: Matrix
    loose: Matrix
    fields: dict[SurfaceName, HeightField]
    planes: dict[SurfaceName, MeanPlane] = field(default_factory=dict)

    @property
    def shape(self) -> Shape:
        """The room's kind."""
        return self.unknowns.shape

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
        """Return the plane that fits a surface best at its spots, and at its pieces where a scan shows it.

        Only spots count whose place square to the surface was read: a level says nothing of how far a wall stands
        out, a plumb line on one wall nothing of the wall beside it, a tape along the floor nothing of its height.
        """
        if surface not in self.planes:
            self.planes[surface] = self._fitted(surface)
        return self.planes[surface]

    def _fitted(self, surface: SurfaceName) -> MeanPlane:
        """Return a surface's mean plane."""
        if pieces_on(surface, self.unknowns):
            places = places_of(self.state, surface, self.unknowns)[:, self.fields[surface].axes[1:]]
            return mean_plane_of_pieces(self.fields[surface], places)
        read = spots_read_across(surface, self.survey.readings, self.shape)
        named = [spot for spot in self.unknowns.spots[: self.unknowns.named] if surface in spot.surfaces]
        spots = [self.unknowns.spot(spot.name) for spot in named if spot.name in read]
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
        Corners, leans, widths, depths, floor, ceiling, slopes, thicknesses, in that order.
    """
    makers = (_corners, _leans, _widths, _depths, _floor, _ceiling, _slopes)
    found = [quantity for maker in makers for quantity in maker(adjusted)]
    rows = np.array([quantity.row for quantity in found])
    own = np.array([quantity.own_variance for quantity in found])
    variances, loose = (
        np.einsum("ij,ij->i", rows @ each, rows) + own for each in (adjusted.covariance, adjusted.loose)
    )
    judged = tuple(map(_judged, found, np.sqrt(variances).tolist(), np.sqrt(loose).tolist()))
    return judged + tuple(_thicknesses(adjusted))


def sought(adjusted: Adjusted) -> Iterator[tuple[str, str, Vector, float]]:
    """Give what a room is judged by before it is known.

    Between two spots of which one was placed by eye there is nothing to know, and a corner is that of its whole walls.

    Args:
        adjusted: the room, with every spot that could be read.

    Yields:
        Name, unit, derivatives by the state, and the variance that exact spots would still leave.
    """
    columns = adjusted.shape.columns
    by_eye = tuple(
        f"{span.name} "
        for span in adjusted.shape.spans
        if span.walls is None and any(columns[name].free for name in span.columns)
    )
    for maker in (_corners, _leans, _widths, _depths, _floor, _ceiling, _slopes):
        for quantity in maker(adjusted):
            at_a_height = quantity.unit == "deg" and " at " in quantity.name
            if not at_a_height and not quantity.name.startswith(by_eye):
                yield quantity.name, quantity.unit, quantity.row, quantity.own_variance


def _judged(quantity: _Quantity, sd: float, loose_sd: float) -> Derived:
    fixed = sd <= GOOD_ENOUGH[quantity.unit] or loose_sd <= FIXED_GROWTH * sd
    advice = "" if fixed else f"{_begun(quantity.name)} is not fixed by what was measured; {quantity.advice}."
    measured = Measured(value=quantity.value, sd=sd)
    return Derived(name=quantity.name, unit=quantity.unit, measured=measured, fixed=fixed, advice=advice)


def _thicknesses(adjusted: Adjusted) -> Iterator[Derived]:
    """Give what tapes over the skirting or to studs saw of its thickness; fixed when typed, or told from the width."""
    for covering, name in NAMES.items():
        one = next((each for each in adjusted.unknowns.set_ups if each.name == name), None)
        if one is None:
            continue
        at = adjusted.unknowns.set_up(name)
        sd = math.sqrt(float(adjusted.covariance[at, at]))
        fixed = not one.vague or sd <= TOLD_APART * one.sd
        what = f"The {name} is not told apart from the room's width: the readings only see their sum"
        yield Derived(
            name=name,
            unit="mm",
            measured=Measured(value=float(adjusted.state[at]), sd=sd),
            fixed=fixed,
            advice="" if fixed else f"{what}; {_OTHER_WAY[covering]}.",
        )


_OTHER_WAY = {
    "skirting": "measure its thickness at an end, or tape the same width just above it",
    "studs": "measure the board at an outlet's edge, or tape the same width from face to face",
}


def _begun(name: str) -> str:
    """Return a value's name as a sentence begins with it; what has a letter for its name takes no article."""
    first, _, rest = name.partition(" ")
    return f"{first.capitalize()} {rest}" if rest[:1].isupper() else f"The {name}"


def _levels(adjusted: Adjusted) -> Iterator[tuple[str, str]]:
    """Give every marked level with its name: `0` at the floor, `2` at level 2."""
    yield "0", "at the floor"
    for number in range(1, len(adjusted.survey.heights_mm) + 1):
        yield str(number), f"at level {number}"


def _corners(adjusted: Adjusted) -> Iterator[_Quantity]:
    for corner in adjusted.shape.corners:
        first, second = sorted(corner.arms)
        advice = f"measure the floor diagonal {first}0 - {second}0"
        if not in_sight(adjusted.shape, first, second):
            advice = f"read the bevel {corner.walls[0]}/{corner.walls[1]} at 1"
        yield _mean_corner(adjusted, corner, advice)
        for level, told in _levels(adjusted):
            names = [f"{column}{level}" for column in (corner.column, *corner.arms)]
            if adjusted.has_spots(*names):
                value, row = _chord_angle(adjusted, *names)
                yield _Quantity(name=f"{corner.name} {told}", unit="deg", value=value, row=row, advice=advice)


def _mean_corner(adjusted: Adjusted, corner: Corner, advice: str) -> _Quantity:
    """The angle between the mean planes of two walls, in plan."""
    planes = [adjusted.mean_plane(wall) for wall in corner.walls]
    row, own = np.zeros(len(adjusted.state)), 0.0
    for wall, plane, sign in zip(corner.walls, planes, (-1, 1), strict=True):
        turn = sign * wall_turn(adjusted.shape, wall) * math.degrees(1 / (1 + plane.tilts[0] ** 2))
        row += turn * plane.rows[0]
        own += turn**2 * float(plane.own_covariance[0, 0])
    value = corner_angle_deg(adjusted.shape, corner, float(planes[0].tilts[0]), float(planes[1].tilts[0]))
    return _Quantity(name=corner.name, unit="deg", value=value, row=row, own_variance=own, advice=advice)


def _chord_angle(adjusted: Adjusted, corner: str, left: str, right: str) -> tuple[float, Vector]:
    """Return the angle in plan at a corner between a spot along its left wall and one along its right wall. [deg]

    Its derivatives come with it.
    """
    row = np.zeros(len(adjusted.state))
    at = adjusted.unknowns.spot(corner)
    bearings = []
    for name, sign in ((right, 1.0), (left, -1.0)):
        dx, dy, _ = adjusted.place(name) - adjusted.place(corner)
        turn = sign * np.degrees(np.array([-dy, dx]) / (dx**2 + dy**2))
        far = adjusted.unknowns.spot(name)
        row[far : far + 2] += turn
        row[at : at + 2] -= turn
        bearings.append(math.degrees(math.atan2(dy, dx)))
    return (bearings[0] - bearings[1]) % 360, row


def _leans(adjusted: Adjusted) -> Iterator[_Quantity]:
    """A wall's lean is how far it comes into the room for each metre of height, square to it."""
    top = max(len(adjusted.survey.heights_mm), 1)
    for wall in (wall for wall in adjusted.unknowns.surfaces if wall in adjusted.shape.walls):
        column = next(name for name, column in adjusted.shape.columns.items() if wall in column.walls)
        plane = adjusted.mean_plane(wall)
        norm = math.sqrt(1 + float(plane.tilts[0]) ** 2)
        factor = 1000.0 * adjusted.shape.into_room(wall) / norm
        by_turn = -factor * float(plane.tilts[1] * plane.tilts[0]) / norm**2
        ways = np.array([by_turn, factor])
        yield _Quantity(
            name=f"{adjusted.shape.told(wall)} lean",
            unit="mm/m",
            value=factor * float(plane.tilts[1]),
            row=ways @ plane.rows,
            own_variance=float(ways @ plane.own_covariance @ ways),
            advice=f"plumb it from {column}0 to {column}{top}",
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
    spans = [span for span in adjusted.shape.spans if span.walls is not None]
    for level, told in _levels(adjusted):
        for span in spans:
            if adjusted.has_spots(*(f"{column}{level}" for column in span.columns)):
                yield _width_between(adjusted, span, level, f"{span.name} {told}")


def _width_between(adjusted: Adjusted, span: Span, level: str, name: str) -> _Quantity:
    """Return the distance of two walls along x, midway between two spots that are nearly level and in line."""
    left, right = (f"{column}{level}" for column in span.columns)
    # Each wall is followed from its spot to there along its plane: a few millimetres, over which it does not wave.
    apart = adjusted.place(right) - adjusted.place(left)
    row, value = np.zeros(len(adjusted.state)), float(apart[0])
    for surface, spot, sign, away in zip(span.walls or (), (left, right), (-1.0, 1.0), (0.5, -0.5), strict=True):
        plane = adjusted.unknowns.surface(surface)
        tilts = adjusted.state[plane + 1 : plane + 3]
        row[adjusted.unknowns.spot(spot)] += sign
        value += sign * away * float(tilts @ apart[1:])
        row[plane + 1 : plane + 3] += sign * away * apart[1:]
        for far, end in ((right, 1.0), (left, -1.0)):
            at = adjusted.unknowns.spot(far)
            row[at + 1 : at + 3] += sign * away * end * tilts
    return _Quantity(name=name, unit="mm", value=value, row=row, advice=f"tape {left} - {right}")


def _depths(adjusted: Adjusted) -> Iterator[_Quantity]:
    for span in (span for span in adjusted.shape.spans if span.walls is None):
        for level, told in _levels(adjusted):
            back, front = (f"{column}{level}" for column in span.columns)
            if not adjusted.has_spots(back, front):
                continue
            along = adjusted.place(front) - adjusted.place(back)
            length = float(np.linalg.norm(along))
            row = np.zeros(len(adjusted.state))
            for name, sign in ((front, 1), (back, -1)):
                at = adjusted.unknowns.spot(name)
                row[at : at + 3] = sign * along / length
            name = f"{span.name} {told}"
            yield _Quantity(name=name, unit="mm", value=length, row=row, advice=f"tape {back} - {front}")


def _reach(adjusted: Adjusted) -> tuple[float, float, float]:
    """Return how far left (0 where no wall goes further) and right the named spots go, and how far out (y). [mm]"""
    places = np.array([adjusted.place(spot.name) for spot in adjusted.unknowns.spots[: adjusted.unknowns.named]])
    further = any(column.place[0] < 0 for column in adjusted.shape.columns.values())
    return float(places[:, 0].min()) if further else 0.0, float(places[:, 0].max()), float(places[:, 1].min())


def _within(adjusted: Adjusted, x: Vector, y: Vector) -> list[int]:
    """Return which places lie in a room that its walls go all round; all, where a corner is not named."""
    found = [_column_at(adjusted, name) for name in adjusted.shape.outline]
    ring = tuple((float(adjusted.state[at]), float(adjusted.state[at + 1])) for at in found if at is not None)
    places = list(enumerate(zip(x.tolist(), y.tolist(), strict=True)))
    kept = [number for number, place in places if inside(place, ring)] if len(ring) == len(found) else []
    return kept or [number for number, _ in places]


def _floor(adjusted: Adjusted) -> Iterator[_Quantity]:
    advice = f"read {_listed([f'{column}0' for column in adjusted.shape.feet])} with the level"
    yield _tilt(adjusted, "floor fall to the right", "floor", 1, -1, advice)
    yield _tilt(adjusted, "floor fall to the front", "floor", 2, 1, advice)
    left, right, out = _reach(adjusted)
    across, deep = np.meshgrid(np.linspace(left, right, 9), np.linspace(0, out, 5), indexing="ij")
    x, y = across.ravel(), deep.ravel()
    if adjusted.shape.closed:
        kept = _within(adjusted, x, y)
        x, y = x[kept], y[kept]
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
    feet = [f"{column}0" for column in adjusted.shape.feet if adjusted.has_spots(f"{column}0")]
    return min(feet, key=lambda name: math.hypot(adjusted.place(name)[0] - x, adjusted.place(name)[1] - y))


def _listed(names: list[str]) -> str:
    """Return names as a person lists them."""
    return f"{', '.join(names[:-1])} and {names[-1]}"


def _ceiling(adjusted: Adjusted) -> Iterator[_Quantity]:
    if "ceiling" not in adjusted.unknowns.surfaces:
        return
    first, second = (f"{column}T" for column in adjusted.shape.frame)
    advice = f"read {first}, {second} and a ceiling spot at the front with the level"
    yield _gap(adjusted, "ceiling height at the back", "floor", "ceiling", _head(adjusted), advice)
    yield _tilt(adjusted, "ceiling fall to the right", "ceiling", 1, -1, advice)
    yield _tilt(adjusted, "ceiling fall to the front", "ceiling", 2, 1, advice)


def _head(adjusted: Adjusted) -> tuple[float, float]:
    """Return where the ceiling's height is told: half way between two columns. [mm]"""
    found = (_column_at(adjusted, name) for name in adjusted.shape.head)
    ends = [adjusted.state[at : at + 2] for at in found if at is not None]
    middle = np.mean(ends, axis=0) if ends else np.zeros(2)
    return float(middle[0]), float(middle[1])


def _slopes(adjusted: Adjusted) -> Iterator[_Quantity]:
    letters = {surface: letter for letter, surface in adjusted.shape.tops.items()}
    for slope in adjusted.shape.slopes.values():
        letter = letters[slope.name]
        advice = f"read {_listed([column + letter for column in slope.ends])} with the level"
        yield _pitch(adjusted, slope, advice)
        beside = f"read {slope.heads[0]}{letter} and a {slope.name} spot at the {slope.level_way} with the level"
        order, sign = (2, 1) if slope.level_way == "front" else (1, -1)
        yield _tilt(adjusted, f"{slope.name} fall to the {slope.level_way}", slope.name, order, sign, beside)
        for column in slope.heads:
            at = _column_at(adjusted, column)
            if at is None:
                continue
            name = f"{slope.name} height at the {adjusted.shape.columns[column].told}"
            x, y = (float(value) for value in adjusted.state[at : at + 2])
            there = _gap(adjusted, name, "floor", slope.name, (x, y), advice)
            # Above that spot, wherever exactly it is: its own spread counts by the slope's rise.
            row = there.row.copy()
            row[at : at + 2] += adjusted.fields[slope.name].plane[1:] - adjusted.fields["floor"].plane[1:]
            yield replace(there, row=row)


def _pitch(adjusted: Adjusted, slope: Slope, advice: str) -> _Quantity:
    """The mean slope's angle from level along or square to the mean back wall, above 0 whichever way it rises."""
    plane, back = adjusted.mean_plane(slope.name), adjusted.mean_plane("back")
    yaw = float(back.tilts[0])
    norm = math.sqrt(1 + yaw**2)
    way, across = np.array(slope.rise), np.array([-slope.rise[1], slope.rise[0]])
    ways = (way + yaw * across) / norm
    rise = float(ways @ plane.tilts)
    by_yaw = float(across @ plane.tilts) / norm - rise * yaw / norm**2
    turn = math.copysign(math.degrees(1 / (1 + rise**2)), rise)
    return _Quantity(
        name=f"{slope.name} pitch",
        unit="deg",
        value=abs(math.degrees(math.atan(rise))),
        row=turn * (ways @ plane.rows + by_yaw * back.rows[0]),
        own_variance=turn**2 * float(ways @ plane.own_covariance @ ways + by_yaw**2 * back.own_covariance[0, 0]),
        advice=advice,
    )


def _column_at(adjusted: Adjusted, column: str) -> int | None:
    """Return the place in the state of the x of the lowest spot of a column; None when no reading names one."""
    spots = adjusted.unknowns.spots[: adjusted.unknowns.named]
    return next((adjusted.unknowns.spot(spot.name) for spot in spots if spot.column.name == column), None)
