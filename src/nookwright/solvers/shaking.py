"""A fixed sequence of numbers that look random: searches shake with it and stay repeatable."""

from __future__ import annotations

_MODULUS = (1 << 31) - 1
_MULTIPLIER = 48271


class Shaker:
    """The minimal standard generator: each state is the one before times 48271, modulo 2^31 - 1.

    Source:
        Park, Miller, Stockmeyer, Communications of the ACM 36(7), 1993. Status: recalled.
    """

    __slots__ = ("_state",)

    def __init__(self, start: int = 1) -> None:
        """Start the sequence; the same start gives the same numbers."""
        self._state = start

    def below(self, limit: int) -> int:
        """Return the next number, from 0 up to but not including `limit`."""
        self._state = self._state * _MULTIPLIER % _MODULUS
        return self._state * limit // _MODULUS
