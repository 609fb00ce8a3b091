"""Tests of how long a search may go on: its time, and Ctrl-C."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from decimal import Decimal

import pytest

from nookwright import search_time as module
from nookwright.search_time import search_time


def test_without_time_no_search_goes_on() -> None:
    """And Ctrl-C does what it did before."""
    before = signal.getsignal(signal.SIGINT)
    with search_time(0.0, print) as go_on:
        assert not go_on()
        assert signal.getsignal(signal.SIGINT) is before


@pytest.fixture
def ctrl_c() -> Iterator[None]:
    """Let Ctrl-C do what it does in a program at a terminal: one in the background may have begun with it ignored."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.usefixtures("ctrl_c")
def test_the_first_interrupt_ends_the_search_the_second_the_program() -> None:
    """The search is told to stop, and says so; then Ctrl-C is what it was."""
    said: list[str] = []
    before = signal.getsignal(signal.SIGINT)
    with search_time(3600.0, said.append) as go_on:
        assert go_on()
        signal.raise_signal(signal.SIGINT)
        assert not go_on()
        assert len(said) == 1
        assert "best plan so far" in said[0]
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) is before


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """Return the clock, in seconds; a test sets it."""
    now = [100.0]
    monkeypatch.setattr(module.time, "monotonic", lambda: now[0])
    return now


def test_it_tells_price_and_bound_of_the_stock_at_hand(clock: list[float]) -> None:
    """The bound rounded down; a plan proven best is said to be; nothing where no price is known yet."""
    said: list[str] = []
    with search_time(60.0, said.append) as go_on:
        its = go_on.for_stock("birch plywood 18", "EUR", 1)
        for now, standing in (
            (104.0, (Decimal(99), Decimal(1))),
            (106.0, (Decimal("237.00"), Decimal("198.7594"))),
            (112.0, (Decimal(237), Decimal(237))),
            (118.0, ()),
        ):
            clock[0] = now
            assert its(*standing)
    assert said == [
        "searching for a cheaper cutting plan, 6 of 60 s: birch plywood 18 237.00 EUR so far, no plan below 198.75; "
        "Ctrl-C ends it",
        "searching for a cheaper cutting plan, 12 of 60 s: birch plywood 18 237.00 EUR, proven best, looking for a "
        "larger leftover; Ctrl-C ends it",
        "searching for a cheaper cutting plan, 18 of 60 s: birch plywood 18; Ctrl-C ends it",
    ]


def test_stocks_share_what_is_left_evenly(clock: list[float]) -> None:
    """Of 12 s the first of three has 4; it takes 2, so the second of the two that are left has 5."""
    with search_time(12.0, print) as go_on:
        first = go_on.for_stock("pine", "EUR", 3)
        clock[0] = 103.9
        assert first()
        clock[0] = 104.0
        assert not first()
        clock[0] = 102.0
        second = go_on.for_stock("mdf", "EUR", 2)
        clock[0] = 106.9
        assert second()
        clock[0] = 107.0
        assert not second()
        assert go_on()
        third = go_on.for_stock("birch", "EUR", 1)
        clock[0] = 111.9
        assert third()
