"""A shelf as it is reckoned: span, depth, load and the limit it is held to."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.masses import part_mass, room_extent
from nookwright.stages.checks.said import stress
from nookwright.stages.design.design import Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.parts.part import Part, PartList
from nookwright.trade.creep import damp_creep
from nookwright.trade.sag import allowable_stress
from nookwright.trade.sections import Strip, transformed
from nookwright.trade.shelf_standards import ShelfLimit, sag_allowed, shelf_limit, standard_load
from nookwright.trade.tipping import GRAVITY_M_S2
from nookwright.trade.woods import Wood, wood


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadedShelf:
    """A shelf as it is reckoned.

    Args:
        part: the shelf.
        wood: what it is made of.
        along: whether it spans along its grain.
        span_mm: clear distance between its supports. [mm]
        depth_mm: front to back. [mm]
        load_n_mm: what its sag is judged under: the standard's things, else the brief's, and its own weight. [N/mm]
        carries_n_mm: what it must carry without breaking: the heavier of the two, and its own weight. [N/mm]
        standard: whose load and limit count.
        limit_mm: sag accepted. [mm]
        damp: whether it stands in a damp place.
        lip: the strip of face trim that is glued along its front and bends with it, top edges counted from its own.
        backed: whether a back panel stands behind it.
    """

    part: Part
    wood: Wood
    along: bool
    span_mm: float
    depth_mm: float
    load_n_mm: float
    carries_n_mm: float
    standard: ShelfLimit
    limit_mm: float
    damp: bool = False
    lip: Strip | None = None
    backed: bool = False

    @property
    def modulus_n_mm2(self) -> float:
        """E in the direction of the span. [N/mm2]"""
        return (self.wood.along_n_mm2 if self.along else self.wood.across_n_mm2).value

    @property
    def allowed_n_mm2(self) -> float:
        """Bending stress that may stay for good along the span: less across the grain, as E is. [N/mm2]"""
        along = self.wood.strength_n_mm2.value
        return allowable_stress(strength_n_mm2=along * self.modulus_n_mm2 / self.wood.along_n_mm2.value)

    @property
    def board(self) -> Strip:
        """The board alone as a section."""
        return Strip(
            modulus_n_mm2=self.modulus_n_mm2, width_mm=self.depth_mm, height_mm=self.part.thickness_mm
        )  # fmt: skip

    @property
    def stiffer(self) -> float:
        """E I with the strip glued along its front over E I of the board alone; 1 without one."""
        if self.lip is None:
            return 1.0
        return transformed((self.board, self.lip)).stiffness_n_mm2 / transformed((self.board,)).stiffness_n_mm2

    @property
    def creep(self) -> float:
        """Sag after years over sag at once, in the place where it stands."""
        return creep_of(self.wood, damp=self.damp)


def strength_finding(
    shelf: LoadedShelf, bends: float, brief: Brief, *, formula: str, worked: str, remedy: str
) -> Finding:
    """Return whether a shelf's bending stress stays within what its wood may carry for good.

    Args:
        shelf: its wood and size.
        bends: the stress. [N/mm2]
        brief: for the units people read.
        formula, worked: how the stress is reckoned, in letters and in figures.
        remedy: what helps where it does not.
    """
    allowed = shelf.allowed_n_mm2
    verdict: Verdict = "pass" if bends <= allowed else "fail"
    return Finding(
        topic="shelf strength",
        subject=f"{shelf.part.name} {shelf.part.number}",
        verdict=verdict,
        summary=f"Bending stress {stress(bends, brief)} of the {stress(allowed, brief)} that {shelf.wood.name} may "
        "carry for good.",
        demand=bends,
        limit=allowed,
        unit="N/mm2",
        formula=f"{formula}; allowed = R (1 - 1.645 v) C_D / 2.1",
        worked=f"{worked} = {bends:.2f} N/mm2",
        source_keys=("beam-tables", shelf.wood.strength_n_mm2.source, "wood-stress-practice"),
        remedy="" if verdict == "pass" else remedy,
    )


def creep_of(made_of: Wood, *, damp: bool) -> float:
    """Return sag after years over sag at once."""
    return damp_creep(made_of.creep.value) if damp else made_of.creep.value


def loaded_shelf(part: Part, parts: PartList, design: Design, brief: Brief, *, damp: bool = False) -> LoadedShelf:
    """Return a shelf's span, depth, load and limit. Housed ends count as simple supports at the housing's mouth.

    Args:
        part: the shelf.
        parts: every joint, to see which ends are housed.
        design: for the depth of housings.
        brief: for the load and whose limit counts.
        damp: whether it stands in a damp place.

    Returns:
        The shelf as it is reckoned; the longer edge of a shelf cut to the rake counts in full.
    """
    us, vs = [u for u, _ in part.outline], [v for _, v in part.outline]
    length, width = max(us) - min(us), max(vs) - min(vs)
    along = abs(part.frame.u[0]) >= abs(part.frame.v[0])
    span, depth = (length, width) if along else (width, length)
    housed = sum(1 for joint in parts.joints if joint.held == part.number and joint.joint == "housing")
    span -= min(housed, 2) * design.housing_mm
    standard = shelf_limit(brief.load.shelf_limit)
    own = brief.load.shelf_kg_per_m * GRAVITY_M_S2 / 1000
    asked = standard_load(standard, span_mm=span, depth_mm=depth)
    weight = part_mass(part) * GRAVITY_M_S2 / span
    by_eye = brief.load.sag_per_m_mm * span / 1000
    return LoadedShelf(
        part=part,
        wood=wood(part.wood),
        along=along,
        span_mm=span,
        depth_mm=depth,
        load_n_mm=(own if asked is None else asked) + weight,
        carries_n_mm=max(own, asked or 0.0) + weight,
        standard=standard,
        limit_mm=by_eye if standard.key == "eye" else sag_allowed(standard, span),
        damp=damp,
        lip=_lip(part, parts, span) if along else None,
        backed=any(box.name == part.module and box.back is not None for box in design.boxes),
    )


LIP_SHARE = 0.9
"""A strip that covers this share of the span bends with the shelf. Common practice, no source."""


def _lip(part: Part, parts: PartList, span_mm: float) -> Strip | None:
    """Return the strip of face trim glued along a shelf's front; None where there is none or it ends short."""
    (_, _, _), (_, _, top) = room_extent(part)
    for joint in parts.joints:
        strip = parts.part(joint.held)
        glued = any(row.kind == "glue" for row in joint.fastenings)
        if joint.holder == part.number and strip.role == "strip" and glued and joint.length_mm >= LIP_SHARE * span_mm:
            (_, _, low), (_, _, high) = room_extent(strip)
            return Strip(
                modulus_n_mm2=wood(strip.wood).along_n_mm2.value,
                width_mm=strip.thickness_mm,
                height_mm=high - low,
                top_mm=top - high,
            )
    return None
