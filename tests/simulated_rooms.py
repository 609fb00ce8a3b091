"""Crooked rooms that are known exactly, and a person who measures them, slips included.

The geometry is the simulator's own. A surface is a plane plus a sum of random cosines 0.9 to 3.2 m long and, when
asked for, a belly and a step at a board joint. Spots, tapes and plumb lines meet that surface, not its plane, so the
adjustment under test meets walls its own law of waviness did not draw.

The kinds of room are data, in `simulated_layouts.py`.
"""

from __future__ import annotations

import dataclasses
import math
import zlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

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
from simulated_layouts import LAYOUTS, Layout, mirrored, place_of

Point = NDArray[np.float64]
ToTake = tuple[str, ...]
"""A reading to take: ("tape", "BL1", "BR1"), ("level", "BL0"), ("plumb", "left", "BL1", "BL3"),
("bevel", "left", "1"), ("bevel", "left cheek", "breast", "1") or ("pitch",)."""

SLIPS_MM = (5.0, 10.0, 12.7, 25.4, 100.0, 304.8)
TAPE_LIMITS_MM = {"I": (0.1, 0.1), "II": (0.3, 0.2), "III": (0.6, 0.4)}
BLADE_MM, PITCH_BOARD_MM = 300.0, 600.0
SIXTEENTH_MM = 25.4 / 16
UP = np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True)
class Waviness:
    """What surfaces are like.

    Args:
        size_mm: one standard deviation of the cosines. [mm]
        shortest_mm, longest_mm: their wavelengths. [mm]
        belly_mm: greatest height of a belly on each wall, of either sign. [mm]
        step_mm: greatest step at a board joint on each wall. [mm]
        grain_mm: one standard deviation of the plaster's texture, waves of 30 to 150 mm. [mm]
    """

    size_mm: float = 2.0
    shortest_mm: float = 900.0
    longest_mm: float = 3200.0
    belly_mm: float = 0.0
    step_mm: float = 0.0
    grain_mm: float = 0.3


GRAIN_WAVES_MM = (30.0, 150.0)
WAVES, GRAINS = 12, 8


@dataclass(frozen=True)
class Surface:
    """A true surface: n . p = c + bump(p), n into the room."""

    normal: Point
    offset: float
    waves: Point
    phases: Point
    sizes_mm: Point
    belly: tuple[Point, float, float] | None = None
    step: tuple[Point, float, float] | None = None

    def bump(self, points: Point) -> Point:
        """Return how far the surface stands out of its plane at places, one a row. [mm]"""
        total = np.cos(points @ self.waves.T + self.phases) @ self.sizes_mm
        if self.belly is not None:
            centre, reach, height = self.belly
            total = total + height * np.exp(-(((points - centre) ** 2).sum(axis=1)) / (2 * reach**2))
        if self.step is not None:
            across, place, height = self.step
            total = total + height * (points @ across > place)
        return np.asarray(total)

    def along(self, start: Point, direction: Point) -> Point:
        """Return how far from each start, along a direction, the surface is met. [mm]"""
        reach = np.zeros(len(start))
        for _ in range(8):
            at = start + reach[:, None] * direction
            reach = reach - (at @ self.normal - self.offset - self.bump(at)) / float(direction @ self.normal)
        return reach


def _surface(rng: np.random.Generator, normal: Sequence[float], through: Sequence[float], wavy: Waviness) -> Surface:
    unit = np.array(normal, dtype=float)
    unit /= np.linalg.norm(unit)
    directions = rng.normal(size=(WAVES + GRAINS, 3))
    lengths = np.append(rng.uniform(wavy.shortest_mm, wavy.longest_mm, WAVES), rng.uniform(*GRAIN_WAVES_MM, GRAINS))
    sizes = np.repeat([wavy.size_mm * math.sqrt(2 / WAVES), wavy.grain_mm * math.sqrt(2 / GRAINS)], [WAVES, GRAINS])
    waves = 2 * math.pi * directions / np.linalg.norm(directions, axis=1)[:, None] / lengths[:, None]
    belly = step = None
    middle = np.array(through, dtype=float) + rng.uniform((200, -600, 200), (1200, -100, 1800))
    if wavy.belly_mm:
        belly = (middle, float(rng.uniform(250, 600)), float(rng.uniform(-1, 1)) * wavy.belly_mm)
    if wavy.step_mm:
        across = np.cross(unit, rng.normal(size=3))
        across /= np.linalg.norm(across)
        step = (across, float(across @ middle), float(rng.uniform(-1, 1)) * wavy.step_mm)
    phases = rng.uniform(0, 2 * math.pi, WAVES + GRAINS)
    return Surface(unit, float(unit @ np.array(through)), waves, phases, sizes, belly, step)


@dataclass
class SimulatedRoom:
    """A room known exactly. Spots are made when first asked for; the order of asking changes nothing."""

    kind: RoomKind
    corner: Side
    seed: int
    layout: Layout
    width_mm: float
    depth_mm: float
    surfaces: dict[str, Surface]
    heights_mm: tuple[float, ...]
    loose_mm: float = 4.0
    mark_mm: float = 1.0
    known: dict[str, Point] = field(default_factory=dict)

    def chance(self, *what: object) -> np.random.Generator:
        """Return the random numbers that belong to one thing of this room."""
        return np.random.default_rng([self.seed, zlib.crc32(repr(what).encode())])

    def spot(self, name: str) -> Point:
        """Return where a spot is. [mm]"""
        if name not in self.known:
            self.known[name] = self._placed(name)
        return self.known[name]

    def _placed(self, name: str) -> Point:
        column = self.layout.column_of(name)
        level = name[len(column) :]
        walls, shares = self.layout.columns[column]
        nominal = place_of(shares, self.width_mm, self.depth_mm)
        rng = self.chance("spot", name)
        held = [self.surfaces[wall] for wall in walls]
        if level == "0" or level in self.layout.tops:
            held.append(self.surfaces["floor" if level == "0" else self.layout.tops[level]])
        guides: list[tuple[Point, float]] = []
        if level not in ("0", *self.layout.tops):
            height = self.spot(self.origin)[2] + self.heights_mm[int(level) - 1] + rng.normal(0, self.mark_mm)
            guides.append((UP, float(height)))
        ways = self._free_ways(walls)[: 3 - len(held) - len(guides)]
        guides.extend((way, float(way[:2] @ nominal + rng.normal(0, self.loose_mm))) for way in ways)
        rows = np.array([surface.normal for surface in held] + [normal for normal, _ in guides])
        right = np.array([surface.offset for surface in held] + [place for _, place in guides])
        point = np.linalg.solve(rows, right)
        for _ in range(8):
            moved = right.copy()
            moved[: len(held)] += [float(surface.bump(point[None])[0]) for surface in held]
            point = np.linalg.solve(rows, moved)
        return np.asarray(point)

    def _free_ways(self, walls: Sequence[str]) -> list[Point]:
        """Return the level ways in which a column against these walls is placed by eye."""
        if not walls:
            return [np.eye(3)[0], np.eye(3)[1]]
        (nx, ny), _ = self.layout.walls[walls[0]]
        return [np.array([abs(ny), -nx * np.sign(ny) if ny else abs(nx), 0.0])]

    @property
    def origin(self) -> str:
        """Name of the spot that is the room's origin."""
        return f"{self.layout.frame[0]}0"

    @cached_property
    def frame(self) -> Point:
        """Return the rows of the room's axes: x from the origin level towards the frame's other end, z up."""
        along = self.spot(f"{self.layout.frame[1]}0") - self.spot(self.origin)
        x = np.array([along[0], along[1], 0.0]) / math.hypot(along[0], along[1])
        return np.array([x, np.cross(UP, x), UP])

    def surface_at(self, surface: str, axis: int, places: Point) -> Point:
        """Return a surface's coordinate along a room axis at places in the two others, both in the room's frame."""
        others = [i for i in range(3) if i != axis]
        start = self.spot(self.origin) + places @ self.frame[others]
        return self.surfaces[surface].along(start, self.frame[axis])

    def in_frame(self, point: Point) -> Point:
        """Return a point's coordinates in the room's frame. [mm]"""
        return np.asarray(self.frame @ (point - self.spot(self.origin)))


def simulated_room(
    kind: RoomKind,
    seed: int,
    *,
    corner: Side = "left",
    wavy: Waviness | None = None,
    heights_mm: tuple[float, ...] = (),
) -> SimulatedRoom:
    """Return a crooked room: yaws of 1.2 degrees, leans and falls of 5 mm/m, one standard deviation each.

    Args:
        kind: one of `LAYOUTS`.
        seed: of everything random in the room, its spots and the readings taken in it.
        corner: the side of the slope's wall, or of the stair's low end.
        wavy: what its surfaces are like.
        heights_mm: heights to mark; the layout's own when none are given. [mm]
    """
    layout, wavy = LAYOUTS[kind], wavy or Waviness()
    if corner == "right" and not layout.plan:
        layout = mirrored(layout)
    rng = np.random.default_rng([seed, zlib.crc32(kind.encode())])
    width, depth, low = (rng.uniform(*bounds) for bounds in (layout.width_mm, layout.depth_mm, layout.low_mm))
    turn = math.radians(rng.normal(0, 1.0))
    surfaces = {"floor": _surface(rng, (rng.normal(0, 0.005), rng.normal(0, 0.005), 1), (0, 0, 0), wavy)}
    for wall, ((nx, ny), shares) in layout.walls.items():
        yaw = turn if wall == "back" else math.radians(rng.normal(0, 1.2))
        normal = (nx - yaw * ny, ny + yaw * nx, rng.normal(0, 0.005))
        surfaces[wall] = _surface(rng, normal, (*place_of(shares, width, depth), 0), wavy)
    rise = math.tan(math.radians(rng.uniform(*layout.pitch_deg)))
    top, pivot = next(iter(layout.tops.values())), 0.0
    if corner == "right":
        rise, pivot = -rise, width
    tilts = (rise + (rng.normal(0, 0.005) if top == "ceiling" else 0.0), rng.normal(0, 0.008))
    surfaces[top] = _surface(rng, (*tilts, -1), (pivot, 0, low), wavy)
    for top, (along, out) in zip(list(layout.tops.values())[1:], layout.rises[1:], strict=False):
        rise = math.tan(math.radians(rng.uniform(*layout.pitch_deg)))
        tilts = (rise * along + rng.normal(0, 0.008), rise * out)
        surfaces[top] = _surface(rng, (*tilts, -1), (0, 0, low), wavy)
    return SimulatedRoom(kind, corner, seed, layout, width, depth, surfaces, heights_mm or layout.heights_mm)


@dataclass(frozen=True)
class Slip:
    """A mistake in one reading.

    Args:
        size_mm: how much too long (or short, below 0) it is written. [mm]
        place: which reading of the field book; None for a random tape.
        kind: written that much off, or two figures of the millimetres swapped.
    """

    size_mm: float = 0.0
    place: int | None = None
    kind: Literal["off", "swapped"] = "off"


@dataclass
class Person:
    """Measures a room with tools that err, and writes readings as people write them.

    Args:
        room: the room.
        tools: what the field book says of the tools.
        inches: whether readings are written to sixteenths of an inch and not to millimetres.
        tape_times: how many times worse the tape is than its class.
    """

    room: SimulatedRoom
    tools: Tools = field(default_factory=Tools)
    inches: bool = False
    tape_times: float = 1.0

    def __post_init__(self) -> None:
        """Draw the errors that stay the same through a whole field book."""
        rng = self.room.chance("tools")
        self.zero = rng.normal(0, 0.7)
        self.tape_share = rng.normal(0, 0.35)  # of the class's greatest error, the same all along one tape
        self.tilt = rng.normal(0, self.tools.level_mm_per_m / 1000, 2)
        self.line = 1000.0 + rng.normal(0, 200)
        self.step_mm = SIXTEENTH_MM if self.inches else 1.0
        # Reading is declared with its rounding included: what rounding takes is not added again.
        self.eye_mm = self.eye_beside(self.step_mm)

    def eye_beside(self, step: float) -> float:
        """Return the error of reading to a step, apart from what rounding to it takes, one standard deviation. [mm]"""
        return math.sqrt(max(self.tools.reading_mm**2 - step**2 / 12, 0.05))

    def written(self, value: float, step: float) -> float:
        """Return a value as it is written down."""
        return round(value / step) * step

    def take(self, what: ToTake, turn: int) -> Reading:
        """Take one reading; `turn` tells repeated ones apart."""
        rng = self.room.chance("reading", turn, *what)
        tool, names = what[0], what[1:]
        taker: dict[str, Callable[[tuple[str, ...], np.random.Generator], Reading]] = {
            "tape": self._tape,
            "level": self._level,
            "plumb": self._plumb,
            "bevel": self._bevel,
            "pitch": self._pitch,
        }
        return taker[tool](names, rng)

    def _tape(self, names: tuple[str, ...], rng: np.random.Generator) -> TapeReading:
        start, end = names
        at = self.room.spot(start)
        if end in self.room.surfaces:
            surface = self.room.surfaces[end]
            aim = surface.normal + rng.normal(0, 0.006, 3)  # square, by eye
            length = abs(float(surface.along(at[None], aim / np.linalg.norm(aim))[0]))
        else:
            length = float(np.linalg.norm(self.room.spot(end) - at))
        fixed, per_m = TAPE_LIMITS_MM[self.tools.tape]
        tape = self.tape_times * (self.tape_share + rng.normal(0, 0.35)) * (fixed + per_m * length / 1000)
        eye = self.tape_times * rng.normal(0, self.eye_mm)
        return TapeReading(start=start, end=end, length_mm=self.written(length + self.zero + tape + eye, self.step_mm))

    def _level(self, names: tuple[str, ...], rng: np.random.Generator) -> LevelReading:
        place = self.room.spot(names[0])
        above = place[2] + float(self.tilt @ place[:2]) - self.line + rng.normal(0, self.eye_mm)
        return LevelReading(spot=names[0], above_mm=self.written(above, self.step_mm))

    def _plumb(self, names: tuple[str, ...], rng: np.random.Generator) -> PlumbReading:
        wall, first, second = names
        square = self.room.surfaces[wall].normal * (1, 1, 0)
        square /= np.linalg.norm(square)
        rise = self.room.spot(second) - self.room.spot(first)
        level = rng.normal(0, self.tools.level_mm_per_m * abs(rise[2]) / 1000)
        into = float(square @ rise) + level + rng.normal(0, self.eye_beside(self.step_mm / 2))
        return PlumbReading(wall=wall, first=first, second=second, into_room_mm=self.written(into, self.step_mm / 2))

    def _bevel(self, names: tuple[str, ...], rng: np.random.Generator) -> BevelReading:
        """Take ("left", "1") against the back wall, or ("left cheek", "breast", "1"), in a corner or round one."""
        walls, level = names[:-1] if len(names) > 2 else ("back", names[0]), names[-1]
        column = next(name for name, (its, _) in self.room.layout.columns.items() if set(walls) <= set(its))
        corner = self.room.spot(f"{column}{level}")
        blades = [self._on_wall(wall, column, corner, BLADE_MM) - corner for wall in walls]
        angle = angle_deg(*(blade * (1, 1, 0) for blade in blades)) + rng.normal(0, self.tools.bevel_deg)
        return BevelReading(walls=(walls[0], walls[1]), level=level, angle_deg=self.written(angle, 0.1))

    def _pitch(self, names: tuple[str, ...], rng: np.random.Generator) -> PitchReading:
        slope = self.room.surfaces["slope"]
        middle = np.array([self.room.width_mm / 2, -rng.uniform(50, 200), 0.0])
        x = self.room.frame[0]
        ends = np.array([middle - x * PITCH_BOARD_MM / 2, middle + x * PITCH_BOARD_MM / 2])
        rise = float(np.diff(slope.along(ends, UP))[0])
        angle = abs(math.degrees(math.atan(rise / PITCH_BOARD_MM))) + rng.normal(0, self.tools.bevel_deg)
        return PitchReading(pitch_deg=self.written(angle, 0.1))

    def _on_wall(self, wall: str, column: str, corner: Point, reach: float) -> Point:
        """Return the place on a wall so far from a corner, level with it, towards the wall's other end."""
        surface, columns = self.room.surfaces[wall], self.room.layout.columns
        along = np.cross(UP, surface.normal)
        along /= np.linalg.norm(along)
        other = next(shares for name, (its, shares) in columns.items() if wall in its and name != column)
        ends = [place_of(shares, self.room.width_mm, self.room.depth_mm) for shares in (columns[column][1], other)]
        way = np.array([*(there - here for here, there in zip(*ends, strict=True)), 0.0])
        start = corner + along * reach * math.copysign(1, float(along @ way))
        square = surface.normal * (1, 1, 0)
        return np.asarray(start + square * surface.along(start[None], square)[0])


def as_taken(text: str) -> ToTake:
    """Return a reading as it is taken that the survey asks for in its words."""
    tool, _, of = text.partition(" ")
    if tool == "tape":
        return ("tape", *of.split(" - "))
    if tool == "plumb":
        place, _, second = of.rpartition(" - ")
        wall, _, first = place.rpartition(" ")
        return ("plumb", wall, first, second)
    if tool == "bevel":
        walls, _, level = of.partition(" at level ")
        return ("bevel", *walls.split(" - "), level)
    return (tool, of)


def field_book(person: Person, takes: Sequence[ToTake], slip: Slip | None = None) -> tuple[Survey, int | None]:
    """Return the field book of a room and, when a slip was planted, the place of the reading that holds it.

    Args:
        person: who measures, with which tools.
        takes: the readings to take, in order; one named twice is taken twice.
        slip: a mistake to make in one tape reading.
    """
    readings = [person.take(what, takes[:turn].count(what)) for turn, what in enumerate(takes)]
    place: int | None = None
    if slip is not None:
        rng = person.room.chance("slip")
        tapes = [i for i, reading in enumerate(readings) if isinstance(reading, TapeReading)]
        place = slip.place if slip.place is not None else int(rng.choice(tapes))
        readings[place] = slipped(readings[place], slip, rng)
    survey = Survey(
        kind=person.room.kind,
        corner=person.room.corner,
        heights_mm=person.room.heights_mm,
        readings=tuple(readings),
        tools=person.tools,
        plan=person.room.layout.plan,
    )
    return survey, place


def slipped(reading: Reading, slip: Slip, rng: np.random.Generator) -> Reading:
    """Return a reading with a mistake of either sign in it."""
    sign = float(rng.choice((-1.0, 1.0)))
    match reading:
        case TapeReading() if slip.kind == "swapped":
            figures = f"{reading.length_mm:.0f}"
            return dataclasses.replace(reading, length_mm=float(figures[:-2] + figures[-1] + figures[-2]))
        case TapeReading():
            short = reading.length_mm - slip.size_mm <= 50
            return dataclasses.replace(reading, length_mm=reading.length_mm + (1.0 if short else sign) * slip.size_mm)
        case LevelReading():
            return dataclasses.replace(reading, above_mm=reading.above_mm + sign * slip.size_mm)
        case PlumbReading():
            return dataclasses.replace(reading, into_room_mm=reading.into_room_mm + sign * slip.size_mm)
        case _:
            return reading


def angle_deg(first: Point, second: Point) -> float:
    """Return the angle between two directions. [deg]"""
    return math.degrees(math.acos(float(first @ second) / float(np.linalg.norm(first) * np.linalg.norm(second))))
