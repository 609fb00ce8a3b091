"""A plane through heights of which many belong to something else: things standing in front, stray points."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix, Vector

TRIALS = 600
"""Planes through three places that are tried. With half of all places good, one in eight trials is good."""

ENOUGH_SHARE = 0.4
"""A plane with this share of the best one's support may be the surface, partly hidden by what stands before it.
Common practice, no source."""

ROUNDS = 6

CLIP_SDS = 3.0
"""Values further off than this are not counted in the next round."""

MAD_TO_SD = 1.4826
"""Median absolute deviation to standard deviation of normal errors. Computed: 1 / 0.6745."""


def outermost_plane(places: Matrix, heights: Vector, near: float, most_tilt: float) -> Vector | None:
    """Return the plane that many places lie on and that hides behind whatever stands before it.

    Args:
        places: two coordinates a row.
        heights: of each place, growing towards where things stand in front.
        near: how far off a place may be to lie on a plane.
        most_tilt: greatest tilt in either coordinate.

    Returns:
        Offset and two tilts; None when no three places make such a plane.
    """
    planes = _through_three(places, heights, most_tilt)
    if len(planes) == 0:
        return None
    computed = planes[:, :1] + planes[:, 1:] @ places.T
    support = np.count_nonzero(np.abs(heights - computed) <= near, axis=1)
    able = np.flatnonzero(support >= max(ENOUGH_SHARE * support.max(), 3))
    middle = planes[able, 0] + planes[able, 1:] @ np.median(places, axis=0)
    able = able[middle <= middle.min() + 2 * near]
    best: Vector = np.array(planes[able[int(np.argmax(support[able]))]], dtype=np.float64)
    for _ in range(ROUNDS):
        on = np.abs(heights - best[0] - places @ best[1:]) <= near
        if np.count_nonzero(on) < 3:
            break
        best = _fitted(places[on], heights[on])
    return best


def _through_three(places: Matrix, heights: Vector, most_tilt: float) -> Matrix:
    """Return planes through three places each, spread evenly over all threes; steep and ill-shaped ones left out."""
    count = len(places)
    if count < 3:
        return np.empty((0, 3))
    shares = np.outer(np.arange(1, TRIALS + 1), (0.7548776662466927, 0.5698402909980532, 0.8191725133961645)) % 1
    chosen = np.minimum((shares * count).astype(np.intp), count - 1)  # steps of irrational length: even, not by chance
    one, two, three = (chosen[:, column] for column in range(3))
    first, second = places[two] - places[one], places[three] - places[one]
    area = first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0]
    extent = float(np.prod(np.ptp(places, axis=0)))
    good = np.abs(area) > max(0.02 * extent, 1e-9)
    one, first, second, area = one[good], first[good], second[good], area[good]
    rise, other = heights[two[good]] - heights[one], heights[three[good]] - heights[one]
    tilts = np.column_stack(
        [(rise * second[:, 1] - other * first[:, 1]) / area, (other * first[:, 0] - rise * second[:, 0]) / area]
    )
    planes = np.column_stack([heights[one] - np.einsum("ij,ij->i", tilts, places[one]), tilts])
    kept: Matrix = planes[np.all(np.abs(tilts) <= most_tilt, axis=1)]
    return kept


def _fitted(places: Matrix, heights: Vector) -> Vector:
    design = np.column_stack([np.ones(len(places)), places])
    return np.asarray(np.linalg.lstsq(design, heights, rcond=None)[0], dtype=np.float64)


def clipped_plane(places: Matrix, heights: Vector, least_sd: float) -> tuple[Vector, float, NDArray[np.bool_]]:
    """Fit a plane to a patch, leaving out what lies off it, in a few rounds.

    Args:
        places: two coordinates a row, at least three.
        heights: of each place.
        least_sd: what is nearer than three times this is never left out.

    Returns:
        The plane (offset and two tilts), the standard deviation of what counted, and which values counted.
    """
    plane = np.array([float(np.median(heights)), 0.0, 0.0])
    counted = np.ones(len(heights), dtype=np.bool_)
    sd = least_sd
    for _ in range(ROUNDS):
        off = heights - plane[0] - places @ plane[1:]
        sd = max(MAD_TO_SD * float(np.median(np.abs(off - np.median(off)))), least_sd)
        again = np.abs(off - float(np.median(off))) <= CLIP_SDS * sd
        if np.count_nonzero(again) < 6:
            break
        plane = _fitted(places[again], heights[again])
        if np.array_equal(again, counted):
            break
        counted = again
    off = (heights - plane[0] - places @ plane[1:])[counted]
    return plane, float(np.sqrt(np.mean(off**2))), counted
