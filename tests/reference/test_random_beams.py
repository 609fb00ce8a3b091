"""Random shelves, lipped sections and beams on any supports against PyNiteFEA, an independent finite-element package."""

from __future__ import annotations

import pytest

from random_beams import disagreement, random_beam

WITHIN = 0.005
"""Half a percent is asked; what is found is far less."""


@pytest.mark.parametrize("seed", range(40))
def test_a_random_beam_agrees(seed: int) -> None:
    """Sinking at 40 places of each piece, and every reaction. `bench/strength.py` tries 500."""
    assert disagreement(random_beam(seed)) < WITHIN / 100
