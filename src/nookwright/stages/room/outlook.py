"""What could be read in a room and what it would tell: the room enlarged by every spot that could be marked."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

import numpy as np

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.inputs.survey import (
    BevelReading,
    EdgeReading,
    GapReading,
    PitchReading,
    Reading,
    ScaleReading,
    SurfaceName,
    Survey,
    TapeReading,
)
from nookwright.stages.room.candidates import NEW_MARK_MINUTES, Candidate, candidates
from nookwright.stages.room.derived import Adjusted
from nookwright.stages.room.height_field import HeightField, height_field
from nookwright.stages.room.network import Network, linear_about, network_about
from nookwright.stages.room.room import Room
from nookwright.stages.survey.readings import observe
from nookwright.stages.survey.shape import Column, Shape
from nookwright.stages.survey.spots import Spot, spots_named_by
from nookwright.stages.survey.unknowns import Unknowns, unknowns_of

SAME_HEIGHT_MM = 60.0
"""A mark this near to a height serves for it. [mm] Common practice, no source."""

UNDER_TOP_MM = 100.0
"""A mark nearer than this under a slope or ceiling is not made: the spot on the slope or ceiling serves. [mm]
Common practice, no source."""

SETTLING = 3
"""So many times a new spot is moved onto its surfaces; each leaves a hundredth of what was amiss, or less."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outlook:
    """A room with every spot that could be read, as sure as it is now.

    Args:
        network: the readings taken, with unknowns for every spot.
        covariance: of those unknowns.
        shift: what the state wants to move by, once the readings set aside do not count.
        fields: the surfaces.
        width_mm: how far right the wall behind the furniture goes. [mm]
        readings: every reading that could be taken, with how long it takes where every spot is marked. [min]
    """

    network: Network
    covariance: Matrix
    shift: Vector
    fields: dict[SurfaceName, HeightField]
    width_mm: float
    readings: tuple[Candidate, ...]

    def without(self, aside: Collection[int]) -> Outlook:
        """Return the same outlook with other readings set aside, by their place in the survey."""
        linear = linear_about(self.network, self.network.start, self.network.survey.tools.waviness_mm, aside)
        return replace(self, covariance=linear.covariance, shift=linear.shift)

    @property
    def adjusted(self) -> Adjusted:
        """The same room, for what it is judged by."""
        network = self.network
        return Adjusted(
            survey=network.survey,
            unknowns=network.unknowns,
            state=network.start,
            covariance=self.covariance,
            loose=self.covariance,
            fields=self.fields,
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Seen:
    """Readings as observations of an outlook.

    Args:
        residuals: computed less read.
        rows: their derivatives by the state.
        noise: variance of each reading's own error.
    """

    residuals: Vector
    rows: Matrix
    noise: Vector


def width_of(room: Room) -> float:
    """Return how far right the frame's other end stands. [mm]"""
    right = next(spot for spot in room.unknowns.spots if spot.column.name == room.unknowns.shape.frame[1])
    return float(room.state[room.unknowns.spot(right.name)])


def outlook_of(room: Room, heights_mm: Sequence[float], aside: Collection[int]) -> Outlook:
    """Return the room with its unknowns enlarged by every spot that could be read.

    Args:
        room: the room.
        heights_mm: heights at which something is wanted; those that no mark serves yet are marked besides. [mm]
        aside: readings that do not count, by their place in the survey.
    """
    counted = room.survey.counted
    counted = replace(counted, tools=replace(counted.tools, waviness_mm=room.waviness_mm))
    small, width = room.unknowns, width_of(room)
    marks = new_marks(heights_mm, counted.heights_mm)
    survey = replace(counted, heights_mm=(*counted.heights_mm, *marks))
    readings = candidates(survey, room.surfaces)
    whole = replace(survey, readings=(*counted.readings, *(one.reading for one in readings)))
    large = unknowns_of(whole)
    state = _enlarged(room, small, large, survey, width)
    network = network_about(survey, large, state)
    linear = linear_about(network, state, room.waviness_mm, aside)
    fields = {surface: height_field(surface, large, state, survey.tools) for surface in room.surfaces}
    return Outlook(
        network=network,
        covariance=linear.covariance,
        shift=linear.shift,
        fields=fields,
        width_mm=width,
        readings=readings,
    )


def new_marks(heights: Sequence[float], marked: Sequence[float]) -> tuple[float, ...]:
    """Return the heights that no mark serves yet. [mm]"""
    found: list[float] = []
    for height in heights:
        if all(abs(height - other) > SAME_HEIGHT_MM for other in (0.0, *marked, *found)):
            found.append(float(round(height)))
    return tuple(found)


def _enlarged(room: Room, small: Unknowns, large: Unknowns, survey: Survey, width: float) -> Vector:
    """Return the state with the new spots put where they would be marked."""
    state = large.carried_over(small, room.state)
    known = {spot.name for spot in small.spots}
    for spot in large.spots:
        at = large.spot(spot.name)
        if spot.name not in known:
            state[at : at + 3] = _above(spot, room, survey, width)
    new = [spot for spot in large.spots if spot.name not in known]
    on = {name: [large.spot(spot.name) for spot in new if name in spot.surfaces] for name in large.surfaces}
    for _ in range(SETTLING):  # a spot on two surfaces or three is moved onto one after another
        for name, places in on.items():
            across, p, q = (np.array(places, dtype=np.intp) + axis for axis in large.shape.axes(name))
            state[across] = room.fields[name].values(state[p], state[q])
    return state


def _above(spot: Spot, room: Room, survey: Survey, width: float) -> Vector:
    """Return about where a spot would be marked: in line with its column."""
    shape = room.unknowns.shape
    beside = [np.array(one.xyz) for one in room.spots if shape.taken_apart(one.name)[0] == spot.column.name]
    place = beside[0].copy() if beside else np.array([*_in_plan(spot.column, room, width), 0.0])
    place[2] = survey.heights_mm[int(spot.level) - 1] if spot.level.isdigit() and spot.level != "0" else 0.0
    return place


def _in_plan(column: Column, room: Room, width: float) -> tuple[float, float]:
    """Return where a column stands in plan: its nominal place, stretched to the width and depth read so far."""
    shape = room.unknowns.shape
    nominal = shape.columns[shape.frame[1]].place[0] - shape.columns[shape.frame[0]].place[0]
    known = ((shape.columns[shape.taken_apart(one.name)[0]].place[1], one.xyz[1]) for one in room.spots)
    shares = [out / planned for planned, out in known if planned]
    x, y = column.place
    return x * width / nominal, y * (float(np.mean(shares)) if shares else 1.0)


def offers_of(room: Room, outlook: Outlook) -> tuple[Candidate, ...]:
    """Return the readings on offer, tapes with their real lengths; marking new spots takes time."""
    survey, unknowns, state = outlook.network.survey, outlook.network.unknowns, outlook.network.start
    marked, too_high = len(room.survey.heights_mm), _too_high(room, outlook)
    taped = {(one.end, one.start) for one in survey.readings if isinstance(one, TapeReading)}
    offers = []
    for one in outlook.readings:
        reading = one.reading
        if isinstance(reading, TapeReading) and (reading.start, reading.end) in taped:
            reading = replace(reading, start=reading.end, end=reading.start)  # named as it was the first time
        if too_high.intersection(spots_named_by(reading)):
            continue
        if isinstance(reading, TapeReading):
            first, second = (state[unknowns.spot(name) :][:3] for name in (reading.start, reading.end))
            reading = replace(reading, length_mm=float(np.linalg.norm(second - first)))
        new = mark_of(reading, unknowns.shape) > marked
        offers.append(Candidate(reading=reading, minutes=one.minutes + (NEW_MARK_MINUTES if new else 0.0)))
    return tuple(offers)


def _too_high(room: Room, outlook: Outlook) -> set[str]:
    """Return the spots not marked yet that would stand right under a slope or ceiling, or above it."""
    unknowns, state = outlook.network.unknowns, outlook.network.start
    tops = [outlook.fields[top] for top in unknowns.shape.tops.values() if top in outlook.fields]
    known = {spot.name for spot in room.unknowns.spots}
    new = [spot for spot in unknowns.spots[: unknowns.named] if spot.level.isdigit() and spot.name not in known]
    x, y, z = np.array([state[unknowns.spot(spot.name) :][:3] for spot in new]).reshape(-1, 3).T
    high = np.any([z > top.values(x, y) - UNDER_TOP_MM for top in tops], axis=0) if tops else np.zeros(len(new), bool)
    return {spot.name for spot, too_high in zip(new, high.tolist(), strict=True) if too_high}


def mark_of(reading: Reading, shape: Shape) -> int:
    """Return the number of the highest mark a reading touches; 0 when it touches none."""
    match reading:
        case BevelReading() | PitchReading() | EdgeReading() | GapReading() | ScaleReading():
            return 0
        case _:
            names = [getattr(reading, key, "") for key in ("start", "end", "spot", "first", "second")]
            levels = [level for column, level in map(shape.taken_apart, names) if column and level.isdigit()]
            return max(map(int, levels), default=0)


def seen(readings: Sequence[Reading], outlook: Outlook) -> Seen:
    """Return readings as observations of an outlook, in their order."""
    network = outlook.network
    asked = replace(network.survey, readings=tuple(readings))
    residuals, noise = np.empty(len(readings)), np.empty(len(readings))
    rows = np.empty((len(readings), network.unknowns.count))
    for one in observe(asked, network.unknowns, network.start):
        read, derivatives = one.block.evaluate(network.start)
        residuals[list(one.places)] = read
        rows[list(one.places)] = one.block.by_all(derivatives, network.unknowns.count)
        noise[list(one.places)] = one.sds**2
    return Seen(residuals=residuals, rows=rows, noise=noise)
