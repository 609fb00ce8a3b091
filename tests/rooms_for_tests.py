"""Crooked rooms with a known truth, and the readings a person would take in them.

The geometry here is its own: planes as normal and offset, intersected as 3 x 3 systems, with bumps as random cosines.
It shares nothing with the adjustment under test.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from nookwright.stages.inputs.survey import (
    BevelReading,
    LevelReading,
    PitchReading,
    PlumbReading,
    Reading,
    RoomKind,
    Side,
    Survey,
    TapeReading,
    Tools,
)

HEIGHTS_MM = (300.0, 900.0, 1900.0)
INWARD = {"back": (0, -1, 0), "left": (1, 0, 0), "right": (-1, 0, 0)}


@dataclass
class Bumps:
    """Waviness of a surface: a sum of random cosines."""

    waves: list[tuple[np.ndarray, float]] = field(default_factory=list)
    size_mm: float = 0.0

    def at(self, point: np.ndarray) -> float:
        """Return how far the surface stands out of its plane there."""
        if not self.waves:
            return 0.0
        total = sum(math.cos(float(wave @ point) + phase) for wave, phase in self.waves)
        return self.size_mm * math.sqrt(2 / len(self.waves)) * total


def random_bumps(rng: np.random.Generator, size_mm: float) -> Bumps:
    """Return bumps with waves of 0.9 to 3.2 m."""
    waves = []
    for _ in range(12):
        direction = rng.normal(size=3)
        waves.append(
            (2 * math.pi / rng.uniform(900, 3200) * direction / np.linalg.norm(direction), rng.uniform(0, 6.28))
        )
    return Bumps(waves, size_mm)


@dataclass
class TrueRoom:
    """A room that is known exactly: planes n . p = c with n into the room, bumps, and spots."""

    kind: RoomKind
    corner: Side
    planes: dict[str, tuple[np.ndarray, float]]
    bumps: dict[str, Bumps]
    width_mm: float
    depth_mm: float
    spots: dict[str, np.ndarray] = field(default_factory=dict)

    def meet(self, surfaces: list[str], guides: list[tuple[np.ndarray, float]]) -> np.ndarray:
        """Return the point where surfaces (bumps included) and guide planes meet."""
        point = np.zeros(3)
        for _ in range(12):
            rows = [self.planes[s][0] for s in surfaces] + [n for n, _ in guides]
            right = [self.planes[s][1] + self.bumps[s].at(point) for s in surfaces] + [c for _, c in guides]
            point = np.linalg.solve(np.array(rows), np.array(right))
        return point


def plane(normal: tuple[float, float, float], through: tuple[float, float, float]) -> tuple[np.ndarray, float]:
    """Return the plane through a point."""
    n = np.array(normal, dtype=float)
    n /= np.linalg.norm(n)
    return n, float(n @ np.array(through))


def crooked_alcove(rng: np.random.Generator, *, waviness_mm: float = 2.0, loose_mm: float = 4.0) -> TrueRoom:
    """Return an alcove with random yaws, leans and falls."""
    width, depth = rng.uniform(900, 1500), rng.uniform(450, 800)
    yaw = lambda: math.tan(math.radians(rng.normal(0, 1.2)))  # noqa: E731
    lean = lambda: rng.normal(0, 0.005)  # noqa: E731
    planes = {
        "floor": plane((rng.normal(0, 0.006), rng.normal(0, 0.006), 1), (0, 0, 0)),
        "back": plane((0, -1, lean()), (0, 0, 0)),
        "left": plane((1, yaw(), lean()), (0, 0, 0)),
        "right": plane((-1, yaw(), lean()), (width, 0, 0)),
        "ceiling": plane((rng.normal(0, 0.005), rng.normal(0, 0.005), -1), (0, 0, 2400)),
    }
    room = TrueRoom("alcove", "left", planes, {s: random_bumps(rng, waviness_mm) for s in planes}, width, depth)
    place_spots(room, rng, loose_mm)
    return room


def crooked_slope(
    rng: np.random.Generator, *, corner: Side = "left", low_at_corner: bool = True, waviness_mm: float = 2.0
) -> TrueRoom:
    """Return the corner of a room under a sloping ceiling."""
    width, depth = rng.uniform(1500, 2200), rng.uniform(450, 800)
    rise = math.tan(math.radians(rng.uniform(30, 45))) * (1 if (corner == "left") == low_at_corner else -1)
    low = 700.0
    at_left = low if rise > 0 else low - rise * width
    planes = {
        "floor": plane((rng.normal(0, 0.005), rng.normal(0, 0.005), 1), (0, 0, 0)),
        "back": plane((0, -1, rng.normal(0, 0.005)), (0, 0, 0)),
        corner: plane(
            (1 if corner == "left" else -1, math.tan(math.radians(rng.normal(0, 1.2))), rng.normal(0, 0.005)),
            (0 if corner == "left" else width, 0, 0),
        ),
        "slope": plane((rise, rng.normal(0, 0.008), -1), (0, 0, at_left)),
    }
    room = TrueRoom(
        "corner-under-slope", corner, planes, {s: random_bumps(rng, waviness_mm) for s in planes}, width, depth
    )
    place_spots(room, rng, 4.0)
    return room


def crooked_stair(rng: np.random.Generator, *, low_end: Side = "left", waviness_mm: float = 2.0) -> TrueRoom:
    """Return a space under a stair."""
    width, depth = rng.uniform(1800, 2300), rng.uniform(700, 950)
    rise = math.tan(math.radians(rng.uniform(36, 43))) * (1 if low_end == "left" else -1)
    tall: Side = "right" if low_end == "left" else "left"
    at_left = 420.0 if rise > 0 else 420.0 - rise * width
    planes = {
        "floor": plane((rng.normal(0, 0.005), rng.normal(0, 0.005), 1), (0, 0, 0)),
        "back": plane((0, -1, rng.normal(0, 0.005)), (0, 0, 0)),
        tall: plane(
            (1 if tall == "left" else -1, math.tan(math.radians(rng.normal(0, 1.2))), rng.normal(0, 0.005)),
            (0 if tall == "left" else width, 0, 0),
        ),
        "slope": plane((rise, rng.normal(0, 0.008), -1), (0, 0, at_left)),
    }
    room = TrueRoom("under-stair", low_end, planes, {s: random_bumps(rng, waviness_mm) for s in planes}, width, depth)
    place_spots(room, rng, 4.0)
    return room


def place_spots(room: TrueRoom, rng: np.random.Generator, loose_mm: float) -> None:
    """Mark the spots as a person would: on the walls, at heights from BL0's floor, roughly above each other."""
    tops = {"S": "slope", "T": "ceiling"}
    x_at, y_at, z_at = np.array([1.0, 0, 0]), np.array([0, 1.0, 0]), np.array([0, 0, 1.0])
    floor_at_origin = 0.0
    for column in ("BL", "BR", "FL", "FR"):
        side = "left" if column[1] == "L" else "right"
        walls = (["back"] if column[0] == "B" else []) + ([side] if side in room.planes else [])
        for level in ("0", "1", "2", "3", "S", "T"):
            ends = ["floor"] if level == "0" else [tops[level]] if level in tops else []
            if not set(ends) <= set(room.planes) or not (walls or ends):
                continue
            guides = []
            if side not in room.planes:
                guides.append((x_at, (0.0 if side == "left" else room.width_mm) + rng.normal(0, loose_mm)))
            if column[0] == "F":
                guides.append((y_at, -room.depth_mm + rng.normal(0, loose_mm)))
            if not ends:
                guides.append((z_at, floor_at_origin + HEIGHTS_MM[int(level) - 1] + rng.normal(0, 1.0)))
            if len(walls) + len(ends) + len(guides) == 3:
                room.spots[column + level] = room.meet(walls + ends, guides)
                if column + level == "BL0":
                    floor_at_origin = float(room.spots["BL0"][2])


@dataclass
class Reader:
    """Takes readings with errors, rounded as people write them."""

    room: TrueRoom
    rng: np.random.Generator
    tools: Tools = field(default_factory=Tools)
    exact: bool = False

    def __post_init__(self) -> None:
        """Pick the errors that stay the same in a whole field book."""
        self.zero = self._err(0.7)
        self.line = 1000.0
        self.line_tilt = np.array([self._err(0.5), self._err(0.5)]) / 1000

    def _err(self, sd: float) -> float:
        return 0.0 if self.exact else float(self.rng.normal(0, sd))

    def _round(self, value: float, step: float) -> float:
        return value if self.exact else round(value / step) * step

    def tape(self, start: str, end: str) -> TapeReading:
        """Tape between two spots."""
        length = float(np.linalg.norm(self.room.spots[end] - self.room.spots[start]))
        fixed, per_m = {"I": (0.1, 0.1), "II": (0.3, 0.2), "III": (0.6, 0.4)}[self.tools.tape]
        sd = math.hypot(self.tools.reading_mm, (fixed + per_m * math.ceil(length / 1000)) / 2)
        return TapeReading(start=start, end=end, length_mm=self._round(length + self.zero + self._err(sd), 1.0))

    def level(self, spot: str) -> LevelReading:
        """Level reading of a spot."""
        place = self.room.spots[spot]
        above = place[2] + float(self.line_tilt @ place[:2]) - self.line + self._err(self.tools.reading_mm)
        return LevelReading(spot=spot, above_mm=self._round(above, 1.0))

    def plumb(self, wall: str, first: str, second: str) -> PlumbReading:
        """Plumb reading of two spots of a wall."""
        normal = self.room.planes[wall][0].copy()
        normal[2] = 0
        normal /= np.linalg.norm(normal)
        rise = self.room.spots[second] - self.room.spots[first]
        sd = math.hypot(self.tools.reading_mm, 0.5 * abs(rise[2]) / 1000)
        return PlumbReading(
            wall=wall, first=first, second=second, into_room_mm=self._round(float(normal @ rise) + self._err(sd), 0.5)
        )

    def bevel(self, side: str, level: str) -> BevelReading:
        """Bevel reading of the mean walls."""
        angle = self.corner_deg(side) + self._err(math.hypot(0.2, 0.35))
        return BevelReading(walls=("back", side), level=level, angle_deg=self._round(angle, 0.1))

    def pitch(self) -> PitchReading:
        """Pitch of the mean slope along the back wall."""
        return PitchReading(pitch_deg=self._round(self.pitch_deg() + self._err(math.hypot(0.2, 0.2)), 0.1))

    def corner_deg(self, side: str) -> float:
        """Return the true inside angle of a back corner: between the level traces of the two planes."""
        up = np.array([0.0, 0.0, 1.0])
        back = np.cross(up, self.room.planes["back"][0])
        beside = np.cross(up, self.room.planes[side][0])
        back *= np.sign(back[0]) * (1 if side == "left" else -1)
        beside *= -np.sign(beside[1])
        return math.degrees(math.acos(float(back @ beside) / float(np.linalg.norm(back) * np.linalg.norm(beside))))

    def lean_mm_per_m(self, wall: str) -> float:
        """Return how far the mean wall comes into the room for each metre of height."""
        normal = self.room.planes[wall][0]
        inward = np.array(INWARD[wall], dtype=float)
        return -1000 * normal[2] / float(normal @ inward)

    def pitch_deg(self) -> float:
        """Return the mean slope's angle from level along the mean back wall."""
        slope, back = self.room.planes["slope"][0], self.room.planes["back"][0]
        along = np.array([back[1], -back[0], 0.0])
        along /= np.linalg.norm(along)
        return math.degrees(math.atan(abs(float(slope @ along) / slope[2])))

    def floor_fall_mm_per_m(self, towards: str) -> float:
        """Return the mean floor's fall to the `right` or the `front`."""
        normal = self.room.planes["floor"][0]
        return 1000 * (normal[0] if towards == "right" else -normal[1]) / normal[2]

    def true_surface(self, surface: str, axis: int, place: tuple[float, float]) -> float:
        """Return the bumpy surface's coordinate along an axis, at the two other room coordinates from BL0."""
        others = [i for i in range(3) if i != axis]
        origin = self.room.spots["BL0"]
        guides = []
        for i, value in zip(others, place, strict=True):
            direction = np.zeros(3)
            direction[i] = 1
            guides.append((direction, value + origin[i]))
        return float(self.room.meet([surface], guides)[axis] - origin[axis])


def alcove_readings(reader: Reader) -> list[Reading]:
    """Return the usual 24 readings of an alcove."""
    readings: list[Reading] = [reader.level(spot) for spot in ("BL0", "BR0", "FL0", "FR0", "BLT", "BRT")]
    for level in ("1", "2", "3"):
        readings += [reader.tape(f"BL{level}", f"BR{level}"), reader.tape(f"FL{level}", f"FR{level}")]
    readings += [reader.tape("BL1", "FL1"), reader.tape("BR1", "FR1")]
    for level in ("1", "3"):
        readings += [reader.tape(f"BL{level}", f"FR{level}"), reader.tape(f"BR{level}", f"FL{level}")]
    readings += [
        reader.plumb("left", "BL1", "BL3"), reader.plumb("left", "FL1", "FL3"),
        reader.plumb("right", "BR1", "BR3"), reader.plumb("right", "FR1", "FR3"),
        reader.plumb("back", "BL1", "BL3"), reader.plumb("back", "BR1", "BR3"),
    ]  # fmt: skip
    return readings


def slope_readings(reader: Reader) -> list[Reading]:
    """Return the usual readings of a corner under a slope: 8 heights, a pitch, 12 tapes, 3 plumb."""
    here, there = reader.room.corner[0].upper(), "R" if reader.room.corner == "left" else "L"
    readings: list[Reading] = [reader.level(c + level) for level in ("0", "S") for c in ("BL", "BR", "FL", "FR")]
    readings.append(reader.pitch())
    pairs = [
        ("BL0", "BR0"), ("FL0", "FR0"), (f"B{here}0", f"F{here}0"), (f"B{there}0", f"F{here}0"),
        ("BL1", "BR1"), (f"B{here}1", f"F{here}1"), (f"B{there}1", f"F{here}1"),
        ("BLS", "BRS"), ("FLS", "FRS"), ("BLS", "FLS"), ("BRS", "FRS"), ("BLS", "FRS"),
    ]  # fmt: skip
    readings += [reader.tape(a, b) for a, b in pairs]
    corner = reader.room.corner
    readings += [
        reader.plumb("back", "BL0", "BL1"), reader.plumb("back", "BR0", "BR1"),
        reader.plumb(corner, f"B{here}0", f"B{here}1"),
    ]  # fmt: skip
    return readings


def stair_readings(reader: Reader) -> list[Reading]:
    """Return the usual readings under a stair: 8 heights, a pitch, 10 tapes, 3 plumb, 1 bevel."""
    low = reader.room.corner
    tall = "right" if low == "left" else "left"
    here, there = tall[0].upper(), low[0].upper()
    readings: list[Reading] = [reader.level(c + level) for level in ("0", "S") for c in ("BL", "BR", "FL", "FR")]
    readings.append(reader.pitch())
    pairs = [
        ("BLS", "BRS"), ("FLS", "FRS"), ("BL0", "BR0"), ("FL0", "FR0"), ("BL0", "FL0"), ("BR0", "FR0"),
        ("BL0", "FR0"), ("BR0", "FL0"), (f"B{here}0", f"B{here}S"), (f"F{here}0", f"F{here}S"),
    ]  # fmt: skip
    readings += [reader.tape(a, b) for a, b in pairs]
    readings += [
        reader.plumb("back", f"B{here}0", f"B{here}2"), reader.plumb("back", f"B{there}0", f"B{there}1"),
        reader.plumb(tall, f"B{here}0", f"B{here}2"), reader.bevel(tall, "1"),
    ]  # fmt: skip
    return readings


def survey_of(reader: Reader, take: Callable[[Reader], list[Reading]]) -> Survey:
    """Return the field book of a room."""
    return Survey(
        kind=reader.room.kind,
        corner=reader.room.corner,
        heights_mm=HEIGHTS_MM,
        readings=tuple(take(reader)),
        tools=reader.tools,
    )


def mirrored(survey: Survey) -> Survey:
    """Return the field book of the same room seen in a mirror: left and right change places."""
    swap = {"left": "right", "right": "left"}

    def name(spot: str) -> str:
        return swap.get(spot, spot[0] + {"L": "R", "R": "L"}.get(spot[1], spot[1]) + spot[2:])

    readings: list[Reading] = []
    for reading in survey.readings:
        match reading:
            case TapeReading():
                readings.append(
                    TapeReading(start=name(reading.start), end=name(reading.end), length_mm=reading.length_mm)
                )
            case LevelReading():
                readings.append(LevelReading(spot=name(reading.spot), above_mm=reading.above_mm))
            case PlumbReading():
                readings.append(
                    PlumbReading(
                        wall=swap.get(reading.wall, reading.wall),
                        first=name(reading.first),
                        second=name(reading.second),
                        into_room_mm=reading.into_room_mm,
                    )
                )
            case BevelReading():
                walls = tuple(swap.get(wall, wall) for wall in reading.walls)
                readings.append(BevelReading(walls=walls, level=reading.level, angle_deg=reading.angle_deg))
            case PitchReading():
                readings.append(reading)
    return Survey(
        kind=survey.kind,
        corner=swap[survey.corner],
        heights_mm=survey.heights_mm,
        readings=tuple(readings),
        tools=survey.tools,
    )
