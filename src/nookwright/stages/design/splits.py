"""Where the brief makes a long thing in pieces: places along it, in order, none too near to another or to an end."""

from __future__ import annotations

from itertools import pairwise

from nookwright.basics.problems import Where
from nookwright.stages.design.setting import Setting

LEAST_PIECE_MM = 100.0
"""A piece shorter than this is a mistake rather than a wish. Our choice."""


def split_at(
    name: str, length_mm: float, places_mm: tuple[float, ...], setting: Setting, where: Where
) -> tuple[float, ...]:
    """Return the places where something is split, from its left end; none after noting that they cannot be.

    Args:
        name: what it is called.
        length_mm: its length. [mm]
        places_mm: as the brief has them. [mm]
        setting: the job.
        where: where the brief speaks of it.
    """
    if all(b - a >= LEAST_PIECE_MM for a, b in pairwise((0.0, *places_mm, length_mm))):
        return places_mm
    setting.inspection.expect(
        not places_mm,
        "split",
        f"{name} split at {', '.join(setting.said(place) for place in places_mm)}",
        f"places along its {setting.said(length_mm)}, from its left end, in rising order, "
        f"{setting.said(LEAST_PIECE_MM)} apart and from its ends",
        where=where,
    )
    return ()
