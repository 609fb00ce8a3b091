"""The glue-up of every top made of boards: boards, clamps and their force, glue, times, and whether the wood is dry."""

from __future__ import annotations

import math

from nookwright.basics.findings import Finding, Verdict
from nookwright.basics.lengths import Marks
from nookwright.stages.checks.said import great_force, size, small_mass, warmth
from nookwright.stages.checks.seasons import year_of
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.shop import BoardStock, Glue, Shop
from nookwright.stages.parts.part import Part, PartList
from nookwright.stages.parts.sizes import cut_size_mm
from nookwright.trade.fixings import BOARD_GRAVITY
from nookwright.trade.glue_up import (
    FORMULA,
    LEAST_PCT,
    MOST_PCT,
    clamp_pressure,
    clamp_spacing,
    clamps_needed,
)
from nookwright.trade.woods import wood

KILO = 1000.0
_LITTLE = 0.1
"""A last board of which no more than this share is needed is told. Common practice, no source."""


def check_glue_up(parts: PartList, shop: Shop, brief: Brief) -> tuple[Finding, ...]:
    """Return the glue-up of every part that is made of boards edge to edge.

    Args:
        parts: every part.
        shop: the glue and the clamps.
        brief: the climate, and the units people read.

    Returns:
        One finding a part: a caution where wood of this room is too moist to glue or clamps would crowd.
    """
    return tuple(_glue_up(part, _board_width(part, shop), shop.glue, brief) for part in parts.parts if part.pieces > 1)


def _board_width(part: Part, shop: Shop) -> float:
    """Return how wide the boards are that a part is glued up from, their edges straight. [mm]"""
    stock = shop.stock(part.stock)
    return stock.straight_width_mm if isinstance(stock, BoardStock) else part.blank_mm[1] / part.pieces


def _cut_size(part: Part, brief: Brief) -> tuple[float, float]:
    """Return the length and width that a part's blank is cut to. [mm]"""
    return cut_size_mm(part, Marks(units=brief.units, resolution=brief.resolution))


def _boards_said(part: Part, wide_mm: float, brief: Brief) -> str:
    """Return which boards to take, and how little the last of them gives where that is little."""
    width, fewer = _cut_size(part, brief)[1], part.pieces - 1
    said = f"{part.pieces} boards of {size(wide_mm, brief)}, {size(part.pieces * wide_mm, brief)} in all"
    over = width - fewer * wide_mm
    if over <= wide_mm * _LITTLE:
        said += f" ({fewer} would do for a blank {size(over, brief)} narrower)"
    return f"{said}, to be cut to {size(width, brief)} once they are glued"


def _glue_up(part: Part, wide_mm: float, glue: Glue, brief: Brief) -> Finding:
    """Return one glue-up."""
    figure = wood(part.wood).gravity
    low, high = clamp_pressure(BOARD_GRAVITY if figure is None else figure.value)
    length = _cut_size(part, brief)[0]
    lines, t = part.pieces - 1, part.thickness_mm
    apart = clamp_spacing(clamp_n=glue.clamp_n, pressure_n_mm2=low, thickness_mm=t)
    count = clamps_needed(length_mm=length, spacing_mm=apart)
    real = (length - 100.0) / (count - 1)
    grams = lines * length * t * 1e-6 * glue.spread_g_m2
    minutes = glue.open_min / max(1, lines)
    crowds, moist = apart < 75.0, year_of(brief).low_pct > MOST_PCT
    verdict: Verdict = "caution" if crowds or moist else "pass"
    return Finding(
        topic="glue-up",
        subject=f"{part.name} {part.number}",
        verdict=verdict,
        summary=(
            f"It is glued up edge to edge. Take {_boards_said(part, wide_mm, brief)}; {lines} "
            f"glue line{'s' if lines > 1 else ''} {size(length, brief)} long: {count} clamps, {size(real, brief)} "
            f"apart, over and under by turns, each pressing {great_force(low * t * real, brief)} to "
            f"{great_force(high * t * real, brief)}. It takes {small_mass(math.ceil(grams / 5) * 5, brief)} of glue, "
            "every "
            "line closed within "
            f"{glue.open_min:g} minutes, {minutes:.0f} a line; clamped {glue.clamp_min:g} minutes, not stressed for "
            f"{glue.rest_h:g} hours, at {warmth(glue.least_c, brief)} or more. Wood is best at {LEAST_PCT:g} to "
            f"{MOST_PCT:g} % "
            "moisture, every board alike; plane the edges the same day."
        ),
        formula=f"{FORMULA}; glue = lines x L t x spread",
        worked=(
            f"{glue.clamp_n:.0f} / ({low:.2f} x {t:.1f}) = {glue.clamp_n / (low * t):.0f} mm; {count} clamps, "
            f"{real:.0f} mm apart; {lines} x {length / KILO:.2f} x {t / KILO:.3f} m2 x {glue.spread_g_m2:g} g/m2 = "
            f"{grams:.0f} g"
        ),
        source_keys=("gluing-guides", "gluing-recalled", "clamp-test", "statics", "trade-practice"),
        remedy=_cure(crowds=crowds, moist=moist, lines=lines),
    )


def _cure(*, crowds: bool, moist: bool, lines: int) -> str:
    """Return what to do where clamps would crowd, or this room leaves wood too moist."""
    told = []
    if crowds:
        told.append(
            "These clamps are too weak for so thick a hard wood: take heavier ones, or glue one line at a time."
            if lines > 1
            else "These clamps are too weak for so thick a hard wood: take heavier ones."
        )
    if moist:
        told.append("Wood kept in this room stays moister than that: store the boards where it is drier first.")
    return " ".join(told)
