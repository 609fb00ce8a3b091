"""The platform's long rails between their packers: sag, and what each packer carries."""

from __future__ import annotations

import itertools

from nookwright.basics.findings import Finding, Verdict
from nookwright.solvers.beam_on_supports import continuous
from nookwright.stages.checks.masses import bought_mass, module_masses
from nookwright.stages.checks.said import fine, mass
from nookwright.stages.design.design import Design, FittedPlatform
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.installing.install_plan import InstallPlan
from nookwright.stages.parts.part import PartList
from nookwright.trade.tipping import GRAVITY_M_S2
from nookwright.trade.woods import wood

NEAR_RAIL_MM = 60.0
"""A packer counts for a rail when it stands this near to it. Source: [trade-practice]. Status: common practice."""


def carried_kg(design: Design, parts: PartList, brief: Brief) -> float:
    """Return the mass of everything made or bought, with full shelves; bottoms count as shelves. [kg]

    Args:
        design: the boxes.
        parts: for their masses.
        brief: for the load of a metre of shelf.

    Returns:
        Everything that stands on the floor.
    """
    total = sum(module_masses(parts).values())
    for box in design.boxes:
        shelf_m = (box.x1_mm - box.x0_mm + sum(shelf.x1_mm - shelf.x0_mm for shelf in box.shelves)) / 1000
        total += shelf_m * brief.load.shelf_kg_per_m + (bought_mass(box) if box.bought is not None else 0.0)
    return total


def check_platform(design: Design, parts: PartList, installing: InstallPlan, brief: Brief) -> tuple[Finding, ...]:
    """Return a finding for the front and the back rail of the platform.

    Args:
        design: the platform and what stands on it.
        parts: for masses.
        installing: the packers.
        brief: load, and the sag accepted.

    Returns:
        Nothing without a platform; else one finding a rail, by itself: no bending goes from frame to frame.
    """
    platform = design.platform
    if platform is None:
        return ()
    load = carried_kg(design, parts, brief) * GRAVITY_M_S2 / 2 / (platform.x1_mm - platform.x0_mm)
    rails = (("front rail", platform.y_front_mm), ("back rail", platform.y_back_mm))
    findings, count = [], len(platform.frames_x_mm)
    for name, y in rails:
        for i, (x0, x1) in enumerate(platform.frames_x_mm):
            stations = {one.x_mm for one in installing.packers if abs(one.y_mm - y) <= NEAR_RAIL_MM}
            mine = tuple(sorted(x for x in stations if x0 - 1.0 <= x <= x1 + 1.0))
            subject = f"platform {name}" if count == 1 else f"platform {name}, piece {i + 1} of {count}"
            if len(mine) >= 2:
                findings.append(_rail(subject, platform, mine, load, brief))
    return tuple(findings)


def _rail(
    subject: str, platform: FittedPlatform, stations_mm: tuple[float, ...], load_n_mm: float, brief: Brief
) -> Finding:
    """Return how far a rail sags between its packers, and the greatest load on one."""
    spans = tuple(b - a for a, b in itertools.pairwise(stations_mm))
    b, h = platform.rail_mm, platform.z1_mm - platform.z0_mm
    E = wood(platform.stock.wood).along_n_mm2.value
    beam = continuous(spans_mm=spans, loads_n_mm=(load_n_mm,) * len(spans), stiffness_n_mm2=E * b * h**3 / 12)
    worst, span = max((result.sag_mm, span) for result, span in zip(beam.spans, spans, strict=True))
    limit = brief.load.sag_per_m_mm * span / 1000
    verdict: Verdict = "pass" if worst <= limit else "fail"
    return Finding(
        topic="platform rail",
        subject=subject,
        verdict=verdict,
        summary=(
            f"Fully loaded it sags {fine(worst, brief)} between packers; the packer that carries most takes "
            f"{mass(max(beam.reactions_n) / GRAVITY_M_S2, brief)}."
        ),
        demand=worst,
        limit=limit,
        unit="mm",
        formula="three moments over the packers; I = b h^3 / 12",
        worked=f"w = {load_n_mm:.2f} N/mm, E = {E:.0f}, b = {b:.0f}, h = {h:.0f}, widest span {max(spans):.0f} mm",
        source_keys=("beam-tables", "shelf-practice"),
        remedy="" if verdict == "pass" else "Set a packer between these two.",
    )
