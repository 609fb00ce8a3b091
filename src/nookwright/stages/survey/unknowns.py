"""The unknowns of a room and their places in the state: spots, surfaces, and the tools' own errors."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.inputs.scan import Scan
from nookwright.stages.inputs.survey import (
    GapReading,
    Line,
    OffsetReading,
    Reading,
    SpanReading,
    SurfaceName,
    Survey,
    TapeReading,
)
from nookwright.stages.survey.coverings import NAMES, thickness_told
from nookwright.stages.survey.kinds import shape_in
from nookwright.stages.survey.lines import WAYS, along, ways_along
from nookwright.stages.survey.shape import Shape
from nookwright.stages.survey.spots import Spot, spot_called, spots_used, surfaces_present
from nookwright.stages.survey.tools import plumb_grade

EDGE_SD = 50.0
"""How a straightedge lies to its surface's plane, or a plumb plane turns to it, before anything is read: stand-off [mm]
and turn [mm/m], one standard deviation. Common practice, no source."""

PLANE_SD_MM = 200.0
"""How far a plumb plane stands off beyond the first guess, likewise. [mm] Common practice, no source."""


POSE_SDS = (100.0, 100.0, 100.0, 1000.0, 1000.0, 1000.0, 100.0)
"""How a scan lies beyond the first guess, likewise: turns [mm/m], shifts [mm], scale [mm/m]. Common practice, no
source."""


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Station:
    """A place on a surface that is no spot: so far along a line."""

    line: Line
    at_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUp:
    """Something that the setting-up of a tool leaves open, or how thick a covering is.

    Args:
        name: what it is.
        about: what it is believed to be. [mm or mm/m]
        sd: how surely, one standard deviation. [mm or mm/m]
        vague: whether that is only there to settle what nothing was read about.
    """

    name: str
    about: float
    sd: float
    vague: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Unknowns:
    """Where each unknown stands in the state.

    First x, y, z of every spot [mm], then offset [mm] and two tilts of every surface: w = d + a p + b q with the
    axes of `Shape.axes`; then how far the surface strays from its plane at every station, square to it [mm]; then
    what each tool's setting-up leaves open, by name; then the level line's tilt along x and y [mm/m], its height
    [mm], and the tape's own stretch [mm/m] and zero error [mm].

    Args:
        spots: the named spots and, after them, the feet of tapes held square to a surface.
        named: how many of the spots have names of the user's.
        surfaces: the surfaces.
        shape: the room's kind.
        stations: places on surfaces that are no spots.
        set_ups: what the setting-up of tools leaves open.
        scans: scans that were laid on the room.
    """

    spots: tuple[Spot, ...]
    named: int
    surfaces: tuple[SurfaceName, ...]
    shape: Shape
    stations: tuple[Station, ...] = ()
    set_ups: tuple[SetUp, ...] = ()
    scans: tuple[Scan, ...] = ()
    _spot_places: dict[str, int] = field(init=False, repr=False, compare=False)
    _surface_places: dict[SurfaceName, int] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Note where each spot and surface begins: that is asked for at every turn."""
        spots, surfaces = (spot.name for spot in self.spots), self.surfaces
        object.__setattr__(self, "_spot_places", {name: 3 * i for i, name in enumerate(spots)})
        first = 3 * len(self.spots)
        object.__setattr__(self, "_surface_places", {name: first + 3 * i for i, name in enumerate(surfaces)})

    @property
    def count(self) -> int:
        """Number of unknowns."""
        return self._first_set_up + len(self.set_ups) + 5

    def spot(self, name: str) -> int:
        """Return the place of a spot's x; y and z follow."""
        return self._spot_places[name]

    @property
    def datum(self) -> str:
        """The spot from which heights count: the shape's own, or the origin where nothing names that."""
        return self.shape.datum if self.shape.datum in self._spot_places else self.shape.origin

    def surface(self, name: SurfaceName) -> int:
        """Return the place of a surface's offset; its two tilts follow."""
        return self._surface_places[name]

    @property
    def station_places(self) -> dict[Station, int]:
        """Places of the surfaces' strays at the stations."""
        return {station: self._first_station + i for i, station in enumerate(self.stations)}

    @property
    def set_up_places(self) -> dict[str, int]:
        """Places of what set-ups and coverings leave open, by name."""
        return {one.name: self._first_set_up + i for i, one in enumerate(self.set_ups)}

    def station(self, station: Station) -> int:
        """Return the place of the surface's stray at a station."""
        return self.station_places[station]

    def set_up(self, name: str) -> int:
        """Return the place of what a set-up or covering leaves open."""
        return self.set_up_places[name]

    @property
    def _first_station(self) -> int:
        return 3 * len(self.spots) + 3 * len(self.surfaces)

    @property
    def _first_set_up(self) -> int:
        return self._first_station + len(self.stations)

    @property
    def line_tilt(self) -> int:
        """Place of the level line's tilt along x; along y follows."""
        return self.count - 5

    @property
    def line_height(self) -> int:
        """Place of the level line's height above the origin."""
        return self.count - 3

    @property
    def tape_stretch(self) -> int:
        """Place of how much too long the tape reads. [mm/m]"""
        return self.count - 2

    @property
    def tape_zero(self) -> int:
        """Place of the tape's zero error."""
        return self.count - 1

    def spots_on(self, surface: SurfaceName) -> NDArray[np.intp]:
        """Return the places of the x of every spot on a surface."""
        return np.array([3 * i for i, spot in enumerate(self.spots) if surface in spot.surfaces], dtype=np.intp)

    def stations_on(self, surface: SurfaceName) -> NDArray[np.intp]:
        """Return the places of the strays of every station on a surface."""
        first = self._first_station
        found = [first + i for i, station in enumerate(self.stations) if station.line.surface == surface]
        return np.array(found, dtype=np.intp)

    def station_points(self, surface: SurfaceName, state: Vector) -> Matrix:
        """Return where the stations on a surface are, in the order of `stations_on`. [mm]"""
        lines: dict[Line, list[float]] = {}
        for station in self.stations:
            if station.line.surface == surface:
                lines.setdefault(station.line, []).append(station.at_mm)
        found = [self.line_points(line, np.array(at), state) for line, at in lines.items()]
        return np.concatenate([np.empty((0, 3)), *found])

    def line_points(self, line: Line, distances_mm: Vector, state: Vector) -> Matrix:
        """Return places along a line, one a row. [mm]"""
        start, end, plane = self.spot(line.start), None, self.surface(line.surface)
        axes = self.shape.axes(line.surface)
        if line.towards not in WAYS:
            towards = self.spot(line.towards)
            end = state[towards : towards + 3]
        begin, planar = state[start : start + 3], state[plane : plane + 3]
        return along(line, distances_mm, axes=axes, start=begin, end=end, plane=planar)

    def carried_over(self, other: Unknowns, state: Vector) -> Vector:
        """Return a state of other unknowns as one of these; what the others do not have is 0."""
        found = np.zeros(self.count)
        for here, there, size in self._shared_with(other):
            found[here : here + size] = state[there : there + size]
        return found

    def _shared_with(self, other: Unknowns) -> Iterator[tuple[int, int, int]]:
        """Give the places of everything that both have: here, there, how many unknowns."""
        theirs = {spot.name for spot in other.spots}
        yield from ((self.spot(s.name), other.spot(s.name), 3) for s in self.spots if s.name in theirs)
        yield from ((self.surface(s), other.surface(s), 3) for s in self.surfaces if s in other.surfaces)
        stations, set_ups = other.station_places, other.set_up_places
        yield from ((place, stations[key], 1) for key, place in self.station_places.items() if key in stations)
        yield from ((place, set_ups[name], 1) for name, place in self.set_up_places.items() if name in set_ups)
        yield self.line_tilt, other.line_tilt, 5


def edge_names(reading: GapReading) -> tuple[str, str]:
    """Return the names of what laying a straightedge leaves open: its stand-off [mm] and its turn [mm/m]."""
    line = reading.line
    name = f"edge {line.surface} {line.start} {line.towards} {line.aside_mm:g} {line.aside} {reading.set_up}"
    return f"{name} stands off", f"{name} turns"


def plane_names(reading: OffsetReading) -> tuple[str, str, str]:
    """Return the names of what a plumb plane leaves open: its stand-off [mm], its turn and its lean [mm/m]."""
    name = f"plumb plane {reading.wall} {reading.set_up}"
    return f"{name} stands off", f"{name} turns", f"{name} leans"


def span_stations(reading: SpanReading, shape: Shape) -> tuple[Station, Station]:
    """Return where a tape between two surfaces touches them."""
    first, second = (
        Line(
            surface=surface,
            start=reading.start,
            towards=ways_along(surface, shape)[0],
            aside_mm=reading.aside_mm,
            aside=reading.aside,
        )
        for surface in (reading.first, reading.second)
    )
    return Station(line=first, at_mm=0.0), Station(line=second, at_mm=0.0)


def _stations(reading: Reading, shape: Shape) -> tuple[Station, ...]:
    """Return the places a reading touches that are no spots."""
    match reading:
        case GapReading():
            return (Station(line=reading.line, at_mm=reading.at_mm),)
        case SpanReading():
            return span_stations(reading, shape)
        case _:
            return ()


def _set_ups(survey: Survey) -> tuple[SetUp, ...]:
    """Return what set-ups and coverings leave open, in order of their names."""
    found: dict[str, SetUp] = {}
    offsets: dict[str, list[float]] = {}
    for reading in survey.readings:
        if isinstance(reading, GapReading):
            for name in edge_names(reading):
                found[name] = SetUp(name=name, about=0.0, sd=EDGE_SD, vague=True)
        elif isinstance(reading, OffsetReading):
            stand_off, turn, lean = plane_names(reading)
            offsets.setdefault(stand_off, []).append(reading.offset_mm)
            about = sum(offsets[stand_off]) / len(offsets[stand_off])
            found[stand_off] = SetUp(name=stand_off, about=about, sd=PLANE_SD_MM, vague=True)
            found[turn] = SetUp(name=turn, about=0.0, sd=EDGE_SD, vague=True)
            found[lean] = SetUp(name=lean, about=0.0, sd=plumb_grade(survey.tools), vague=False)
        elif isinstance(reading, TapeReading | SpanReading) and reading.over:
            about, sd, vague = thickness_told(reading.over, survey)
            name = NAMES[reading.over]
            found[name] = SetUp(name=name, about=about, sd=sd, vague=vague)
    for scan in survey.scans:
        abouts = (0.0, 0.0, 0.0, *scan.place, 0.0)
        for name, about, sd in zip(pose_names(scan), abouts, POSE_SDS, strict=True) if scan.turn else ():
            found[name] = SetUp(name=name, about=about, sd=sd, vague=True)
    return tuple(found[name] for name in sorted(found))


def scale_name(scan: str) -> str:
    """Return the name of how much a scan is stretched. [mm/m]"""
    return f"scan {scan} is stretched"


def pose_names(scan: Scan) -> tuple[str, ...]:
    """Return the names of how a scan lies in the room: three turns [mm/m], three shifts [mm], its scale [mm/m]."""
    ways = [f"scan {scan.name} {verb} {axis}" for verb in ("turns about", "moves along") for axis in "xyz"]
    return (*ways, scale_name(scan.name))


def foot_name(reading: TapeReading) -> str:
    """Return the name of the place where a tape held square to a surface touches it."""
    return f"{reading.start} to {reading.end}"


def end_name(reading: TapeReading, survey: Survey) -> str:
    """Return the spot a tape ends at: the named one, or its foot on a surface."""
    return foot_name(reading) if shape_in(survey).may_have(reading.end) else reading.end


def unknowns_of(survey: Survey) -> Unknowns:
    """Return the unknowns of a surveyed room; the order of its readings does not matter."""
    shape = shape_in(survey)
    spots = spots_used(survey)
    surfaces = surfaces_present(survey)
    feet: dict[str, Spot] = {}
    for reading in survey.readings:
        if isinstance(reading, TapeReading) and shape.may_have(reading.end):
            start = spot_called(reading.start, shape)
            touched = next(surface for surface in surfaces if surface == reading.end)
            feet[foot_name(reading)] = Spot(
                name=foot_name(reading), column=start.column, level="foot", surfaces=(touched,)
            )
    return Unknowns(
        spots=spots + tuple(feet[name] for name in sorted(feet)),
        named=len(spots),
        surfaces=surfaces,
        shape=shape,
        stations=tuple(sorted({station for reading in survey.readings for station in _stations(reading, shape)})),
        set_ups=_set_ups(survey),
        scans=tuple(scan for scan in survey.scans if scan.turn),
    )
