"""Uprights under everything they carry: whether the most loaded one of a box springs aside between its fixed boards."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.masses import box_mass, part_mass
from nookwright.stages.checks.said import force, size
from nookwright.stages.design.design import Box, Design, Upright
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.parts.part import PartList
from nookwright.trade.columns import BOARD_CV, FORMULA, SLENDEREST, buckling_stress, least_modulus
from nookwright.trade.shelf_standards import shelf_limit, standard_load
from nookwright.trade.tipping import GRAVITY_M_S2
from nookwright.trade.woods import wood

STANDS_ON_MM = 40.0
"""A box whose foot lies this near over another's upper edge stands on it. Common practice, no source."""

MEETS_MM = 2.0
"""A board's end this near to an upright's face bears on it. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pressed:
    """An upright with what presses it and how far it stands free."""

    upright: Upright
    force_n: float
    free_mm: float


def check_uprights(design: Design, parts: PartList, brief: Brief) -> tuple[Finding, ...]:
    """Return, for every box of ours, whether its most loaded upright stays straight.

    Args:
        design: the boxes and what stands on them.
        parts: for masses.
        brief: what shelves carry.

    Returns:
        One finding a box; bought cabinets are their maker's.
    """
    return tuple(_finding(box, design, parts, brief) for box in design.boxes if box.bought is None and box.uprights)


def shelves_n(box: Box, brief: Brief) -> float:
    """Return what stands on a box's shelves and its bottom, all full. [N]"""
    return sum(_full_n(each.x1_mm - each.x0_mm, each.depth_mm, brief) for each in box.shelves) + _full_n(
        box.x1_mm - box.x0_mm, box.depth_mm, brief
    )


def _full_n(span_mm: float, depth_mm: float, brief: Brief) -> float:
    """Return what stands on a full shelf: the heavier of the brief's and the standard's. [N]"""
    own = brief.load.shelf_kg_per_m * GRAVITY_M_S2 / 1000
    asked = standard_load(shelf_limit(brief.load.shelf_limit), span_mm=span_mm, depth_mm=depth_mm)
    return max(own, asked or 0.0) * span_mm


def _above_n(box: Box, design: Design, parts: PartList, brief: Brief) -> float:
    """Return everything that stands on a box: boxes full, and tops. [N]"""
    head, found = max(z for _, z in box.outline), 0.0
    for other in design.boxes:
        shared = min(box.x1_mm, other.x1_mm) - max(box.x0_mm, other.x0_mm)
        if other is not box and shared > 0 and -STANDS_ON_MM <= other.z0_mm - head <= STANDS_ON_MM:
            whole = box_mass(other, parts) * GRAVITY_M_S2 + shelves_n(other, brief)
            found += whole * shared / (other.x1_mm - other.x0_mm)
    for part in parts.parts:
        if part.role == "worktop":
            xs = [part.frame.to_room(u, v)[0] for u, v in part.outline]
            shared = min(box.x1_mm, max(xs)) - max(box.x0_mm, min(xs))
            if shared > 0 and abs(part.frame.origin[2] - head) <= STANDS_ON_MM:
                found += part_mass(part) * GRAVITY_M_S2 * shared / (max(xs) - min(xs))
    return found


def _pressed(box: Box, above_n: float, brief: Brief) -> list[_Pressed]:
    """Return a box's uprights with their loads: half of each board that ends at them, their share of what is above."""
    ordered = sorted(box.uprights, key=lambda each: each.x_mm)
    tall = [
        each for each in ordered if each.kind == "side" or max(each.z1_left_mm, each.z1_right_mm) > _head(box) - 60.0
    ]
    found = []
    for upright in ordered:
        left, right = upright.x_mm, upright.x_mm + upright.thickness_mm
        ends = [
            shelf
            for shelf in box.shelves
            if abs(shelf.x1_mm - left) <= MEETS_MM or abs(shelf.x0_mm - right) <= MEETS_MM
        ]
        load = sum(_full_n(each.x1_mm - each.x0_mm, each.depth_mm, brief) for each in ends) / 2
        if upright in tall:
            i = tall.index(upright)
            before = (tall[i].x_mm - tall[i - 1].x_mm) / 2 if i > 0 else 0.0
            after = (tall[i + 1].x_mm - tall[i].x_mm) / 2 if i + 1 < len(tall) else 0.0
            load += above_n * (before + after) / (box.x1_mm - box.x0_mm)
        foot, head = upright.z0_mm, max(upright.z1_left_mm, upright.z1_right_mm)
        held = sorted({foot, head, *(each.z_mm for each in ends if each.fixing != "pins" and foot < each.z_mm < head)})
        free = max(b - a for a, b in itertools.pairwise(held))
        found.append(_Pressed(upright=upright, force_n=load, free_mm=free))
    return found


def _head(box: Box) -> float:
    """Return the height of a box's highest corner. [mm]"""
    return max(z for _, z in box.outline)


def _holds_n(box: Box, pressed: _Pressed) -> float:
    """Return what an upright carries before it springs aside. [N]"""
    made_of, t = wood(box.board.wood), pressed.upright.thickness_mm
    least = least_modulus(modulus_n_mm2=made_of.along_n_mm2.value, modulus_cv=made_of.modulus_cv or BOARD_CV)
    return buckling_stress(least_modulus_n_mm2=least, length_mm=pressed.free_mm, thickness_mm=t) * box.depth_mm * t


def _finding(box: Box, design: Design, parts: PartList, brief: Brief) -> Finding:
    """Return the finding of a box's most loaded upright."""
    above = _above_n(box, design, parts, brief)
    worst = max(_pressed(box, above, brief), key=lambda each: each.force_n / _holds_n(box, each))
    holds, t, made_of = _holds_n(box, worst), worst.upright.thickness_mm, wood(box.board.wood)
    verdict: Verdict = "pass" if worst.force_n <= holds else "caution"
    slender = (
        f" It is {worst.free_mm / t:.0f} times as long as thick; beyond {SLENDEREST:.0f} the tables end, and a back "
        "or a "
        "fixed shelf should hold it."
        if worst.free_mm / t > SLENDEREST
        else ""
    )
    half = worst.free_mm / 2
    return Finding(
        topic="uprights",
        subject=box.name,
        verdict=verdict,
        summary=(
            f"Its most loaded {worst.upright.kind} carries {force(worst.force_n, brief)} with every shelf full and "
            "stands "
            f"free over {size(worst.free_mm, brief)}; it springs aside at {force(holds, brief)}, the hold of its back "
            "left "
            f"out.{slender}"
        ),
        demand=worst.force_n,
        limit=holds,
        unit="N",
        formula=FORMULA,
        worked=(
            f"0.822 x {made_of.along_n_mm2.value:.0f} (1 - 1.645 x {made_of.modulus_cv or BOARD_CV:g}) 1.03 / 1.66 / "
            f"({worst.free_mm:.0f} / {t:.1f})^2 x {box.depth_mm:.0f} x {t:.1f} = {holds:.0f} N"
        ),
        source_keys=("column-example", "column-recalled", made_of.along_n_mm2.source, "statics"),
        remedy=""
        if verdict == "pass"
        else (
            f"Fix a shelf half-way up that stretch, {size(half, brief)} from its end: it then carries "
            f"{force(4 * holds, brief)}; or screw the back to it all the way."
        ),
    )
