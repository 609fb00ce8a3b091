"""A box as it stands by itself: its foot, its doors and drawers open, and the floor's fall under it."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping
from types import MappingProxyType

from nookwright.stages.checks.masses import BOUGHT_WOOD, area_mm2, box_mass
from nookwright.stages.design.design import Box, Design, Door
from nookwright.stages.inputs.brief import Bought
from nookwright.stages.parts.part import PartList
from nookwright.stages.room.room import Room
from nookwright.trade import tipping
from nookwright.trade.woods import wood

ON_IT_MM = 1.0
"""A box whose foot is this near to a platform's top stands on it. Common practice, no source."""

ON_FLOOR_MM = 30.0
"""And one whose foot is this near to the floor stands there. Common practice, no source."""

OPEN_SHARE = 2 / 3
"""An open drawer stands out by this share of its depth. Source: [trade-practice]. Status: common practice."""

LEVEL: Mapping[str, float] = MappingProxyType({})
"""No floor that falls: every box stands on a platform or another box, packed level."""

OPEN_FORMULA = "M = sum m g (x cos f - z sin f) about the front foot, doors and drawers open; F = M / h"


def floor_falls(design: Design, room: Room) -> dict[str, float]:
    """Return how steeply the floor falls towards the room under each box that stands on it. [rad]

    Args:
        design: boxes that stand on a platform or on other boxes are left out: those are packed level.
        room: the floor as adjusted.

    Returns:
        By the box's name; below 0 where the floor rises to the front.
    """
    falls: dict[str, float] = {}
    for box in design.boxes:
        if _on_platform(box, design):
            continue
        middle = (box.x0_mm + box.x1_mm) / 2
        front, back = (room.at("floor", middle, y).value for y in (box.y_front_mm, box.y_back_mm))
        if box.z0_mm - max(front, back) < ON_FLOOR_MM:
            falls[box.name] = math.atan2(back - front, box.depth_mm)
    return falls


def foot_mm(box: Box, design: Design) -> float:
    """Return y of the edge a box tips over: its front, or its platform's where that stands back as a toe space. [mm]"""
    platform = design.platform
    if platform is None or not _on_platform(box, design):
        return box.y_front_mm
    return max(box.y_front_mm, platform.y_front_mm)


def _on_platform(box: Box, design: Design) -> bool:
    """Return whether a box stands on the platform."""
    return design.platform is not None and abs(design.platform.z1_mm - box.z0_mm) <= ON_IT_MM


def weights_of(box: Box, design: Design, parts: PartList) -> tuple[tipping.Weight, ...]:
    """Return a box, its doors standing open at right angles and its full drawers pulled out, about its front foot.

    Args:
        box: the box, its shelves empty.
        design: its doors and platform.
        parts: for its mass.
    """
    foot, middle = foot_mm(box, design), (box.y_front_mm + box.y_back_mm) / 2
    up = (max(z for _, z in box.outline) - box.z0_mm) / 2
    fronts = [] if box.bought is None else _bought_fronts(box.bought, box.y_front_mm - foot, 2 * up)
    # Whoever weighed a bought cabinet weighed its doors and drawers with it: they are moved forward, not added.
    weighed = box.bought is not None and box.bought.mass_kg is not None
    own = sum(empty for empty, _ in fronts) if weighed else 0.0
    found = [tipping.Weight(mass_kg=max(0.0, box_mass(box, parts) - own), behind_mm=middle - foot, up_mm=up)]
    for door in design.doors:
        if door.name.endswith(f" of {box.name}") and "sliding" not in door.name:
            xs, zs = [x for x, _ in door.outline], [z for _, z in door.outline]
            forward = box.y_front_mm - (max(xs) - min(xs)) / 2
            height = (max(zs) + min(zs)) / 2 - box.z0_mm
            found.append(tipping.Weight(mass_kg=_door_mass(door), behind_mm=forward - foot, up_mm=height))
    return (*found, *(front for _, front in fronts))


def righting_n_mm(box: Box, design: Design, parts: PartList, falls_rad: float = 0.0) -> float:
    """Return the moment that keeps a box on its feet by itself, doors and drawers open. [N mm]"""
    return tipping.righting_moment(weights_of(box, design, parts), falls_rad=falls_rad)


def righting_worked(box: Box, design: Design, parts: PartList, falls_rad: float = 0.0) -> str:
    """Return that moment with its numbers put in: each mass by its arm behind the front foot, as the floor falls."""
    weights = weights_of(box, design, parts)
    arms = [(each.mass_kg, each.behind_mm * math.cos(falls_rad) - each.up_mm * math.sin(falls_rad)) for each in weights]
    counts = Counter(f"{kg:.1f} x {arm:.0f}" for kg, arm in arms)
    told = " + ".join(text if count == 1 else f"{count} x {text}" for text, count in counts.items())
    return f"9.81 x ({told}) = {tipping.righting_moment(weights, falls_rad=falls_rad):.0f} N mm"


def opens(box: Box, design: Design) -> str:
    """Return what of a box stands open when it is judged: `, its doors open`, or nothing."""
    doors = any(door.name.endswith(f" of {box.name}") and "sliding" not in door.name for door in design.doors)
    bought = box.bought
    named = [
        name
        for name, there in (
            ("doors", doors or (bought is not None and bought.doors > 0)),
            ("full drawers", bought is not None and bought.drawers > 0),
        )
        if there
    ]
    return f", its {' and its '.join(named)} open" if named else ""


def clothes_source(ways: str) -> tuple[str, ...]:
    """Return the source of what full drawers weigh, where `opens` names any."""
    return ("clothing-storage-recalled",) if "drawers" in ways else ()


def _door_mass(door: Door) -> float:
    """Return what a leaf weighs. [kg]"""
    return area_mm2(door.outline) * door.stock.thickness_mm * 1e-9 * wood(door.stock.wood).density_kg_m3


def _bought_fronts(cabinet: Bought, front_mm: float, height_mm: float) -> list[tuple[float, tipping.Weight]]:
    """Return a bought cabinet's open doors and its drawers, full of clothes, their middles two thirds out.

    Args:
        cabinet: its sizes; drawers fill its whole front, and so do doors where it has no drawers.
        front_mm: its front edge behind its foot. [mm]
        height_mm: of the whole box as it stands. [mm]

    Returns:
        Each with what it weighs empty. [kg]
    """
    per_m2 = cabinet.side_mm * 1e-3 * wood(BOUGHT_WOOD).density_kg_m3
    width, depth = cabinet.width_mm, cabinet.depth_mm
    found: list[tuple[float, tipping.Weight]] = []
    if cabinet.doors:
        leaf = width / cabinet.doors
        mass = leaf * height_mm * 1e-6 * per_m2
        each = tipping.Weight(mass_kg=mass, behind_mm=front_mm - leaf / 2, up_mm=height_mm / 2)
        found += [(mass, each)] * cabinet.doors
    for i in range(cabinet.drawers):
        tall = height_mm / cabinet.drawers
        clear = (width - 4 * cabinet.side_mm) * tall * (depth - 2 * cabinet.side_mm)
        boards_m2 = (width * tall + width * depth + 2 * depth * tall) * 1e-6
        empty = boards_m2 * per_m2
        mass = clear * 1e-9 * tipping.CLOTHES_KG_M3 + empty
        behind = front_mm + depth / 2 - OPEN_SHARE * depth
        found.append((empty, tipping.Weight(mass_kg=mass, behind_mm=behind, up_mm=(i + 0.5) * tall)))
    return found
