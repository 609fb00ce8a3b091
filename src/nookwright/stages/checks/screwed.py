"""What a row of screws in a butt joint carries across its length, whichever way its screws run."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from nookwright.stages.parts.part import Fastening, Part
from nookwright.trade.fixing_rules import (
    END_GRAIN_LATERAL,
    PERMANENT,
    TIP_DIAMETERS,
    bearing_length,
    slanted_load,
)
from nookwright.trade.fixings import BOARD_GRAVITY, SCREW_DIAMETERS_MM, SCREW_ROOTS_MM, screw_withdrawal, yield_strength
from nookwright.trade.lateral import Dowel, Held, bearing_strength, lateral_yield
from nookwright.trade.woods import wood

SCREW = "No. 8"
"""The screw that boards are joined with. Source: [fitting-guides]. Status: read."""

SHALLOW_SHARE = 0.5
"""Share of the formula that counts below the tabled depth. Source: [trade-practice]. Status: common practice."""

POCKET_RAD = math.radians(15.0)
"""A pocket screw leans by this. Source: [trade-practice]. Status: common practice."""

SHALLOW = "Its screws stand less than 6 diameters deep, which the tables do not cover: half of the formula is counted."

SCREWS_FORMULA = (
    "screws = n Z C_D C_eg, Z = least of the six yield modes; "
    "leaning 15 deg in a pocket at most W Z / (W cos^2 + Z sin^2)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RowHold:
    """What a row of screws carries for good.

    Args:
        holds_n: all of them together; 0 when only their points reach the other piece. [N]
        shallow: whether they stand less deep than the tables cover, 6 diameters.
        worked: the numbers put in.
    """

    holds_n: float
    shallow: bool
    worked: str


def row_holds(held: Part, holder: Part, row: Fastening, *, through_held: bool = False) -> RowHold:
    """Return what a row of screws carries across: pocket screws end in the holder's face, others in the held's end.

    Args:
        held, holder: the pieces joined.
        row: the screws.
        through_held: whether the screws pass the held piece's face and end in the holder's face or edge instead, as
            those do that join two sides, hold a back on or a box down.

    Returns:
        Their load for good, glue left out.
    """
    outside, root = SCREW_DIAMETERS_MM[SCREW], SCREW_ROOTS_MM[SCREW]
    pocket = row.kind == "pocket screw"
    into, through = (holder, held) if pocket or through_held else (held, holder)
    # A pocket screw leaves about half its length in the piece it starts from.
    depth = min(into.thickness_mm - 3.0, row.length_mm / 2) if pocket else row.length_mm - through.thickness_mm
    tabled = bearing_length(diameter_mm=outside, depth_mm=max(0.0, depth))
    # Casework screws often stand shallower than the tables cover: the same formula, and half of it.
    bears, share = (tabled, 1.0) if tabled > 0 else (depth - TIP_DIAMETERS * outside / 2, SHALLOW_SHARE)
    if bears <= 0:
        return RowHold(holds_n=0.0, shallow=True, worked=f"they stand {max(0.0, depth):.0f} mm deep: nothing")
    side = row.length_mm - depth
    dowel = Dowel(diameter_mm=root, rated_mm=outside, yield_n_mm2=yield_strength(outside))
    main = Held(length_mm=bears, bearing_n_mm2=bearing_strength(gravity_of(into)))
    outer = Held(length_mm=side, bearing_n_mm2=bearing_strength(gravity_of(through)))
    modes = lateral_yield(dowel=dowel, main=main, side=outer)
    edge = 1.0 if pocket or through_held else END_GRAIN_LATERAL
    one, way = modes.governing_n, f"mode {modes.governing}"
    if pocket:
        # The joint slides across the holder's face and the screw leans: one way that pulls at its thread as well, the
        # other way it does not. The less counts.
        out = screw_withdrawal(gravity=gravity_of(into), diameter_mm=outside) * depth
        slanted = slanted_load(withdrawal_n=out, lateral_n=one, angle_rad=POCKET_RAD)
        if slanted < one:
            one, way = slanted, f"{way} {one:.0f}, W {out:.0f}, leaning"
    holds = row.count * one * PERMANENT * edge * share
    each = f"{row.count} x {one:.0f} x {PERMANENT} x {edge}" + (f" x {share}" if share < 1 else "")
    worked = (
        f"{each} = {holds:.0f} N ({SCREW}, {bears:.0f} mm in of Fe {main.bearing_n_mm2:.1f}, {side:.0f} mm through of "
        "Fe "
        f"{outer.bearing_n_mm2:.1f}: {way})"
    )
    return RowHold(holds_n=holds, shallow=share < 1, worked=worked)


def rows_worked(rows: Sequence[RowHold]) -> str:
    """Return the numbers of several rows, each different one once, and what they hold together."""
    if not rows:
        return "no screws"
    counts = Counter(row.worked for row in rows)
    told = [text if count == 1 else f"{count} rows of {text}" for text, count in counts.items()]
    together = f"; together {sum(row.holds_n for row in rows):.0f} N" if len(rows) > 1 else ""
    return "; ".join(told) + together


def gravity_of(part: Part) -> float:
    """Return the gravity that a piece's bearing is reckoned with."""
    figure = wood(part.wood).gravity
    return BOARD_GRAVITY if figure is None else figure.value
