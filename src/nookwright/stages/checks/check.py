"""Runs every check: will it hold, stay put, move freely, and what only a person on site can answer."""

from __future__ import annotations

from nookwright.basics.findings import Finding, worst_first
from nookwright.stages.checks.anchoring import check_anchoring, check_lifting
from nookwright.stages.checks.assembly import check_assembly
from nookwright.stages.checks.bought_seats import check_bought_seats
from nookwright.stages.checks.climbing import check_climbing
from nookwright.stages.checks.electrical import check_wiring
from nookwright.stages.checks.glue_up import check_glue_up
from nookwright.stages.checks.joined_boxes import check_joined
from nookwright.stages.checks.making import check_batch, check_built, check_saw
from nookwright.stages.checks.measuring import check_measuring
from nookwright.stages.checks.opened import floor_falls
from nookwright.stages.checks.own_seats import check_own_seats
from nookwright.stages.checks.platform_hold import check_platform_hold
from nookwright.stages.checks.platform_rails import check_platform
from nookwright.stages.checks.racking import check_racking
from nookwright.stages.checks.rail_joints import check_rail_joints
from nookwright.stages.checks.reach import check_reach
from nookwright.stages.checks.scribing import check_scribing
from nookwright.stages.checks.seasons import check_climate
from nookwright.stages.checks.shelves import check_shelves
from nookwright.stages.checks.site_questions import check_site, damp_found
from nookwright.stages.checks.splices import check_splices
from nookwright.stages.checks.splitting import check_splitting, check_trim_brads
from nookwright.stages.checks.tops import check_tops
from nookwright.stages.checks.uprights import check_uprights
from nookwright.stages.checks.wood_movement import check_doors, check_movement
from nookwright.stages.design.design import Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.facts import Facts
from nookwright.stages.inputs.shop import Shop
from nookwright.stages.installing.install_plan import InstallPlan
from nookwright.stages.parts.part import PartList
from nookwright.stages.room.room import Room


def check(
    design: Design,
    parts: PartList,
    installing: InstallPlan,
    room: Room,
    brief: Brief,
    shop: Shop,
    facts: Facts,
) -> tuple[Finding, ...]:
    """Judge the whole design.

    Args:
        design: everything at its place, with what fitting it already found.
        parts: every part and joint.
        installing: packers, wall fixings, outlet holes, scribed edges.
        room: the room as adjusted, with the survey behind it.
        brief: loads and limits.
        shop: stock for cures, and the saw.
        facts: what is already bought or built.

    Returns:
        Every finding: fails first, then cautions, questions and passes; within each, in the order of the checks.
    """
    falls = floor_falls(design, room)
    findings = (
        *check_measuring(room, brief),
        *check_reach(design, room, brief),
        *design.findings,
        *check_assembly(parts, room, brief),
        *check_scribing(installing, brief),
        *check_shelves(design, parts, brief, shop, damp=damp_found(room.survey)),
        *check_uprights(design, parts, brief),
        *check_tops(design, shop, brief),
        *check_splices(design, brief),
        *check_bought_seats(design, shop, brief),
        *check_own_seats(design, brief),
        *check_anchoring(design, parts, installing, room.survey, brief, falls),
        *check_rail_joints(design, parts, installing, brief),
        *check_climbing(design, parts, installing, room.survey, brief, falls),
        *check_splitting(parts, room.survey, brief),
        *check_trim_brads(parts, brief),
        *check_joined(design, parts, installing, brief),
        *check_racking(design, parts, installing, brief),
        *check_platform(design, parts, installing, brief),
        *check_platform_hold(design, installing, room, brief),
        *check_climate(brief),
        *check_movement(parts, brief),
        *check_doors(design, brief),
        *check_glue_up(parts, shop, brief),
        *check_wiring(design, parts, installing, room.survey, brief),
        *check_saw(parts, shop),
        *check_lifting(design, parts, brief),
        *check_built(parts, facts, brief),
        *check_batch(parts, shop, facts, brief),
        *check_site(design, parts, room.survey, brief),
    )
    return worst_first(findings)
