"""What each joint adds: grooves, screws, brads and glue, from the real stack of boards."""

from __future__ import annotations

from nookwright.stages.inputs.brief import Joint
from nookwright.stages.inputs.shop import Shop
from nookwright.stages.parts.part import Fastening, Groove, JointMade, Part
from nookwright.trade import fastener_choice as choice

GLUE = Fastening(kind="glue", length_mm=0.0, count=1, spacing_mm=0.0, end_mm=0.0, reason="glue along the whole joint")

BACK_SPACING_MM = 200.0
"""Screws round a back. Common practice, no source."""

DOWN_SPACING_MM = 400.0
"""Screws that hold a box down to its platform or to the box below. Common practice, no source."""


def joined(
    held: Part, holder: Part, joint: Joint, length_mm: float, shop: Shop, *, deep: bool, spacing_mm: float = 0.0
) -> JointMade:
    """Return a joint with its fastenings.

    Args:
        held: the board whose end or face is held.
        holder: the board it is fixed to.
        joint: the kind of joint.
        length_mm: length of the joint line. [mm]
        shop: gives the screw lengths on sale.
        deep: True when the screw goes through the holder's face into the held board's edge, so that the wood behind
            is as deep as the board; False when it goes through the held board into the holder's face or edge.
        spacing_mm: greatest spacing, where it is not the joint's own. [mm]
    """
    fastenings = _fastenings(held, holder, joint, length_mm, shop, deep, spacing_mm)
    return JointMade(held=held.number, holder=holder.number, joint=joint, length_mm=length_mm, fastenings=fastenings)


def _fastenings(
    held: Part, holder: Part, joint: Joint, length_mm: float, shop: Shop, deep: bool, spacing_mm: float
) -> tuple[Fastening, ...]:
    """Return the fastenings of a joint."""
    if joint == "housing":
        return (GLUE,)
    if joint == "pocket screws":
        screw = choice.pocket_screw(
            held_mm=held.thickness_mm, holder_mm=holder.thickness_mm, lengths_mm=shop.screw_lengths_mm
        )
        row = choice.row_of_fasteners(
            joint_mm=length_mm, spacing_mm=spacing_mm or choice.POCKET_SPACING_MM, end_mm=choice.POCKET_END_MM
        )
        kind: Fastening = Fastening(
            kind="pocket screw",
            length_mm=screw.length_mm,
            count=row.count,
            spacing_mm=row.spacing_mm,
            end_mm=row.end_mm,
            reason=screw.reason,
        )
        return (kind, GLUE)
    if joint == "butt and brads":
        nail = choice.brad(held_mm=held.thickness_mm, base_mm=60.0)
        row = choice.row_of_fasteners(
            joint_mm=length_mm, spacing_mm=spacing_mm or choice.BRAD_SPACING_MM, end_mm=choice.BRAD_END_MM
        )
        brads = Fastening(
            kind="brad",
            length_mm=nail.length_mm,
            count=row.count,
            spacing_mm=row.spacing_mm,
            end_mm=row.end_mm,
            reason=nail.reason,
        )
        return (brads, GLUE)
    return (screws(held, holder, length_mm, shop, deep=deep, spacing_mm=spacing_mm), GLUE)


def screws(held: Part, holder: Part, length_mm: float, shop: Shop, *, deep: bool, spacing_mm: float) -> Fastening:
    """Return the row of wood screws of a joint; arguments as in `joined`."""
    under_head = holder.thickness_mm if deep else held.thickness_mm
    behind = 200.0 if deep else _depth_behind(holder)
    screw = choice.wood_screw(held_mm=under_head, base_mm=behind, lengths_mm=shop.screw_lengths_mm)
    row = choice.row_of_fasteners(
        joint_mm=length_mm, spacing_mm=spacing_mm or choice.SCREW_SPACING_MM, end_mm=choice.SCREW_END_MM
    )
    return Fastening(
        kind="wood screw",
        length_mm=screw.length_mm,
        count=row.count,
        spacing_mm=row.spacing_mm,
        end_mm=row.end_mm,
        reason=screw.reason,
    )


def face_to_face(held: Part, holder: Part, count: int, shop: Shop) -> JointMade:
    """Return two boards screwed together face to face, as neighbouring sides are."""
    screw = choice.wood_screw(held_mm=held.thickness_mm, base_mm=holder.thickness_mm, lengths_mm=shop.screw_lengths_mm)
    row = Fastening(
        kind="wood screw",
        length_mm=screw.length_mm,
        count=count,
        spacing_mm=0.0,
        end_mm=choice.SCREW_END_MM,
        reason=screw.reason,
    )
    return JointMade(
        held=held.number, holder=holder.number, joint="butt and screws", length_mm=held.blank_mm[1], fastenings=(row,)
    )


def _depth_behind(holder: Part) -> float:
    """Return how much wood a screw finds in the holder's edge: the edge of a rail or box board is deep enough."""
    on_edge = holder.role in {"side", "divider", "platform rail", "bottom", "top", "raked board", "shelf"}
    return 60.0 if on_edge else holder.thickness_mm


def housing_depth(holder: Part, wished_mm: float) -> float:
    """Return the depth of a housing: at most half of a side, a quarter of a divider. [mm]

    Source: [fitting-guides] for half; [trade-practice] for back-to-back housings in a divider.
    """
    share = 0.25 if holder.role == "divider" else 0.5
    return min(wished_mm, share * holder.thickness_mm)


def housing(
    holder: Part, *, at_mm: float, thickness_mm: float, depth_mm: float, on_face: str, end_mm: float, receives: str
) -> Groove:
    """Return a housing across an upright.

    Args:
        holder: the upright; its face A runs u up and v across the depth.
        at_mm: underside of the board it receives, up from the upright's foot. [mm]
        thickness_mm: real thickness of that board. [mm]
        depth_mm: depth of the housing. [mm]
        on_face: `A` or `B`.
        end_mm: how far it runs from the front edge. [mm]
        receives: number of that board.
    """
    middle = at_mm + thickness_mm / 2
    width = max(v for _, v in holder.outline)
    from_front = holder.frame.v[1] > 0
    start, end = (0.0, end_mm) if from_front else (width - end_mm, width)
    return Groove(
        face="A" if on_face == "A" else "B",
        start=(middle, start),
        end=(middle, end),
        width_mm=thickness_mm,
        depth_mm=depth_mm,
        receives=receives,
    )
