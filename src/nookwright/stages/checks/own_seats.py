"""Low boxes of our own that nothing covers: whether their upper board carries someone who sits on it."""

from __future__ import annotations

import itertools

from nookwright.basics.findings import Finding, Verdict
from nookwright.solvers.beams import deflection
from nookwright.stages.checks.bought_seats import FORMULA, covered, seat_stress, upper_mm
from nookwright.stages.checks.said import fine, mass, size, stress
from nookwright.stages.checks.tops import BODY_MM, SEAT_MM
from nookwright.stages.design.design import Box, Design
from nookwright.stages.inputs.brief import Brief
from nookwright.trade.fixing_rules import TEN_YEARS
from nookwright.trade.sag import allowable_stress
from nookwright.trade.tipping import GRAVITY_M_S2
from nookwright.trade.woods import wood

REACHES_MM = 40.0
"""An upright that ends this near under a box's upper face carries its upper board. Common practice, no source."""


def check_own_seats(design: Design, brief: Brief) -> tuple[Finding, ...]:
    """Return, for every low box of ours with a level upper board and nothing on it, whether someone may sit on it.

    Args:
        design: the boxes and tops.
        brief: who sits there.

    Returns:
        One finding a box; none when nobody is reckoned with.
    """
    if brief.load.person_kg <= 0:
        return ()
    return tuple(
        _seat(box, brief)
        for box in design.boxes
        if box.bought is None and box.level_top_mm is not None and upper_mm(box) <= SEAT_MM and not covered(box, design)
    )


def _widest_mm(box: Box) -> float:
    """Return the widest clear span between uprights that reach the upper board. [mm]"""
    top = upper_mm(box)
    carry = [each for each in box.uprights if top - max(each.z1_left_mm, each.z1_right_mm) <= REACHES_MM]
    ends = sorted((each.x_mm, each.x_mm + each.thickness_mm) for each in carry)
    return max((b - a for (_, a), (b, _) in itertools.pairwise(ends)), default=box.x1_mm - box.x0_mm)


def _seat(box: Box, brief: Brief) -> Finding:
    """Return whether a box's upper board carries a person in the middle of its widest span."""
    force_n, span, t = brief.load.person_kg * GRAVITY_M_S2, _widest_mm(box), box.board.thickness_mm
    made_of, body = wood(box.board.wood), min(BODY_MM, box.depth_mm)
    bends = seat_stress(force_n, span, body, t)
    allowed = allowable_stress(strength_n_mm2=made_of.strength_n_mm2.value, duration=TEN_YEARS)
    EI = made_of.along_n_mm2.value * body * t**3 / 12
    sinks = deflection(case="middle load, simple ends", load_n=force_n, span_mm=span, stiffness_n_mm2=EI)
    verdict: Verdict = "pass" if bends <= allowed else "fail"
    most = span * allowed / bends
    return Finding(
        topic="sitting on a low box",
        subject=box.name,
        verdict=verdict,
        summary=(
            f"It is low enough to sit on. Someone of {mass(brief.load.person_kg, brief)} in the middle of "
            f"{size(span, brief)} bends its upper board {fine(sinks, brief)}; stress {stress(bends, brief)} of the "
            f"{stress(allowed, brief)} that {made_of.name} may carry."
        ),
        demand=bends,
        limit=allowed,
        unit="N/mm2",
        formula=FORMULA,
        worked=f"({force_n:.0f} x {span:.0f} / 4) / ({body:.0f} x {t:.1f}^2 / 6) = {bends:.1f} N/mm2",
        source_keys=("beam-tables", made_of.strength_n_mm2.source, "wood-stress-practice", "trade-practice"),
        remedy=""
        if verdict == "pass"
        else f"Set uprights {size(most, brief)} apart at most under it, or lay a top over it.",
    )
