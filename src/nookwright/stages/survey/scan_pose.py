"""How a scan lies in the room: its turn, shift and scale as unknowns, and what it says by itself."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.turning import rigid_fit, turn_about_axes
from nookwright.solvers.whitened import Block, Made
from nookwright.stages.inputs.scan import Scan
from nookwright.stages.inputs.survey import ScaleReading, Survey
from nookwright.stages.survey.unknowns import Unknowns, pose_names, scale_name

PER_METRE = 1000.0

NEARLY_UP = 0.1
"""An axis of the scan this near to the room's upright one, as a slope, is the scan's own plumb line. Common practice,
no source."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Placed:
    """Places of a scan in the room.

    Args:
        places: one a row. [mm]
        rows: their derivatives by the scan's pose: places x 3 x 7. [mm per mm, mm per mm/m]
    """

    places: Matrix
    rows: NDArray[np.float64]


def placed(scan: Scan, points: Matrix, state: Vector, unknowns: Unknowns) -> Placed:
    """Return where places of a scan are in the room.

    The scan is turned about the middle of its named spots: first as it was laid on the room, then by three small
    angles [mm/m], stretched by its scale [mm/m] and shifted [mm].

    Args:
        scan: a scan that was laid on the room.
        points: places in its own coordinates, one a row. [mm]
        state: the unknowns' values.
        unknowns: the unknowns.

    Returns:
        The places and their derivatives.
    """
    pose = state[pose_places(scan, unknowns)]
    turn, slopes = turn_about_axes(pose[:3] / PER_METRE)
    stretch = 1 + pose[6] / PER_METRE
    laid = (points - middle_of(scan)) @ np.array(scan.turn).T
    rows = np.zeros((len(points), 3, 7))
    for axis, slope in enumerate(slopes):
        rows[:, :, axis] = stretch * laid @ slope.T / PER_METRE
        rows[:, axis, 3 + axis] = 1.0
    turned = laid @ turn.T
    rows[:, :, 6] = turned / PER_METRE
    return Placed(places=pose[3:6] + stretch * turned, rows=rows)


def pose_places(scan: Scan, unknowns: Unknowns) -> NDArray[np.intp]:
    """Return where a scan's pose stands in the state."""
    return np.array([unknowns.set_up(name) for name in pose_names(scan)], dtype=np.intp)


def middle_of(scan: Scan) -> Vector:
    """Return the middle of a scan's named spots, in its own coordinates. [mm]"""
    middle: Vector = np.mean([spot.xyz for spot in scan.spots], axis=0)
    return middle


def set_poses(state: Vector, unknowns: Unknowns) -> None:
    """Put first guesses of every scan's pose into a state: where its spots fit theirs best."""
    for scan in unknowns.scans:
        picked = np.array([spot.xyz for spot in scan.spots])
        guessed = state[np.array([unknowns.spot(spot.name) for spot in scan.spots])[:, None] + np.arange(3)]
        turn, shift = rigid_fit(picked, guessed)
        extra = turn @ np.array(scan.turn).T
        angles = (np.arctan2(extra[2, 1], extra[2, 2]), -np.arcsin(extra[2, 0]), np.arctan2(extra[1, 0], extra[0, 0]))
        columns = pose_places(scan, unknowns)
        state[columns[:3]] = PER_METRE * np.array(angles)
        state[columns[3:6]] = turn @ middle_of(scan) + shift


def scan_block(scan: Scan, unknowns: Unknowns) -> Block:
    """Return what a scan says besides its surfaces: where its named spots are, and which way is up."""
    picked = np.array([spot.xyz for spot in scan.spots])
    spots = np.array([unknowns.spot(spot.name) for spot in scan.spots])[:, None] + np.arange(3)
    pose = pose_places(scan, unknowns)
    up = _up_axis(scan)
    upright = 0 if up is None else 2
    columns = np.tile([*pose, pose[0]], (spots.size + upright, 1))
    columns[: spots.size, -1] = spots.ravel()
    sd = np.concatenate([np.full(spots.size, scan.pick_mm), np.full(upright, scan.level_mm_per_m)])

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        here = placed(scan, picked, state, unknowns)
        residuals, jacobian = np.zeros(len(columns)), np.zeros(columns.shape)
        residuals[: spots.size] = (here.places - state[spots]).ravel()
        jacobian[: spots.size, :-1], jacobian[: spots.size, -1] = here.rows.reshape(-1, 7), -1.0
        if up is not None:
            residuals[spots.size :], jacobian[spots.size :, :3] = _tilt(scan, up, state[pose[:3]])
        return residuals, jacobian

    return Block(evaluate=evaluate, columns=columns, sd=sd)


def _up_axis(scan: Scan) -> Vector | None:
    """Return the axis of the scan that points up in the room; None when none does."""
    upright = np.array(scan.turn)[2]
    axis = int(np.argmax(np.abs(upright)))
    if np.hypot(*np.delete(upright, axis)) > NEARLY_UP:
        return None
    up = np.zeros(3)
    up[axis] = np.sign(upright[axis])
    return up


def _tilt(scan: Scan, up: Vector, angles: Vector) -> tuple[Vector, Matrix]:
    """Return how far the scan's upright axis leans in the room, with derivatives by its three angles. [mm/m]"""
    turn, slopes = turn_about_axes(angles / PER_METRE)
    laid = np.array(scan.turn) @ up
    return PER_METRE * (turn @ laid)[:2], np.column_stack([(slope @ laid)[:2] for slope in slopes])


def observe_scales(readings: list[ScaleReading], survey: Survey, unknowns: Unknowns, start: Vector) -> Made:
    """A scan says that its metre is a metre."""
    columns = np.array([[unknowns.set_up(scale_name(reading.scan))] for reading in readings])
    values = np.array([reading.mm_per_m for reading in readings])
    sds = np.array([reading.sd_mm_per_m for reading in readings])
    jacobian = np.ones((len(readings), 1))

    def evaluate(state: Vector) -> tuple[Vector, Matrix]:
        return PER_METRE + state[columns[:, 0]] - values, jacobian

    return columns, evaluate, values, sds
