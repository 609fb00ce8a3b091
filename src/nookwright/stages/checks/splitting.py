"""Screws, lags and brads near edges and ends of solid wood: whether it splits; and whether brads hold a bowed strip."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.masses import room_extent
from nookwright.stages.checks.said import fine, force, size
from nookwright.stages.checks.screwed import SCREW, gravity_of
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.parts.part import Fastening, JointMade, Part, PartList
from nookwright.trade.fixing_rules import PERMANENT, lag_edge_distance, least_distances
from nookwright.trade.fixings import (
    BRAD_MM,
    LAG_SIZES_MM,
    MM_PER_INCH,
    NAIL_FORMULA,
    SCREW_DIAMETERS_MM,
    nail_withdrawal,
)
from nookwright.trade.woods import wood

BOW_MM, BOW_OVER_MM = 6.0, 2400.0
"""A strip as bought may be bowed by this over so much of its length; over half of it by a quarter of that.
Source: [trade-practice]. Status: common practice."""

UNSEEN_MM = 0.5
"""A gap behind a strip that nobody sees and filler closes. Source: [trade-practice]. Status: common practice."""

THINNER = "No. 6"
"""The thinnest screw that boards are joined with. Source: [fitting-guides]. Status: read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Near:
    """A fastener near an edge or end. [mm]"""

    subject: str
    what: str
    of: str
    diameter_mm: float
    has_mm: float
    wants_mm: float


def check_splitting(parts: PartList, survey: Survey, brief: Brief) -> tuple[Finding, ...]:
    """Return whether fasteners keep far enough from edges and ends of solid wood.

    Args:
        parts: every joint.
        survey: the studs' width.
        brief: the wall screw, and the units people read.

    Returns:
        One finding for each kind of place, the tightest of its kind; boards of layers, fibres and chips are left out.
    """
    tightest: dict[tuple[str, str], _Near] = {}
    for near in (*_in_joints(parts), *_in_studs(survey, brief)):
        key = (near.subject, near.of)
        if key not in tightest or near.has_mm - near.wants_mm < tightest[key].has_mm - tightest[key].wants_mm:
            tightest[key] = near
    return tuple(_finding(near, brief) for near in tightest.values())


def _in_joints(parts: PartList) -> Iterator[_Near]:
    """Yield every fastener of a joint that enters or passes solid wood near its edge or end."""
    for joint in parts.joints:
        held, holder = parts.part(joint.held), parts.part(joint.holder)
        for row in joint.fastenings:
            if row.kind == "wood screw" and held.role == "platform bearer":
                yield from _platform(held, holder)
            elif row.kind == "brad" and _solid(held):
                yield _strip_end(held, row)


def _platform(bearer: Part, rail: Part) -> Iterator[_Near]:
    """Yield a bearer's screws: in the middle of its end, and near the end of the rail they pass."""
    diameter = SCREW_DIAMETERS_MM[SCREW]
    least = least_distances(diameter_mm=diameter, drilled=True)
    if _solid(bearer):
        half = bearer.thickness_mm / 2
        yield _Near(
            subject="platform bearers", what=SCREW, of="edge", diameter_mm=diameter, has_mm=half, wants_mm=least.edge_mm
        )
    if _solid(rail):
        (low, _, _), (high, _, _) = room_extent(bearer)
        (start, _, _), (end, _, _) = room_extent(rail)
        middle = (low + high) / 2
        yield _Near(
            subject="platform rails", what=SCREW, of="end", diameter_mm=diameter,
            has_mm=min(middle - start, end - middle), wants_mm=least.end_mm,
        )  # fmt: skip


def _strip_end(strip: Part, row: Fastening) -> _Near:
    """Return the first brad of a strip."""
    least = least_distances(diameter_mm=BRAD_MM, drilled=False)
    return _Near(
        subject=strip.module, what="brad", of="end", diameter_mm=BRAD_MM, has_mm=row.end_mm, wants_mm=least.end_mm
    )


def _in_studs(survey: Survey, brief: Brief) -> Iterator[_Near]:
    """Yield the wall screw in the middle of a stud, its load along the grain."""
    if survey.wall.kind != "studs":
        return
    screw = brief.wall_screw.screw
    lag = LAG_SIZES_MM.get(screw)
    diameter = SCREW_DIAMETERS_MM[screw] if lag is None else lag
    wants = (
        least_distances(diameter_mm=diameter, drilled=True).edge_mm
        if lag is None
        else lag_edge_distance(diameter_mm=lag, across_grain=False)
    )
    half = survey.wall.stud_width_mm / 2
    yield _Near(subject="studs", what=screw, of="edge", diameter_mm=diameter, has_mm=half, wants_mm=wants)


def _solid(part: Part) -> bool:
    """Return whether a part is solid wood."""
    return wood(part.wood).solid


def _finding(near: _Near, brief: Brief) -> Finding:
    """Return whether one kind of place keeps its distance."""
    enough = near.has_mm >= near.wants_mm
    verdict: Verdict = "pass" if enough else "caution"
    times = near.wants_mm / near.diameter_mm
    return Finding(
        topic="splitting",
        subject=near.subject,
        verdict=verdict,
        summary=(
            f"Its nearest {near.what} stands {size(near.has_mm, brief)} from the {near.of}; {times:g} diameters are "
            f"{fine(near.wants_mm, brief)}."
        ),
        demand=near.wants_mm,
        limit=near.has_mm,
        unit="mm",
        formula="distance >= n D: screws, drilled, 10 D from an end, 2.5 D from an edge; brads 15 D; lags 1.5 D",
        worked=f"{times:g} x {near.diameter_mm:.2f} = {near.wants_mm:.1f} mm; it has {near.has_mm:.1f}",
        source_keys=("nds", "nds-recalled", "trade-practice"),
        remedy="" if enough else _cure(near, brief),
    )


def _cure(near: _Near, brief: Brief) -> str:
    """Return how to keep it from splitting: a thinner fastener where that is enough, else drilling and care."""
    thin = least_distances(diameter_mm=SCREW_DIAMETERS_MM[THINNER], drilled=True)
    wants = thin.end_mm if near.of == "end" else thin.edge_mm
    drill = f"Drill a hole of the screw's root right through the first piece, {size(near.has_mm, brief)} from the end"
    if near.what in SCREW_DIAMETERS_MM and near.has_mm >= wants:
        return f"Take {THINNER} screws there, and drill first."
    return f"{drill}; do not drive it hard." if near.of == "end" else "Drill first, and keep to the middle of the edge."


def check_trim_brads(parts: PartList, brief: Brief) -> tuple[Finding, ...]:
    """Return whether each strip's brads pull it flat when it is bowed, glue left out.

    Args:
        parts: strips and the returned skirting, with their brads.
        brief: for the units people read.

    Returns:
        One finding a module: that of its worst strip.
    """
    worst: dict[str, Finding] = {}
    for joint in parts.joints:
        strip = parts.part(joint.held)
        for row in joint.fastenings:
            if row.kind == "brad" and strip.role in {"strip", "skirting"}:
                finding = _pulled_flat(strip, parts.part(joint.holder), joint, row, brief)
                known = worst.get(strip.module)
                if known is None or _left(finding) < _left(known):
                    worst[strip.module] = finding
    return tuple(worst.values())


def _left(finding: Finding) -> float:
    """Return what a finding leaves: its limit over its demand."""
    return (finding.limit or 0.0) / max(finding.demand or 0.0, 1e-9)


def _pulled_flat(strip: Part, holder: Part, joint: JointMade, row: Fastening, brief: Brief) -> Finding:
    """Return what a strip's brads are pulled with when it was bowed, against what they hold."""
    length, t = joint.length_mm, strip.thickness_mm
    width = max(v for _, v in strip.outline) - min(v for _, v in strip.outline)
    E, bow = wood(strip.wood).along_n_mm2.value, BOW_MM * (length / BOW_OVER_MM) ** 2
    closed = max(0.0, bow - UNSEEN_MM)
    pull = 384 * E * width * t**3 / 12 * closed / (5 * length**3)
    gravity, deep = gravity_of(holder), max(0.0, row.length_mm - t)
    per_mm = nail_withdrawal(gravity=gravity, diameter_mm=BRAD_MM)
    each = per_mm * deep
    holds = row.count * each * PERMANENT
    verdict: Verdict = "pass" if pull <= holds else "caution"
    return Finding(
        topic="trim brads",
        subject=f"{strip.name} {strip.number}",
        verdict=verdict,
        summary=(
            f"Bowed by {fine(bow, brief)} along its {size(length, brief)} and drawn to {fine(UNSEEN_MM, brief)}, it "
            f"pulls its {row.count} brads with {force(pull, brief)}; they hold {force(holds, brief)} for good, glue "
            "left out."
        ),
        demand=pull,
        limit=holds,
        unit="N",
        formula=f"P = 384 E I d / (5 L^3); {NAIL_FORMULA}",
        worked=(
            f"384 x {E:.0f} x {width:.0f} x {t:.1f}^3 / 12 x {closed:.2f} / (5 x {length:.0f}^3) = {pull:.1f} N; "
            f"1380 x {gravity:g}^2.5 x {BRAD_MM / MM_PER_INCH:.4f} lb/in = {per_mm:.2f} N/mm x {deep:.1f} mm = "
            f"{each:.1f} N; {row.count} x {each:.1f} x {PERMANENT} = {holds:.0f} N"
        ),
        source_keys=("beam-tables", "nds", "nds-recalled", "trade-practice"),
        remedy="" if verdict == "pass" else _more_brads(pull, each),
    )


def _more_brads(pull_n: float, each_n: float) -> str:
    """Return how many brads pull it flat."""
    if each_n <= 0:
        return "The brads do not reach: take longer ones."
    return f"Use {math.ceil(pull_n / (each_n * PERMANENT))} brads, or a straighter strip."
