"""How the loops are compiled: once, kept in files beside the modules."""

from __future__ import annotations

from numba import njit

compiled = njit(cache=True)
"""For a loop that makes arrays of its own."""
in_place = njit(cache=True, _nrt=False)
"""For one that makes none: who uses an array is not counted, which in the small loops took a third of the time.

A loop that makes an array all the same is refused when it is compiled.
"""
