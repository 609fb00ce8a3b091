"""Doors: leaves sized from the opening that is left for them."""

from __future__ import annotations

from nookwright.basics.findings import Finding
from nookwright.geometry.frame import Point2
from nookwright.geometry.plane import clipped_between, moved_edges
from nookwright.stages.design.carcase import SLIDING_GAP_MM
from nookwright.stages.design.design import Box, Door, Opening
from nookwright.stages.design.setting import Setting
from nookwright.stages.design.trims import Face, clear_opening
from nookwright.stages.inputs.brief import Front
from nookwright.stages.inputs.shop import SheetStock
from nookwright.trade.doors import INSET_PAIR_MM, INSET_SINGLE_MM, OVERLAY_GAP_MM, SLIDING_OVERLAP_MM

FACE_LAP_MM = 10.0
"""How far an overlay door laps the strips round its opening. Common practice, no source."""

LEAST_OPENING_MM = 60.0
"""An opening less wide or high than this gets no door: no hinge goes on it. Common practice, no source."""


def hung(box: Box, face: Face | None, setting: Setting) -> tuple[tuple[Door, ...], tuple[Finding, ...]]:
    """Return the door leaves of a box.

    Args:
        box: the box.
        face: its tier's face trim; None when there is none.
        setting: the job.
    """
    doors: list[Door] = []
    findings: list[Finding] = []
    for opening in box.openings:
        if opening.front is None:
            continue
        stock = setting.sheet(opening.front.board, "front", setting.brief.where)
        outline = clear_opening(face, opening.outline) if face else opening.outline
        found = _refused(box, opening, outline)
        if found:
            findings.append(found)
            continue
        doors.extend(_leaves(box, opening.front, outline, face, stock))
    return tuple(doors), tuple(findings)


def _refused(box: Box, opening: Opening, outline: tuple[Point2, ...]) -> Finding | None:
    """Return why no door can be hung in the opening, or None."""
    front = opening.front
    raked = len({round(z, 2) for _, z in outline}) > 2
    reason = ""
    if not outline:
        reason = "the strips leave no opening for the door"
    elif min(max(at) - min(at) for at in zip(*outline, strict=True)) < LEAST_OPENING_MM:
        reason = "the opening is too small for a door"
    elif front is not None and front.leaves == "sliding" and raked:
        reason = "doors cannot slide under a slope"
    if not reason:
        return None
    return Finding(
        topic="fit",
        subject=f"door of {box.name}",
        verdict="fail",
        summary=f"No door: {reason}.",
        remedy="Hang a single inset door there, or leave the space open.",
    )


def _leaves(box: Box, front: Front, outline: tuple[Point2, ...], face: Face | None, stock: SheetStock) -> list[Door]:
    """Return the leaves in one opening."""
    whole = moved_edges(outline, tuple(_growth(box, front, face, outline, i) for i in range(len(outline))))
    xs = [x for x, _ in whole]
    x0, x1, middle = min(xs), max(xs), (min(xs) + max(xs)) / 2
    y = _rear(box, front, face, stock)

    def leaf(name: str, corners: tuple[Point2, ...], y_back: float) -> Door:
        inset = front.hang == "inset"
        return Door(
            name=f"{name} of {box.name}", letter="D", outline=corners, y_back_mm=y_back, stock=stock, inset=inset
        )

    if front.leaves == "one":
        return [leaf("door", whole, y)]
    if front.leaves == "pair":
        half = (OVERLAY_GAP_MM if front.hang == "overlay" else INSET_PAIR_MM - INSET_SINGLE_MM) / 2
        return [
            leaf("left door", clipped_between(whole, x0, middle - half), y),
            leaf("right door", clipped_between(whole, middle + half, x1), y),
        ]
    lap = SLIDING_OVERLAP_MM / 2
    behind = y + stock.thickness_mm + SLIDING_GAP_MM
    return [
        leaf("left sliding door", clipped_between(whole, x0, middle + lap), y),
        leaf("right sliding door", clipped_between(whole, middle - lap, x1), behind),
    ]


def _growth(box: Box, front: Front, face: Face | None, outline: tuple[Point2, ...], edge: int) -> float:
    """Return how far a door reaches beyond one edge of its opening; below 0 for the gap of an inset door. [mm]

    An overlay door laps strips, and shares a board that lies bare between two openings with its neighbour.
    """
    if front.hang == "inset":
        return -INSET_SINGLE_MM / 2
    (_, z0), (_, z1) = outline[edge], outline[(edge + 1) % len(outline)]
    level = abs(z1 - z0) < 0.01
    return (box.board.thickness_mm - OVERLAY_GAP_MM) / 2 if level or face is None else _lap(face)


def _lap(face: Face) -> float:
    """Return how far overlay doors lap plumb strips: less where two of them share a narrow one. [mm]"""
    shared = [(cover.right_mm - cover.left_mm - OVERLAY_GAP_MM) / 2 for cover in face.covers[1:-1]]
    return max(0.0, min([FACE_LAP_MM, *shared]))


def _rear(box: Box, front: Front, face: Face | None, stock: SheetStock) -> float:
    """Return y of a leaf's rear face: within the strips, within the box, or in front of it. [mm]"""
    if face is not None:
        strip = face.strips[0]
        return strip.y_back_mm - (strip.stock.thickness_mm if front.hang == "overlay" else 0.0)
    return box.y_front_mm + (stock.thickness_mm if front.hang == "inset" else 0.0)
