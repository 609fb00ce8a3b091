"""Tops made in pieces: does each end at a joint lie on something? A joint over nothing counts as no strength."""

from __future__ import annotations

from itertools import pairwise

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.said import size
from nookwright.stages.checks.tops import BEARS_MM
from nookwright.stages.design.design import Box, Design, FittedTop
from nookwright.stages.inputs.brief import Brief

BEARING_MM = 15.0
"""Least width that an end needs to be screwed to. Source: [trade-practice]. Status: common practice."""

LID_MM = 30.0
"""A divider that ends this near under a top carries it through the box's lid. Our choice."""


def check_splices(design: Design, brief: Brief) -> tuple[Finding, ...]:
    """Return a finding for every joint between pieces of a top: what carries the two ends there.

    Each piece is judged by itself over its own uprights under `top sag`: no bending goes through the joint.

    Args:
        design: the tops and the boxes under them.
        brief: for the units people read.
    """
    found: list[Finding] = []
    for left, right in pairwise(design.tops):
        x = max(x for x, _ in left.outline)
        if abs(left.z_mm - right.z_mm) < 0.5 and abs(x - min(x for x, _ in right.outline)) < 0.5:
            found.append(_joint(left, x, design.boxes, brief))
    return tuple(found)


def _joint(left: FittedTop, x_mm: float, boxes: tuple[Box, ...], brief: Brief) -> Finding:
    carriers = _joined(sorted(_uprights(left, boxes)))
    bears = max((min(x_mm - a, b - x_mm) for a, b in carriers if a < x_mm < b), default=0.0)
    verdict: Verdict = "fail" if bears < 1.0 else ("caution" if bears < BEARING_MM else "pass")
    nearest = min(((a + b) / 2 for a, b in carriers), key=lambda each: abs(each - x_mm), default=None)
    start = min(x for x, _ in left.outline)
    if verdict == "fail":
        summary = "Its joint lies over no upright: it counts as no strength, and both ends hang free."
        remedy = "Put an upright under the joint"
        if nearest is not None:
            way = "right" if nearest > x_mm else "left"
            remedy = (
                f"Move the split {size(abs(nearest - x_mm), brief)} to the {way}, over an upright, or put one under it"
            )
    else:
        summary = f"At its joint each end lies on {size(bears, brief)}."
        remedy = "" if verdict == "pass" else "Glue a batten beside the upright, so that both ends can be screwed"
    return Finding(
        topic="top joint",
        subject=left.name,
        verdict=verdict,
        summary=summary,
        demand=BEARING_MM,
        limit=bears,
        unit="mm",
        formula="least width under either end",
        worked=f"joint {x_mm - start:.0f} from the piece's left end",
        source_keys=("trade-practice",),
        remedy=f"{remedy}." if remedy else "",
    )


def _uprights(top: FittedTop, boxes: tuple[Box, ...]) -> list[tuple[float, float]]:
    """Return from where to where each upright under a top reaches, left to right. [mm]"""
    found: list[tuple[float, float]] = []
    for box in boxes:
        if abs(max(z for _, z in box.outline) - top.z_mm) > BEARS_MM:
            continue
        if box.bought is not None:
            found += [(box.x0_mm, box.x0_mm + box.bought.side_mm), (box.x1_mm - box.bought.side_mm, box.x1_mm)]
        else:
            found += [
                (each.x_mm, each.x_mm + each.thickness_mm)
                for each in box.uprights
                if top.z_mm - max(each.z1_left_mm, each.z1_right_mm) <= LID_MM
            ]
    return found


def _joined(spans: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return the spans, those that touch as one."""
    kept: list[tuple[float, float]] = []
    for a, b in spans:
        if kept and a - kept[-1][1] <= 1.0:
            kept[-1] = (kept[-1][0], max(b, kept[-1][1]))
        else:
            kept.append((a, b))
    return kept
