"""Tests of how long a search may go on: its time, and Ctrl-C."""

from __future__ import annotations

import signal

import pytest

from nookwright.search_time import search_time


def test_without_time_no_search_goes_on() -> None:
    """And Ctrl-C does what it did before."""
    before = signal.getsignal(signal.SIGINT)
    with search_time(0.0, print) as go_on:
        assert not go_on()
        assert signal.getsignal(signal.SIGINT) is before


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
