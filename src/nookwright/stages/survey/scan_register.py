"""A scan laid onto the room by its named spots, and its surfaces found; what is wrong with it is told."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np

from nookwright.basics.lengths import Units, show_read
from nookwright.basics.problems import Inspection, Problem
from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.turning import rigid_fit
from nookwright.stages.inputs.scan import UNITS_MM, Scan
from nookwright.stages.inputs.survey import SurfaceName, Survey
from nookwright.stages.survey.scan_patches import Expected, Found, find_surfaces, foot_of, spots_off
from nookwright.stages.survey.scan_sketch import sketch_with_scans
from nookwright.stages.survey.unknowns import Unknowns, unknowns_of

MISS_MM = 60.0
MISS_SHARE = 0.04
"""Spots may miss their first guess by so much, root of the mean square, or by this share of how far apart they are:
the first guess takes every corner for square. Common practice, no source."""

NEAR_MM = 30.0
"""A spot was picked on a surface when it lies this near to it. [mm] Common practice, no source."""

LENGTHS_AGREE = 0.06
"""A scan's lengths that differ by more than this share from the room's are in another unit. Common practice, no
source."""


def with_surfaces(survey: Survey, clouds: Sequence[Matrix | None]) -> Survey:
    """Return the survey with the pieces of surfaces that its scans show.

    Args:
        survey: a field book that `examine` found good.
        clouds: each scan's points in its own coordinates [mm]; None for a scan that does not count.

    Returns:
        The survey, its scans with patches.

    Raises:
        InvalidInputError: if a scan does not fit the room; carries every problem of all of them.
    """
    inspection = Inspection()
    unknowns = unknowns_of(survey.counted)
    start = sketch_with_scans(survey.counted, unknowns)
    found = [
        scan if cloud is None else _with_patches(scan, cloud, survey, unknowns, start, inspection)
        for scan, cloud in zip(survey.scans, clouds, strict=True)
    ]
    inspection.finish()
    return replace(survey, scans=tuple(found))


def places_in(scan: Scan) -> Matrix:
    """Return where a scan's named spots are in its own coordinates, one a row. [mm]"""
    return np.array([spot.xyz for spot in scan.spots], dtype=np.float64)


def places_of(scan: Scan, unknowns: Unknowns, state: Vector) -> Matrix:
    """Return where a scan's named spots are in the room, one a row. [mm]"""
    rows = np.array([unknowns.spot(spot.name) for spot in scan.spots])
    return np.asarray(state[rows[:, None] + np.arange(3)])


def _with_patches(
    scan: Scan, cloud: Matrix, survey: Survey, unknowns: Unknowns, start: Vector, inspection: Inspection
) -> Scan:
    before = len(inspection.problems)
    picked, guessed = places_in(scan), places_of(scan, unknowns, start)
    _expect_lengths(scan, picked, guessed, inspection)
    if len(inspection.problems) == before:
        _expect_fit(scan, picked, guessed, survey.units, inspection)
    if len(inspection.problems) > before:
        return scan
    turn, shift = rigid_fit(picked, guessed)
    found = find_surfaces(cloud, scan, turn, shift, _expected(survey, unknowns, start))
    if not found.patches:
        _note(
            scan,
            inspection,
            f"no wall or floor in scan {scan.name}",
            "points of the surfaces between the spots",
            "Check its units and the places of its spots.",
        )
        return scan
    _expect_spots_on_surfaces(scan, unknowns, picked @ turn.T + shift, found, survey.units, inspection)
    rows = tuple((float(a), float(b), float(c)) for a, b, c in turn)
    x, y, z = (float(value) for value in turn @ picked.mean(axis=0) + shift)
    return replace(scan, patches=found.patches, turn=rows, place=(x, y, z))


def _note(scan: Scan, inspection: Inspection, found: str, expected: str, hint: str) -> None:
    inspection.add(Problem(where=scan.where, found=found, expected=expected, hint=hint))


def _expected(survey: Survey, unknowns: Unknowns, start: Vector) -> Expected:
    named = np.array([start[unknowns.spot(spot.name) :][:3] for spot in unknowns.spots[: unknowns.named]])
    low, high = named.min(axis=0), named.max(axis=0)
    planes, extents = {}, {}
    for surface in unknowns.surfaces:
        at = unknowns.surface(surface)
        planes[surface] = start[at : at + 3]
        others = list(unknowns.shape.axes(surface)[1:])
        extents[surface] = (low[others], high[others])
        if surface in unknowns.shape.walls:
            extents[surface] = _between_ends(surface, unknowns, start, extents[surface])
    skirting = survey.skirting.height_mm if survey.skirting else None
    foot_mm = foot_of(skirting)
    return Expected(shape=unknowns.shape, planes=planes, low=low, high=high, extents=extents, foot_mm=foot_mm)


def _between_ends(
    surface: SurfaceName, unknowns: Unknowns, start: Vector, whole: tuple[Vector, Vector]
) -> tuple[Vector, Vector]:
    """Return a wall's extent from the column at one end to that at the other, where spots of both are named. [mm]"""
    along = unknowns.shape.axes(surface)[1]
    ends = [
        [
            start[unknowns.spot(spot.name) + along]
            for spot in unknowns.spots[: unknowns.named]
            if spot.column.name == end
        ]
        for end in unknowns.shape.walls[surface].ends
    ]
    if not all(ends):
        return whole
    first, last = sorted(float(np.median(places)) for places in ends)
    return np.array([first, whole[0][1]]), np.array([last, whole[1][1]])


def _size(places: Matrix) -> float:
    """Return how far places lie from their middle, root of the mean square. [mm]"""
    return float(np.sqrt(np.mean(np.sum((places - places.mean(axis=0)) ** 2, axis=1))))


def _miss(picked: Matrix, guessed: Matrix) -> float:
    """Return by how much spots miss their places when laid onto them, root of the mean square. [mm]"""
    turn, shift = rigid_fit(picked, guessed)
    return float(np.sqrt(np.mean(np.sum((picked @ turn.T + shift - guessed) ** 2, axis=1))))


def _expect_lengths(scan: Scan, picked: Matrix, guessed: Matrix, inspection: Inspection) -> None:
    """Note a scan whose lengths are in another unit than it says."""
    ratio = _size(guessed) / max(_size(picked), 1e-9)
    if abs(ratio - 1) <= LENGTHS_AGREE:
        return
    units = [unit for unit, size in UNITS_MM.items() if abs(ratio * scan.mm_per_unit / size - 1) <= LENGTHS_AGREE]
    hint = f"Its units seem to be {units[0]}." if units else "Check its units and the places of its spots."
    found = f"spots of scan {scan.name} that lie {1 / ratio:.3g} times as far apart as the readings say"
    _note(scan, inspection, found, "the same lengths in the scan and in the room", hint)


def _expect_fit(scan: Scan, picked: Matrix, guessed: Matrix, units: Units, inspection: Inspection) -> None:
    """Note spots that do not fit their places; say which two have changed places, or which one is wrong."""
    allowed = max(MISS_MM, MISS_SHARE * _size(guessed))
    miss = _miss(picked, guessed)
    if miss <= allowed:
        return
    found = f"spots of scan {scan.name} that miss their places in the room by {show_read(round(miss), units)}"
    _note(scan, inspection, found, "spots picked where the readings put them", _blame(scan, picked, guessed, allowed))


def _blame(scan: Scan, picked: Matrix, guessed: Matrix, allowed: float) -> str:
    """Return which spots are wrong, in words."""
    names = [spot.name for spot in scan.spots]
    best, swapped = math.inf, ""
    for one, two in combinations(range(len(names)), 2):
        order = list(range(len(names)))
        order[one], order[two] = two, one
        miss = _miss(picked[order], guessed)
        if miss < best:
            best, swapped = miss, f"{names[one]} and {names[two]} seem to have changed places."
    if best <= allowed:
        return swapped
    for one in range(len(names)) if len(names) > 3 else ():
        others = [row for row in range(len(names)) if row != one]
        miss = _miss(picked[others], guessed[others])
        if miss < best:
            best, swapped = miss, f"{names[one]} seems to be wrong: pick it again."
    return swapped if best <= allowed else "Pick them again, and check their names."


def _expect_spots_on_surfaces(
    scan: Scan, unknowns: Unknowns, placed: Matrix, found: Found, units: Units, inspection: Inspection
) -> None:
    """Note spots picked off the surfaces they are said to lie on."""
    spots = {spot.name: spot for spot in unknowns.spots}
    surfaces = [spots[picked.name].surfaces for picked in scan.spots]
    shape = unknowns.shape
    misses = spots_off(places_in(scan), surfaces, placed, found, shape)
    for picked, (surface, miss) in zip(scan.spots, misses, strict=True):
        if miss > NEAR_MM:
            off, near = show_read(round(miss), units), show_read(NEAR_MM, units)
            inspection.add(
                Problem(
                    where=picked.where,
                    found=f"spot {picked.name} picked {off} off the {shape.told(surface)} in scan {scan.name}",
                    expected=f"a place within {near} of every surface it lies on",
                    hint="Pick it again.",
                )
            )
