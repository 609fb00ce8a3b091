"""What a search asks before every step: may it go on? It tells where it stands, and stocks share the time."""

from __future__ import annotations

from decimal import Decimal
from typing import Protocol


class MoreTime(Protocol):
    """Whether a search may go on; asked often."""

    def __call__(self, cost: Decimal | None = None, least: Decimal | None = None) -> bool:
        """Return whether there is time left.

        Args:
            cost: of the best plan so far, where there is one.
            least: what no plan costs less than.
        """

    def for_stock(self, name: str, currency: str, still_open: int) -> MoreTime:
        """Return an even share of the time that is left.

        Args:
            name: of the stock that is laid out next.
            currency: of its prices.
            still_open: how many stocks the time is left for, this one counted.
        """


class _NoMoreTime:
    """Lets every search end with what it found first."""

    def __call__(self, cost: Decimal | None = None, least: Decimal | None = None) -> bool:
        del cost, least
        return False

    def for_stock(self, name: str, currency: str, still_open: int) -> MoreTime:
        del name, currency, still_open
        return self


no_more_time = _NoMoreTime()
