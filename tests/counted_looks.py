"""Time for a search counted in looks at the clock, so that tests do not hang on how fast a machine is."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal


@dataclass
class CountedLooks:
    """Lets a search go on for so many looks; remembers what it was told, and how the time was shared out."""

    looks: int
    told: list[tuple[Decimal, Decimal]] = field(default_factory=list)
    shares: list[tuple[str, str, int]] = field(default_factory=list)

    def __call__(self, cost: Decimal | None = None, least: Decimal | None = None) -> bool:
        """Return whether a look is left; a price never comes without its bound."""
        assert (cost is None) == (least is None)
        if cost is not None and least is not None:
            self.told.append((cost, least))
        self.looks -= 1
        return self.looks >= 0

    def for_stock(self, name: str, currency: str, still_open: int) -> CountedLooks:
        """Return itself: every stock looks at one clock."""
        self.shares.append((name, currency, still_open))
        return self
