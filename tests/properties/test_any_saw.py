"""Whatever the saws, the grain and the matched parts: every plan made can be cut, and what is not cut is told."""

from __future__ import annotations

from random import Random

import pytest

from any_saws import a_part, a_shop
from nookwright.stages.cutting.at_the_saw import cut_steps
from nookwright.stages.cutting.cut_check import cut_faults
from nookwright.stages.cutting.lay_out import lay_out
from nookwright.stages.parts.part import PartList


@pytest.mark.parametrize("seed", range(8))
def test_every_part_is_cut_or_told(seed: int) -> None:
    """Each part is on one sheet, in the order in which cuts free them, or not cut; no cut is one that no saw makes."""
    chance = Random(seed)  # noqa: S311
    parts = tuple(a_part(i, chance) for i in range(chance.randint(1, 10)))
    pairs = tuple((a.number, b.number) for a, b in zip(parts[::2], parts[1::2], strict=False) if a.grain == b.grain)
    shop = a_shop(chance)
    plan = lay_out(PartList(parts=parts, joints=(), matched=pairs[:2]), shop)
    placed = [one.part for sheet in plan.sheets for one in sheet.placed]
    assert sorted([*placed, *(misfit.part for misfit in plan.too_large)]) == sorted(part.number for part in parts)
    for sheet in plan.sheets:
        assert cut_faults(sheet, shop.saw) == ()
        freed = [one.part for step in cut_steps(sheet, shop.saw.kerf_mm) for one in step.frees]
        assert freed == [one.part for one in sheet.placed] or not sheet.cuts
