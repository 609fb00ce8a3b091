"""The finish plan: what is coated, with how much, and when the shelves may be loaded."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Coat:
    """One round of coating.

    Args:
        product: key of the product in the shop file.
        name: what the buying list prints.
        area_m2: area coated, edges included. [m2]
        litres: quantity with the shop's waste factor. [litre]
        start_h: hours after the first coat starts. [h]
    """

    product: str
    name: str
    area_m2: float
    litres: float
    start_h: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishPlan:
    """Coats in order, filler and caulk, and the day of loading."""

    coats: tuple[Coat, ...]
    nail_holes: int
    caulk_m: float
    load_after_days: float
