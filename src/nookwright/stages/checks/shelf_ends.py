"""The ends of a shelf: pins, housings and screws under half its load each."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.said import force
from nookwright.stages.checks.screwed import SCREWS_FORMULA, gravity_of, row_holds
from nookwright.stages.checks.shelf_load import LoadedShelf
from nookwright.stages.design.design import Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.parts.part import Fastening, JointMade, Part, PartList
from nookwright.trade.fixing_rules import PERMANENT
from nookwright.trade.fixings import N_MM2_PER_PSI
from nookwright.trade.lateral import bearing_strength

ACROSS_GRAIN_N_MM2 = 425 * N_MM2_PER_PSI
"""What softwood may be pressed with across its grain. Source: [nds-recalled] Supplement. Status: recalled."""

PIN_DEPTH_MM = 9.0
"""A shelf pin stands this deep in its hole. Source: [trade-practice]. Status: common practice."""

PIN_MM = 5.0
"""Diameter of a pin whose holes are not drawn. Source: [trade-practice]. Status: common practice."""

DOWEL_REDUCTION = 4.0
"""What crushing under a dowel is divided by. Source: [nds] Table 12.3.1B. Status: read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _End:
    """What one kind of end holds: in words, in numbers, and what it rests on."""

    name: str
    holds_n: float
    formula: str
    worked: str
    source_keys: tuple[str, ...]


def end_finding(shelf: LoadedShelf, parts: PartList, design: Design, brief: Brief) -> list[Finding]:
    """Return whether the weaker end of a shelf carries half its load; nothing when no end is drawn.

    Args:
        shelf: the shelf.
        parts: its joints and pin holes.
        design: for the depth of housings.
        brief: for the units people read.

    Returns:
        One finding or none.
    """
    ends = _ends(shelf, parts, design)
    if not ends:
        return []
    end_n = shelf.carries_n_mm * shelf.span_mm / 2
    weakest = min(ends, key=lambda end: end.holds_n)
    verdict: Verdict = "pass" if end_n <= weakest.holds_n else "fail"
    return [
        Finding(
            topic="shelf ends",
            subject=f"{shelf.part.name} {shelf.part.number}",
            verdict=verdict,
            summary=(
                f"Each end carries {force(end_n, brief)}; {weakest.name} may carry "
                f"{force(weakest.holds_n, brief)} for good."
            ),
            demand=end_n,
            limit=weakest.holds_n,
            unit="N",
            formula=f"end = w L / 2; {weakest.formula}",
            worked=f"{shelf.carries_n_mm:.4f} x {shelf.span_mm:.0f} / 2 = {end_n:.0f} N; {weakest.worked}",
            source_keys=("statics", *weakest.source_keys),
            remedy="" if verdict == "pass" else "Screw and glue a cleat under each end, or carry less.",
        )
    ]


def _ends(shelf: LoadedShelf, parts: PartList, design: Design) -> list[_End]:
    """Return every kind of end that a shelf has."""
    part = shelf.part
    if part.role == "loose shelf":
        uprights = [(each, holes) for each in parts.parts for holes in each.pin_holes if holes.receives == part.number]
        return [_pins(upright, holes.diameter_mm) for upright, holes in uprights] or [_pins(part, PIN_MM)]
    ends = []
    for joint in parts.joints:
        if joint.held == part.number:
            ends += [_housing(shelf, design)] if joint.joint == "housing" else _screwed(part, joint, parts)
    return ends


def _pins(upright: Part, diameter_mm: float) -> _End:
    """Return what two pins may carry before the upright is crushed."""
    gravity = gravity_of(upright)
    Fe = bearing_strength(gravity)
    holds = 2 * diameter_mm * PIN_DEPTH_MM * Fe / DOWEL_REDUCTION * PERMANENT
    return _End(
        name="its two pins",
        holds_n=holds,
        formula="pins = 2 D l Fe C_D / 4, Fe = 16600 G^1.84 psi",
        worked=f"2 x {diameter_mm:g} x {PIN_DEPTH_MM:g} x {Fe:.1f} x {PERMANENT} / 4 = {holds:.0f} N",
        source_keys=("nds", "nds-recalled", "trade-practice"),
    )


def _housing(shelf: LoadedShelf, design: Design) -> _End:
    """Return what the ledge of a housing may carry."""
    holds = design.housing_mm * shelf.depth_mm * ACROSS_GRAIN_N_MM2
    return _End(
        name="the ledge of its housing",
        holds_n=holds,
        formula="housing = depth x b x 2.93 N/mm2",
        worked=f"{design.housing_mm:g} x {shelf.depth_mm:.0f} x {ACROSS_GRAIN_N_MM2:.2f} = {holds:.0f} N",
        source_keys=("nds-recalled",),
    )


def _screwed(held: Part, joint: JointMade, parts: PartList) -> list[_End]:
    """Return what the screws of a butt joint may carry across; glue is left out."""
    rows = [row for row in joint.fastenings if row.kind in {"pocket screw", "wood screw"}]
    return [_screws(held, parts.part(joint.holder), row) for row in rows]


def _screws(held: Part, holder: Part, row: Fastening) -> _End:
    """Return what a row of screws may carry."""
    hold = row_holds(held, holder, row)
    return _End(
        name=f"its {row.count} screws",
        holds_n=hold.holds_n,
        formula=SCREWS_FORMULA,
        worked=hold.worked,
        source_keys=("nds", "nds-recalled"),
    )
