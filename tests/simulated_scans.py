"""A scanner in a simulated room: rays to the true surfaces, with things that stand in the way, noise and stray points."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from nookwright.stages.inputs.scan import Scan, ScanSpot
from simulated_rooms import Point, SimulatedRoom, Surface


@dataclass(frozen=True)
class Scanner:
    """How a room is scanned.

    Args:
        points: rays sent out.
        noise_mm: error along each ray, one standard deviation. [mm]
        drift_mm: error that neighbouring points share, as a scanner's dark and shiny patches do, likewise. [mm]
        stray: share of points that lie anywhere along their ray.
        level_mm_per_m: how plumb the scan's upright axis is, likewise. [mm/m]
        scale: how much too long its lengths are, as a factor.
        pick_mm: how closely spots are picked in it, likewise. [mm]
        skirting: whether a skirting 100 mm high and 16 mm thick runs along every wall.
        upright: the scan's axis that points up: 2 for z, 1 for y.
    """

    points: int = 60_000
    noise_mm: float = 2.5
    drift_mm: float = 0.5
    stray: float = 0.10
    level_mm_per_m: float = 2.0
    scale: float = 1.0
    pick_mm: float = 4.0
    skirting: bool = True
    upright: int = 2


Box = tuple[Point, Point]


def scan_of(
    room: SimulatedRoom, spots: Sequence[str], scanner: Scanner | None = None, boxes: Sequence[Box] = (), turn: int = 0
) -> tuple[Scan, Point]:
    """Return a scan's heading and its points, in coordinates of its own. [mm]

    Args:
        room: the room.
        spots: the spots picked in the scan.
        scanner: how it is scanned.
        boxes: furniture in the way: two opposite corners each, in the room's own coordinates.
        turn: tells several scans of one room apart.
    """
    scanner = scanner or Scanner()
    rng = room.chance("scan", turn)
    eye = np.array(
        [room.width_mm * rng.uniform(0.35, 0.65), -room.depth_mm - rng.uniform(300, 700), rng.uniform(900, 1300)]
    )
    eye[2] = min(eye[2], 0.9 * _headroom(room, eye))
    rays = rng.normal(size=(scanner.points, 3))
    rays /= np.linalg.norm(rays, axis=1)[:, None]
    reach = np.full(len(rays), np.inf)
    for name, surface in room.surfaces.items():
        met = _met(surface, eye, rays)
        if scanner.skirting and name in ("back", "left", "right"):
            low = (eye + met[:, None] * rays)[:, 2] < 100.0
            met = np.where(low, met + 16.0 / np.minimum(rays @ surface.normal, -1e-3), met)
        reach = np.minimum(reach, np.where(met > 1.0, met, np.inf))
    for low, high in boxes:
        reach = np.minimum(reach, _through(eye, rays, low, high))
    seen = np.isfinite(reach) & (reach < 6000)
    rays, reach = rays[seen], reach[seen] + rng.normal(0, scanner.noise_mm, np.count_nonzero(seen))
    reach = reach + scanner.drift_mm * _drift(eye + reach[:, None] * rays, rng)
    stray = rng.random(len(reach)) < scanner.stray
    reach[stray] *= rng.uniform(0.3, 1.15, np.count_nonzero(stray))
    points = eye + reach[:, None] * rays
    own = _own_coordinates(scanner, rng)
    picked = []
    for name in spots:
        place = own((room.spot(name) + rng.normal(0, scanner.pick_mm, 3))[None])[0]
        picked.append(ScanSpot(name=name, xyz=tuple(place.tolist())))
    scan = Scan(name="room.ply", spots=tuple(picked), sd_mm=scanner.noise_mm, level_mm_per_m=scanner.level_mm_per_m)
    return scan, own(points)


def _drift(points: Point, rng: np.random.Generator) -> Point:
    """Return an error of size 1 that places within a hand's breadth share. [mm per mm]"""
    waves = rng.normal(size=(10, 3))
    waves *= (2 * math.pi / rng.uniform(150, 500, 10) / np.linalg.norm(waves, axis=1))[:, None]
    return np.asarray(np.cos(points @ waves.T + rng.uniform(0, 2 * math.pi, 10)).sum(axis=1) * math.sqrt(2 / 10))


def _headroom(room: SimulatedRoom, eye: Point) -> float:
    """Return how high the top stands above a place. [mm]"""
    top = next(room.surfaces[name] for name in ("ceiling", "slope") if name in room.surfaces)
    return float(top.along(np.array([[eye[0], eye[1], 0.0]]), np.array([0.0, 0.0, 1.0]))[0])


def _met(surface: Surface, eye: Point, rays: Point) -> Point:
    """Return how far along each ray the true, wavy surface is met; negative or endless when it is not. [mm]"""
    against = rays @ surface.normal
    against = np.where(against < -1e-3, against, np.nan)
    reach = (surface.offset - eye @ surface.normal) / against
    for _ in range(4):
        at = eye + reach[:, None] * rays
        reach = reach - (at @ surface.normal - surface.offset - surface.bump(at)) / against
    return np.where(np.isnan(reach), np.inf, reach)


def _through(eye: Point, rays: Point, low: Point, high: Point) -> Point:
    """Return how far along each ray a box is met; endless when it is not. [mm]"""
    with np.errstate(divide="ignore"):
        one, two = (low - eye) / rays, (high - eye) / rays
    first, last = np.minimum(one, two).max(axis=1), np.maximum(one, two).min(axis=1)
    return np.where((first > 0) & (first <= last), first, np.inf)


def _own_coordinates(scanner: Scanner, rng: np.random.Generator) -> Callable[[Point], Point]:
    """Return what turns room coordinates into the scan's: turned anyhow about the plumb, a little out of plumb."""
    yaw = rng.uniform(0, 2 * math.pi)
    cosine, sine = math.cos(yaw), math.sin(yaw)
    turn = np.array([[cosine, -sine, 0.0], [sine, cosine, 0.0], [0.0, 0.0, 1.0]])
    a, b = rng.normal(0, scanner.level_mm_per_m / 1000, 2)
    tilt = np.array([[1.0, 0.0, a], [0.0, 1.0, b], [-a, -b, 1.0]])
    left, _, right = np.linalg.svd(tilt @ turn)
    whole = left @ right
    if scanner.upright == 1:
        whole = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]]) @ whole
    shift = rng.uniform(-3000, 3000, 3)
    return lambda points: scanner.scale * (points @ whole.T + shift)
