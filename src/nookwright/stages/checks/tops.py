"""Tops: what lies on them and who sits on them between the uprights below, and on the edge that stands out."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from nookwright.basics.findings import Finding, Verdict
from nookwright.solvers.beam_on_supports import (
    BeamLoad,
    BentBeam,
    EvenLoad,
    PointLoad,
    Support,
    bent,
    greatest_moment,
    greatest_sag,
)
from nookwright.stages.checks.said import fine, mass, size, stress
from nookwright.stages.checks.top_cures import Stuff, cheapest_stuff, stuff_said
from nookwright.stages.design.design import Box, Design, FittedTop
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.shop import Shop
from nookwright.trade.creep import long_term_sag
from nookwright.trade.fixing_rules import TEN_YEARS
from nookwright.trade.sag import allowable_stress
from nookwright.trade.tipping import GRAVITY_M_S2
from nookwright.trade.woods import Wood, wood

SEAT_MM = 600.0
"""A top no higher than this will be sat and stood on. Source: [trade-practice]. Status: common practice."""

BODY_MM = 300.0
"""Width of board that carries one person. Source: [trade-practice]. Status: common practice."""

BEARS_MM = 12.0
"""Boxes whose upper edge lies this near under a top carry it. Source: [trade-practice]. Status: common practice."""

EDGE_MM = 254.0
"""A top may stand out this far without support, 10 in for 38 mm. Source: [trade-practice]. Status: common practice."""

FORMULA = "stiffness method over the uprights; stress = M / (b t^2 / 6); allowed = R (1 - 1.645 v) C_D / 2.1"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Top:
    """A top as it is reckoned, its left end at 0. [mm]"""

    fitted: FittedTop
    wood: Wood
    length_mm: float
    depth_mm: float
    supports_mm: tuple[float, ...]
    out_mm: float


def check_tops(design: Design, shop: Shop, brief: Brief) -> tuple[Finding, ...]:
    """Return, for every top that boxes carry: things on it, a person on a low one, and its front edge.

    Args:
        design: the tops and the boxes under them.
        shop: stock for cures.
        brief: loads.

    Returns:
        Findings top by top; none for a top with fewer than two uprights under it.
    """
    findings: list[Finding] = []
    for fitted in design.tops:
        top = _reckoned(fitted, design.boxes)
        if len(top.supports_mm) < 2:
            continue
        findings.append(_things(top, shop, brief))
        if fitted.z_mm + fitted.thickness_mm <= SEAT_MM and brief.load.person_kg > 0:
            findings.append(_person(top, shop, brief))
        if top.out_mm > 0:
            findings.append(_edge(top, shop, brief))
    return tuple(findings)


def _reckoned(fitted: FittedTop, boxes: tuple[Box, ...]) -> _Top:
    """Return a top with the middles of the uprights it lies on."""
    xs, ys = [x for x, _ in fitted.outline], [y for _, y in fitted.outline]
    under = [box for box in boxes if abs(max(z for _, z in box.outline) - fitted.z_mm) <= BEARS_MM]
    places: list[float] = []
    for box in under:
        if box.bought is not None:
            half = box.bought.side_mm / 2
            places += [box.x0_mm + half, box.x1_mm - half]
        else:
            places += [each.x_mm + each.thickness_mm / 2 for each in box.uprights]
    inside = sorted(x - min(xs) for x in places if min(xs) <= x <= max(xs))
    # Two sides that stand against each other carry as one.
    kept = [x for i, x in enumerate(inside) if i == 0 or x - inside[i - 1] > 3 * fitted.thickness_mm]
    return _Top(
        fitted=fitted,
        wood=wood(fitted.stock.wood),
        length_mm=max(xs) - min(xs),
        depth_mm=max(ys) - min(ys),
        supports_mm=tuple(kept),
        out_mm=max((box.y_front_mm for box in under), default=0.0) - min(ys),
    )


def _bent(top: _Top, depth_mm: float, loads: tuple[BeamLoad, ...], more_mm: tuple[float, ...] = ()) -> BentBeam:
    """Return how a width of the top bends over its uprights, and over more of them where asked."""
    stiffness = top.wood.along_n_mm2.value * depth_mm * top.fitted.thickness_mm**3 / 12
    supports = tuple(Support(x_mm=x) for x in sorted((*top.supports_mm, *more_mm)))
    return bent(length_mm=top.length_mm, steps=((0.0, stiffness),), supports=supports, loads=loads)


def _sag(top: _Top, beam: BentBeam) -> tuple[float, float]:
    """Return the greatest sag and the span it lies in. [mm]"""
    spans = tuple(itertools.pairwise(top.supports_mm))
    return max((greatest_sag(beam, a, b), b - a) for a, b in spans)


def _things(top: _Top, shop: Shop, brief: Brief) -> Finding:
    """Return how far things as heavy as a full shelf's bend it, the widest span loaded alone, now and after years."""
    own = top.depth_mm * top.fitted.thickness_mm * 1e-9 * top.wood.density_kg_m3 * GRAVITY_M_S2
    things = brief.load.shelf_kg_per_m * GRAVITY_M_S2 / 1000
    a, b = max(itertools.pairwise(top.supports_mm), key=lambda pair: pair[1] - pair[0])
    loads = (
        EvenLoad(start_mm=0.0, end_mm=top.length_mm, load_n_mm=own),
        EvenLoad(start_mm=a, end_mm=b, load_n_mm=things),
    )
    now, span = _sag(top, _bent(top, top.depth_mm, loads))
    later = long_term_sag(initial_mm=now, creep=top.wood.creep.value)
    limit = brief.load.sag_per_m_mm * span / 1000
    verdict: Verdict = "fail" if now > limit else ("caution" if later > limit else "pass")
    return Finding(
        topic="top sag",
        subject=top.fitted.name,
        verdict=verdict,
        summary=(
            f"Over {size(span, brief)} between uprights it sags {fine(now, brief)} with a full shelf's load on that "
            f"span alone, {fine(later, brief)} after years; {fine(limit, brief)} is accepted."
        ),
        demand=later,
        limit=limit,
        unit="mm",
        formula="stiffness method over the uprights, own weight all along, w on the widest span; x k after years",
        worked=(
            f"w = {things:.3f} N/mm over {b - a:.0f}, E = {top.wood.along_n_mm2.value:.0f}, b = {top.depth_mm:.0f}, "
            f"t = {top.fitted.thickness_mm:.1f}: {now:.2f} mm; x {top.wood.creep.value:g} = {later:.2f} mm"
        ),
        source_keys=("beam-tables", top.wood.along_n_mm2.source, top.wood.creep.source, "shelf-practice"),
        remedy="" if verdict == "pass" else _stiffer(top, loads, now, limit, shop, brief),
    )


def _person(top: _Top, shop: Shop, brief: Brief) -> Finding:
    """Return whether a person in the middle of the widest span breaks it."""
    force = brief.load.person_kg * GRAVITY_M_S2
    a, b = max(itertools.pairwise(top.supports_mm), key=lambda pair: pair[1] - pair[0])
    width = min(BODY_MM, top.depth_mm)
    beam = _bent(top, width, (PointLoad(x_mm=(a + b) / 2, load_n=force),))
    moment = greatest_moment(beam, 0.0, top.length_mm)
    bends = moment / (width * top.fitted.thickness_mm**2 / 6)
    allowed = _allowed(top.wood, TEN_YEARS)
    verdict: Verdict = "pass" if bends <= allowed else "fail"
    return Finding(
        topic="person on a low top",
        subject=top.fitted.name,
        verdict=verdict,
        summary=(
            f"Someone of {mass(brief.load.person_kg, brief)} in the middle of {size(b - a, brief)} bends it "
            f"{fine(greatest_sag(beam, a, b), brief)}; stress {stress(bends, brief)} of the {stress(allowed, brief)} "
            "that "
            f"{top.wood.name} may carry."
        ),
        demand=bends,
        limit=allowed,
        unit="N/mm2",
        formula=FORMULA,
        worked=(
            f"{force:.0f} N: {moment / 1000:.0f} N m / ({width:.0f} x {top.fitted.thickness_mm:.1f}^2 / 6) = "
            f"{bends:.1f} N/mm2"
        ),
        source_keys=("beam-tables", top.wood.strength_n_mm2.source, "wood-stress-practice", "trade-practice"),
        remedy="" if verdict == "pass" else _stronger(top, moment, width, shop, brief),
    )


def _edge(top: _Top, shop: Shop, brief: Brief) -> Finding:
    """Return whether the front edge that stands out holds a person who leans or sits on it."""
    force, t = brief.load.person_kg * GRAVITY_M_S2, top.fitted.thickness_mm
    across = top.wood.across_n_mm2.value / top.wood.along_n_mm2.value
    bends = force * top.out_mm / (BODY_MM * t**2 / 6)
    allowed = _allowed(top.wood, TEN_YEARS) * across
    verdict: Verdict = "pass"
    low = top.fitted.z_mm + t <= SEAT_MM
    if bends > allowed or top.out_mm > EDGE_MM:
        verdict = "fail" if low and bends > allowed else "caution"
    return Finding(
        topic="overhang",
        subject=top.fitted.name,
        verdict=verdict,
        summary=(
            f"It stands out {size(top.out_mm, brief)} in front; {mass(brief.load.person_kg, brief)} on "
            f"{size(BODY_MM, brief)} of its edge make {stress(bends, brief)} of {stress(allowed, brief)} across its "
            "grain."
        ),
        demand=bends,
        limit=allowed,
        unit="N/mm2",
        formula="stress = P a / (b t^2 / 6)",
        worked=f"{force:.0f} x {top.out_mm:.0f} / ({BODY_MM:.0f} x {t:.1f}^2 / 6) = {bends:.1f} N/mm2",
        source_keys=("beam-tables", top.wood.strength_n_mm2.source, "wood-stress-practice", "trade-practice"),
        remedy="" if verdict == "pass" else _less_out(top, force, shop, brief),
    )


def _stiffer(top: _Top, loads: tuple[BeamLoad, ...], now_mm: float, limit_mm: float, shop: Shop, brief: Brief) -> str:
    """Return how the widest span is kept within its sag after years: an upright under its middle, or other stock."""
    a, b = max(itertools.pairwise(top.supports_mm), key=lambda pair: pair[1] - pair[0])
    propped = _bent(top, top.depth_mm, loads, ((a + b) / 2,))
    half = max(greatest_sag(propped, a, (a + b) / 2), greatest_sag(propped, (a + b) / 2, b))
    later = long_term_sag(initial_mm=half, creep=top.wood.creep.value)
    told = f"Stand an upright under the middle of that span: {fine(later, brief)} after years"
    own = top.wood.along_n_mm2.value * top.fitted.thickness_mm**3

    def sags(stuff: Stuff) -> float:
        stiff = stuff.wood.along_n_mm2.value * stuff.thickness_mm**3
        return long_term_sag(initial_mm=now_mm * own / stiff, creep=stuff.wood.creep.value)

    stuff = cheapest_stuff(shop, top.depth_mm, lambda each: sags(each) <= limit_mm)
    if stuff is None:
        return f"{told}. No stock in the shop file is stiff enough by itself."
    other = stuff_said(stuff, top.fitted.stock, top.length_mm * top.depth_mm, shop, brief)
    return f"{told}. Or {other}: {fine(sags(stuff), brief)} after years."


def _stronger(top: _Top, moment_n_mm: float, width_mm: float, shop: Shop, brief: Brief) -> str:
    """Return what carries a person: an upright in the middle, or other stock."""

    def bends(stuff: Stuff) -> float:
        return moment_n_mm / (width_mm * stuff.thickness_mm**2 / 6)

    stuff = cheapest_stuff(shop, top.depth_mm, lambda each: bends(each) <= _allowed(each.wood, TEN_YEARS))
    told = "It will be sat on: stand an upright under the middle of that span"
    if stuff is None:
        return f"{told}. No stock in the shop file is strong enough by itself."
    other = stuff_said(stuff, top.fitted.stock, top.length_mm * top.depth_mm, shop, brief)
    held = f"{stress(bends(stuff), brief)} of {stress(_allowed(stuff.wood, TEN_YEARS), brief)}"
    return f"{told}, or {other}: {held}."


def _less_out(top: _Top, force_n: float, shop: Shop, brief: Brief) -> str:
    """Return how far the edge may stand out, and what could stand out as far as it does."""

    def most_out(made_of: Wood, thickness_mm: float) -> float:
        across = made_of.across_n_mm2.value / made_of.along_n_mm2.value
        return _allowed(made_of, TEN_YEARS) * across * BODY_MM * thickness_mm**2 / 6 / force_n

    most = min(EDGE_MM, most_out(top.wood, top.fitted.thickness_mm))
    told = f"Set brackets under it, or let it stand out {size(most, brief)} at most"
    if top.out_mm > EDGE_MM:
        return f"{told}."
    stuff = cheapest_stuff(shop, top.depth_mm, lambda each: most_out(each.wood, each.thickness_mm) >= top.out_mm)
    if stuff is None:
        return f"{told}."
    return f"{told}, or {stuff_said(stuff, top.fitted.stock, top.length_mm * top.depth_mm, shop, brief)}."


def _allowed(made_of: Wood, duration: float) -> float:
    """Return the bending stress a wood may carry for that long. [N/mm2]"""
    return allowable_stress(strength_n_mm2=made_of.strength_n_mm2.value, duration=duration)
