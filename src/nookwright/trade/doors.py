"""Door leaves: gaps round inset doors, laps of overlay and sliding ones."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Leaves = Literal["one", "pair", "sliding"]

INSET_SINGLE_MM = 4.8
"""A single inset door is smaller than its opening by this in all, 3/16 in. Source: [inset-doors]. Status: read."""

INSET_PAIR_MM = 7.1
"""A pair of inset doors is narrower than its opening by this in all, 9/32 in. Source: [inset-doors]. Status: read."""

INSET_GAP_MM = 2.4
"""Gap on each side of an inset door, 3/32 in. Source: [inset-doors]. Status: read."""

OVERLAY_GAP_MM = 3.0
"""Gap between overlay doors side by side, 3 to 5 mm. Source: [inset-doors]. Status: read."""

SLIDING_OVERLAP_MM = 25.0
"""How far two sliding doors pass each other. Source: [trade-practice]. Status: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafSize:
    """One door leaf. [mm]"""

    width_mm: float
    height_mm: float
    leaves: int


def inset_leaf(*, opening_width_mm: float, opening_height_mm: float, leaves: Leaves) -> LeafSize:
    """Return the size of each leaf set inside an opening.

    Args:
        opening_width_mm: clear width. [mm]
        opening_height_mm: clear height. [mm]
        leaves: one door, a pair, or two sliding past each other.

    Returns:
        Size of one leaf, and how many there are.

    Valid:
        Before paint; each painted face takes 0.1 mm off a gap. Sliding doors: the track's own figure rules the height.

    Source:
        [inset-doors] opening less 3/16 in, pair less 9/32 in. Status: read. Sliding overlap: [trade-practice].

    Example:
        >>> inset_leaf(opening_width_mm=600, opening_height_mm=700, leaves="pair").width_mm
        296.45
    """
    height = opening_height_mm - INSET_SINGLE_MM
    if leaves == "one":
        return LeafSize(width_mm=opening_width_mm - INSET_SINGLE_MM, height_mm=height, leaves=1)
    if leaves == "pair":
        return LeafSize(width_mm=(opening_width_mm - INSET_PAIR_MM) / 2, height_mm=height, leaves=2)
    return LeafSize(width_mm=(opening_width_mm + SLIDING_OVERLAP_MM) / 2, height_mm=height, leaves=2)


def overlay_leaf(
    *, opening_width_mm: float, opening_height_mm: float, lap_side_mm: float, lap_end_mm: float, leaves: Leaves
) -> LeafSize:
    """Return the size of each leaf laid on the edges of a case.

    Args:
        opening_width_mm: clear width. [mm]
        opening_height_mm: clear height. [mm]
        lap_side_mm: how far it covers each upright. [mm]
        lap_end_mm: how far it covers the boards above and below. [mm]
        leaves: one door or a pair; sliding doors are always inset.

    Returns:
        Size of one leaf, and how many there are.

    Raises:
        ValueError: for sliding leaves, which cannot be laid on.

    Valid:
        Two doors on one upright share its thickness: lap each by (thickness - 3 mm) / 2.

    Source:
        [inset-doors] 3 to 5 mm between overlay doors. Status: read.

    Example:
        >>> overlay_leaf(
        ...     opening_width_mm=564, opening_height_mm=700, lap_side_mm=15, lap_end_mm=15, leaves="pair"
        ... ).width_mm
        295.5
    """
    width, height = opening_width_mm + 2 * lap_side_mm, opening_height_mm + 2 * lap_end_mm
    if leaves == "one":
        return LeafSize(width_mm=width, height_mm=height, leaves=1)
    if leaves == "pair":
        return LeafSize(width_mm=(width - OVERLAY_GAP_MM) / 2, height_mm=height, leaves=2)
    message = "sliding doors are always inset"
    raise ValueError(message)
