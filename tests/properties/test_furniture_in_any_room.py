"""What must hold for furniture in every room: nothing clashes, nothing pierces a wall, mirrors mirror, boxes are whole."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, settings

from nookwright.basics.problems import InvalidInputError
from nookwright.stages.design.design import Design
from nookwright.stages.design.fit import fit
from nookwright.stages.inputs.brief import Allowances, Brief, Cell, Tier, Top, Unit
from nookwright.stages.parts.break_down import break_down
from nookwright.stages.parts.part import PartList
from nookwright.stages.parts.solids import interferences, outside_room, solid_of
from planar_rooms import PlanarRoom, a_shop, mirrored
from strategies import briefs, mm, rooms

EXAMPLES = settings(
    max_examples=40, derandomize=True, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)


def made(brief: Brief, room: PlanarRoom, thickness: float) -> tuple[Design, PartList]:
    """Design and parts; rooms that cannot hold the brief are refused properly and left out."""
    shop = a_shop(thickness)
    try:
        design = fit(brief, room, shop)  # type: ignore[arg-type]
        return design, break_down(design, brief, room, shop)  # type: ignore[arg-type]
    except InvalidInputError:
        assume(False)
        raise


@EXAMPLES
@given(brief=briefs(), room=rooms(), thickness=mm(12, 25))
def test_no_two_boards_fill_the_same_space(brief: Brief, room: PlanarRoom, thickness: float) -> None:
    """The solid model of all parts, each cut as the list says, is free of interference."""
    _, parts = made(brief, room, thickness)
    clashes = interferences(parts, 50.0)
    assert [(parts.part(c.first).name, parts.part(c.second).name, c.volume_mm3) for c in clashes] == []


@EXAMPLES
@given(brief=briefs(), room=rooms(), thickness=mm(12, 25))
def test_nothing_reaches_through_a_wall(brief: Brief, room: PlanarRoom, thickness: float) -> None:
    """Every board stands inside the room, scribe allowances aside."""
    _, parts = made(brief, room, thickness)
    through = outside_room(parts, room, 0.6)  # type: ignore[arg-type]
    assert [(parts.part(one.number).name, one.surface, one.depth_mm) for one in through] == []


@EXAMPLES
@given(brief=briefs(), room=rooms(), thickness=mm(12, 25))
def test_a_built_box_fills_its_outline(brief: Brief, room: PlanarRoom, thickness: float) -> None:
    """The boards of a box, put together, reach exactly as far as the box was to reach."""
    design, parts = made(brief, room, thickness)
    for box in design.boxes:
        own = [solid_of(part).bounds for part in parts.parts if part.module == box.name and part.role != "back"]
        if box.bought is not None:
            continue
        low = [min(bounds[0][axis] for bounds in own) for axis in range(3)]
        high = [max(bounds[1][axis] for bounds in own) for axis in range(3)]
        assert low == pytest.approx([box.x0_mm, box.y_front_mm, box.z0_mm], abs=1e-3)
        assert high[0] == pytest.approx(box.x1_mm, abs=1e-3)
        top = max(z for _, z in box.outline)
        assert high[2] == pytest.approx(top, abs=1e-3)


@EXAMPLES
@given(brief=briefs(), room=rooms(), thickness=mm(12, 25))
def test_a_mirrored_room_gives_mirrored_furniture(brief: Brief, room: PlanarRoom, thickness: float) -> None:
    """The same brief read from the other side gives boards of the same blank sizes."""

    def flipped(cell: Cell) -> Cell:
        cells = tuple(flipped(each) for each in cell.cells)
        return replace(cell, cells=cells[::-1] if cell.split == "columns" else cells)

    def mirrored_tier(tier: Tier) -> Tier:
        if isinstance(tier, Top):
            return tier
        return replace(tier, units=tuple(replace(u, inside=flipped(u.inside)) for u in reversed(tier.units)))

    _, parts = made(brief, room, thickness)
    other = replace(brief, tiers=tuple(mirrored_tier(tier) for tier in brief.tiers))
    _, mirror_parts = made(other, mirrored(room), thickness)

    def sizes(listed: PartList) -> list[tuple[str, float, float]]:
        ignored = {"door"}  # which of two sliding doors runs in front is a matter of hand
        return sorted(
            (part.role, round(part.blank_mm[0], 1), round(part.blank_mm[1], 1))
            for part in listed.parts
            if part.role not in ignored
        )

    first, second = sizes(parts), sizes(mirror_parts)
    assert [role for role, _, _ in first] == [role for role, _, _ in second], (first, second)
    for (_, l1, w1), (_, l2, w2) in zip(first, second, strict=True):
        assert l1 == pytest.approx(l2, abs=0.25)
        assert w1 == pytest.approx(w2, abs=0.25)


@EXAMPLES
@given(brief=briefs(), room=rooms(), thickness=mm(12, 25))
def test_numbers_are_unique_and_joints_name_parts(brief: Brief, room: PlanarRoom, thickness: float) -> None:
    """Every number stands once, every joint joins two parts of the list, and twice the same gives the same."""
    _, parts = made(brief, room, thickness)
    numbers = [part.number for part in parts.parts]
    assert len(set(numbers)) == len(numbers)
    assert {joint.held for joint in parts.joints} | {joint.holder for joint in parts.joints} <= set(numbers)
    assert made(brief, room, thickness)[1] == parts


@EXAMPLES
@given(brief=briefs(), room=rooms(), worse=mm(0.1, 4.0))
def test_a_less_certain_room_never_gets_a_wider_box(brief: Brief, room: PlanarRoom, worse: float) -> None:
    """More spread means more play, never less; standing further out in a tapering room may give back a millimetre."""
    single = replace(brief, tiers=(replace(brief.tiers[0], units=(Unit(name="one"),)),), allowances=Allowances())  # type: ignore[arg-type,call-arg]
    sure, _ = made(single, room, 18.0)
    unsure, _ = made(single, replace(room, sd_mm=room.sd_mm + worse), 18.0)
    widths = [design.boxes[0].x1_mm - design.boxes[0].x0_mm for design in (sure, unsure)]
    assert widths[1] <= widths[0] + 1.0
