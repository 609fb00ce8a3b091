"""Shelf sag and strength, and the cure that is offered."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from nookwright.basics.findings import Finding
from nookwright.geometry.frame import Frame
from nookwright.stages.checks.shelf_load import loaded_shelf
from nookwright.stages.checks.shelves import check_shelves
from nookwright.stages.inputs.brief import Load
from nookwright.stages.parts.part import Fastening, JointMade, Part, PartList

from .conftest import standing  # type: ignore[import-not-found]


def _only(part: Part) -> PartList:
    """Return a part list with one shelf."""
    return PartList(parts=(part,), joints=())


def _check(job: Any, part: Part, **load: float) -> tuple[Finding, Finding]:
    """Return the sag and the strength finding of one shelf."""
    brief = replace(job.brief, load=Load(**load)) if load else job.brief
    sag, strength, _ = check_shelves(job.design, _only(part), brief, job.shop)
    return sag, strength


def test_sag_by_hand(job: Any) -> None:
    """900 x 280 x 18 birch plywood under 37 kg/m.

    Own weight 0.9 x 0.28 x 0.018 x 680 = 3.084 kg, so w = (37 + 3.427) x 9.81 / 1000 = 0.39659 N/mm;
    I = 280 x 18^3 / 12 = 136080 mm4; bending 5 x 0.39659 x 900^4 / (384 x 8550 x 136080) = 2.9120 mm;
    shear 0.39659 x 900^2 / (8 x 8550/16 x 5/6 x 280 x 18) = 0.0179 mm; after years x 1.8 = 5.274 mm; limit 2.34 mm.
    """
    sag, _ = _check(job, job.parts.part("C1"))
    assert sag.demand == pytest.approx(5.274, abs=0.002)
    assert sag.limit == pytest.approx(2.34)
    assert sag.verdict == "fail"
    assert sag.subject == "shelf C1"
    assert "2.93 mm when loaded, 5.27 mm after years; 2.34 mm is accepted" in sag.summary
    assert "recalled" not in sag.summary
    assert {"beam-tables", "wood-handbook", "eurocode-5"} <= set(sag.source_keys)


def test_only_the_years_make_a_caution(job: Any) -> None:
    """At 700 mm it sags 1.07 at once (x (700/900)^4) of 1.82 accepted, and 1.93 after years."""
    sag, _ = _check(job, replace(job.parts.part("C1"), outline=((0, 0), (700, 0), (700, 280), (0, 280))))
    assert sag.verdict == "caution"


def test_a_short_shelf_passes_without_a_cure(job: Any) -> None:
    """At 500 mm nothing is asked."""
    sag, strength = _check(job, replace(job.parts.part("C1"), outline=((0, 0), (500, 0), (500, 280), (0, 280))))
    assert (sag.verdict, sag.remedy) == ("pass", "")
    assert (strength.verdict, strength.remedy) == ("pass", "")


def test_strength_by_hand(job: Any) -> None:
    """0.39659 x 900^2 / 8 over 280 x 18^2 / 6 = 2.656 N/mm2; allowed 42.6 x 0.7368 x 0.9 / 2.1 = 13.452."""
    _, strength = _check(job, job.parts.part("C1"))
    assert strength.demand == pytest.approx(2.656, abs=0.001)
    assert strength.limit == pytest.approx(13.452, abs=0.001)
    assert strength.verdict == "pass"


def test_a_shelf_that_would_break_fails(job: Any) -> None:
    """300 kg/m: stress about 19.9, above 13.5."""
    _, strength = _check(job, job.parts.part("C1"), shelf_kg_per_m=300)
    assert strength.verdict == "fail"
    assert strength.remedy.startswith("Shorten the span below ")


def test_housed_ends_shorten_the_span(job: Any) -> None:
    """Two housings of 6 mm: 900 - 12."""
    part = job.parts.part("C1")
    housed = JointMade(held="C1", holder="C9", joint="housing", length_mm=280, fastenings=())
    parts = PartList(parts=(part,), joints=(housed, housed))
    assert loaded_shelf(part, parts, job.design, job.brief).span_mm == 888


def test_a_shelf_whose_grain_runs_front_to_back_is_weak(job: Any) -> None:
    """Turned a quarter: it spans across its grain, over its width; allowed 13.452 x 6000 / 8550 = 9.440 N/mm2."""
    turned = replace(
        job.parts.part("C1"),
        outline=((0, 0), (280, 0), (280, 900), (0, 900)),
        frame=Frame(origin=(900.0, -280.0, 400.0), u=(0.0, 1.0, 0.0), v=(-1.0, 0.0, 0.0)),
    )
    shelf = loaded_shelf(turned, _only(turned), job.design, job.brief)
    assert (shelf.span_mm, shelf.depth_mm, shelf.modulus_n_mm2) == (900, 280, 6000)
    assert shelf.allowed_n_mm2 == pytest.approx(9.440, abs=0.001)


def test_the_cheapest_cure_is_named_with_its_sag(job: Any) -> None:
    """A 24 mm board bends 2.912 x (18/24)^3 x 1.8 = 2.211 mm and shears 0.0179 x 18/24 x 1.8 = 0.024, within the 2.34 accepted, and costs least.

    Costs: 24 mm sheet (120 - 90) / (2440 x 1220) x 900 x 280 = 2.54; divider 90 / (2440 x 1220) x 2 x 280^2 = 4.74;
    oak strip 60 / (2400 x 140) x h x 900 = 5.14 for 32 mm.
    """
    sag, _ = _check(job, job.parts.part("C1"))
    assert sag.remedy.startswith(
        "Make it of birch plywood 24, 24 mm thick: 2.24 mm after years, about 2.54 EUR more, a front edge of 24 mm."
    )
    assert "Or stand a divider at mid-span: " in sag.remedy
    assert "two narrower bays" in sag.remedy


def test_a_strip_is_offered_when_it_is_cheapest(job: Any) -> None:
    """Without thicker stock and with cheap boards, a strip wins over a divider."""
    board = replace(job.shop.boards[0], lengths=(replace(job.shop.boards[0].lengths[0], price=Decimal(6)),))
    shop = replace(job.shop, sheets=job.shop.sheets[:1], boards=(board,))
    sag, *_ = check_shelves(job.design, _only(job.parts.part("C1")), job.brief, shop)
    assert sag.remedy.startswith("Glue a strip of oak board, ")
    assert "high on edge, along its front" in sag.remedy


def test_nothing_in_the_shop_is_said(job: Any) -> None:
    """3000 mm under 200 kg/m: not even two dividers are enough."""
    long = replace(job.parts.part("C1"), outline=((0, 0), (3000, 0), (3000, 280), (0, 280)))
    sag, _ = _check(job, long, shelf_kg_per_m=200)
    assert sag.remedy.startswith("Nothing in the shop file is enough")


def test_inch_readers_get_inches(job: Any) -> None:
    """Span to their marks, sag in hundredths."""
    brief = replace(job.brief, units="inch", resolution=1 / 16)
    sag, *_ = check_shelves(job.design, _only(job.parts.part("C1")), brief, job.shop)
    assert sag.summary.startswith('Over 35 7/16" it sags 0.115 in when loaded, 0.208 in after years')


def test_solid_wood_shows_a_weak_board(job: Any) -> None:
    """A pine shelf names between what two boards out of three sag."""
    sag, _ = _check(job, replace(job.parts.part("C1"), wood="pine"))
    assert "Two boards out of three sag" in sag.summary


def test_only_shelves_are_checked(job: Any) -> None:
    """Sides and rails are not shelves."""
    found = check_shelves(job.design, job.parts, job.brief, job.shop)
    assert {finding.subject for finding in found} == {"shelf C1"}


def test_a_thick_board_is_no_strip(job: Any) -> None:
    """40 mm stock is not put on a shelf's edge; the divider is then the only cure, and nothing else is named."""
    thick = replace(job.shop.boards[0], thickness_mm=40)
    shop = replace(job.shop, sheets=job.shop.sheets[:1], boards=(thick,))
    sag, *_ = check_shelves(job.design, _only(job.parts.part("C1")), job.brief, shop)
    assert sag.remedy.startswith("Stand a divider at mid-span: ")
    assert "Or " not in sag.remedy


def test_damp_makes_it_creep_a_third_more(job: Any) -> None:
    """1 + 0.8 x 4/3 = 2.067 for plywood: 2.930 x 2.067 = 6.055 mm."""
    sag, *_ = check_shelves(job.design, _only(job.parts.part("C1")), job.brief, job.shop, damp=True)
    assert sag.demand == pytest.approx(2.9299 * (1 + 0.8 * 4 / 3), abs=0.002)
    assert "In the damp found there it creeps more: x 2.07." in sag.summary


def test_a_standard_brings_its_own_load_and_limit(job: Any) -> None:
    """Woodwork standard: 40 lb/ft2 x 280 mm = 0.53626 N/mm, at most 200 lb / 900 = 0.98850; limit 900 / 144 = 6.25 mm.

    With its own weight 0.03362: 0.56988 x 5 x 900^4 / (384 x 8550 x 136080) = 4.1844 mm, shear 0.0257.
    """
    sag, *_ = _check(job, job.parts.part("C1"), shelf_limit="woodwork")
    assert sag.limit == pytest.approx(6.25)
    assert sag.demand == pytest.approx((4.1844 + 0.0257) * 1.8, abs=0.003)
    assert sag.verdict == "caution"
    assert "is accepted by the woodwork standard, shelves in general." in sag.summary
    assert "aws-2009" in sag.source_keys


def test_pins_by_hand(job: Any) -> None:
    """End 0.39659 x 900 / 2 = 178.5 N; two pins 2 x 5 x 9 x 23.195 x 0.9 / 4 = 469.7 N."""
    *_, ends = check_shelves(job.design, _only(job.parts.part("C1")), job.brief, job.shop)
    assert ends.topic == "shelf ends"
    assert (ends.demand, ends.limit) == pytest.approx((178.47, 469.7), abs=0.1)
    assert ends.verdict == "pass"


def test_a_housing_by_hand(job: Any) -> None:
    """Ledge 6 x 280 x 2.930 N/mm2 (425 psi) = 4923 N."""
    part = replace(job.parts.part("C1"), role="shelf")
    housed = JointMade(held="C1", holder="C3", joint="housing", length_mm=280, fastenings=())
    parts = PartList(parts=(part, job.parts.part("C3")), joints=(housed, housed))
    *_, ends = check_shelves(job.design, parts, job.brief, job.shop)
    assert ends.limit == pytest.approx(6 * 280 * 2.9303, abs=1)


def test_screws_that_hardly_reach_hold_nothing(job: Any) -> None:
    """A 22 mm screw through an 18 mm upright stands 4 mm in the shelf's edge: only its point."""
    row = Fastening(kind="wood screw", length_mm=22, count=3, spacing_mm=100, end_mm=40, reason="")
    ends = _screwed(job, row)
    assert (ends.limit, ends.verdict) == (0, "fail")
    assert ends.remedy == "Screw and glue a cleat under each end, or carry less."


def test_screws_into_an_edge_carry_two_thirds(job: Any) -> None:
    """50 mm through 18: 32 mm deep, 27.8 mm bear, No. 8, gravity 0.42 both.

    By hand (pounds, inches): Fe 3364, Re 1, D 0.131, Rd 2.2 (0.164 is below 0.17). lm 1.0958, ls 0.7087.
    k3 = -1 + sqrt(4 + 2 x 90000 x 3 x 0.131^2 / (3 x 3364 x 0.7087^2)) = 1.4134;
    IIIs = 1.4134 x 0.131 x 0.7087 x 3364 / (3 x 2.2) = 66.9; IV = 0.131^2 / 2.2 x sqrt(2 x 3364 x 90000 / 6) = 78.4.
    So 66.9 lb = 297.5 N each; three for good in an edge 3 x 297.5 x 0.9 x 0.67 = 538 N.
    """
    row = Fastening(kind="wood screw", length_mm=50, count=3, spacing_mm=100, end_mm=40, reason="")
    assert _screwed(job, row).limit == pytest.approx(538, abs=2)


def _screwed(job: Any, row: Fastening) -> Finding:
    """Return the finding of a shelf whose ends are screwed through the uprights."""
    part = replace(job.parts.part("C1"), role="shelf")
    joint = JointMade(held="C1", holder="C3", joint="butt and screws", length_mm=280, fastenings=(row,))
    parts = PartList(parts=(part, job.parts.part("C3")), joints=(joint, joint))
    *_, ends = check_shelves(job.design, parts, job.brief, job.shop)
    return ends


def test_your_own_load_counts_where_it_is_heavier_than_the_standards(job: Any) -> None:
    """Kitchen standard: 15 lb/ft2 x 280 = 0.20110 N/mm; 37 kg/m are 0.36297: strength and ends are judged under those."""
    sag, strength, ends = check_shelves(
        job.design, _only(job.parts.part("C1")), replace(job.brief, load=Load(shelf_limit="kitchen")), job.shop
    )
    assert sag.demand == pytest.approx(5.274 * (0.20110 + 0.03362) / 0.39659, abs=0.003)
    assert "under your own, which is heavier, it sags 2.93 mm when loaded, 5.27 mm after years." in sag.summary
    assert strength.demand == pytest.approx(0.39659 * 900**2 / 8 / (280 * 18**2 / 6), abs=1e-3)
    assert ends.demand == pytest.approx(178.47, abs=0.1)


def test_face_trim_bends_with_its_shelf_by_hand(job: Any) -> None:
    """A 20 x 18 pine strip (E 8900) flush with an 18 mm board: E I + 8900 x 20 x 18^3 / 12, over 8550 x 136080: 1.0744.

    A strip that ends short of nine tenths of the span, or is not glued, does not help.
    """
    shelf = replace(job.parts.part("C1"), role="shelf")
    strip = replace(
        standing("S1", 890, 18, -300.0), role="strip", wood="pine", thickness_mm=20.0, name="middle strip",
        frame=Frame(origin=(0.0, -300.0, 382.0), u=(1.0, 0.0, 0.0), v=(0.0, 0.0, 1.0)),
    )  # fmt: skip
    glue = Fastening(kind="glue", length_mm=0, count=1, spacing_mm=0, end_mm=0, reason="")

    def stiffer(length: float, *rows: Fastening) -> float:
        joint = JointMade(held="S1", holder="C1", joint="butt and brads", length_mm=length, fastenings=rows)
        return loaded_shelf(shelf, PartList(parts=(shelf, strip), joints=(joint,)), job.design, job.brief).stiffer

    assert stiffer(890, glue) == pytest.approx(1 + 8900 * 20 / (8550 * 280), abs=1e-4)
    assert stiffer(800, glue) == stiffer(890) == 1.0
    joint = JointMade(held="S1", holder="C1", joint="butt and brads", length_mm=890, fastenings=(glue,))
    sag, *_ = check_shelves(job.design, PartList(parts=(shelf, strip), joints=(joint,)), job.brief, job.shop)
    assert sag.demand == pytest.approx((2.9120 / 1.07435 + 0.0179) * 1.8, abs=0.003)
    assert "makes it 1.07 times as stiff" in sag.summary


def test_each_bay_between_dividers_keeps_its_own_share(job: Any) -> None:
    """A shelf that sags 12 times its limit takes three bays.

    In two, a sixteenth of that is 0.75 of the whole span's limit, but 1.5 of a bay's.
    """
    part = job.parts.part("C1")
    kg = (12 * 2.34 / 1.8 - 0.0179) / 2.9120 * 0.39659 * 1000 / 9.81 - 3.427
    sag, _ = _check(job, part, shelf_kg_per_m=kg)
    assert sag.demand == pytest.approx(12 * 2.34, rel=0.01)
    assert "mid-span" not in sag.remedy
    assert "tand two dividers" in sag.remedy


def test_a_fixed_shelf_may_hang_on_its_back(job: Any) -> None:
    """Where no strip alone is enough, the back carries the rear edge, and no cleat is bought."""
    part = replace(job.parts.part("C1"), role="shelf", outline=((0, 0), (1200, 0), (1200, 280), (0, 280)))
    backed = tuple(replace(box, back=job.shop.sheets[0]) for box in job.design.boxes)
    kinds = {}
    for name, boxes in (("cleat", job.design.boxes), ("back", backed)):
        sag, *_ = check_shelves(
            replace(job.design, boxes=boxes), _only(part), replace(job.brief, load=Load(shelf_kg_per_m=85)), job.shop
        )
        kinds[name] = sag.remedy
    assert "screw a cleat to the wall along its back" in kinds["cleat"]
    assert "screw the back to its rear edge every 150 mm" in kinds["back"]
