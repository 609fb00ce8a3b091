"""Shelves: how far each one sags, now and after years, whether it breaks, and whether its ends hold."""

from __future__ import annotations

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.propped_shelves import at_its_ends, framed_findings, framed_parts
from nookwright.stages.checks.remedies import cures, cures_said
from nookwright.stages.checks.said import fine, size
from nookwright.stages.checks.shelf_ends import end_finding
from nookwright.stages.checks.shelf_load import LoadedShelf, loaded_shelf, strength_finding
from nookwright.stages.design.design import Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.shop import Shop
from nookwright.stages.parts.part import PartList
from nookwright.trade import creep, sag

SHELF_ROLES = ("shelf", "loose shelf")


def check_shelves(
    design: Design, parts: PartList, brief: Brief, shop: Shop, *, damp: bool = False
) -> tuple[Finding, ...]:
    """Return three findings for every shelf: its sag, its strength and its ends, by a frame where dividers bear.

    Args:
        design: for the depth of housings.
        parts: every part and joint.
        brief: load, and the sag the owner or the chosen standard accepts.
        shop: stock for the cure.
        damp: whether damp was found on the wall behind: creep is then larger.

    Returns:
        Findings in the order of the parts.
    """
    findings: list[Finding] = []
    boards = framed_parts(design, parts.parts, brief)
    for part in parts.parts:
        if part.role in SHELF_ROLES:
            shelf = loaded_shelf(part, parts, design, brief, damp=damp)
            board = boards.get(part.number)
            if board is None:
                findings += [_sag_finding(shelf, brief, shop), _strength_finding(shelf, brief)]
            else:
                findings += framed_findings(shelf, board, brief)
                shelf = at_its_ends(shelf, board)
            findings += end_finding(shelf, parts, design, brief)
    return tuple(findings)


def _sag_finding(shelf: LoadedShelf, brief: Brief, shop: Shop) -> Finding:
    """Return whether a shelf stays within the sag accepted, now and after years."""
    w, L, E, b, t = shelf.load_n_mm, shelf.span_mm, shelf.modulus_n_mm2, shelf.depth_mm, shelf.part.thickness_mm
    plain = sag.shelf_sag(load_n_mm=w, span_mm=L, modulus_n_mm2=E, depth_mm=b, thickness_mm=t)
    now_mm = plain.bending_mm / shelf.stiffer + plain.shear_mm
    later_mm = creep.long_term_sag(initial_mm=now_mm, creep=shelf.creep)
    verdict = _sag_verdict(now_mm, later_mm, shelf.limit_mm)
    helped = f" / {shelf.stiffer:.3f}" if shelf.lip is not None else ""
    worked = (
        f"5 x {w:.4f} x {L:.0f}^4 / (384 x {E:.0f} x {b:.0f} x {t:.1f}^3 / 12){helped} + shear {plain.shear_mm:.3f} = "
        f"{now_mm:.2f} mm; x {shelf.creep:.3g} = {later_mm:.2f} mm after years"
    )
    summary = (
        f"Over {size(L, brief)} it sags {fine(now_mm, brief)} when loaded, {fine(later_mm, brief)} after years; "
        f"{fine(shelf.limit_mm, brief)} is accepted{_by_whom(shelf)}."
        f"{_heavier(shelf, now_mm, brief)}{_trimmed(shelf)}"
        f"{_spread(shelf, now_mm, later_mm, brief)}{_damp(shelf)}{_recalled(shelf)}"
    )
    return Finding(
        topic="shelf sag",
        subject=f"{shelf.part.name} {shelf.part.number}",
        verdict=verdict,
        summary=summary,
        demand=later_mm,
        limit=shelf.limit_mm,
        unit="mm",
        formula=f"{sag.FORMULA}; {creep.FORMULA}{LIP_FORMULA if shelf.lip is not None else ''}",
        worked=worked,
        source_keys=_sag_sources(shelf),
        remedy="" if verdict == "pass" else cures_said(cures(shelf, shop, brief), shelf, shop, brief),
    )


LIP_FORMULA = "; with face trim over (E I of both) / (E I of the shelf), E I = sum E (b h^3 / 12 + b h (c_i - c)^2)"


def _heavier(shelf: LoadedShelf, now_mm: float, brief: Brief) -> str:
    """Return what the brief's own load does where it is heavier than that of the standard chosen."""
    if shelf.carries_n_mm <= shelf.load_n_mm * (1 + 1e-9):
        return ""
    own_mm = now_mm * shelf.carries_n_mm / shelf.load_n_mm
    return (
        f" That is under the standard's load; under your own, which is heavier, it sags {fine(own_mm, brief)} when "
        f"loaded, {fine(own_mm * shelf.creep, brief)} after years."
    )


def _trimmed(shelf: LoadedShelf) -> str:
    """Return a remark where face trim helps to carry it."""
    if shelf.lip is None:
        return ""
    return f" The face trim glued along its front bends with it and makes it {shelf.stiffer:.2f} times as stiff."


def _by_whom(shelf: LoadedShelf) -> str:
    """Return whose limit it is, where a standard was chosen."""
    return "" if shelf.standard.key == "eye" else f" by the {shelf.standard.name}"


def _sag_sources(shelf: LoadedShelf) -> tuple[str, ...]:
    """Return the keys a shelf's sag rests on, each once."""
    modulus = shelf.wood.along_n_mm2 if shelf.along else shelf.wood.across_n_mm2
    keys = ["beam-tables", "wood-handbook", "shear-modulus", modulus.source, shelf.wood.creep.source]
    keys += [shelf.standard.source, *(["eurocode-5"] if shelf.damp else [])]
    return tuple(dict.fromkeys(keys))


def _sag_verdict(now_mm: float, later_mm: float, limit_mm: float) -> Verdict:
    """Return fail when it sags too far at once, caution when only years bring it there."""
    if now_mm > limit_mm:
        return "fail"
    return "caution" if later_mm > limit_mm else "pass"


def _spread(shelf: LoadedShelf, now_mm: float, later_mm: float, brief: Brief) -> str:
    """Return between what two boards out of three sag, where the stiffness's spread is known."""
    spread = shelf.wood.modulus_cv
    if spread == 0:
        return ""
    now = [fine(each, brief) for each in creep.sag_band(sag_mm=now_mm, modulus_cv=spread)]
    later = [fine(each, brief) for each in creep.sag_band(sag_mm=later_mm, modulus_cv=spread)]
    return f" Two boards out of three sag {now[0]} to {now[1]} at once, {later[0]} to {later[1]} after years."


def _damp(shelf: LoadedShelf) -> str:
    """Return a remark when damp makes it creep more."""
    return f" In the damp found there it creeps more: x {shelf.creep:.3g}." if shelf.damp else ""


def _recalled(shelf: LoadedShelf) -> str:
    """Return a remark when the stiffness or the creep factor was recalled, not read."""
    modulus = shelf.wood.along_n_mm2 if shelf.along else shelf.wood.across_n_mm2
    figures = {"stiffness": modulus, "creep factor": shelf.wood.creep}
    recalled = [name for name, figure in figures.items() if figure.status == "recalled"]
    verb = "was" if len(recalled) == 1 else "were"
    return f" The {' and the '.join(recalled)} of {shelf.wood.name} {verb} recalled, not read." if recalled else ""


def _strength_finding(shelf: LoadedShelf, brief: Brief) -> Finding:
    """Return whether a shelf's bending stress stays within what its wood may carry for good."""
    w, L, b, t = shelf.carries_n_mm, shelf.span_mm, shelf.depth_mm, shelf.part.thickness_mm
    bends = sag.bending_stress(load_n_mm=w, span_mm=L, depth_mm=b, thickness_mm=t)
    return strength_finding(
        shelf, bends, brief, formula="stress = (w L^2 / 8) / (b t^2 / 6)",
        worked=f"({w:.4f} x {L:.0f}^2 / 8) / ({b:.0f} x {t:.1f}^2 / 6)",
        remedy=f"Shorten the span below {size(L * (shelf.allowed_n_mm2 / bends) ** 0.5, brief)}.",
    )  # fmt: skip
