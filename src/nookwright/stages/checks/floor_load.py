"""The load of the full furniture on the floor, by the way its joists run: numbers for an engineer, never a pass."""

from __future__ import annotations

import math

from nookwright.basics.findings import Finding
from nookwright.stages.checks.platform_rails import carried_kg
from nookwright.stages.checks.said import along, great_force, mass, pressure, size
from nookwright.stages.design.design import Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.parts.part import PartList
from nookwright.trade.shelf_standards import KPA_PER_PSF, STACK_KPA
from nookwright.trade.tipping import GRAVITY_M_S2

ROOM_KPA = 40 * KPA_PER_PSF
"""Live load that floors of rooms are commonly built for, 40 psf. Source: [floor-loads]. Status: read."""

BEDROOM_KPA = 30 * KPA_PER_PSF
"""The same for bedrooms, 30 psf. Source: [floor-loads]. Status: read."""

USUAL_MM = {"mm": 400.0, "inch": 16 * 25.4}
"""Usual spacing of joists, by the units people read. Source: [trade-practice]. Status: common practice."""


def check_floor_load(design: Design, parts: PartList, survey: Survey, brief: Brief) -> Finding:
    """Return the load on the floor under the furniture; a question whatever it is, for only the floor's maker knows.

    Args:
        design: what will stand there.
        parts: for its mass.
        survey: for what is known of the joists.
        brief: for the load of the shelves.
    """
    width = max((box.x1_mm for box in design.boxes), default=0.0) - min(
        (box.x0_mm for box in design.boxes), default=0.0
    )
    depth = max((box.depth_mm for box in design.boxes), default=0.0)
    if width <= 0 or depth <= 0:
        return Finding(topic="floor load", subject="floor", verdict="pass", summary="Nothing stands on the floor.")
    carried = carried_kg(design, parts, brief)
    force_kn = carried * GRAVITY_M_S2 / 1000
    line, patch = force_kn / (width / 1000), force_kn / (width * depth * 1e-6)
    run, spacing = _joists(survey)
    told, reckoned = _by_joists(run, spacing, line_kn_m=line, depth_mm=depth, brief=brief)
    return Finding(
        topic="floor load",
        subject="floor",
        verdict="question",
        summary=(
            f"Full, it weighs {mass(carried, brief)}: {along(line, brief)} along the wall, {pressure(patch, brief)} "
            f"under it, which is {patch / ROOM_KPA:.1f} times the {pressure(ROOM_KPA, brief)} that rooms are commonly "
            f"built for ({pressure(BEDROOM_KPA, brief)} for bedrooms, {pressure(STACK_KPA, brief)} for library stack "
            f"rooms). That figure is an average over the whole floor, so this alone neither passes nor fails it. {told}"
        ),
        demand=patch,
        limit=ROOM_KPA,
        unit="kPa",
        formula="patch = m g / (width x depth); line = m g / width; joist along = line / (floor's live load x spacing)",
        worked=(
            f"{carried:.0f} x 9.81 / ({width / 1000:.2f} x {depth / 1000:.3f}) = {patch * 1000:.0f} Pa; "
            f"{carried:.0f} x 9.81 / {width:.0f} = {line:.2f} kN/m; {reckoned}"
        ),
        source_keys=("floor-loads", "trade-practice"),
        remedy=(
            ("" if run else "Find which way the joists run. ")
            + "Show these numbers to an engineer or local building control before it is loaded."
        ),
    )


def _joists(survey: Survey) -> tuple[str, float | None]:
    """Return how the joists run, and their spacing where it is told. [mm]"""
    answer = next((each for each in survey.questions if each.key == "floor-structure"), None)
    if answer is None or answer.answer == "unknown":
        return "", None
    for run in ("along", "across"):
        spacing = answer.figure(run)
        if spacing is not None:
            return run, spacing
    return ("across", None) if answer.answer == "none" else ("", None)


def _by_joists(
    run: str, spacing_mm: float | None, *, line_kn_m: float, depth_mm: float, brief: Brief
) -> tuple[str, str]:
    """Return what one joist gets, in words and in figures: for the way they run, or for both ways."""
    apart = spacing_mm or USUAL_MM[brief.units]
    every = f"every {size(apart, brief)}" + ("" if spacing_mm else " (the usual spacing)")
    usual = ROOM_KPA * apart / 1000
    each = f"{line_kn_m:.2f} x {apart / 1000:.3f} = {line_kn_m * apart / 1000:.2f} kN a joist across"
    alone = f"{line_kn_m:.2f} / ({ROOM_KPA:.2f} x {apart / 1000:.3f}) = {line_kn_m / usual:.1f} on a joist along"
    carries = great_force(line_kn_m * apart, brief)
    if run == "across":
        return (
            f"The joists run across it, by the survey: {every} each carries {carries} of it, over the first "
            f"{size(depth_mm, brief)} from the wall.",
            each,
        )
    one = (
        f"one joist may get nearly all of the {along(line_kn_m, brief)}, {line_kn_m / usual:.1f} times the "
        f"{along(usual, brief)} that such a joist is commonly built for"
    )
    if run == "along":
        under = math.floor(depth_mm / apart) + 1
        lie = "at most one lies" if under == 1 else f"at most {under} lie"
        return f"The joists run along it, {every}: {lie} under its depth, and {one}.", alone
    return (
        f"Joists across it {every} would carry {carries} each; where they run along it, {one}.",
        f"{each}; {alone}",
    )
