"""Random frames against PyNiteFEA and random composite sections against sectionproperties, independent packages.

sectionproperties needs a newer C library than some machines have, so it is no part of the locked set; where it is not
installed the sections are skipped. `bench/strength.py` tries 500 of each.
"""

from __future__ import annotations

import pytest

from random_frames import disagreement, random_frame, random_section, section_disagreement

WITHIN = 0.005
"""Half a percent is asked; what is found is far less."""


@pytest.mark.parametrize("seed", range(20))
def test_a_random_frame_agrees(seed: int) -> None:
    """Moves of every node, bending at five places of every bar, every reaction."""
    assert disagreement(random_frame(seed)) < WITHIN / 1000


@pytest.mark.parametrize("seed", range(5))
def test_a_random_section_agrees(seed: int) -> None:
    """Stiffness, neutral axis and each strip's stress."""
    pytest.importorskip("sectionproperties")
    assert section_disagreement(random_section(seed)) < WITHIN / 1000
