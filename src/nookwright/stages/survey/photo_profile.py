"""A photo's profile as readings: one gap for each card, under a straightedge that lay as it pleased."""

from __future__ import annotations

from dataclasses import replace

from nookwright.stages.inputs.survey import GapReading, StripPhoto, Survey
from nookwright.stages.survey.strip_photo import Detections, profile_of


def with_profile(survey: Survey, photo: StripPhoto, detections: Detections, size_px: tuple[int, int]) -> Survey:
    """Return the survey with the gaps that a photo of the marker strip shows.

    The strip is one more laying of a straightedge: how far and how askew it lay from the wall is left open.

    Args:
        survey: the field book.
        photo: what is known of the photo.
        detections: the markers seen in it.
        size_px: its width and height. [pixels]

    Returns:
        The survey with one reading for each card.

    Raises:
        UnusablePhotoError: if the photo shows no profile.
    """
    profile = profile_of(detections, size_px, one_piece=photo.one_piece, ruler=photo.ruler)
    laid = [r.set_up for r in survey.readings if isinstance(r, GapReading) and r.line == photo.line]
    nearest = min(station.out_mm for station in profile.stations)
    gaps = tuple(
        GapReading(
            line=photo.line,
            at_mm=max(photo.zero_mm + station.along_mm, 0.0),
            gap_mm=station.out_mm - nearest,
            set_up=max(laid, default=0) + 1,
            sd_mm=station.sd_mm,
            where=photo.where,
        )
        for station in profile.stations
    )
    return replace(survey, readings=(*survey.readings, *gaps))
