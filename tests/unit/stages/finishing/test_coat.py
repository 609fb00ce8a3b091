"""Tests of the finish plan, on areas worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.geometry.frame import Frame
from nookwright.stages.finishing.coat import caulked_mm, coat, finished_area_m2
from nookwright.stages.inputs.brief import Brief, Finish
from nookwright.stages.inputs.shop import Product, Shop
from nookwright.stages.parts.part import SQUARE, CutOut, Edge, Fastening, JointMade, Part, PartList

FRAME = Frame(origin=(0, 0, 0), u=(1, 0, 0), v=(0, 0, 1))
SIDE = Part(
    number="A1", name="side", role="side", module="A", stock="birch", wood="birch plywood", thickness_mm=20,
    outline=((0, 0), (1000, 0), (1000, 500), (0, 500)), edges=(SQUARE,) * 4, frame=FRAME,
)  # fmt: skip
SHOP = Shop(
    currency="EUR", sheets=(), boards=(), waste_factor=1.1,
    products=(
        Product(key="primer", name="wood primer", cover_m2_per_litre=10, recoat_h=6, cure_days=1),
        Product(key="satin", name="satin enamel", cover_m2_per_litre=12, recoat_h=16, cure_days=7),
    ),
)  # fmt: skip
BRIEF = Brief(title="test", units="mm", resolution=0.5, tiers=(), finish=Finish(primer="primer", coat="satin", coats=2))


def test_area_is_both_faces_and_all_edges() -> None:
    """2 x 1.0 x 0.5 + 3.0 x 0.02 = 1.06 m2."""
    assert finished_area_m2(SIDE) == pytest.approx(1.06)


def test_a_hole_takes_its_area_off_each_finished_face() -> None:
    """One face less 100 x 200: 0.5 - 0.02 + 0.06 = 0.54 m2."""
    hole = CutOut(u_mm=100, v_mm=100, width_mm=100, height_mm=200, purpose="outlet")
    assert finished_area_m2(replace(SIDE, cutouts=(hole,), faces_painted=1)) == pytest.approx(0.54)


def test_a_hidden_part_is_not_coated() -> None:
    """No face, no edge."""
    assert finished_area_m2(replace(SIDE, faces_painted=0)) == 0


def test_coats_follow_each_other_with_their_waits() -> None:
    """Primer at 0 h, enamel at 6 h and 22 h; loading 7 days after the last: 22/24 + 7."""
    plan = coat(PartList(parts=(SIDE,), joints=()), BRIEF, SHOP)
    assert [(one.product, one.start_h) for one in plan.coats] == [("primer", 0), ("satin", 6), ("satin", 22)]
    assert [one.litres for one in plan.coats] == pytest.approx([0.1166, 1.06 / 12 * 1.1, 1.06 / 12 * 1.1])
    assert plan.load_after_days == pytest.approx(22 / 24 + 7)


def test_nothing_named_nothing_coated() -> None:
    """A brief without products has no coats and may be loaded at once."""
    plan = coat(PartList(parts=(SIDE,), joints=()), replace(BRIEF, finish=Finish()), SHOP)
    assert (plan.coats, plan.load_after_days) == ((), 0)


def test_an_unknown_product_and_a_count_below_nothing_are_told_at_once() -> None:
    """Both problems in one go, word for word."""
    brief = replace(BRIEF, finish=Finish(primer="premier", coat="satin", coats=-1))
    with pytest.raises(InvalidInputError) as caught:
        coat(PartList(parts=(), joints=()), brief, SHOP)
    assert str(caught.value).splitlines() == [
        "finish.primer: found premier; expected a product of the shop file (primer, satin).",
        "finish.coats: found -1; expected a number of coats, 0 or more.",
    ]


def test_brads_leave_holes_and_screws_do_not() -> None:
    """Only brads are sunk and filled."""
    brads = Fastening(kind="brad", length_mm=40, count=7, spacing_mm=200, end_mm=50, reason="")
    rows = (brads, replace(brads, kind="wood screw", count=5), replace(brads, kind="glue", count=1))
    joint = JointMade(held="A1", holder="A2", joint="butt and brads", length_mm=500, fastenings=rows)
    assert coat(PartList(parts=(), joints=(joint,)), BRIEF, SHOP).nail_holes == 7


def test_caulk_runs_where_trim_meets_the_room() -> None:
    """A strip's edge to the wall is caulked; the edge that meets a side is not, nor is any edge of a side."""
    edges = (Edge(meets="left side"), Edge(meets="right wall"), Edge(meets="slope"), Edge())
    strip = replace(SIDE, role="strip", edges=edges)
    assert caulked_mm(strip) == 500 + 1000
    assert caulked_mm(replace(SIDE, edges=edges)) == 0
    assert coat(PartList(parts=(strip,), joints=()), BRIEF, SHOP).caulk_m == pytest.approx(1.5)
