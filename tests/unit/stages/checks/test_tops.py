"""Tops over uprights: things, a person, the front edge; by hand."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest

from nookwright.basics.findings import Finding
from nookwright.stages.checks.tops import check_tops
from nookwright.stages.design.design import FittedTop
from nookwright.stages.inputs.brief import Load


def _top(job: Any, z_mm: float, **load: float) -> dict[str, Finding]:
    """Return the findings of a plywood top 1606 x 350 on both cases, made as low as asked, by their topic."""
    boxes = tuple(
        replace(box, z0_mm=z_mm - 400, z1_left_mm=z_mm, z1_right_mm=z_mm, level_top_mm=z_mm) for box in job.design.boxes
    )
    top = FittedTop(
        name="top", letter="T", stock=job.shop.sheets[0], outline=((0, -350), (1606, -350), (1606, 0), (0, 0)),
        edges=(None,) * 4, z_mm=z_mm, thickness_mm=18,
    )  # fmt: skip
    design = replace(job.design, boxes=boxes, tops=(top,))
    found = check_tops(design, job.shop, replace(job.brief, load=Load(**load)))
    return {finding.topic: finding for finding in found}


def test_a_high_top_is_not_sat_on(job: Any) -> None:
    """At 900 mm only things and the edge are asked."""
    assert set(_top(job, 900)) == {"top sag", "overhang"}
    assert set(_top(job, 450)) == {"top sag", "person on a low top", "overhang"}


def test_a_person_bends_it_less_than_a_single_span(job: Any) -> None:
    """981 N in the middle of about 391 mm: below P L / 4 over 300 x 18^2 / 6, for the beam runs on."""
    person = _top(job, 450)["person on a low top"]
    assert person.demand is not None
    single = 100 * 9.81 * 391 / 4 / (300 * 18**2 / 6)
    assert 0.7 * single < person.demand < single
    assert person.limit == pytest.approx(42.6 * (1 - 1.645 * 0.16) / 2.1, abs=0.01)
    assert person.verdict == "pass"


def test_too_heavy_a_person_breaks_it(job: Any) -> None:
    """300 kg: three times the stress."""
    light, heavy = _top(job, 450), _top(job, 450, person_kg=300)
    topic = "person on a low top"
    assert heavy[topic].demand == pytest.approx(3 * (light[topic].demand or 0))


def test_the_edge_by_hand(job: Any) -> None:
    """44 mm in front: 981 x 44 / (300 x 18^2 / 6) = 2.664 N/mm2."""
    edge = _top(job, 900)["overhang"]
    assert edge.demand == pytest.approx(981 * 44 / 16200, abs=0.001)
    assert edge.verdict == "pass"


def test_a_top_on_nothing_is_left_out(job: Any) -> None:
    """Boxes that end far below it do not carry it."""
    top = FittedTop(
        name="top", letter="T", stock=job.shop.sheets[0], outline=((0, -350), (1606, -350), (1606, 0), (0, 0)),
        edges=(None,) * 4, z_mm=900, thickness_mm=18,
    )  # fmt: skip
    assert check_tops(replace(job.design, tops=(top,)), job.shop, job.brief) == ()


def test_cures_are_worked_out_by_hand(job: Any) -> None:
    """24 mm plywood bends 1 / (24 / 18)^3 = 0.422 as far; 30 EUR more for 2.9768 m2 of it, over 1606 x 350: 5.66 EUR."""
    heavy = _top(job, 900, shelf_kg_per_m=600)["top sag"]
    assert heavy.verdict == "caution"
    told = re.fullmatch(
        r"Stand an upright under the middle of that span: ([\d.]+) mm after years\. Or make it of birch plywood 24, 24 mm "
        r"thick, about 5\.66 EUR more: ([\d.]+) mm after years\.",
        heavy.remedy,
    )
    assert told is not None, heavy.remedy
    assert heavy.demand is not None
    assert heavy.limit is not None
    assert float(told[2]) == pytest.approx(heavy.demand * (18 / 24) ** 3, abs=0.006)
    assert float(told[1]) < heavy.demand / 4
    hopeless = _top(job, 900, shelf_kg_per_m=4000)["top sag"]
    assert hopeless.remedy.endswith("No stock in the shop file is stiff enough by itself.")


def test_a_person_too_heavy_is_told_what_carries_by_hand(job: Any) -> None:
    """Stress goes with 1 / t^2: 24 mm carries 1.78 times as much, no more."""
    topic = "person on a low top"
    light = _top(job, 450)[topic]
    assert light.demand is not None
    assert light.limit is not None
    just = 100 * light.limit / light.demand
    broken = _top(job, 450, person_kg=just * 1.5)[topic]
    assert broken.verdict == "fail"
    assert "or make it of birch plywood 24, 24 mm thick, about 5.66 EUR more: " in broken.remedy
    assert _top(job, 450, person_kg=just * 2.5)[topic].remedy.endswith("is strong enough by itself.")


def test_an_edge_is_told_how_far_it_may_stand_out_by_hand(job: Any) -> None:
    """Across the grain 6000 / 8550 of 14.95 = 10.49 N/mm2; x 300 x 18^2 / 6 / (400 kg x 9.81) = 43.3 mm; it is 44 out.

    Someone who sits on a low one breaks it: a fail; on a high one people lean only: a caution.
    """
    high, low = _top(job, 900, person_kg=400)["overhang"], _top(job, 450, person_kg=400)["overhang"]
    assert (high.verdict, low.verdict) == ("caution", "fail")
    assert low.remedy == (
        "Set brackets under it, or let it stand out 43.5 mm at most, or make it of birch plywood 24, 24 mm thick, about "
        "5.66 EUR more."
    )
