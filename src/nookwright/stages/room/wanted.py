"""What the furniture needs to know of the room, and how well it is known."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from nookwright.solvers.linear_fit import Vector
from nookwright.stages.inputs.brief import Brief, Cases
from nookwright.stages.inputs.survey import SurfaceName
from nookwright.stages.room.derived import Adjusted, sought
from nookwright.stages.room.height_field import HeightField

TOP_MM = 20.0
"""Thickness of a worktop as far as the heights above it are concerned. [mm] Common practice, no source."""

REACH = {"mm": 1.0, "deg": math.radians(600.0), "mm/m": 1.0}
"""What an angle or a lean shifts at a usual reach: 600 mm out from a corner, 1 m up or along. [mm] Common practice, no
source."""

Place = tuple[float, float]
Term = tuple[SurfaceName, Place, float]
"""A surface, a place on it, and the factor it counts with."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wanted:
    """A length that the furniture needs.

    Args:
        words: what it is.
        row: its derivatives by the state.
        own_variance: what exact spots would still leave of its variance. [mm2]
    """

    words: str
    row: Vector
    own_variance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tier:
    """A tier of furniture in the room, and whether it goes up to the ceiling. [mm]"""

    name: str
    low_mm: float
    high_mm: float
    depth_mm: float
    to_ceiling: bool


def heights_wanted(brief: Brief, fields: dict[SurfaceName, HeightField], width_mm: float) -> tuple[float, ...]:
    """Return the heights at which the furniture meets the walls, above the floor at `BL0`. [mm]"""
    tiers = _tiers(brief, fields, width_mm)
    return tuple(sorted({height for tier in tiers for height in (tier.low_mm, tier.high_mm) if height > 0}))


def wanted(brief: Brief, fields: dict[SurfaceName, HeightField], width_mm: float) -> tuple[Wanted, ...]:
    """Return what the furniture of a brief needs to know.

    Args:
        brief: what is wanted.
        fields: the room's surfaces.
        width_mm: how far right the back wall goes. [mm]

    Returns:
        Widths, squareness, back wall, clearance above, and the floor under it.
    """
    if "back" not in fields:  # between which walls the furniture stands is not told
        return ()
    left = brief.start_mm if brief.start_mm is not None else 0.0
    right = brief.end_mm if brief.end_mm is not None else width_mm
    tiers = _tiers(brief, fields, width_mm)
    terms = [each for tier in tiers for each in _of_tier(tier, fields, left, right)]
    if tiers:
        terms += _floor(max(tier.depth_mm for tier in tiers), left, right)
    return tuple(_measured(words, parts, fields) for words, parts in terms)


def wanted_of_room(adjusted: Adjusted) -> tuple[Wanted, ...]:
    """Return what a room is judged by as lengths, where no furniture says what matters.

    Args:
        adjusted: the room.

    Returns:
        Corners, leans, widths, depths, falls and heights; an angle counts by what it shifts at a usual reach.
    """
    return tuple(
        Wanted(words=f"the {name}", row=REACH[unit] * row, own_variance=REACH[unit] ** 2 * own)
        for name, unit, row, own in sought(adjusted)
    )


def _tiers(brief: Brief, fields: dict[SurfaceName, HeightField], width_mm: float) -> list[_Tier]:
    base = brief.platform.height_mm if brief.platform else 0.0
    found: list[_Tier] = []
    for tier in brief.tiers:
        if not isinstance(tier, Cases):
            base += TOP_MM
            continue
        high = base + tier.height_mm if tier.height_mm is not None else _height_above(fields, width_mm, tier.depth_mm)
        found.append(
            _Tier(
                name=tier.name,
                low_mm=base,
                high_mm=max(high, base),
                depth_mm=tier.depth_mm,
                to_ceiling=tier.height_mm is None,
            )
        )
        base = high
    return found


def _height_above(fields: dict[SurfaceName, HeightField], width_mm: float, depth_mm: float) -> float:
    """Return how high the slope or ceiling is over the lower end of the run. [mm]"""
    tops = [fields[top] for top in ("slope", "ceiling") if top in fields]
    ends = np.array([0.0, width_mm])
    out = np.full(2, -depth_mm / 2)
    return min((float(top.values(ends, out).max()) for top in tops), default=2000.0)


def _of_tier(
    tier: _Tier, fields: dict[SurfaceName, HeightField], left: float, right: float
) -> Iterator[tuple[str, list[Term]]]:
    run = max(right - left, 1.0)
    for height in (tier.low_mm, tier.high_mm):
        for out in (0.0, -tier.depth_mm):
            if "left" in fields and "right" in fields:
                at = (out, height)
                yield f"the width of {tier.name}", [("right", at, 1.0), ("left", at, -1.0)]
        for side, sign in (("left", 1.0), ("right", -1.0)):
            if side in fields:
                turn = tier.depth_mm / run
                yield (
                    f"the back {side} corner beside {tier.name}",
                    [
                        (side, (-tier.depth_mm, height), sign),
                        (side, (0.0, height), -sign),
                        ("back", (right, height), -sign * turn),
                        ("back", (left, height), sign * turn),
                    ],
                )
    for x in (left, right):
        yield f"the back wall behind {tier.name}", [("back", (x, tier.high_mm), 1.0), ("back", (x, tier.low_mm), -1.0)]
        for top in ("slope", "ceiling") if tier.to_ceiling else ("slope",):
            if top in fields:
                for out in (0.0, -tier.depth_mm):
                    yield f"the height over {tier.name}", [(top, (x, out), 1.0), ("floor", (x, out), -1.0)]


def _floor(depth: float, left: float, right: float) -> Iterator[tuple[str, list[Term]]]:
    """Give how each corner of the footprint stands beside the mean of the four."""
    feet = [(left, 0.0), (right, 0.0), (left, -depth), (right, -depth)]
    for here in feet:
        yield "the floor under the furniture", [("floor", foot, (foot == here) - 0.25) for foot in feet]


def _measured(words: str, terms: list[Term], fields: dict[SurfaceName, HeightField]) -> Wanted:
    row: Vector = np.zeros(next(iter(fields.values())).count)
    own = 0.0
    for surface in sorted({surface for surface, _, _ in terms}):
        parts = [(place, factor) for name, place, factor in terms if name == surface]
        p, q = (np.array([place[i] for place, _ in parts]) for i in (0, 1))
        _, rows, left = fields[surface].sums(np.array([[factor for _, factor in parts]]), p, q)
        row, own = row + rows[0], own + float(left[0, 0])
    return Wanted(words=words, row=row, own_variance=max(own, 0.0))
