"""Straightedges, plumb planes and tapes between surfaces in a simulated room, and what a person reads with them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nookwright.stages.inputs.survey import (
    Covering,
    EdgeReading,
    GapReading,
    Line,
    OffsetReading,
    SpanReading,
    SurfaceName,
    TapeReading,
)
from simulated_rooms import BLADE_MM, Person, Point, angle_deg

WAY_VECTORS = {
    "right": (1.0, 0.0, 0.0),
    "left": (-1.0, 0.0, 0.0),
    "back": (0.0, 1.0, 0.0),
    "out": (0.0, -1.0, 0.0),
    "up": (0.0, 0.0, 1.0),
    "down": (0.0, 0.0, -1.0),
}
BEND_MM_PER_M2 = 0.08  # bow of a straightedge 1.8 m long: 0.25 mm in its middle
ASKEW = 0.01  # laid so much askew, by eye


def resting_gaps(runs: Point, heights: Point) -> Point:
    """Return the gaps under a straightedge that rests on heights: by trying every pair of places it could touch."""
    middle = (runs[0] + runs[-1]) / 2
    for i in range(len(runs)):
        for j in range(i + 1, len(runs)):
            turn = (heights[j] - heights[i]) / (runs[j] - runs[i])
            edge = heights[i] + turn * (runs - runs[i])
            if runs[i] <= middle <= runs[j] and np.all(edge >= heights - 1e-9):
                return np.asarray(edge - heights)
    raise AssertionError


def lay(
    person: Person, surface: SurfaceName, start: str, way: str, distances_mm: Sequence[float], set_up: int = 1
) -> list[GapReading]:
    """Return the gaps read under a straightedge laid from a spot along a way."""
    room, runs = person.room, np.array(distances_mm, dtype=float)
    rng = room.chance("edge", surface, start, way, set_up)
    wall = room.surfaces[surface]
    run = np.array(WAY_VECTORS[way]) + rng.normal(0, ASKEW, 3)
    run = run - (run @ wall.normal) * wall.normal
    run /= np.linalg.norm(run)
    where = room.spot(start) + (runs + rng.normal(0, 2.0, len(runs)))[:, None] * run
    heights = wall.bump(where - ((where @ wall.normal - wall.offset)[:, None] * wall.normal))
    bow = rng.normal(0, BEND_MM_PER_M2) * (runs - runs.mean()) ** 2 / 1e6
    gaps = resting_gaps(runs, heights - bow) + rng.normal(0, 0.4, len(runs))
    line = Line(surface=surface, start=start, towards=way)
    return [
        GapReading(line=line, at_mm=float(at), gap_mm=max(0.0, person.written(gap, person.step_mm / 2)), set_up=set_up)
        for at, gap in zip(runs, gaps, strict=True)
    ]


def offsets(person: Person, wall: SurfaceName, spots: Sequence[str], set_up: int = 1) -> list[OffsetReading]:
    """Return how far spots of a wall are from an upright plane set up before it, nearly along it, nearly plumb."""
    room = person.room
    rng = room.chance("plane", wall, set_up)
    square = room.surfaces[wall].normal * (1, 1, 0) + (*rng.normal(0, 0.02, 2), 0)
    square /= np.linalg.norm(square)
    lean = rng.normal(0, person.tools.level_mm_per_m) / 1000
    far = max(float(square @ room.spot(spot)) for spot in spots) + rng.uniform(30, 300)
    found = []
    for spot in spots:
        place = room.spot(spot)
        offset = far + lean * place[2] - float(square @ place) + rng.normal(0, person.eye_mm)
        written = person.written(offset, person.step_mm)
        found.append(OffsetReading(wall=wall, spot=spot, offset_mm=written, set_up=set_up))
    return found


def span(person: Person, first: SurfaceName, second: SurfaceName, start: str, out_mm: float = 0.0) -> SpanReading:
    """Return a tape from one surface to the other, square to the first in plan by eye, so far out from a spot."""
    room = person.room
    rng = room.chance("span", first, second, start, out_mm)
    place = room.spot(start) + np.array([0.0, -out_mm, 0.0]) + rng.normal(0, 2.0, 3)
    wall = room.surfaces[first]
    aim = np.array([0.0, 0.0, 1.0]) if abs(wall.normal[2]) > 0.7 else wall.normal * (1, 1, 0) + rng.normal(0, 0.006, 3)
    aim /= np.linalg.norm(aim)
    ends = [place + aim * room.surfaces[surface].along(place[None], aim)[0] for surface in (first, second)]
    length = float(np.linalg.norm(ends[1] - ends[0])) + person.zero + rng.normal(0, person.eye_mm)
    read = person.written(length, person.step_mm)
    return SpanReading(first=first, second=second, start=start, aside_mm=out_mm, aside="out", length_mm=read)


def covered_tape(person: Person, start: str, end: str, thickness_mm: float, over: Covering) -> TapeReading:
    """Return a tape between spots whose ends touched the skirting's face, or the studs behind a board."""
    room = person.room
    rng = room.chance("covered", start, end, over)
    sign = 1.0 if over == "skirting" else -1.0
    ends = []
    for name in (start, end):
        walls = room.layout.columns[name[:2]][0]
        square = [room.surfaces[wall].normal * (1, 1, 0) for wall in walls]
        ends.append(room.spot(name) + sign * thickness_mm * sum(square, np.zeros(3)))
    length = float(np.linalg.norm(ends[1] - ends[0])) + person.zero + rng.normal(0, person.eye_mm)
    return TapeReading(start=start, end=end, length_mm=person.written(length, person.step_mm), over=over)


def edge_angle(person: Person, first: SurfaceName, second: SurfaceName, start: str) -> EdgeReading:
    """Return the angle between two surfaces, read with two blades laid on them away from their edge at a spot."""
    room = person.room
    rng = room.chance("edge angle", first, second, start)
    normals = [room.surfaces[surface].normal for surface in (first, second)]
    edge = np.cross(*normals)
    blades = []
    for surface, own, other in ((first, *normals), (second, *normals[::-1])):
        away = np.cross(edge, own)
        away /= np.linalg.norm(away) * np.sign(away @ other)
        tip = (room.spot(start) + BLADE_MM * away)[None]
        blades.append((tip + room.surfaces[surface].along(tip, own)[:, None] * own)[0] - room.spot(start))
    angle = angle_deg(*blades) + rng.normal(0, person.tools.bevel_deg)
    return EdgeReading(surfaces=(first, second), angle_deg=person.written(angle, 0.1))
