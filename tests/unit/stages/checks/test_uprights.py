"""Uprights under full shelves and what stands on them, by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from nookwright.stages.checks.uprights import check_uprights
from nookwright.stages.design.design import Shelf


def _shelf(x0: float, x1: float, z: float, fixing: str) -> Shelf:
    return Shelf(fixing=fixing, x0_mm=x0, x1_mm=x1, z_mm=z, thickness_mm=18, depth_mm=280)  # type: ignore[arg-type]


def test_a_divider_with_two_shelves_by_hand(job: Any) -> None:
    """Two shelves of 400 mm end at it: 2 x 0.36297 x 400 / 2 = 145.2 N. It stands free over 1964 mm.

    E_min = 8550 (1 - 1.645 x .11) 1.03 / 1.66 = 4345.1; 0.822 x 4345.1 / (1964 / 18)^2 x 300 x 18 = 1620.1 N.
    """
    box = job.design.boxes[0]
    middle = box.uprights[1].x_mm
    shelves = tuple(_shelf(*span, 900.0, "pins") for span in ((middle - 400, middle), (middle + 18, middle + 418)))
    alone = replace(job.design, boxes=(replace(box, shelves=shelves),), tops=())
    (found,) = check_uprights(alone, job.parts, job.brief)
    assert "most loaded divider" in found.summary
    assert found.demand == pytest.approx(145.19, abs=0.05)
    assert found.limit == pytest.approx(1620.1, abs=1.0)
    assert "109 times as long as thick" in found.summary
    fixed = tuple(replace(shelf, fixing="fixed", z_mm=1080.0) for shelf in shelves)
    (held,) = check_uprights(replace(alone, boxes=(replace(box, shelves=fixed),)), job.parts, job.brief)
    assert held.limit == pytest.approx(1620.1 * (1964 / 982) ** 2, rel=1e-3)


def test_what_stands_above_presses_too_and_a_fixed_shelf_cures(job: Any) -> None:
    """A box on it hands its weight and full shelves down by what lies over each upright: the divider takes half."""
    box = job.design.boxes[0]
    head = max(z for _, z in box.outline)
    above = replace(box, name="above", z0_mm=head, z1_left_mm=head + 500, z1_right_mm=head + 500, shelves=())
    both = replace(job.design, boxes=(replace(box, shelves=()), above), tops=())
    heavy = replace(job.brief, load=replace(job.brief.load, shelf_kg_per_m=600.0))
    found = check_uprights(both, job.parts, heavy)[0]
    wide, middle = box.x1_mm - box.x0_mm, box.uprights[1].x_mm
    share = (box.uprights[2].x_mm - box.uprights[0].x_mm) / 2 / wide
    assert found.demand == pytest.approx(share * 600 * 9.81 * wide / 1000, rel=1e-3)
    assert middle > box.x0_mm
    assert found.verdict == "caution"
    assert found.remedy.startswith("Fix a shelf half-way up that stretch, 982 mm from its end: it then carries 6480 N;")
