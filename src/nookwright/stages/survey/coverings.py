"""What lies between a tape's end and the wall: skirting before it, or the board that a bare stud stands behind."""

from __future__ import annotations

import numpy as np

from nookwright.solvers.linear_fit import Vector
from nookwright.stages.inputs.survey import Covering, Survey, TapeReading
from nookwright.stages.survey.shape import Shape
from nookwright.stages.survey.spots import spot_called

SKIRTING_MM, SKIRTING_SD_MM = 18.0, 6.0
"""A skirting's thickness before anything is told of it, with one standard deviation. [mm]
Common practice, no source."""

BOARD_MM, BOARD_SD_MM = 12.5, 4.0
"""Plasterboard or plaster over studs, likewise. [mm] Common practice, no source."""

INTO_ROOM: dict[Covering, int] = {"skirting": 1, "studs": -1}
"""Whether a tape's ends are nearer than the walls, or beyond them."""

NAMES: dict[Covering, str] = {"skirting": "skirting thickness", "studs": "board thickness"}
"""What is unknown of each."""


def thickness_told(covering: Covering, survey: Survey) -> tuple[float, float, bool]:
    """Return what is believed of a thickness: value and standard deviation [mm], and whether that is only a guess."""
    if covering == "skirting":
        skirting = survey.skirting
        if skirting is None:
            return SKIRTING_MM, SKIRTING_SD_MM, True
        return skirting.thickness_mm, skirting.thickness_sd_mm, False
    wall = survey.wall
    return (BOARD_MM, BOARD_SD_MM, True) if wall.board_sd_mm is None else (wall.board_mm, wall.board_sd_mm, False)


def ends_moved(reading: TapeReading, shape: Shape) -> Vector:
    """Return how a millimetre of covering moves a tape's far end against its start, as a vector in the room.

    Each end is moved square to every wall it stands at: along the tape that counts in full, across it not at all.
    """
    if not reading.over:
        return np.zeros(3)
    ends = [_moved((reading.end,) if shape.may_have(reading.end) else _walls_at(reading.end, shape), shape)]
    ends.append(_moved(_walls_at(reading.start, shape), shape))
    moved: Vector = INTO_ROOM[reading.over] * (ends[0] - ends[1])
    return moved


def _walls_at(spot: str, shape: Shape) -> tuple[str, ...]:
    return spot_called(spot, shape).surfaces


def _moved(surfaces: tuple[str, ...], shape: Shape) -> Vector:
    facings = [(*shape.walls[surface].facing, 0.0) for surface in surfaces if surface in shape.walls]
    moved: Vector = np.sum(np.array([(0.0, 0.0, 0.0), *facings]), axis=0)
    return moved
