"""How long a search may go on: until its time is up, or until the user breaks it off."""

from __future__ import annotations

import signal
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from decimal import Decimal
from types import FrameType

from nookwright.stages.cutting.more_time import MoreTime

TOLD_EVERY_S = 5.0
"""Time between two words on how long the search has gone on. Our choice. [s]"""


class _SearchTime:
    """The time of a whole search, and where it stands."""

    def __init__(self, seconds: float, progress: Callable[[str], None]) -> None:
        self.seconds = seconds
        self.begun = self._told = time.monotonic()
        self.ends = self.begun + seconds
        self.broken_off = threading.Event()
        self._progress = progress

    def __call__(self, cost: Decimal | None = None, least: Decimal | None = None) -> bool:
        return self.goes_on(self.ends, "", cost, least)

    def for_stock(self, name: str, currency: str, still_open: int) -> MoreTime:
        now = time.monotonic()
        return _StockTime(self, now + (self.ends - now) / still_open, name, currency)

    def goes_on(
        self, until: float, stock: str, cost: Decimal | None, least: Decimal | None, currency: str = ""
    ) -> bool:
        """Return whether there is time left until then; tell now and then what is being searched, and how it stands."""
        now = time.monotonic()
        if self.broken_off.is_set() or now >= until:
            return False
        if now >= self._told + TOLD_EVERY_S:
            self._told = now
            so_far = f"searching for a cheaper cutting plan, {now - self.begun:.0f} of {self.seconds:.0f} s"
            standing = "" if cost is None or least is None else f" {_standing(cost, least, currency)}"
            self._progress(f"{so_far}{f': {stock}' if stock else ''}{standing}; Ctrl-C ends it")
        return True


class _StockTime:
    """One stock's share of the time."""

    def __init__(self, whole: _SearchTime, until: float, stock: str, currency: str) -> None:
        self._whole, self._until, self._stock, self._currency = whole, until, stock, currency

    def __call__(self, cost: Decimal | None = None, least: Decimal | None = None) -> bool:
        return self._whole.goes_on(self._until, self._stock, cost, least, self._currency)

    def for_stock(self, name: str, currency: str, still_open: int) -> MoreTime:
        now = time.monotonic()
        return _StockTime(self._whole, now + (self._until - now) / still_open, name, currency)


def _standing(cost: Decimal, least: Decimal, currency: str) -> str:
    """Return the price so far beside its bound; a bound is rounded down, so that it stays one."""
    price = f"{cost:.2f} {currency}".rstrip()
    if cost <= least:
        return f"{price}, proven best, looking for a larger leftover"
    return f"{price} so far, no plan below {least.quantize(Decimal('0.01'), rounding='ROUND_FLOOR')}"


@contextmanager
def search_time(seconds: float, progress: Callable[[str], None]) -> Iterator[MoreTime]:
    """Give what a search asks before every step: whether it may go on.

    The first Ctrl-C ends the search, and the best plan so far is taken; a second one ends the program.

    Args:
        seconds: time that the search may take; 0 for none, then Ctrl-C ends the program at once. [s]
        progress: told every few seconds how long it has gone on, for which stock, and how price and bound stand.

    Yields:
        What says whether the search may go on.
    """
    search = _SearchTime(seconds, progress)

    def break_off(_number: int, _frame: FrameType | None) -> None:
        search.broken_off.set()
        signal.signal(signal.SIGINT, before)
        progress("search broken off, going on with the best plan so far")

    if seconds <= 0 or threading.current_thread() is not threading.main_thread():
        yield search
        return
    before = signal.getsignal(signal.SIGINT)
    signal.signal(signal.SIGINT, break_off)
    try:
        yield search
    finally:
        signal.signal(signal.SIGINT, before)
