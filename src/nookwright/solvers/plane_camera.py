"""A camera looking at a plane through a lens that bends lines: from places on the plane to places in the picture."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix, Vector

VIEW = 8
"""Numbers that tell how the plane is seen: the entries of a homography, the last one held at 1."""

LENS = 2
"""Numbers that tell how the lens bends lines."""

METRE = 1000.0
"""Places on the plane are counted in metres inside, so that all entries are of one size."""


def first_view(places: Matrix, seen: Matrix) -> Vector:
    """Return how a plane is seen, from four or more places, as if the lens bent nothing.

    Args:
        places: on the plane, one a row. [mm]
        seen: in the picture, from its middle.

    Returns:
        The eight numbers of `project`.

    Source:
        Direct linear transformation, as in Hartley and Zisserman, Multiple View Geometry. Status: recalled.
    """
    x, y = (places / METRE).T
    u, v = seen.T
    one, none = np.ones_like(x), np.zeros_like(x)
    rows = np.concatenate(
        [
            np.column_stack([x, y, one, none, none, none, -u * x, -u * y, -u]),
            np.column_stack([none, none, none, x, y, one, -v * x, -v * y, -v]),
        ]
    )
    last = np.linalg.svd(rows, full_matrices=False)[2][-1]
    found: Vector = last[:VIEW] / last[VIEW]
    return found


def on_plane(view: Vector, seen: Matrix) -> Matrix:
    """Return the places on the plane that are seen at places of the picture, as if the lens bent nothing. [mm]"""
    whole = np.append(view, 1.0).reshape(3, 3)
    back = np.column_stack([seen, np.ones(len(seen))]) @ np.linalg.inv(whole).T
    found: Matrix = METRE * back[:, :2] / back[:, 2:]
    return found


def project(view: Vector, lens: Vector, places: Matrix) -> tuple[Matrix, NDArray[np.float64], NDArray[np.float64]]:
    """Return where places on the plane are seen in the picture.

    Args:
        view: the homography's eight numbers.
        lens: k1 and k2 of the radial bend 1 + k1 r^2 + k2 r^4.
        places: on the plane, one a row. [mm]

    Returns:
        Places in the picture from its middle; their derivatives by view and lens (2 x 10 each); and by the place
        (2 x 2 each). [1/mm]

    Source:
        The radial lens model of Brown, Photogrammetric Engineering 37 (1971), first two terms. Status: recalled.
    """
    at = np.column_stack([places / METRE, np.ones(len(places))])
    whole = np.append(view, 1.0).reshape(3, 3)
    across, down, depth = (at @ whole.T).T
    u, v = across / depth, down / depth
    by_view = np.zeros((len(at), 2, VIEW))
    by_view[:, 0, 0:3] = by_view[:, 1, 3:6] = at / depth[:, None]
    by_view[:, 0, 6:8], by_view[:, 1, 6:8] = (-(w / depth)[:, None] * at[:, :2] for w in (u, v))
    by_place = np.empty((len(at), 2, 2))
    for axis, w in enumerate((u, v)):
        by_place[:, axis] = (whole[axis, :2] - w[:, None] * whole[2, :2]) / depth[:, None] / METRE
    square = u**2 + v**2
    bend = 1 + lens[0] * square + lens[1] * square**2
    slope = 2 * lens[0] + 4 * lens[1] * square  # derivative of the bend by u is u times this
    bent = np.empty((len(at), 2, 2))
    bent[:, 0, 0], bent[:, 1, 1] = bend + u**2 * slope, bend + v**2 * slope
    bent[:, 0, 1] = bent[:, 1, 0] = u * v * slope
    by_lens = np.stack([np.column_stack([u * square, u * square**2]), np.column_stack([v * square, v * square**2])], 1)
    by_camera = np.concatenate([bent @ by_view, by_lens], axis=2)
    return np.column_stack([u * bend, v * bend]), by_camera, bent @ by_place
