"""Wall fixings, tipping before they are in, studs owned, and what must be lifted."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.masses import box_mass, module_masses
from nookwright.stages.checks.opened import LEVEL, OPEN_FORMULA, clothes_source, opens, righting_n_mm, righting_worked
from nookwright.stages.checks.said import force, mass, size, slope
from nookwright.stages.checks.wall_holds import Hold, wall_holds
from nookwright.stages.design.design import Box, Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.installing.install_plan import InstallPlan, WallFixing
from nookwright.stages.parts.part import PartList
from nookwright.trade import tipping
from nookwright.trade.fastener_choice import WALL_SCREW
from nookwright.trade.fixings import HEAD_FORMULA, LAG_FORMULA, LAG_SIZES_MM, SCREW_FORMULA

ONE_PERSON_KG = 23.0
"""The most that one person may lift, close to the body: 51 lb. Source: [lifting-guidance]. Status: read."""

CARRIED_SINGLY = ("strip", "skirting", "door")
"""Roles of parts that are never carried as one piece with the others of their group."""

NEIGHBOUR_MM = 60.0
"""Boxes nearer than this are screwed to each other. Source: [trade-practice]. Status: common practice."""

RULED = (
    "A clothes cabinet of this size that is left free-standing falls under the tip-over rule; built in and fixed for "
    "good it does not: never use it before it is fixed."
)
"""Source: [clothing-storage]. Status: read."""

_MAKER = "Use the anchor maker's own figure for this wall, at the pull given here."


def check_anchoring(
    design: Design,
    parts: PartList,
    installing: InstallPlan,
    survey: Survey,
    brief: Brief,
    falls: Mapping[str, float] = LEVEL,
) -> tuple[Finding, ...]:
    """Return, for every box: its hold on the wall, its studs, and how easily it tips before it is fixed.

    Args:
        design: the boxes.
        parts: for masses and the fixing rails.
        installing: the fixings planned.
        survey: for the wall's board.
        brief: the pull that fixings must hold.
        falls: how steeply the floor falls to the front under each box that stands on it. [rad]

    Returns:
        Findings box by box.
    """
    findings: list[Finding] = []
    for box in design.boxes:
        fixings = tuple(fixing for fixing in installing.fixings if fixing.box == box.name)
        findings.append(_hold(box, fixings, design, parts, installing, survey, brief))
        if survey.wall.kind == "studs":
            findings.append(_studs(box, fixings))
        findings.append(_free_standing(box, design, parts, brief, falls.get(box.name, 0.0)))
    return tuple(findings)


def check_lifting(design: Design, parts: PartList, brief: Brief) -> tuple[Finding, ...]:
    """Return a caution for everything that is heavier than one person should lift.

    Args:
        design: for bought boxes, which have no parts.
        parts: everything to be made.
        brief: for the units people read.

    Returns:
        One finding per module; pass when one person can lift it.
    """
    carried = tuple(part for part in parts.parts if part.role not in CARRIED_SINGLY)
    masses = module_masses(PartList(parts=carried, joints=()))
    masses.update({box.name: box_mass(box, parts) for box in design.boxes if box.bought is not None})
    return tuple(_lift(module, each_kg, brief) for module, each_kg in masses.items())


def height_mm(box: Box) -> float:
    """Return a box's height from its foot to its highest corner. [mm]"""
    return max(z for _, z in box.outline) - box.z0_mm


def _lift(module: str, mass_kg: float, brief: Brief) -> Finding:
    """Return how many people it takes to lift a module."""
    people = max(1, math.ceil(mass_kg / ONE_PERSON_KG))
    heavy = people > 1
    return Finding(
        topic="lifting",
        subject=module,
        verdict="caution" if heavy else "pass",
        summary=f"{mass(mass_kg, brief)} with all its parts: "
        + ({1: "one person", 2: "two people"}.get(people) or f"{people} people")
        + ".",
        demand=mass_kg,
        limit=ONE_PERSON_KG,
        unit="kg",
        formula="mass = sum of area x thickness x density",
        source_keys=("lifting-guidance",),
        remedy=(
            "Take loose shelves and doors out, and have a second person."
            if people == 2
            else "Take it apart, or use a hoist or a dolly: that many seldom find hold on one box."
            if heavy
            else ""
        ),
    )


def _hold(
    box: Box,
    fixings: tuple[WallFixing, ...],
    design: Design,
    parts: PartList,
    installing: InstallPlan,
    survey: Survey,
    brief: Brief,
) -> Finding:
    """Return whether a box's fixings hold the pull on its top front edge."""
    if not fixings:
        return _unfixed(box, design, parts, installing, brief)
    height, righting = height_mm(box), righting_n_mm(box, design, parts)
    pulls = tipping.fixing_pulls(
        pull_n=brief.load.anchor_pull_n,
        pull_height_mm=height,
        righting_n_mm=righting,
        fixing_heights_mm=tuple(fixing.z_mm - box.z0_mm for fixing in fixings),
    )
    holds = wall_holds(box, fixings, parts, survey.wall.board_mm, brief.wall_screw)
    if not holds:
        return _anchors(box, fixings, pulls, righting, brief)
    # The screw nearest to its own capacity rules, whichever it is.
    pull, worst = max(zip(pulls, holds, strict=True), key=lambda pair: pair[0] / (pair[1].holds_n or 1e-9))
    capacity = worst.holds_n
    verdict: Verdict = "pass" if pull <= capacity else "fail"
    pulled = f"{force(brief.load.anchor_pull_n, brief)} outward on its top front edge pulls its worst"
    share = f"({brief.load.anchor_pull_n:.0f} x {height:.0f} - {righting:.0f}) N mm over {_heights(fixings, box)}"
    told = _by_maker(brief) if worst.thread_mm <= 0 and brief.wall_screw.anchor_pull_n > 0 else _by_screw(worst, brief)
    return Finding(
        topic="wall fixings",
        subject=box.name,
        verdict=verdict,
        summary=f"{pulled} {told.name} with {force(pull, brief)}; {told.says} {told.what(len(fixings))}",
        demand=pull,
        limit=capacity,
        unit="N",
        formula=f"{tipping.FIXING_FORMULA}; {told.formula}",
        worked=f"{share}: {pull:.0f} N; {told.worked}",
        source_keys=("statics", *told.source_keys),
        remedy="" if verdict == "pass" else _more_screws(pull, capacity, len(fixings), told.name),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """How a kind of fixing is told: its name, what it holds, and on what that rests."""

    name: str
    says: str
    chosen: str
    formula: str
    worked: str
    source_keys: tuple[str, ...]

    def what(self, count: int) -> str:
        """Return how many of what."""
        return f"{_screws(count, self.name).capitalize()}: {self.chosen}."


def _by_screw(worst: Hold, brief: Brief) -> _Told:
    """Return how a screw or lag in a stud is told."""
    screw, thread = brief.wall_screw.screw, worst.thread_mm
    lag = screw in LAG_SIZES_MM
    return _Told(
        name="screw",
        says=(
            f"{size(thread, brief)} of thread in the stud holds {force(worst.thread_n, brief)}, its head in the rail "
            f"{force(worst.head_n, brief)}."
        ),
        chosen=f"{screw} with a washer" if lag else (WALL_SCREW if screw == "No. 8" else f"{screw} cabinet screw"),
        formula=f"{LAG_FORMULA if lag else SCREW_FORMULA}; {HEAD_FORMULA}",
        worked=f"thread {worst.thread_said}; head {worst.head_said}",
        source_keys=("nds", "nds-recalled", "awi-0620"),
    )


def _by_maker(brief: Brief) -> _Told:
    """Return how an anchor is told: by its maker's own figure, typed in by the user."""
    wish = brief.wall_screw
    return _Told(
        name="anchor",
        says=f"its maker allows {force(wish.anchor_pull_n, brief)} ({wish.paper}).",
        chosen=wish.anchor,
        formula="the anchor maker's own figure for this wall",
        worked=f"{wish.anchor}, {wish.paper}: {wish.anchor_pull_n:.0f} N",
        source_keys=("anchor-maker",),
    )


def _heights(fixings: tuple[WallFixing, ...], box: Box) -> str:
    """Return at what heights a box's wall fixings stand: `2 at 865 mm`, `1 at 1400, 1 at 1500 mm`."""
    counts = Counter(f"{fixing.z_mm - box.z0_mm:.0f}" for fixing in fixings)
    return f"{', '.join(f'{count} at {height}' for height, count in counts.items())} mm"


def _screws(count: int, name: str = "screw") -> str:
    """Return a number of screws or anchors in words."""
    return f"1 {name}" if count == 1 else f"{count} {name}s"


def _more_screws(pull_n: float, capacity_n: float, count: int, name: str) -> str:
    """Return how many screws at the same heights would be enough."""
    if capacity_n <= 0:
        return "Take longer screws: these do not reach the stud."
    needed = int(-(-count * pull_n // capacity_n))
    longer = "longer ones" if name == "screw" else "a stronger kind"
    return f"Use {_screws(needed, name)} instead of {count} at the same heights, or {longer}."


def _anchors(
    box: Box, fixings: tuple[WallFixing, ...], pulls_n: tuple[float, ...], righting: float, brief: Brief
) -> Finding:
    """Return the question that a masonry or unknown wall leaves."""
    pull_n = max(pulls_n)
    return Finding(
        topic="wall fixings",
        subject=box.name,
        verdict="question",
        summary=(
            f"{force(brief.load.anchor_pull_n, brief)} outward on its top front edge pulls its worst fixing with "
            f"{force(pull_n, brief)}. {_MAKER}"
        ),
        demand=pull_n,
        unit="N",
        formula=tipping.FIXING_FORMULA,
        worked=(
            f"({brief.load.anchor_pull_n:.0f} x {height_mm(box):.0f} - {righting:.0f}) N mm over "
            f"{_heights(fixings, box)}: {pull_n:.0f} N"
        ),
        source_keys=("statics",),
    )


def _unfixed(box: Box, design: Design, parts: PartList, installing: InstallPlan, brief: Brief) -> Finding:
    """Return what holds a box that has no wall fixing: its weight, a neighbour, or nothing."""
    pull = brief.load.anchor_pull_n
    height, righting = height_mm(box), righting_n_mm(box, design, parts)
    holds = max(0.0, righting / height)
    fixed = {fixing.box for fixing in installing.fixings}
    neighbour = next((other.name for other in design.boxes if _beside(box, other) and other.name in fixed), "")
    verdict: Verdict = "pass" if holds >= pull else ("caution" if neighbour else "fail")
    remedy = "Fix it to the wall, or to a fixed neighbour."
    if neighbour:
        planned = " Whether the planned screws are enough stands under screws between boxes."
        remedy = f"Screw it to {neighbour}, which is fixed.{planned if _screwed(box.name, neighbour, parts) else ''}"
    return Finding(
        topic="wall fixings",
        subject=box.name,
        verdict=verdict,
        summary=(
            f"It has no wall fixing; by its own weight it stands {force(holds, brief)} of the {force(pull, brief)} "
            "pull."
        ),
        demand=pull,
        limit=holds,
        unit="N",
        formula=OPEN_FORMULA,
        worked=f"{righting_worked(box, design, parts)} / {height:.0f} mm = {righting / height:.0f} N",
        source_keys=("statics",),
        remedy="" if verdict == "pass" else remedy,
    )


def _screwed(name: str, other: str, parts: PartList) -> bool:
    """Return whether screws between two boxes are planned."""
    pairs = ({parts.part(joint.held).module, parts.part(joint.holder).module} for joint in parts.joints)
    return any(pair == {name, other} for pair in pairs)


def _beside(box: Box, other: Box) -> bool:
    """Return whether another box stands next to this one at the same height."""
    if other is box or abs(other.z0_mm - box.z0_mm) > NEIGHBOUR_MM:
        return False
    return min(abs(other.x0_mm - box.x1_mm), abs(box.x0_mm - other.x1_mm)) <= NEIGHBOUR_MM


def _studs(box: Box, fixings: tuple[WallFixing, ...]) -> Finding:
    """Return how many studs a box owns."""
    studs = sorted({fixing.into for fixing in fixings if fixing.into.startswith("stud")})
    verdict: Verdict = "pass" if len(studs) >= 2 else "caution"
    owned = ", ".join(studs) if studs else "no stud"
    return Finding(
        topic="studs",
        subject=box.name,
        verdict=verdict,
        summary=f"Behind it: {owned}. Two studs, each with a screw at the top and lower down, are the habit.",
        demand=2.0,
        limit=float(len(studs)),
        unit="studs",
        source_keys=("trade-practice",),
        remedy="" if verdict == "pass" else "Screw it to its neighbours and to the base too.",
    )


def _free_standing(box: Box, design: Design, parts: PartList, brief: Brief, falls_rad: float) -> Finding:
    """Return how easily a box tips while it is not yet fixed: doors and drawers open, the floor as it falls."""
    righting, height, ways = righting_n_mm(box, design, parts, falls_rad), height_mm(box), opens(box, design)
    holds, pull = max(0.0, righting / height), brief.load.anchor_pull_n
    verdict: Verdict = "pass" if holds >= pull else "caution"
    floor = f" The floor falls {slope(1000 * math.tan(falls_rad), brief)} to the front." if falls_rad > 0.0 else ""
    stands = f"it tips at {_pull_said(holds, brief)} pulled at its top"
    rule = ruled(box, parts, ways)
    return Finding(
        topic="tipping before it is fixed",
        subject=box.name,
        verdict=verdict,
        summary=(
            f"Free, its shelves empty{ways}, {stands if righting > 0 else 'it falls forward by itself'}.{floor}"
            f"{' ' + RULED if rule else ''}"
        ),
        demand=pull,
        limit=holds,
        unit="N",
        formula=OPEN_FORMULA,
        worked=f"{righting_worked(box, design, parts, falls_rad)} / {height:.0f} mm = {righting / height:.0f} N",
        source_keys=("statics", *clothes_source(ways), *(("clothing-storage",) if rule else ())),
        remedy=_until_fixed(righting, verdict, ways),
    )


def _pull_said(newton: float, brief: Brief) -> str:
    """Return a pull, for readers of newtons with the mass that hangs as hard."""
    hangs = f" ({newton / tipping.GRAVITY_M_S2:.1f} kg)" if brief.units == "mm" else ""
    return f"{force(newton, brief)}{hangs}"


def _until_fixed(righting: float, verdict: Verdict, ways: str) -> str:
    """Return how to keep a box standing until it is fixed."""
    if verdict == "pass":
        return ""
    close = "Take its doors off and its drawers out, or tie them shut. " if ways and righting <= 0 else ""
    return f"{close}Hold it until the first screw is in; load nothing before all are."


def ruled(box: Box, parts: PartList, ways: str) -> bool:
    """Return whether a box, left free-standing with clothes behind its doors or in drawers, is under the tip-over rule.

    Args:
        box: the box.
        parts: for its mass.
        ways: what of it opens, as `opens` says it: a box with neither doors nor drawers is a shelf unit, out of scope.
    """
    volume = (box.x1_mm - box.x0_mm) * height_mm(box) * box.depth_mm * 1e-9
    mass = box_mass(box, parts)
    return bool(ways) and tipping.under_tipping_rule(height_mm=height_mm(box), mass_kg=mass, storage_m3=volume)
