"""E57 -> points: every scan in the file, each where its own pose puts it. Needs the optional extra `scan`."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from nookwright.files.scan_ply import MOST_POINTS, NO_POINTS, Points, UnreadableScanError


class ScansNotInstalledError(ImportError):
    """The optional extra that reads E57 files is not installed."""


def read_e57(path: Path) -> Points:
    """Return the points of an E57 file, at most `MOST_POINTS`, taken evenly.

    Args:
        path: the file.

    Returns:
        One point a row, in metres, which is the format's only unit.

    Raises:
        ScansNotInstalledError: if the extra is missing.
        UnreadableScanError: if the file cannot be read or holds no points.
    """
    try:
        import pye57  # noqa: PLC0415  optional, and slow to import
    except ImportError as fault:
        raise ScansNotInstalledError from fault
    try:
        held = pye57.E57(str(path))
        scans = [held.read_scan(number, ignore_missing_fields=True) for number in range(held.scan_count)]
        held.close()
    except (pye57.libe57.E57Exception, KeyError, ValueError) as fault:
        message = "a file that is damaged or no E57 file"
        raise UnreadableScanError(message) from fault
    clouds = [np.column_stack([scan[f"cartesian{axis}"] for axis in "XYZ"]) for scan in scans]
    points = np.concatenate([np.empty((0, 3)), *clouds])
    points = points[np.isfinite(points).all(axis=1)]
    if len(points) == 0:
        raise UnreadableScanError(NO_POINTS)
    return np.asarray(points[:: max(1, -(-len(points) // MOST_POINTS))], dtype=np.float64)
