"""The scans and photos that room.yaml names: their files opened, what they show added to the survey."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from nookwright.basics.lengths import Units, quoted, show_read
from nookwright.basics.problems import Inspection, Problem, Where
from nookwright.files.photo_strip import PhotosNotInstalledError, Sighting, read_photo
from nookwright.files.scan_e57 import ScansNotInstalledError, read_e57
from nookwright.files.scan_ply import Points, UnreadableScanError, read_ply
from nookwright.stages.inputs.scan import UNITS_MM, Scan
from nookwright.stages.inputs.survey import StripPhoto, Survey
from nookwright.stages.survey.examine import examine
from nookwright.stages.survey.photo_profile import with_profile
from nookwright.stages.survey.scan_register import with_surfaces
from nookwright.stages.survey.strip_photo import UnusablePhotoError


def with_recordings(survey: Survey, folder: Path) -> Survey:
    """Return the survey with what its scans and photos show.

    Args:
        survey: as room.yaml says.
        folder: the job folder; file names start from there.

    Returns:
        The survey, scans laid on the room, photos turned into readings.

    Raises:
        InvalidInputError: with everything wrong with the files, or with the readings they are laid on.
    """
    inspection = Inspection()
    clouds = [_cloud(scan, folder, survey.units, inspection) if scan.use else None for scan in survey.scans]
    for photo in survey.photos:
        if photo.use:
            survey = _with_photo(survey, photo, folder, inspection)
    inspection.finish()
    if not survey.scans:
        return survey
    examine(survey)
    return with_surfaces(survey, clouds)


def _cloud(scan: Scan, folder: Path, units: Units, inspection: Inspection) -> Points | None:
    """Return a scan's points; None after noting a problem. [mm]"""
    path = folder / scan.name
    wanted = "a PLY or E57 file"
    try:
        match path.suffix.lower():
            case ".ply":
                points = read_ply(path) * scan.mm_per_unit
            case ".e57":
                points = read_e57(path) * UNITS_MM["m"]
            case _:
                _note(inspection, scan.where, f"scan {quoted(scan.name)}", wanted)
                return None
    except OSError as fault:
        _note_unopened(inspection, scan.where, scan.name, wanted, fault)
    except UnreadableScanError as fault:
        _note(inspection, scan.where, f"{fault} in {scan.name}", wanted, "Export it from the scanner's program again.")
    except ScansNotInstalledError:
        hint = "Install it with `pip install nookwright[scan]`, or export the scan as PLY."
        _note(
            inspection, scan.where, f"scan {scan.name}, but no reader of E57 files", "the optional extra `scan`", hint
        )
    else:
        return _near(points, scan, units, inspection)
    return None


def _near(points: Points, scan: Scan, units: Units, inspection: Inspection) -> Points | None:
    """Return the points that are not too far from the scan's zero."""
    if scan.farthest_mm is None:
        return points
    near: Points = points[np.einsum("ij,ij->i", points, points) <= scan.farthest_mm**2]
    if len(near) == 0:
        _note(
            inspection,
            scan.where,
            f"no point of {scan.name} within {show_read(scan.farthest_mm, units)} of its own zero",
            "points nearer than `farthest`",
            "Take `farthest` out if the scan's zero is not where the scanner stood.",
        )
        return None
    return near


def _with_photo(survey: Survey, photo: StripPhoto, folder: Path, inspection: Inspection) -> Survey:
    """Return the survey with a photo's gaps, or as it was after noting a problem."""
    wanted = "a photo of the marker strip, as JPEG or PNG"
    try:
        seen = read_photo(folder / photo.name)
    except OSError as fault:
        _note_unopened(inspection, photo.where, photo.name, wanted, fault)
        return survey
    except PhotosNotInstalledError:
        hint = "Install it with `pip install nookwright[photo]`."
        _note(
            inspection, photo.where, f"photo {photo.name}, but no reader of photos", "the optional extra `photo`", hint
        )
        return survey
    if seen is None:
        _note(inspection, photo.where, f"no picture in {photo.name}", wanted)
        return survey
    return _with_sighting(survey, photo, seen, inspection)


def _with_sighting(survey: Survey, photo: StripPhoto, seen: Sighting, inspection: Inspection) -> Survey:
    try:
        return with_profile(survey, photo, seen.markers, seen.size_px)
    except UnusablePhotoError as fault:
        _note(inspection, photo.where, f"{fault} in {photo.name}", "the strip and its cards", fault.hint)
        return survey


def _note(inspection: Inspection, where: Where, found: str, expected: str, hint: str = "") -> None:
    inspection.add(Problem(where=where, found=found, expected=expected, hint=hint))


def _note_unopened(inspection: Inspection, where: Where, name: str, wanted: str, fault: OSError) -> None:
    missing = isinstance(fault, FileNotFoundError)
    found = f"no file {quoted(name)}" if missing else f"file {quoted(name)} that cannot be opened"
    hint = "The path starts from the job folder." if missing else f"The system says: {fault.strerror}."
    _note(inspection, where, found, wanted, hint)
