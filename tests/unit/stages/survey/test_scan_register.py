"""Scans of every kind of room: nothing crooked, every surface seen, walls at any angle and outside corners too."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

from nookwright.stages.inputs.scan import Scan, ScanSpot
from nookwright.stages.inputs.survey import LevelReading, Reading, ScaleReading, Survey, TapeReading
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.survey.free_plan import L_ROOM
from nookwright.stages.survey.kind_table import SHAPES
from nookwright.stages.survey.nominal import NominalRoom, nominal_room, read_exactly
from nookwright.stages.survey.scan_register import with_surfaces
from nookwright.stages.survey.spots import spot_names

HEIGHTS = (300.0, 1000.0)
POINTS = 10_000  # on each surface, before what lies outside the room is taken away


def inside(outline: list[tuple[float, float]], places: np.ndarray) -> np.ndarray:
    """Return which places lie inside an outline: those from which a ray to the right crosses it an odd number of times."""
    x, y = places.T
    found = np.zeros(len(places), bool)
    for (x1, y1), (x2, y2) in zip(outline, outline[1:] + outline[:1], strict=True):
        if y1 != y2:
            found ^= ((y1 > y) != (y2 > y)) & (x < (x2 - x1) * (y - y1) / (y2 - y1) + x1)
    return found


def cloud(room: NominalRoom) -> np.ndarray:
    """Return points of all surfaces of a nominal room with 2 mm of noise."""
    rng = np.random.default_rng(1)

    def headroom(places: np.ndarray) -> np.ndarray:
        heights = [[room.at(surface, (x, y, 0.0)) for x, y in places] for surface in room.overhead]
        return np.min(heights, axis=0)

    parts = []
    for wall in room.shape.walls.values():
        one, two = (np.array(room.columns[end]) for end in wall.ends)
        places = one + (two - one) * rng.random((POINTS, 1))
        heights = rng.random(POINTS) * 2600
        parts.append(np.column_stack([places, heights])[heights < headroom(places)])
    outline = [room.columns[column] for column in room.shape.outline]
    low, high = np.min(outline, axis=0), np.max(outline, axis=0)
    places = low + (high - low) * rng.random((POINTS, 2))
    places = places[inside(outline, places)]
    parts += [np.column_stack([places, np.zeros(len(places))]), np.column_stack([places, headroom(places)])]
    points = np.concatenate(parts)
    return np.asarray(points + rng.normal(0, 2, points.shape))


def scanned_nominal(kind: str) -> tuple[NominalRoom, Survey, np.ndarray]:
    """Return a nominal room, its field book of a few exact readings with a scan's heading, and the scan."""
    blank = Survey(
        kind=kind, corner="left", heights_mm=HEIGHTS, readings=(), plan=L_ROOM if kind == "free-plan" else ()
    )
    room = nominal_room(blank)
    shape = room.shape
    feet = [f"{column}0" for column in shape.columns]
    tops = [column + level for column in shape.columns for level, top in shape.tops.items() if top in room.overhead]
    allowed = set(spot_names(shape, len(HEIGHTS)))
    readings: list[Reading] = [LevelReading(spot=name, above_mm=0.0) for name in feet]
    readings += [LevelReading(spot=name, above_mm=0.0) for name in tops if name in allowed and shape.slopes]
    readings += [
        TapeReading(start=f"{line.columns[0]}0", end=f"{line.columns[1]}0", length_mm=1.0) for line in shape.lines
    ]
    survey = read_exactly(replace(blank, readings=tuple(readings)), room)
    cosine, sine = math.cos(0.7), math.sin(0.7)
    turn = np.array([[cosine, -sine, 0.0], [sine, cosine, 0.0], [0.0, 0.0, 1.0]])
    picked = [name for name in (*feet, *(f"{column}1" for column in shape.columns), *tops) if name in allowed]
    spots = [ScanSpot(name=name, xyz=tuple((turn @ room.place(name) + (100, 2000, -50)).tolist())) for name in picked]
    scan = Scan(name="room.ply", spots=tuple(spots), sd_mm=2.0)
    scale = ScaleReading(scan=scan.name, sd_mm_per_m=2.0)
    survey = replace(survey, scans=(scan,), readings=(*survey.readings, scale))
    return room, survey, cloud(room) @ turn.T + (100, 2000, -50)


@pytest.mark.parametrize("kind", SHAPES)
def test_every_surface_of_every_kind_of_room_is_found(kind: str) -> None:
    """In at most 150 pieces; leans and corners come out as they are, and nothing looks like a slip."""
    room, survey, points = scanned_nominal(kind)
    found = with_surfaces(survey, [points])
    pieces = Counter(patch.surface for patch in found.scans[0].patches)
    assert set(pieces) == {*room.shape.walls, *room.overhead, "floor"}
    assert min(pieces.values()) >= 5
    assert sum(pieces.values()) <= 150
    adjusted = reconcile(found)
    assert not any(fit.suspect for fit in adjusted.fits)
    corners = {corner.name: room.shape.nominal_deg(corner) for corner in room.shape.corners}
    for one in adjusted.derived:
        true = 0.0 if one.name.endswith("lean") else corners.get(one.name)
        if true is not None:
            assert abs(one.measured.value - true) < 3 * one.measured.sd, one.name
            assert one.fixed, one.name
