"""Parts and shops by chance: any grain, any saws, sheets in several sizes, offcuts."""

from __future__ import annotations

from decimal import Decimal
from random import Random
from typing import get_args

from nookwright.geometry.frame import Frame
from nookwright.stages.inputs.brief import Grain
from nookwright.stages.inputs.shop import Goal, Saw, SheetSize, SheetStock, Shop
from nookwright.stages.parts.part import SQUARE, Part

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
