"""Field books of scanned rooms: three tapes, four levels and a scan with furniture in the way."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from nookwright.stages.inputs.survey import RoomKind, ScaleReading, Survey
from nookwright.stages.room.room import Room
from simulated_rooms import Person, Point, SimulatedRoom, ToTake, Waviness, field_book, simulated_room
from simulated_scans import Box, Scanner, scan_of
from simulated_truth import Truth

SPOTS: dict[RoomKind, tuple[str, ...]] = {
    "alcove": ("BL0", "BR0", "FL0", "FR0", "BL2", "BR2", "FL3", "FR3"),
    "corner-under-slope": ("BL0", "BR0", "FL0", "FR0", "BL1", "BLS", "BRS", "FRS"),
    "under-stair": ("BL0", "BR0", "FR0", "FL0", "BR2", "BLS", "BRS", "FRS"),
}
FEW: tuple[ToTake, ...] = (
    ("tape", "BL0", "BR0"),
    ("tape", "BL0", "FL0"),
    ("tape", "BR0", "FR0"),
    ("level", "BL0"),
    ("level", "BR0"),
    ("level", "FL0"),
    ("level", "FR0"),
)
INTO_ROOM = {"back": -1, "left": 1, "right": -1}
SCALE_SD = 2.0


def furniture(room: SimulatedRoom) -> list[Box]:
    """Return a box that stands before the wall and a picture that hangs on it, anywhere."""
    rng = room.chance("furniture")
    x = rng.uniform(0.1, 0.5) * room.width_mm
    box = (np.array([x, -0.6 * room.depth_mm, 0.0]), np.array([x + 0.4 * room.width_mm, -100.0, 400.0]))
    x = rng.uniform(0.1, 0.7) * room.width_mm
    picture = (np.array([x, -25.0, 600.0]), np.array([x + 0.2 * room.width_mm, 20.0, 850.0]))
    return [box, picture]


def scanned(
    kind: RoomKind,
    seed: int,
    *,
    scanner: Scanner | None = None,
    wavy: Waviness | None = None,
    takes: Sequence[ToTake] = FEW,
) -> tuple[SimulatedRoom, Survey, Point]:
    """Return a simulated room, its field book with the scan's heading, and the scan's points."""
    room = simulated_room(kind, seed, wavy=wavy or Waviness())
    survey, _ = field_book(Person(room), takes)
    scan, points = scan_of(room, SPOTS[kind], scanner, furniture(room))
    scale = ScaleReading(scan=scan.name, sd_mm_per_m=SCALE_SD)
    return room, replace(survey, scans=(scan,), readings=(*survey.readings, scale)), points


def true_values(truth: SimulatedRoom, survey: Survey, room: Room) -> dict[str, float]:
    """Return what is true of a scanned room: surfaces by the real, wavy surface at the places the room was seen at."""
    told = Truth(truth, survey)
    found = told._at_spots()
    tilts: dict[str, tuple[float, float]] = {}
    for surface in room.surfaces:
        axis, *others = room.fields[surface].axes
        places = room.fields[surface].points[:, others]
        tilts[surface] = told._fitted(places, truth.surface_at(surface, axis, places))
    for wall in ("back", "left", "right"):
        if wall in tilts:
            found[f"{wall} wall lean"] = 1000 * INTO_ROOM[wall] * tilts[wall][1]
    for side, sign in (("left", 1.0), ("right", -1.0)):
        if side in tilts:
            turn = math.degrees(math.atan(tilts["back"][0]) + math.atan(tilts[side][0]))
            found[f"back {side} corner"] = 90 + sign * turn
    found["floor fall to the right"] = -1000 * tilts["floor"][0]
    found["floor fall to the front"] = 1000 * tilts["floor"][1]
    if "slope" in tilts:
        yaw = tilts["back"][0]
        rise = (tilts["slope"][0] + tilts["slope"][1] * yaw) / math.sqrt(1 + yaw**2)
        found["slope pitch"] = abs(math.degrees(math.atan(rise)))
    return found
