"""What parts and boxes weigh, and the space a part takes in the room."""

from __future__ import annotations

from nookwright.geometry.frame import Point2, Point3
from nookwright.stages.design.design import Box
from nookwright.stages.parts.part import Part, PartList
from nookwright.trade.woods import wood

BOUGHT_WOOD = "particleboard"
"""What a bought cabinet is taken to be made of, when its mass is worked out. Source: [trade-practice]."""


def area_mm2(corners: tuple[Point2, ...]) -> float:
    """Return the area inside an outline. [mm2]"""
    following = corners[1:] + corners[:1]
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(corners, following, strict=True))) / 2


def part_mass(part: Part) -> float:
    """Return what a part weighs, cut-outs taken off. [kg]"""
    holes = sum(cutout.width_mm * cutout.height_mm for cutout in part.cutouts)
    volume_m3 = (area_mm2(part.outline) - holes) * part.thickness_mm * 1e-9
    return volume_m3 * wood(part.wood).density_kg_m3


def module_masses(parts: PartList) -> dict[str, float]:
    """Return what each module weighs, by name, in the order of its first part. [kg]"""
    masses: dict[str, float] = {}
    for part in parts.parts:
        masses[part.module] = masses.get(part.module, 0.0) + part_mass(part)
    return masses


def bought_mass(box: Box) -> float:
    """Return what a bought cabinet weighs: as weighed, else from its boards as particleboard. [kg]"""
    assert box.bought is not None  # noqa: S101  callers ask for bought boxes only
    cabinet = box.bought
    if cabinet.mass_kg is not None:
        return cabinet.mass_kg
    width, height, depth = cabinet.width_mm, cabinet.height_mm, cabinet.depth_mm
    boards = (2 * depth * height + 3 * width * depth) * cabinet.side_mm + width * height * cabinet.back_mm
    return boards * 1e-9 * wood(BOUGHT_WOOD).density_kg_m3


def box_mass(box: Box, parts: PartList) -> float:
    """Return what a box weighs empty. [kg]"""
    if box.bought is not None:
        return bought_mass(box)
    return sum(part_mass(part) for part in parts.parts if part.module == box.name)


def room_extent(part: Part) -> tuple[Point3, Point3]:
    """Return the lowest and highest x, y, z of a part where it stands. [mm]"""
    points = [part.frame.to_room(u, v) for u, v in part.outline]
    points += [part.frame.to_room(u, v, part.thickness_mm) for u, v in part.face_b()]
    low = (min(p[0] for p in points), min(p[1] for p in points), min(p[2] for p in points))
    high = (max(p[0] for p in points), max(p[1] for p in points), max(p[2] for p in points))
    return low, high
