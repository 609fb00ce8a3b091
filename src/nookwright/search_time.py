"""How long a search may go on: until its time is up, or until the user breaks it off."""

from __future__ import annotations

import signal
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

TOLD_EVERY_S = 5.0
"""Time between two words on how long the search has gone on. Our choice. [s]"""


@contextmanager
def search_time(seconds: float, progress: Callable[[str], None]) -> Iterator[Callable[[], bool]]:
    """Give what a search asks before every step: whether it may go on.

    The first Ctrl-C ends the search, and the best plan so far is taken; a second one ends the program.

    Args:
        seconds: time that the search may take; 0 for none, then Ctrl-C ends the program at once. [s]
        progress: told every few seconds how long it has gone on.

    Yields:
        A function that says whether the search may go on.
    """
    begun = time.monotonic()
    told, broken_off = begun, threading.Event()

    def go_on() -> bool:
        nonlocal told
        now = time.monotonic()
        if broken_off.is_set() or now >= begun + seconds:
            return False
        if now >= told + TOLD_EVERY_S:
            told = now
            progress(f"searching for a cheaper cutting plan, {now - begun:.0f} of {seconds:.0f} s; Ctrl-C ends it")
        return True

    def break_off(_number: int, _frame: FrameType | None) -> None:
        broken_off.set()
        signal.signal(signal.SIGINT, before)
        progress("search broken off, going on with the best plan so far")

    if seconds <= 0 or threading.current_thread() is not threading.main_thread():
        yield go_on
        return
    before = signal.getsignal(signal.SIGINT)
    signal.signal(signal.SIGINT, break_off)
    try:
        yield go_on
    finally:
        signal.signal(signal.SIGINT, before)
