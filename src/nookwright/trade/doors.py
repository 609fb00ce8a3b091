"""Gaps round inset doors, between overlay doors, and how far sliding ones pass; leaves are sized by the design."""

from __future__ import annotations

INSET_SINGLE_MM = 4.8
"""A single inset door is smaller than its opening by this in all, 3/16 in. Source: [inset-doors]. Status: read."""

INSET_PAIR_MM = 7.1
"""A pair of inset doors is narrower than its opening by this in all, 9/32 in. Source: [inset-doors]. Status: read."""

OVERLAY_GAP_MM = 3.0
"""Gap between overlay doors side by side, 3 to 5 mm. Source: [inset-doors]. Status: read."""

SLIDING_OVERLAP_MM = 25.0
"""How far two sliding doors pass each other. Source: [trade-practice]. Status: common practice."""
