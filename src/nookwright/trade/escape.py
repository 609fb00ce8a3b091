"""Sizes that one building code asks of escape openings, and how low glass may begin."""

from __future__ import annotations

ESCAPE_SILL_MM = 44 * 25.4
"""Highest sill. Source: [site-codes] R310. Status: read."""

ESCAPE_WIDTH_MM = 20 * 25.4
"""Least clear width. Source: [site-codes] R310. Status: read."""

ESCAPE_HEIGHT_MM = 24 * 25.4
"""Least clear height. Source: [site-codes] R310. Status: read."""

ESCAPE_AREA_M2 = 0.53
"""Least clear area, 5.7 ft2. Source: [site-codes] R310. Status: read."""

LOW_GLASS_MM = 18 * 25.4
"""Glass that begins lower above where people walk may need to be safe. Source: [site-codes] R308. Status: read."""
