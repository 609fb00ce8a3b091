"""A number with its uncertainty."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A value with its standard deviation, both in the same unit.

    Args:
        value: the best estimate.
        sd: its standard deviation; 0 for a value that is exact by decision.
    """

    value: float
    sd: float

    def __add__(self, other: Measured) -> Measured:
        """Add two independent measured values."""
        return Measured(value=self.value + other.value, sd=math.hypot(self.sd, other.sd))

    def shifted(self, by: float) -> Measured:
        """Return the same value moved by an exact amount."""
        return Measured(value=self.value + by, sd=self.sd)

    def lower(self, sds: float) -> float:
        """Return the value less a number of standard deviations: what is surely there."""
        return self.value - sds * self.sd

    def upper(self, sds: float) -> float:
        """Return the value plus a number of standard deviations: what it will hardly exceed."""
        return self.value + sds * self.sd
