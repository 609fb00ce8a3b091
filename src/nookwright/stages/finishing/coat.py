"""Works out the finish: parts + brief + shop -> FinishPlan."""

from __future__ import annotations

import math
from collections.abc import Sequence

from nookwright.basics.problems import Inspection
from nookwright.geometry.frame import Point2
from nookwright.stages.finishing.finish_plan import Coat, FinishPlan
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.shop import Product, Shop
from nookwright.stages.parts.part import Part, PartList

_MM2_PER_M2 = 1_000_000
_CAULKED_ROLES = ("strip", "worktop", "skirting")
_ROOM_SURFACES = ("wall", "slope", "ceiling", "soffit", "left", "right", "back")
"""Words for the room's own surfaces in an edge's `meets`; an edge that meets another part is glued, not caulked."""


def coat(parts: PartList, brief: Brief, shop: Shop) -> FinishPlan:
    """Work out coats, litres, nail holes, caulk and the day of loading.

    Args:
        parts: every part of the job.
        brief: which products, how many coats.
        shop: the products by their tins, and the waste factor.

    Returns:
        Primer coats, then finish coats; no coats when the brief names no product.

    Raises:
        InvalidInputError: if the brief names a product the shop does not carry, or less than 0 coats.
    """
    area_m2 = sum(finished_area_m2(part) for part in parts.parts)
    rounds = _rounds(brief, shop)
    coats: list[Coat] = []
    start_h = 0.0
    for product in rounds:
        coats.append(
            Coat(
                product=product.key, name=product.name, area_m2=area_m2,
                litres=area_m2 / product.cover_m2_per_litre * shop.waste_factor, start_h=start_h,
            )
        )  # fmt: skip
        start_h += product.recoat_h
    last_start_h = coats[-1].start_h if coats else 0.0
    holes = sum(row.count for joint in parts.joints for row in joint.fastenings if row.kind == "brad")
    return FinishPlan(
        coats=tuple(coats), nail_holes=holes, caulk_m=sum(caulked_mm(part) for part in parts.parts) / 1000,
        load_after_days=last_start_h / 24 + rounds[-1].cure_days if rounds else 0.0,
    )  # fmt: skip


def finished_area_m2(part: Part) -> float:
    """Return the area to coat: finished faces less cut-outs, and all edges where any face is finished. [m2]"""
    if part.faces_painted == 0:
        return 0.0
    holes_mm2 = sum(hole.width_mm * hole.height_mm for hole in part.cutouts)
    face_mm2 = _area_mm2(part.outline) - holes_mm2
    round_mm = sum(_side_mm(part.outline, i) for i in range(len(part.outline)))
    return (part.faces_painted * face_mm2 + round_mm * part.thickness_mm) / _MM2_PER_M2


def caulked_mm(part: Part) -> float:
    """Return the length of a trim or top part's edges that meet the room's own surfaces. [mm]"""
    if part.role not in _CAULKED_ROLES:
        return 0.0
    return sum(
        _side_mm(part.outline, i)
        for i, edge in enumerate(part.edges)
        if any(word in _ROOM_SURFACES for word in edge.meets.split()) and "side" not in edge.meets.split()
    )


def _rounds(brief: Brief, shop: Shop) -> tuple[Product, ...]:
    """Return the product of each coat in order."""
    inspection = Inspection()
    carried = {product.key: product for product in shop.products}
    known = ", ".join(carried) or "none"
    rounds: list[Product] = []
    wanted = (
        ("finish.primer", brief.finish.primer, "finish.primer_coats", brief.finish.primer_coats),
        ("finish.coat", brief.finish.coat, "finish.coats", brief.finish.coats),
    )
    for path, key, count_path, count in wanted:
        inspection.expect(count >= 0, count_path, count, "a number of coats, 0 or more")
        if not key:
            continue
        inspection.expect(key in carried, path, key, f"a product of the shop file ({known})")
        if key in carried:
            rounds.extend([carried[key]] * count)
    inspection.finish()
    return tuple(rounds)


def _side_mm(outline: Sequence[Point2], i: int) -> float:
    (u1, v1), (u2, v2) = outline[i], outline[(i + 1) % len(outline)]
    return math.hypot(u2 - u1, v2 - v1)


def _area_mm2(outline: Sequence[Point2]) -> float:
    twice = 0.0
    for i, (u1, v1) in enumerate(outline):
        u2, v2 = outline[(i + 1) % len(outline)]
        twice += u1 * v2 - u2 * v1
    return abs(twice) / 2
