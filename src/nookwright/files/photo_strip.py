"""A photo of the marker strip -> the markers seen in it. Needs the optional extra `photo`."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix

REFINE_SHARE = 0.12
"""Corners are refined within this share of a marker's side. Common practice, no source."""


WIDEST_WINDOW_PX = 53
"""Widest neighbourhood that tells black from white in uneven light. [pixels] Common practice, no source."""

LEAST_PERIMETER = 0.02
"""Smallest marker, its perimeter as a share of the picture's longer side. Common practice, no source."""


class PhotosNotInstalledError(ImportError):
    """The optional extra that reads photos is not installed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sighting:
    """What a photo shows.

    Args:
        markers: of each marker seen: its corners, x right and y down, clockwise from its own upper left. [pixels]
        size_px: width and height. [pixels]
    """

    markers: dict[int, Matrix]
    size_px: tuple[int, int]


def read_photo(path: Path) -> Sighting | None:
    """Return the markers seen in a photo; None when the file is no picture.

    Args:
        path: the picture.

    Raises:
        PhotosNotInstalledError: if the extra is missing.
        OSError: if the file cannot be opened.
    """
    try:
        import cv2  # noqa: PLC0415  optional, and slow to import
    except ImportError as fault:
        raise PhotosNotInstalledError from fault
    content = np.frombuffer(path.read_bytes(), dtype=np.uint8)
    grey = cv2.imdecode(content, cv2.IMREAD_GRAYSCALE) if len(content) else None
    return None if grey is None else markers_in(grey)


def markers_in(grey: NDArray[np.uint8]) -> Sighting:
    """Return the markers seen in a picture.

    Args:
        grey: the picture in 255 steps of grey, one row a line.

    Returns:
        The markers; a number seen twice is left out, as nobody could say which is meant.
    """
    import cv2  # noqa: PLC0415  optional, and slow to import

    settings = cv2.aruco.DetectorParameters()
    settings.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    settings.relativeCornerRefinmentWinSize = REFINE_SHARE
    settings.cornerRefinementMaxIterations = 50
    settings.cornerRefinementMinAccuracy = 0.01
    settings.adaptiveThreshWinSizeMax = WIDEST_WINDOW_PX
    settings.minMarkerPerimeterRate = LEAST_PERIMETER
    book = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_100)
    corners, numbers, _ = cv2.aruco.ArucoDetector(book, settings).detectMarkers(grey)
    seen = [int(number) for number in np.ravel(numbers)] if numbers is not None else []
    found = {
        number: np.asarray(corner, dtype=np.float64).reshape(4, 2)
        for number, corner in zip(seen, corners, strict=True)
        if seen.count(number) == 1
    }
    return Sighting(markers=found, size_px=(int(grey.shape[1]), int(grey.shape[0])))
