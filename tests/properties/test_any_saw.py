"""Whatever the saws, the grain and the matched parts: every plan made can be cut, and what is not cut is told."""

from __future__ import annotations

from decimal import Decimal
from random import Random
from typing import get_args

import pytest

from nookwright.geometry.frame import Frame
from nookwright.stages.cutting.at_the_saw import cut_steps
from nookwright.stages.cutting.cut_check import cut_faults
from nookwright.stages.cutting.lay_out import lay_out
from nookwright.stages.inputs.brief import Grain
from nookwright.stages.inputs.shop import Goal, Saw, SheetSize, SheetStock, Shop
from nookwright.stages.parts.part import SQUARE, Part, PartList

FRAME = Frame(origin=(0, 0, 0), u=(1, 0, 0), v=(0, 0, 1))
GRAINS: tuple[Grain, ...] = get_args(Grain)
GOALS: tuple[Goal, ...] = get_args(Goal)


def a_part(number: int, chance: Random) -> Part:
    """Return a part, now and then one that fits no sheet."""
    length, width = chance.randint(60, 1200) + chance.choice([0, 0.1, 0.5]), float(chance.randint(30, 500))
    if chance.random() < 0.2:
        length, width = float(chance.randint(1200, 2600)), float(chance.randint(500, 1260))
    return Part(
        number=f"A{number}", name="part", role="shelf", module="A", stock="ply", wood="birch-plywood", thickness_mm=18,
        outline=((0, 0), (length, 0), (length, width), (0, width)), edges=(SQUARE,) * 4, frame=FRAME,
        grain=chance.choice(GRAINS),
    )  # fmt: skip


def a_shop(chance: Random) -> Shop:
    """Return a shop with some saws, and a sheet with some other sizes and offcuts."""
    sizes = (
        SheetSize(length_mm=chance.randint(300, 1800), width_mm=chance.randint(200, 1200), offcut=True, count=1),
        SheetSize(length_mm=1250, width_mm=1250, price=Decimal(45)),
    )
    ply = SheetStock(
        key="ply", name="ply", wood="birch-plywood", length_mm=2500, width_mm=1250, price=Decimal(80),
        thickness_mm=chance.choice([6, 18, 25]), grained=chance.random() < 0.6, sizes=sizes[: chance.randint(0, 2)],
    )  # fmt: skip
    goals = list(GOALS)
    chance.shuffle(goals)
    saw = Saw(
        kerf_mm=chance.choice([0, 1.8, 3.2]), trim_mm=chance.choice([0, 2, 5, 10]), keep_mm=chance.choice([0, 200]),
        rip_mm=chance.choice([0, 300, 650, 1300]), crosscut_mm=chance.choice([0, 600, 1300]),
        track_mm=chance.choice([0, 800, 1400, 2700]), lift_kg=chance.choice([5, 18, 60]), goals=tuple(goals),
    )  # fmt: skip
    return Shop(currency="EUR", sheets=(ply,), boards=(), saw=saw)


@pytest.mark.parametrize("seed", range(8))
def test_every_part_is_cut_or_told(seed: int) -> None:
    """Each part is on one sheet, free after some cut, or among those not cut; no cut is one that no saw makes."""
    chance = Random(seed)  # noqa: S311
    parts = tuple(a_part(i, chance) for i in range(chance.randint(1, 10)))
    pairs = tuple((a.number, b.number) for a, b in zip(parts[::2], parts[1::2], strict=False) if a.grain == b.grain)
    shop = a_shop(chance)
    plan = lay_out(PartList(parts=parts, joints=(), matched=pairs[:2]), shop)
    placed = [one.part for sheet in plan.sheets for one in sheet.placed]
    assert sorted([*placed, *(misfit.part for misfit in plan.too_large)]) == sorted(part.number for part in parts)
    for sheet in plan.sheets:
        assert cut_faults(sheet, shop.saw) == ()
        freed = sorted(one.part for step in cut_steps(sheet, shop.saw.kerf_mm) for one in step.frees)
        assert freed == sorted(one.part for one in sheet.placed) or not sheet.cuts
