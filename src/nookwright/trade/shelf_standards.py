"""Loads and sag limits of shelves, each by the standard that states it, and live loads of floors."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from nookwright.basics.sources import SourceStatus
from nookwright.trade.fixings import MM_PER_INCH, N_PER_LB

ShelfLimitKey = Literal["eye", "woodwork", "woodwork library", "kitchen", "laboratory", "panel"]

N_MM2_PER_PSF = N_PER_LB / (12 * MM_PER_INCH) ** 2

KPA_PER_PSF = 1000 * N_MM2_PER_PSF

TEST_N_PER_KG = 10.0
"""Furniture tests take 10 N for 1 kg. Source: [furniture-tests]. Status: read."""

STACK_KPA = 150 * KPA_PER_PSF
"""Live load of library stack rooms, 150 lb/ft2. Source: [floor-loads]. Status: read."""

READING_ROOM_KPA = 60 * KPA_PER_PSF
"""Live load of reading rooms, 60 lb/ft2. Source: [floor-loads]. Status: read."""

STACK_HEIGHT_MM = 90 * MM_PER_INCH
"""Stacks as high as this at most are meant by that load. Source: [floor-loads]. Status: read."""

STACK_AISLE_MM = 36 * MM_PER_INCH
"""And aisles at least this wide. Source: [floor-loads]. Status: read."""

STACK_DEPTH_MM = 12 * MM_PER_INCH
"""And shelves as deep as this at most. Source: [floor-loads-recalled]. Status: recalled."""

STACK_KN_M3 = 65 * N_PER_LB / (12 * MM_PER_INCH) ** 3 * 1e6
"""Older texts reckon stacks by their volume, 65 lb/ft3. Source: [floor-loads]. Status: read."""

BOOKS_KG_M = 25 * 0.45359237 / (12 * MM_PER_INCH) * 1000
"""Books on a full shelf, 25 lb a running foot. Source: [floor-loads]. Status: read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfLimit:
    """How a standard loads a shelf, and how far it may sag under that.

    Args:
        key: what the brief calls it.
        name: what people read.
        pressure_n_mm2: its load; None when the brief's own load counts. [N/mm2]
        most_load_n: greatest load put on one shelf; None without such a bound. [N]
        span_ratio: span over sag allowed.
        most_sag_mm: sag allowed whatever the span; None without such a bound. [mm]
        source: key in `trade/sources.py`.
        status: how it was obtained.
    """

    key: ShelfLimitKey
    name: str
    pressure_n_mm2: float | None
    most_load_n: float | None
    span_ratio: float | None
    most_sag_mm: float | None
    source: str
    status: SourceStatus


SHELF_LIMITS: tuple[ShelfLimit, ...] = (
    ShelfLimit(
        key="eye", name="what the eye notices", pressure_n_mm2=None, most_load_n=None, span_ratio=384.0,
        most_sag_mm=None, source="shelf-practice", status="common practice",
    ),
    ShelfLimit(
        key="woodwork", name="woodwork standard, shelves in general", pressure_n_mm2=40 * N_MM2_PER_PSF,
        most_load_n=200 * N_PER_LB, span_ratio=144.0, most_sag_mm=None, source="aws-2009", status="read",
    ),
    ShelfLimit(
        key="woodwork library", name="woodwork standard, libraries and schools", pressure_n_mm2=50 * N_MM2_PER_PSF,
        most_load_n=200 * N_PER_LB, span_ratio=144.0, most_sag_mm=None, source="aws-2009", status="read",
    ),
    ShelfLimit(
        key="kitchen", name="kitchen cabinet standard", pressure_n_mm2=15 * N_MM2_PER_PSF, most_load_n=None,
        span_ratio=192.0, most_sag_mm=0.25 * MM_PER_INCH, source="kitchen-cabinets", status="read",
    ),
    ShelfLimit(
        key="laboratory", name="laboratory furniture standard", pressure_n_mm2=40 * N_MM2_PER_PSF, most_load_n=None,
        span_ratio=None, most_sag_mm=0.25 * MM_PER_INCH, source="laboratory-shelves", status="read",
    ),
    ShelfLimit(
        key="panel", name="board makers' bulletin", pressure_n_mm2=None, most_load_n=None, span_ratio=240.0,
        most_sag_mm=None, source="panel-shelving", status="read",
    ),
)  # fmt: skip
"""Source: [shelf-practice], [aws-2009] 1.2.21, [kitchen-cabinets], [laboratory-shelves], [panel-shelving]: named per
entry with its status."""


def shelf_limit(key: ShelfLimitKey) -> ShelfLimit:
    """Return the limit of that key."""
    return next(each for each in SHELF_LIMITS if each.key == key)


def standard_load(limit: ShelfLimit, *, span_mm: float, depth_mm: float) -> float | None:
    """Return the load a standard puts on a shelf, spread along it.

    Args:
        limit: the standard.
        span_mm: clear span. [mm]
        depth_mm: front to back. [mm]

    Returns:
        Load; None when the standard names none. [N/mm]

    Source:
        Named per standard. The woodwork standard never puts more than 200 lb on one shelf.

    Example:
        >>> load = standard_load(shelf_limit("woodwork"), span_mm=1016, depth_mm=254)
        >>> round(load * 1016 / 4.4482216)
        111
    """
    if limit.pressure_n_mm2 is None:
        return None
    load = limit.pressure_n_mm2 * depth_mm
    return load if limit.most_load_n is None else min(load, limit.most_load_n / span_mm)


def sag_allowed(limit: ShelfLimit, span_mm: float) -> float:
    """Return the sag a standard allows over a span.

    Args:
        limit: the standard.
        span_mm: clear span. [mm]

    Returns:
        The lower of its share of the span and its own bound. [mm]

    Source:
        Named per standard.

    Example:
        >>> round(sag_allowed(shelf_limit("kitchen"), 609.6), 3)
        3.175
    """
    bounds = [] if limit.span_ratio is None else [span_mm / limit.span_ratio]
    if limit.most_sag_mm is not None:
        bounds.append(limit.most_sag_mm)
    return min(bounds)


def stack_pressure(*, shelves: int, load_n_mm: float, depth_mm: float) -> float:
    r"""Return what full shelves one above the other press on the floor under them.

    $q = n w / d$

    Args:
        shelves: n, the lowest one and both sides of a double stack counted.
        load_n_mm: w, on each, per length. [N/mm]
        depth_mm: d, of the stack, front to back. [mm]

    Returns:
        Pressure. [kPa]

    Source:
        [floor-loads] as an engineers' archive works it. Status: read.

    Example:
        >>> round(stack_pressure(shelves=14, load_n_mm=25 * 4.4482216 / 304.8, depth_mm=21 * 25.4) / 0.04788)
        200
    """
    return 1000 * shelves * load_n_mm / depth_mm
