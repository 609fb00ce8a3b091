"""What is true of a simulated room, by the names the reckoned room gives its values."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from nookwright.stages.inputs.survey import PlumbReading, Survey, TapeReading
from simulated_rooms import Point, SimulatedRoom, angle_deg

Law = Literal["spots", "rectangle", "drawn"]

BACK_LEFT = ("back left corner", "BL", "left", "back", "FL", "BR")
BACK_RIGHT = ("back right corner", "BR", "back", "right", "BL", "FR")
TWIN = (
    ("back left corner", "BL", "left", "left back", "FL", "CL"),
    ("left cheek corner", "CL", "left back", "left cheek", "BL", "NL"),
    ("left nose", "NL", "left cheek", "breast", "CL", "NR"),
    ("right nose", "NR", "breast", "right cheek", "NL", "CR"),
    ("right cheek corner", "CR", "right cheek", "right back", "NR", "BR"),
    ("back right corner", "BR", "right back", "right", "CR", "FR"),
)
ROUND = "ABCDEF"
FREE = tuple(
    (f"corner {here}", here, before + here, here + after, before, after)
    for before, here, after in zip(ROUND[-1] + ROUND[:-1], ROUND, ROUND[1:] + ROUND[0], strict=True)
)
CORNERS = {"twin-alcoves": TWIN, "free-plan": FREE}
"""Name, column, wall on its left and on its right, columns along them; other kinds have the two back ones."""

SPANS = {
    "twin-alcoves": (
        ("width of the left alcove at the back", "BL", "CL", "left", "left cheek"),
        ("width of the left alcove at the front", "FL", "NL", "left", "left cheek"),
        ("width of the right alcove at the back", "CR", "BR", "right cheek", "right"),
        ("width of the right alcove at the front", "NR", "FR", "right cheek", "right"),
        ("width of the room at the front", "FL", "FR", "left", "right"),
    ),
    "bay": (),
    "free-plan": (),
}
WIDTHS = (
    ("width at the back", "BL", "BR", "left", "right"),
    ("width at the front", "FL", "FR", "left", "right"),
)
"""Clear widths: name, columns, walls."""

LENGTHS = {
    "free-plan": tuple(
        (f"length of wall {here}{after}", here, after) for here, after in zip(ROUND, ROUND[1:] + ROUND[0], strict=True)
    ),
    "bay": (
        ("width at the back", "BL", "BR"),
        ("width of the mouth", "FL", "FR"),
        ("length of the left wall", "BL", "FL"),
        ("length of the right wall", "BR", "FR"),
    ),
    "twin-alcoves": (
        ("width of the breast", "NL", "NR"),
        ("depth of the left cheek", "CL", "NL"),
        ("depth of the right cheek", "CR", "NR"),
        ("depth on the left", "BL", "FL"),
        ("depth on the right", "BR", "FR"),
    ),
    "corner-two-slopes": (
        ("width at the back", "BL", "BR"),
        ("depth on the left", "BL", "FL"),
        ("depth on the right", "BR", "FR"),
    ),
}
DEPTHS = (("depth on the left", "BL", "FL"), ("depth on the right", "BR", "FR"))
"""Distances from spot to spot: name, columns."""


@dataclass
class Truth:
    """What is true of a room, for the spots a field book names.

    A surface's own direction is told three ways: `spots`, the best plane through its named spots; `rectangle`, that
    of the real, wavy surface over the rectangle those spots span; and `drawn`, the plane the waviness was added to,
    which nobody in the room could see.
    """

    room: SimulatedRoom
    survey: Survey

    @cached_property
    def spots(self) -> list[str]:
        """Return the spots that readings name, and the origin."""
        return sorted({self.room.origin, *self._named("start", "end", "spot", "first", "second")})

    def _named(self, *keys: str) -> set[str]:
        names = {getattr(reading, key, "") for reading in self.survey.readings for key in keys}
        return {name for name in names if self.room.layout.column_of(name)}

    def on(self, surface: str) -> list[str]:
        """Return the named spots on a surface that were read square to it.

        On a wall by a tape or a plumb line on that wall, on the floor or overhead by a level or a tape that rises.
        """
        tops = {"floor": "0"} | {top: key for key, top in self.room.layout.tops.items()}
        if surface in tops:
            levelled = self._named("spot") | self._rising()
            return [name for name in self.spots if self._level(name) == tops[surface] and name in levelled]
        plumbed = [one for one in self.survey.readings if isinstance(one, PlumbReading) and one.wall == surface]
        reached = self._named("start", "end") | {name for one in plumbed for name in (one.first, one.second)}
        columns = self.room.layout.columns
        held = [name for name in self.spots if surface in columns[self.room.layout.column_of(name)][0]]
        return [name for name in held if name in reached]

    def _rising(self) -> set[str]:
        tapes = [one for one in self.survey.readings if isinstance(one, TapeReading)]
        ends = [(one.start, one.end) for one in tapes if one.end in self.room.surfaces] + [
            (one.start, one.end) for one in tapes if self._level(one.start) != self._level(one.end)
        ]
        return {name for pair in ends for name in pair}

    def _level(self, name: str) -> str:
        return name[len(self.room.layout.column_of(name)) :]

    def axis(self, surface: str) -> int:
        """Return the axis a surface's coordinate runs along: x or y for walls, whichever they face more."""
        if surface not in self.room.layout.walls:
            return 2
        (nx, ny), _ = self.room.layout.walls[surface]
        return 0 if abs(nx) >= abs(ny) else 1

    def plane(self, surface: str, law: Law) -> tuple[float, float]:
        """Return a surface's two tilts in the room's frame, along its two other axes in order."""
        axis = self.axis(surface)
        others = [i for i in range(3) if i != axis]
        if law == "drawn":
            normal = self.room.frame @ self.room.surfaces[surface].normal
            return -normal[others[0]] / normal[axis], -normal[others[1]] / normal[axis]
        places = np.array([self.room.in_frame(self.room.spot(name))[others] for name in self.on(surface)])
        if law == "spots":
            values = np.array([self.room.in_frame(self.room.spot(name))[axis] for name in self.on(surface)])
            return self._fitted(places, values)
        low, high = places.min(axis=0), places.max(axis=0)
        p, q = (np.linspace(low[i], high[i], 15) for i in (0, 1))
        grid = np.array(np.meshgrid(p, q, indexing="ij")).reshape(2, -1).T
        return self._fitted(grid, self.room.surface_at(surface, axis, grid))

    def _fitted(self, places: Point, values: Point) -> tuple[float, float]:
        design = np.column_stack([np.ones(len(places)), places])
        _, a, b = np.linalg.lstsq(design, values, rcond=None)[0]
        return float(a), float(b)

    def facing_deg(self, wall: str, tilt: float) -> float:
        """Return which way a wall of this tilt faces in plan. [deg]"""
        (nx, ny), _ = self.room.layout.walls[wall]
        x, y = (1.0, -tilt) if self.axis(wall) == 0 else (-tilt, 1.0)
        sign = 1.0 if x * nx + y * ny > 0 else -1.0
        return math.degrees(math.atan2(sign * y, sign * x))

    def wide(self, surface: str) -> bool:
        """Return whether the named spots on a surface span a rectangle, so that it has a mean plane."""
        others = [i for i in range(3) if i != self.axis(surface)]
        places = [self.room.in_frame(self.room.spot(name))[others] for name in self.on(surface)]
        return len(places) >= 3 and bool(np.all(np.ptp(places, axis=0) > 100))

    def values(self, law: Law) -> dict[str, float]:
        """Return every true value by the name the room gives it."""
        found: dict[str, float] = {}
        tilts = {surface: self.plane(surface, law) for surface in self.room.surfaces if self.wide(surface)}
        for wall, ((nx, ny), _) in self.room.layout.walls.items():
            if wall in tilts:
                into = np.sign((nx, ny)[self.axis(wall)])
                square = math.sqrt(1 + tilts[wall][0] ** 2)
                name = wall if wall == "breast" or wall.endswith("cheek") else f"{wall} wall"
                name = f"wall {wall}" if wall.isupper() else name
                found[f"{name} lean"] = 1000 * float(into) * tilts[wall][1] / square
        for name, _, left, right, *_ in CORNERS.get(self.room.kind, (BACK_LEFT, BACK_RIGHT)):
            if left in tilts and right in tilts:
                turn = self.facing_deg(right, tilts[right][0]) - self.facing_deg(left, tilts[left][0])
                found[name] = (180 + turn) % 360
        if "floor" in tilts:
            found["floor fall to the right"] = -1000 * tilts["floor"][0]
            found["floor fall to the front"] = 1000 * tilts["floor"][1]
        for slope, (along, out) in zip(self.room.layout.tops.values(), self.room.layout.rises, strict=False):
            if "slope" in slope and slope in tilts and "back" in tilts:
                yaw = tilts["back"][0]
                way = np.array([along - yaw * out, out + yaw * along]) / math.sqrt(1 + yaw**2)
                found[f"{slope} pitch"] = abs(math.degrees(math.atan(float(way @ tilts[slope]))))
                level = "front" if along else "right"
                found[f"{slope} fall to the {level}"] = 1000 * (tilts[slope][1] if along else -tilts[slope][0])
        return found | self._at_spots()

    def _at_spots(self) -> dict[str, float]:
        """Return corners as chords between spots, widths and depths from spot to spot."""
        found: dict[str, float] = {}
        plan = {name: self.room.spot(name) * (1, 1, 0) for name in self.spots}
        for level in ["0", *(str(i + 1) for i in range(len(self.room.heights_mm)))]:
            told = "at the floor" if level == "0" else f"at level {level}"
            for name, *places, left, right in CORNERS.get(self.room.kind, (BACK_LEFT, BACK_RIGHT)):
                corner, beside, along = (f"{column}{level}" for column in (places[0], left, right))
                if set(places[1:]) <= self.room.surfaces.keys() and {corner, beside, along} <= plan.keys():
                    angle = angle_deg(plan[along] - plan[corner], plan[beside] - plan[corner])
                    found[f"{name} {told}"] = 360 - angle if "nose" in name or name == "corner D" else angle
            for name, *columns in LENGTHS.get(self.room.kind, DEPTHS):
                first, second = (f"{column}{level}" for column in columns)
                if {first, second} <= plan.keys():
                    length = float(np.linalg.norm(self.room.spot(second) - self.room.spot(first)))
                    found[f"{name} {told}"] = length
            for name, *columns, left, right in SPANS.get(self.room.kind, WIDTHS):
                pair = [f"{column}{level}" for column in columns]
                if {left, right} <= self.room.surfaces.keys() and set(pair) <= plan.keys():
                    _, y, z = sum(self.room.in_frame(self.room.spot(spot)) for spot in pair) / 2
                    found[f"{name} {told}"] = self.gap(left, right, (y, z))
        return found

    def gap(self, low: str, high: str, place: tuple[float, float]) -> float:
        """Return the distance of two surfaces along the axis they share, at a place in the room's frame. [mm]"""
        at = np.array([place])
        axis = self.axis(low)
        return float((self.room.surface_at(high, axis, at) - self.room.surface_at(low, axis, at))[0])
