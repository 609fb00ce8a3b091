"""Random frames and random composite sections against PyNiteFEA, an independent finite-element package.

`bench/strength.py` tries 500 of each, and the sections against sectionproperties as well where that is installed: it needs
a compiler or a newer C library than some machines have, and half a hundred megabytes of notebook packages, so it is no part
of the locked set.
"""

from __future__ import annotations

import pytest

from random_frames import bars_disagreement, disagreement, random_frame, random_section, section_disagreement

WITHIN = 0.005
"""Half a percent is asked; what is found is far less."""


@pytest.mark.parametrize("seed", range(20))
def test_a_random_frame_agrees(seed: int) -> None:
    """Moves of every node, bending at five places of every bar, every reaction."""
    assert disagreement(random_frame(seed)) < WITHIN / 1000


def test_random_sections_agree_with_bars() -> None:
    """Stiffness and each strip's stress, each strip a bar of its own, all held in line at their ends."""
    assert max(bars_disagreement(random_section(seed)) for seed in range(100)) < WITHIN / 1000


@pytest.mark.parametrize("seed", range(5))
def test_a_random_section_agrees(seed: int) -> None:
    """Stiffness, neutral axis and each strip's stress."""
    pytest.importorskip("sectionproperties")
    assert section_disagreement(random_section(seed)) < WITHIN / 1000
