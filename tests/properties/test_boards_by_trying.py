"""Small jobs of boards against every way to cut them: boards for sale, and boards and strips on hand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from random import Random

import pytest

from corrupted_boards import part
from nookwright.stages.cutting.board_check import money_for
from nookwright.stages.cutting.board_layout import lay_out_boards
from nookwright.stages.inputs.shop import BoardLength, BoardOffcut, BoardStock, Saw

KERF, TRIM = 3.0, 10.0
Size = tuple[float, float]


@dataclass(frozen=True)
class Small:
    """A job so small that every way to cut it can be tried: lengths and widths in mm."""

    pieces: tuple[Size, ...]
    sold: tuple[tuple[float, int], ...]
    there: tuple[Size, ...]
    width: float


def small(number: int) -> Small:
    """Return a job by chance; some pieces are longer than all that is sold, some boards on hand are strips."""
    chance = Random(number)  # noqa: S311
    width = chance.choice([95.0, 120.0])
    lengths = [300.0, 450.0, 590.0, 800.0, 1190.0, 1700.0, 2100.0, 2500.0]
    return Small(
        pieces=tuple((chance.choice(lengths), chance.choice([20.0, 38.0, 58.0, width])) for _ in range(5)),
        sold=((1200.0, chance.randint(3, 6)), (1800.0, chance.randint(6, 9))),
        there=tuple(
            (chance.choice([700.0, 1000.0, 2200.0, 2600.0]), chance.choice([40.0, 60.0, width]))
            for _ in range(chance.randint(1, 3))
        ),
        width=width,
    )


def parted(items: Sequence[int]) -> Iterator[list[list[int]]]:
    """Yield every way to part items into groups."""
    if not items:
        yield []
        return
    first, *rest = items
    for groups in parted(rest):
        yield [[first], *groups]
        for number, group in enumerate(groups):
            yield [*groups[:number], [first, *group], *groups[number + 1 :]]


def least_money(job: Small) -> int | None:
    """Return what every way tried costs at least; None where no way gives all pieces."""

    @cache
    def fits(group: tuple[int, ...], length: float, width: float) -> bool:
        return any(
            sum(max(job.pieces[i][1] for i in lane) + KERF for lane in lanes) - KERF <= width
            and all(sum(job.pieces[i][0] + KERF for i in lane) - KERF <= length for lane in lanes)
            for lanes in parted(group)
        )

    def least(groups: Sequence[Sequence[int]], used: frozenset[int]) -> int | None:
        if not groups:
            return 0
        first, *rest = groups
        group = tuple(sorted(first))
        ways = [(price, used) for length, price in job.sold if fits(group, length - TRIM, job.width)]
        ways += [
            (0, used | {i}) for i, (long, wide) in enumerate(job.there) if i not in used and fits(group, long, wide)
        ]
        told = [price + others for price, now in ways if (others := least(rest, now)) is not None]
        return min(told, default=None)

    return min((cost for groups in parted(range(5)) if (cost := least(groups, frozenset())) is not None), default=None)


@pytest.mark.parametrize("number", range(40))
def test_no_way_to_cut_five_pieces_is_cheaper(number: int) -> None:
    """Ours costs as little and is told to be proven best; a part is refused only where no way gives them all."""
    job = small(number)
    stock = BoardStock(
        key="pine", name="pine", wood="pine", thickness_mm=20, width_mm=job.width,
        lengths=tuple(BoardLength(length_mm=length, price=Decimal(price)) for length, price in job.sold),
        offcuts=tuple(
            BoardOffcut(length_mm=length, width_mm=width if width < job.width else 0.0) for length, width in job.there
        ),
    )  # fmt: skip
    parts = [part(f"S{i}", length, width, pieces=1) for i, (length, width) in enumerate(job.pieces)]
    plans, summary, misfits = lay_out_boards(parts, stock, Saw(kerf_mm=KERF, end_trim_mm=TRIM))
    least = least_money(job)
    assert bool(misfits) == (least is None)
    if least is not None:
        assert summary is not None
        assert money_for(plans, stock) == least
        assert "proven best" in summary.bound_says
