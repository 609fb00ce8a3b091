"""A straightedge laid on the surfaces of a simulated room, and the gaps a person reads under it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nookwright.stages.inputs.survey import GapReading, Line, SurfaceName
from simulated_rooms import Person, Point

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
