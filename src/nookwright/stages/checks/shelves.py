"""Shelves: how far each one sags, now and after years, and whether it breaks."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.masses import part_mass
from nookwright.stages.checks.remedies import cheapest_cure
from nookwright.stages.checks.said import fine, size
from nookwright.stages.design.design import Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.shop import Shop
from nookwright.stages.parts.part import Part, PartList
from nookwright.trade import creep, sag
from nookwright.trade.tipping import GRAVITY_M_S2
from nookwright.trade.woods import Wood, wood

SHELF_ROLES = ("shelf", "loose shelf")


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadedShelf:
    """A shelf as it is reckoned.

    Args:
        part: the shelf.
        wood: what it is made of.
        along: whether it spans along its grain.
        span_mm: clear distance between its supports. [mm]
        depth_mm: front to back. [mm]
        load_n_mm: things and its own weight. [N/mm]
    """

    part: Part
    wood: Wood
    along: bool
    span_mm: float
    depth_mm: float
    load_n_mm: float

    @property
    def modulus_n_mm2(self) -> float:
        """E in the direction of the span. [N/mm2]"""
        return (self.wood.along_n_mm2 if self.along else self.wood.across_n_mm2).value


def check_shelves(design: Design, parts: PartList, brief: Brief, shop: Shop) -> tuple[Finding, ...]:
    """Return two findings for every shelf: its sag and its strength.

    Args:
        design: for the depth of housings.
        parts: every part and joint.
        brief: load, and the sag the owner accepts.
        shop: stock for the cure.

    Returns:
        Findings in the order of the parts.
    """
    findings: list[Finding] = []
    for part in parts.parts:
        if part.role in SHELF_ROLES:
            shelf = loaded_shelf(part, parts, design, brief)
            findings += [_sag_finding(shelf, brief, shop), _strength_finding(shelf, brief)]
    return tuple(findings)


def loaded_shelf(part: Part, parts: PartList, design: Design, brief: Brief) -> LoadedShelf:
    """Return a shelf's span, depth and load. Housed ends count as simple supports at the housing's mouth.

    Args:
        part: the shelf.
        parts: every joint, to see which ends are housed.
        design: for the depth of housings.
        brief: for the load.

    Returns:
        The shelf as it is reckoned; the longer edge of a shelf cut to the rake counts in full.
    """
    us, vs = [u for u, _ in part.outline], [v for _, v in part.outline]
    length, width = max(us) - min(us), max(vs) - min(vs)
    along = abs(part.frame.u[0]) >= abs(part.frame.v[0])
    span, depth = (length, width) if along else (width, length)
    housed = sum(1 for joint in parts.joints if joint.held == part.number and joint.joint == "housing")
    span -= min(housed, 2) * design.housing_mm
    own = part_mass(part) * GRAVITY_M_S2 / span
    load = brief.load.shelf_kg_per_m * GRAVITY_M_S2 / 1000 + own
    return LoadedShelf(part=part, wood=wood(part.wood), along=along, span_mm=span, depth_mm=depth, load_n_mm=load)


def _sag_finding(shelf: LoadedShelf, brief: Brief, shop: Shop) -> Finding:
    """Return whether a shelf stays within the sag the owner accepts, now and after years."""
    w, L, E, b, t = shelf.load_n_mm, shelf.span_mm, shelf.modulus_n_mm2, shelf.depth_mm, shelf.part.thickness_mm
    now = sag.shelf_sag(load_n_mm=w, span_mm=L, modulus_n_mm2=E, depth_mm=b, thickness_mm=t)
    k = shelf.wood.creep.value
    later_mm = creep.long_term_sag(initial_mm=now.total_mm, creep=k)
    limit = brief.load.sag_per_m_mm * L / 1000
    verdict = _sag_verdict(now.total_mm, later_mm, limit)
    worked = (
        f"5 x {w:.4f} x {L:.0f}^4 / (384 x {E:.0f} x {b:.0f} x {t:.1f}^3 / 12) + shear {now.shear_mm:.3f} = "
        f"{now.total_mm:.2f} mm; x {k:g} = {later_mm:.2f} mm after years"
    )
    summary = (
        f"Over {size(L, brief)} it sags {fine(now.total_mm, brief)} when loaded, {fine(later_mm, brief)} after years; "
        f"{fine(limit, brief)} is accepted.{_spread(shelf, now.total_mm, brief)}{_recalled(shelf)}"
    )
    remedy = "" if verdict == "pass" else cheapest_cure(
        part=shelf.part, wood_key=shelf.wood.key, load_n_mm=w, span_mm=L, depth_mm=b, limit_mm=limit, shop=shop,
        brief=brief,
    )  # fmt: skip
    return Finding(
        topic="shelf sag",
        subject=f"{shelf.part.name} {shelf.part.number}",
        verdict=verdict,
        summary=summary,
        demand=later_mm,
        limit=limit,
        unit="mm",
        formula=f"{sag.FORMULA}; {creep.FORMULA}",
        worked=worked,
        source_keys=_sag_sources(shelf),
        remedy=remedy,
    )


def _sag_sources(shelf: LoadedShelf) -> tuple[str, ...]:
    """Return the keys a shelf's sag rests on, each once."""
    modulus = shelf.wood.along_n_mm2 if shelf.along else shelf.wood.across_n_mm2
    keys = ("beam-tables", "wood-handbook", "shear-modulus", modulus.source, shelf.wood.creep.source, "shelf-practice")
    return tuple(dict.fromkeys(keys))


def _sag_verdict(now_mm: float, later_mm: float, limit_mm: float) -> Verdict:
    """Return fail when it sags too far at once, caution when only years bring it there."""
    if now_mm > limit_mm:
        return "fail"
    return "caution" if later_mm > limit_mm else "pass"


def _spread(shelf: LoadedShelf, now_mm: float, brief: Brief) -> str:
    """Return the sag of a weak board, where the stiffness's spread is known."""
    spread = shelf.wood.modulus_cv
    if spread == 0:
        return ""
    return f" A board one standard deviation weaker sags {fine(now_mm / (1 - spread), brief)} at once."


def _recalled(shelf: LoadedShelf) -> str:
    """Return a remark when the stiffness or the creep factor was recalled, not read."""
    modulus = shelf.wood.along_n_mm2 if shelf.along else shelf.wood.across_n_mm2
    figures = {"stiffness": modulus, "creep factor": shelf.wood.creep}
    recalled = [name for name, figure in figures.items() if figure.status == "recalled"]
    verb = "was" if len(recalled) == 1 else "were"
    return f" The {' and the '.join(recalled)} of {shelf.wood.name} {verb} recalled, not read." if recalled else ""


def _strength_finding(shelf: LoadedShelf, brief: Brief) -> Finding:
    """Return whether a shelf's bending stress stays within what its wood may carry for good."""
    w, L, b, t = shelf.load_n_mm, shelf.span_mm, shelf.depth_mm, shelf.part.thickness_mm
    stress = sag.bending_stress(load_n_mm=w, span_mm=L, depth_mm=b, thickness_mm=t)
    across = 1.0 if shelf.along else shelf.wood.across_n_mm2.value / shelf.wood.along_n_mm2.value
    allowed = sag.allowable_stress(strength_n_mm2=shelf.wood.strength_n_mm2.value * across)
    verdict: Verdict = "pass" if stress <= allowed else "fail"
    return Finding(
        topic="shelf strength",
        subject=f"{shelf.part.name} {shelf.part.number}",
        verdict=verdict,
        summary=f"Bending stress {stress:.2f} of the {allowed:.2f} N/mm2 that {shelf.wood.name} may carry for good.",
        demand=stress,
        limit=allowed,
        unit="N/mm2",
        formula="stress = (w L^2 / 8) / (b t^2 / 6); allowed = R (1 - 1.645 v) C_D / 2.1",
        worked=f"({w:.4f} x {L:.0f}^2 / 8) / ({b:.0f} x {t:.1f}^2 / 6) = {stress:.2f}",
        source_keys=("beam-tables", shelf.wood.strength_n_mm2.source, "wood-stress-practice"),
        remedy="" if verdict == "pass" else f"Shorten the span below {size(L * (allowed / stress) ** 0.5, brief)}.",
    )
