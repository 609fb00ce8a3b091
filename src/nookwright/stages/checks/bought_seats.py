"""Bought cabinets low enough to sit on: whether their upper panel carries a person, and the board that cures it."""

from __future__ import annotations

from nookwright.basics.findings import Finding, Verdict
from nookwright.solvers.beams import deflection
from nookwright.stages.checks.masses import BOUGHT_WOOD
from nookwright.stages.checks.said import fine, mass, size, stress
from nookwright.stages.checks.tops import BEARS_MM, BODY_MM, SEAT_MM
from nookwright.stages.design.design import Box, Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.shop import SheetStock, Shop
from nookwright.trade.fixing_rules import TEN_YEARS
from nookwright.trade.sag import allowable_stress
from nookwright.trade.tipping import GRAVITY_M_S2
from nookwright.trade.woods import wood

FORMULA = "stress = (P L / 4) / (b t^2 / 6), b = 300 mm; allowed = R (1 - 1.645 v) C_D / 2.1"


def check_bought_seats(design: Design, shop: Shop, brief: Brief) -> tuple[Finding, ...]:
    """Return, for every low bought cabinet without a top of ours over it, whether someone may sit on it.

    Args:
        design: the boxes and tops.
        shop: boards for a seat.
        brief: who sits there.

    Returns:
        One finding a cabinet; none when nobody is reckoned with.
    """
    if brief.load.person_kg <= 0:
        return ()
    return tuple(
        _seat(box, box.bought.width_mm, box.bought.side_mm, shop, brief)
        for box in design.boxes
        if box.bought is not None and upper_mm(box) <= SEAT_MM and not covered(box, design)
    )


def upper_mm(box: Box) -> float:
    """Return the height of a box's upper face. [mm]"""
    return max(z for _, z in box.outline)


def covered(box: Box, design: Design) -> bool:
    """Return whether a top or another box stands on a box."""
    upper = upper_mm(box)
    tops = any(
        abs(top.z_mm - upper) <= BEARS_MM
        and min(x for x, _ in top.outline) < box.x1_mm
        and max(x for x, _ in top.outline) > box.x0_mm
        for top in design.tops
    )
    return tops or any(
        other is not box
        and abs(other.z0_mm - upper) <= BEARS_MM
        and other.x0_mm < box.x1_mm
        and other.x1_mm > box.x0_mm
        for other in design.boxes
    )


def _seat(box: Box, width_mm: float, side_mm: float, shop: Shop, brief: Brief) -> Finding:
    """Return whether a cabinet's upper panel carries a person in its middle."""
    force_n, span = brief.load.person_kg * GRAVITY_M_S2, width_mm - 2 * side_mm
    made_of, body = wood(BOUGHT_WOOD), min(BODY_MM, box.depth_mm)
    bends = seat_stress(force_n, span, body, side_mm)
    allowed = allowable_stress(strength_n_mm2=made_of.strength_n_mm2.value, duration=TEN_YEARS)
    EI = made_of.along_n_mm2.value * body * side_mm**3 / 12
    sinks = deflection(case="middle load, simple ends", load_n=force_n, span_mm=span, stiffness_n_mm2=EI)
    verdict: Verdict = "pass" if bends <= allowed else "fail"
    return Finding(
        topic="sitting on a bought cabinet",
        subject=box.name,
        verdict=verdict,
        summary=(
            f"It is low enough to sit on. Someone of {mass(brief.load.person_kg, brief)} in the middle of "
            f"{size(span, brief)} bends its upper panel, {size(side_mm, brief)} particleboard like its sides, "
            f"{fine(sinks, brief)}; stress {stress(bends, brief)} of the {stress(allowed, brief)} that it may carry. "
            "Rails in place of a top, and a bottom only let into a groove, carry nobody. Its make was reckoned."
        ),
        demand=bends,
        limit=allowed,
        unit="N/mm2",
        formula=FORMULA,
        worked=f"({force_n:.0f} x {span:.0f} / 4) / ({body:.0f} x {side_mm:.1f}^2 / 6) = {bends:.1f} N/mm2",
        source_keys=("beam-tables", made_of.strength_n_mm2.source, "wood-stress-practice", "trade-practice"),
        remedy="" if verdict == "pass" else _cure(force_n, span, body, box, shop, brief),
    )


def seat_stress(force_n: float, span_mm: float, width_mm: float, thickness_mm: float) -> float:
    """Return the bending stress under a load in the middle. [N/mm2]"""
    return (force_n * span_mm / 4) / (width_mm * thickness_mm**2 / 6)


def _cure(force_n: float, span_mm: float, body_mm: float, box: Box, shop: Shop, brief: Brief) -> str:
    """Return the cheapest board of the shop that carries the person by itself from side to side."""
    enough = []
    for sheet in shop.sheets:
        allowed = allowable_stress(strength_n_mm2=wood(sheet.wood).strength_n_mm2.value, duration=TEN_YEARS)
        bends = seat_stress(force_n, span_mm, body_mm, sheet.thickness_mm)
        if bends <= allowed and sheet.width_mm >= box.depth_mm:
            enough.append((_price(sheet, box), sheet.key, bends, allowed, sheet))
    if not enough:
        return "No sheet in the shop file carries it: stand a box of your own boards under the seat, or let no one sit."
    price, _, bends, allowed, sheet = min(enough, key=lambda each: each[:2])
    return (
        f"Lay a seat board of {sheet.name} over it from side to side, {size(sheet.thickness_mm, brief)} thick: stress "
        f"{stress(bends, brief)} of {stress(allowed, brief)}, about {price:.2f} {shop.currency}."
    )


def _price(sheet: SheetStock, box: Box) -> float:
    """Return what a board over a box costs, by its face."""
    return float(sheet.price) / (sheet.length_mm * sheet.width_mm) * (box.x1_mm - box.x0_mm) * box.depth_mm
