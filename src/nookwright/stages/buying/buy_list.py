"""The buying list: what to buy once, by the pack, with its cost."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

Group = Literal["sheets", "boards", "fastenings", "finishing", "sundries"]
Unit = Literal["sheets", "boards", "pieces", "litres", "metres", "quarts", "feet"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyLine:
    """One line of the list.

    Args:
        group: `sheets`, `boards`, `fastenings`, `finishing`, `sundries`.
        item: what to ask for.
        needed: how much the job needs, in `unit`.
        unit: `sheets`, `boards`, `pieces`, `litres`, `metres`, `quarts`, `feet`.
        packs: how many to buy.
        pack: what one is, for example `box of 200`.
        price: of one; None when the shop file gives none.
        cost: packs x price; None when unpriced.
        why: where the quantity comes from.
    """

    group: Group
    item: str
    needed: float
    unit: Unit
    packs: int
    pack: str
    price: Decimal | None
    cost: Decimal | None
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyList:
    """Every line, the total of what is priced, and what is not."""

    currency: str
    lines: tuple[BuyLine, ...]
    total: Decimal
    unpriced: tuple[str, ...]
