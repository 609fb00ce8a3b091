"""Sockets and switches behind the furniture: reach, set-back, and holes that hit a board."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.basics.findings import Finding
from nookwright.stages.checks.masses import room_extent
from nookwright.stages.checks.said import size
from nookwright.stages.design.design import Box, Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.survey import Outlet, Survey
from nookwright.stages.installing.install_plan import InstallPlan, OutletHole
from nookwright.stages.parts.part import PartList
from nookwright.trade.wiring import ACCESS_RULE, DEFER, EXTENDER_MM, SET_BACK_RULE, plate_cover

MARGIN_SDS = 2.0
"""Standard deviations of the hole's place kept clear of a board. Source: [trade-practice]. Status: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Area:
    """A rectangle in elevation. [mm]"""

    x0: float
    x1: float
    z0: float
    z1: float

    def apart_mm(self, other: _Area) -> float:
        """Return the free distance to another rectangle; below 0 where they overlap. [mm]"""
        across = max(self.x0 - other.x1, other.x0 - self.x1)
        upright = max(self.z0 - other.z1, other.z0 - self.z1)
        return max(across, upright)


def check_wiring(
    design: Design, parts: PartList, installing: InstallPlan, survey: Survey, brief: Brief
) -> tuple[Finding, ...]:
    """Return findings for every outlet that ends up behind a box.

    Args:
        design: the boxes.
        parts: the panels with the holes.
        installing: the holes planned.
        survey: for the outlets.
        brief: for the units people read.

    Returns:
        For each hole: reach and set-back, plate cover, and boards in its way.
    """
    outlets = {outlet.name: outlet for outlet in survey.outlets}
    boxes = {box.name: box for box in design.boxes}
    findings: list[Finding] = []
    for hole in installing.holes:
        box = boxes.get(hole.box)
        if box is None:
            continue
        findings += [_set_back(hole, brief), *_blocked(hole, box, parts, brief)]
        if hole.outlet in outlets:
            findings += _cover(hole, outlets[hole.outlet], brief)
    return tuple(findings)


def _set_back(hole: OutletHole, brief: Brief) -> Finding:
    """Return how far an outlet must come forward, and whether a box extender bridges it."""
    _, furthest = EXTENDER_MM
    beyond = hole.forward_mm > furthest
    return Finding(
        topic="outlet",
        subject=hole.outlet,
        verdict="fail" if beyond else "question",
        summary=(
            f"It comes through {hole.box} and must come forward {size(hole.forward_mm, brief)}. {SET_BACK_RULE} "
            f"{ACCESS_RULE} {DEFER}"
        ),
        demand=hole.forward_mm,
        limit=furthest,
        unit="mm",
        source_keys=("nec-314", "fitting-guides"),
        remedy=(
            f"Box extenders reach {size(furthest, brief)}: have the box itself moved forward."
            if beyond
            else f"A box extender of {size(hole.forward_mm, brief)}, flush with the panel's face."
        ),
    )


def _cover(hole: OutletHole, outlet: Outlet, brief: Brief) -> list[Finding]:
    """Return a caution when the plate may not cover the hole, its place being as uncertain as it is."""
    cover = min(
        plate_cover(plate_mm=outlet.plate_width_mm, hole_mm=hole.width_mm, sd_mm=hole.sd_mm),
        plate_cover(plate_mm=outlet.plate_height_mm, hole_mm=hole.height_mm, sd_mm=hole.sd_mm),
    )
    if cover > 0:
        return []
    return [
        Finding(
            topic="outlet plate",
            subject=hole.outlet,
            verdict="caution",
            summary=(
                f"The hole's place is known to {size(2 * hole.sd_mm, brief)} and the plate covers too little beyond "
                "it: its edge may show."
            ),
            demand=-cover,
            limit=0.0,
            unit="mm",
            formula="cover left = (plate - hole) / 2 - 2 sd",
            source_keys=("trade-practice",),
            remedy="Mark the hole from the box itself with the panel in place, or take a larger plate.",
        )
    ]


def _blocked(hole: OutletHole, box: Box, parts: PartList, brief: Brief) -> list[Finding]:
    """Return a finding for each board of the box that stands in the hole, or nearly."""
    area = _hole_area(hole, box, parts)
    findings: list[Finding] = []
    for name, board in _boards(box):
        apart = area.apart_mm(board)
        if apart >= MARGIN_SDS * hole.sd_mm:
            continue
        hits = apart < 0
        findings.append(
            Finding(
                topic="outlet hole",
                subject=hole.outlet,
                verdict="fail" if hits else "caution",
                summary=f"Its hole in {box.name} "
                + (f"runs {size(-apart, brief)} into" if hits else f"clears by only {size(apart, brief)}")
                + f" the {name}.",
                demand=MARGIN_SDS * hole.sd_mm,
                limit=apart,
                unit="mm",
                formula="free distance >= 2 sd of the hole's place",
                source_keys=("trade-practice",),
                remedy=f"Move the {name}, or have the outlet moved.",
            )
        )
    return findings


def _hole_area(hole: OutletHole, box: Box, parts: PartList) -> _Area:
    """Return where a hole lies in the room, from its panel's own edges."""
    left, bottom = box.x0_mm, box.z0_mm
    if hole.part:
        low, _ = room_extent(parts.part(hole.part))
        left, bottom = low[0], low[2]
    x0, z0 = left + hole.left_mm, bottom + hole.bottom_mm
    return _Area(x0=x0, x1=x0 + hole.width_mm, z0=z0, z1=z0 + hole.height_mm)


def _boards(box: Box) -> list[tuple[str, _Area]]:
    """Return the boards of a box that stand before its back, with where they lie."""
    boards: list[tuple[str, _Area]] = [
        (
            upright.kind,
            _Area(
                x0=upright.x_mm,
                x1=upright.x_mm + upright.thickness_mm,
                z0=upright.z0_mm,
                z1=max(upright.z1_left_mm, upright.z1_right_mm),
            ),
        )
        for upright in box.uprights
    ]
    boards += [
        (
            "shelf" if shelf.fixing != "row" else "board between rows",
            _Area(x0=shelf.x0_mm, x1=shelf.x1_mm, z0=shelf.z_mm, z1=shelf.z_mm + shelf.thickness_mm),
        )
        for shelf in box.shelves
    ]
    return boards
