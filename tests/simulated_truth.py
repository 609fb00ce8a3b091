"""What is true of a simulated room, by the names the reckoned room gives its values."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from nookwright.stages.inputs.survey import Survey
from simulated_rooms import Point, SimulatedRoom, angle_deg

AXIS = {"back": 1, "left": 0, "right": 0, "floor": 2, "slope": 2, "ceiling": 2}
INTO = {"back": -1, "left": 1, "right": -1}
Law = Literal["spots", "rectangle", "drawn"]


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
        return sorted({"BL0", *self._named("start", "end", "spot", "first", "second")})

    def _named(self, *keys: str) -> set[str]:
        names = {getattr(reading, key, "") for reading in self.survey.readings for key in keys}
        return {name for name in names if name[:2] in self.room.layout.columns}

    def on(self, surface: str) -> list[str]:
        """Return the named spots on a surface; on a wall those that a tape or a plumb line reached."""
        tops = {"floor": "0"} | {top: key for key, top in self.room.layout.tops.items()}
        if surface in tops:
            return [name for name in self.spots if name[2:] == tops[surface]]
        reached = self._named("start", "end", "first", "second")
        return [name for name in self.spots if surface in self.room.layout.columns[name[:2]][0] and name in reached]

    def plane(self, surface: str, law: Law) -> tuple[float, float]:
        """Return a surface's two tilts in the room's frame, along its two other axes in order."""
        axis = AXIS[surface]
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

    def wide(self, surface: str) -> bool:
        """Return whether the named spots on a surface span a rectangle, so that it has a mean plane."""
        others = [i for i in range(3) if i != AXIS[surface]]
        places = [self.room.in_frame(self.room.spot(name))[others] for name in self.on(surface)]
        return len(places) >= 3 and bool(np.all(np.ptp(places, axis=0) > 100))

    def values(self, law: Law) -> dict[str, float]:
        """Return every true value by the name the room gives it."""
        found: dict[str, float] = {}
        tilts = {surface: self.plane(surface, law) for surface in self.room.surfaces if self.wide(surface)}
        for wall in ("back", "left", "right"):
            if wall in tilts:
                found[f"{wall} wall lean"] = 1000 * INTO[wall] * tilts[wall][1]
        for side, sign in (("left", 1.0), ("right", -1.0)):
            if side in tilts and "back" in tilts:
                turn = math.degrees(math.atan(tilts["back"][0]) + math.atan(tilts[side][0]))
                found[f"back {side} corner"] = 90 + sign * turn
        if "floor" in tilts:
            found["floor fall to the right"] = -1000 * tilts["floor"][0]
            found["floor fall to the front"] = 1000 * tilts["floor"][1]
        if "slope" in tilts and "back" in tilts:
            yaw = tilts["back"][0]
            rise = (tilts["slope"][0] + tilts["slope"][1] * yaw) / math.sqrt(1 + yaw**2)
            found["slope pitch"] = abs(math.degrees(math.atan(rise)))
            found["slope fall to the front"] = 1000 * tilts["slope"][1]
        return found | self._at_spots()

    def _at_spots(self) -> dict[str, float]:
        """Return corners as chords between spots, widths and depths from spot to spot."""
        found: dict[str, float] = {}
        plan = {name: self.room.spot(name) * (1, 1, 0) for name in self.spots}
        for level in ["0", *(str(i + 1) for i in range(len(self.room.heights_mm)))]:
            told = "at the floor" if level == "0" else f"at level {level}"
            for side, other in (("left", "R"), ("right", "L")):
                here = side[0].upper()
                corner, along, out = f"B{here}{level}", f"B{other}{level}", f"F{here}{level}"
                if side in self.room.surfaces and {corner, along, out} <= plan.keys():
                    angle = angle_deg(plan[along] - plan[corner], plan[out] - plan[corner])
                    found[f"back {side} corner {told}"] = angle
                if {corner, out} <= plan.keys():
                    length = float(np.linalg.norm(self.room.spot(out) - self.room.spot(corner)))
                    found[f"depth on the {side} {told}"] = length
            if {"left", "right"} <= self.room.surfaces.keys():
                for row, place in (("B", "back"), ("F", "front")):
                    pair = (f"{row}L{level}", f"{row}R{level}")
                    if set(pair) <= plan.keys():
                        _, y, z = sum(self.room.in_frame(self.room.spot(name)) for name in pair) / 2
                        found[f"width at the {place} {told}"] = self.gap("left", "right", (y, z))
        return found

    def gap(self, low: str, high: str, place: tuple[float, float]) -> float:
        """Return the distance of two surfaces along the axis they share, at a place in the room's frame. [mm]"""
        at = np.array([place])
        axis = AXIS[low]
        return float((self.room.surface_at(high, axis, at) - self.room.surface_at(low, axis, at))[0])
