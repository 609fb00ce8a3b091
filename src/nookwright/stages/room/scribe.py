"""The gap that a straight edge leaves along a surface: what a scribe has to take up, with how sure that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from nookwright.basics.measured import Measured
from nookwright.solvers.chance import normal_quantile
from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.shaking import Shaker
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.stages.room.room import Room

Lie = Literal["rests", "true"]

DRAWS = 400
"""Surfaces drawn: the spread of a gap is then known to 4 %. Computed: 1 / sqrt(2 n)."""

_STEPS = 1 << 20  # fineness of a draw's probability
_SEED = 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class ScribeGap:
    """The gap between a straight edge and a surface at one place of a line.

    Args:
        at_mm: how far along the line. [mm]
        gap: its size with its spread; the edge touches somewhere, so a gap is never below 0. [mm]
        low_mm, high_mm: the band that holds it 95 times in 100. [mm]
    """

    at_mm: float
    gap: Measured
    low_mm: float
    high_mm: float


def scribe_profile(
    room: Room, surface: SurfaceName, line: Sequence[tuple[float, float]], *, lie: Lie = "rests"
) -> tuple[ScribeGap, ...]:
    """Return the gap under a straight edge along a line of a surface.

    The surface is drawn many times over, as it may be by everything that was read, its waviness between the places
    touched included; each time the edge is laid on it. What the edge touches is thus as unsure as it really is, and a
    surface known in few places is not taken for a smooth one.

    Args:
        room: the room.
        surface: a surface the room has.
        line: places in its two other coordinates, in order (see `Room.profile`). [mm]
        lie: `rests`: the edge lies on the surface, touching it on both sides of its middle; `true`: it is held plumb,
            level or square, as the line's own coordinates run, and pushed until it touches.

    Returns:
        The gap at each place, square to the surface's axis. [mm]

    Raises:
        ValueError: if the line has fewer than two places.
    """
    places = np.array(line, dtype=np.float64)
    if len(places) < 2:
        message = "a line has two places or more"
        raise ValueError(message)
    field = room.fields[surface]
    p, q = places.T
    rows = field.rows(p, q)
    covariance = rows @ room.covariance @ rows.T + field.own_covariance(p, q)
    drawn = room.into_room(surface) * (field.values(p, q) + _draws(covariance))
    spaced = np.column_stack([field.values(p, q), places])
    runs = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(spaced, axis=0), axis=1))])
    edge = _resting(drawn, runs) if lie == "rests" else drawn.max(axis=1, keepdims=True)
    gaps = edge - drawn
    low, high = np.quantile(gaps, (0.025, 0.975), axis=0)
    return tuple(
        ScribeGap(at_mm=float(at), gap=Measured(value=float(mean), sd=float(sd)), low_mm=float(lo), high_mm=float(hi))
        for at, mean, sd, lo, hi in zip(runs, gaps.mean(axis=0), gaps.std(axis=0), low, high, strict=True)
    )


def _draws(covariance: Matrix) -> Matrix:
    """Return how the surface may differ from its best guess, one draw a row; the same ones each time."""
    sizes, turn = np.linalg.eigh(covariance)
    root = turn * np.sqrt(np.maximum(sizes, 0.0))
    shaker = Shaker(_SEED)
    half = np.array(
        [[normal_quantile((shaker.below(_STEPS) + 0.5) / _STEPS) for _ in sizes] for _ in range(DRAWS // 2)]
    )
    found: Matrix = np.concatenate([half, -half]) @ root.T  # in pairs, so that their mean is the best guess
    return found


def _resting(heights: Matrix, runs: Vector) -> Matrix:
    """Return the straight edge resting on each row of heights: it touches on both sides of its middle."""
    middle = (runs[0] + runs[-1]) / 2
    best = np.full(len(heights), -np.inf)
    ends = np.zeros((len(heights), 2), dtype=np.intp)
    for left in np.flatnonzero(runs <= middle):
        for right in np.flatnonzero(runs > middle):
            share = (middle - runs[left]) / (runs[right] - runs[left])
            there = (1 - share) * heights[:, left] + share * heights[:, right]
            higher = there > best
            best[higher], ends[higher] = there[higher], (left, right)
    draws = np.arange(len(heights))
    first, last = ends.T
    turn = (heights[draws, last] - heights[draws, first]) / (runs[last] - runs[first])
    edge: Matrix = heights[draws, first][:, None] + turn[:, None] * (runs[None, :] - runs[first][:, None])
    return edge
