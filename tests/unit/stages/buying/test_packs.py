"""The cheapest mix of packs against trying every count."""

from __future__ import annotations

import math
from decimal import Decimal
from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from nookwright.stages.buying.packs import cheapest_mix, cost_of
from nookwright.stages.inputs.shop import Pack

PACKS = st.lists(
    st.builds(
        lambda amount, cents: Pack(item="brad 40", amount=amount, price=Decimal(cents) / 100),
        st.integers(1, 30),
        st.integers(1, 900),
    ),
    min_size=1,
    max_size=3,
)


@given(amount=st.integers(1, 60), packs=PACKS)
def test_no_other_mix_costs_less(amount: int, packs: list[Pack]) -> None:
    """Every count of every pack up to what would hold the amount alone."""
    mix = cheapest_mix(amount, packs)
    assert sum(count * pack.amount for pack, count in mix) >= amount
    counts = product(*(range(math.ceil(amount / pack.amount) + 1) for pack in packs))
    costs = [
        sum((number * pack.price for number, pack in zip(each, packs, strict=True)), Decimal(0))
        for each in counts
        if sum(number * pack.amount for number, pack in zip(each, packs, strict=True)) >= amount
    ]
    assert cost_of(mix) == min(costs)


def test_of_equal_mixes_the_one_with_fewest_packs() -> None:
    """Two of 10 at 3 or one of 20 at 6: the one."""
    packs = (Pack(item="x", amount=10, price=Decimal(3)), Pack(item="x", amount=20, price=Decimal(6)))
    assert [(pack.amount, count) for pack, count in cheapest_mix(20, packs)] == [(20, 1)]
