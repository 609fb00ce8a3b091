"""Fitting furniture into rooms of known planes: every expected size is worked out in the test."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.stages.design.design import Design
from nookwright.stages.design.fit import fit
from nookwright.stages.inputs.brief import (
    Allowances,
    Bought,
    Brief,
    Cases,
    Cell,
    Fixed,
    Front,
    Platform,
    Share,
    Top,
    Trim,
    Unit,
)
from nookwright.stages.inputs.survey import Skirting, Survey, WallBuild
from planar_rooms import SQUARE_ALCOVE, PlanarRoom, a_shop

NO_PLAY = Allowances(sds=0.0, least_gap_mm=0.0, top_gap_mm=0.0)
SHOP = a_shop()


def brief(*tiers: Cases | Top, **changed: object) -> Brief:
    """A brief with those tiers, without play unless said."""
    given: dict[str, object] = {"allowances": NO_PLAY, **changed}
    return Brief(title="job", units="mm", resolution=0.5, tiers=tiers, **given)  # type: ignore[arg-type]


def cases(*units: Unit, height: float | None = 700.0, **changed: object) -> Cases:
    """A tier 300 deep of 18 mm boards without a back."""
    given: dict[str, object] = {"name": "tier", "depth_mm": 300.0, "board": "ply", **changed}
    return Cases(height_mm=height, units=units, **given)  # type: ignore[arg-type]


def one(inside: Cell = Cell(), **changed: object) -> Unit:
    """A built unit that takes what is left."""
    return Unit(name="case", inside=inside, **changed)  # type: ignore[arg-type]


def fitted(wished: Brief, room: PlanarRoom | None = None) -> Design:
    """Fit into a square alcove 1800 wide unless another room is given."""
    return fit(wished, room or PlanarRoom(planes=SQUARE_ALCOVE), SHOP)  # type: ignore[arg-type]


def test_a_box_fills_a_square_alcove() -> None:
    """Without play it is as wide as the alcove and stands 3 mm up, on the bare packer."""
    box = fitted(brief(cases(one()))).boxes[0]
    assert (box.x0_mm, box.x1_mm, box.z0_mm, box.z1_left_mm) == (0.0, 1800.0, 3.0, 703.0)
    assert (box.y_front_mm, box.y_back_mm) == (-300.0, 0.0)


def test_play_is_the_larger_of_least_gap_and_spread() -> None:
    """A spread of 4 mm at 2.33 asks 9.32 mm at each side; one of 1 mm leaves the least gap of 6."""
    for sd, play in ((4.0, 9.32), (1.0, 6.0)):
        room = PlanarRoom(planes=SQUARE_ALCOVE, sd_mm=sd)
        box = fitted(brief(cases(one()), allowances=Allowances()), room).boxes[0]
        assert box.x0_mm == pytest.approx(play)
        assert box.x1_mm == pytest.approx(1800 - play)


def test_a_box_pushed_into_an_alcove_passes_its_mouth() -> None:
    """Cheeks that close by 20 mm over 700 mm of depth govern at the mouth, not at the back."""
    planes = {**SQUARE_ALCOVE, "left": (0.0, -20.0 / 700.0, 0.0)}
    box = fitted(brief(cases(one())), PlanarRoom(planes=planes)).boxes[0]
    assert box.x0_mm == pytest.approx(20.0)


def test_a_leaning_back_wall_pushes_the_furniture_out() -> None:
    """A wall that comes forward 2 mm in a metre takes 2 x 0.703... over the height looked at, 0 to 700."""
    planes = {**SQUARE_ALCOVE, "back": (0.0, 0.0, -0.002)}
    box = fitted(brief(cases(one())), PlanarRoom(planes=planes)).boxes[0]
    assert box.y_back_mm == pytest.approx(-1.4)


def test_an_outside_wall_keeps_a_ventilated_gap() -> None:
    """50 mm behind the furniture, and the book says so."""
    survey = Survey(
        kind="alcove", corner="left", heights_mm=(), readings=(), wall=WallBuild(kind="masonry", outside=True)
    )
    design = fitted(brief(cases(one())), PlanarRoom(planes=SQUARE_ALCOVE, survey=survey))
    assert design.boxes[0].y_back_mm == -50.0
    assert any("outside wall" in assumption.what for assumption in design.assumptions)


def test_equal_columns_share_what_dividers_leave() -> None:
    """1800 - 2 x 18 sides - 2 x 18 dividers = 1728, a third each: 576; dividers at 594 and 1188."""
    columns = Cell(split="columns", cells=(Cell(), Cell(), Cell()))
    box = fitted(brief(cases(one(columns)))).boxes[0]
    assert [upright.x_mm for upright in box.uprights] == [0.0, 594.0, 1188.0, 1782.0]
    assert [max(x for x, _ in o.outline) - min(x for x, _ in o.outline) for o in box.openings] == [576.0] * 3


def test_parts_and_fixed_sizes_share_in_proportion() -> None:
    """500 fixed; the rest, 1764 - 36 - 500 = 1228, goes 1 to 3: 307 and 921."""
    columns = Cell(
        split="columns", cells=(Cell(size=Fixed(mm=500)), Cell(size=Share(parts=1)), Cell(size=Share(parts=3)))
    )
    box = fitted(brief(cases(one(columns)))).boxes[0]
    assert [upright.x_mm for upright in box.uprights] == pytest.approx([0.0, 518.0, 843.0, 1782.0])


def test_shelves_are_spaced_evenly() -> None:
    """Inside 700 - 36 = 664; two shelves of 18 leave (664 - 36) / 3 = 209.33 between."""
    box = fitted(brief(cases(one(Cell(shelves=2, shelf_fixing="fixed"))))).boxes[0]
    step = 628.0 / 3.0
    assert [shelf.z_mm for shelf in box.shelves] == pytest.approx([21.0 + step, 21.0 + 2 * step + 18.0])
    assert box.shelves[0].depth_mm == 300.0


def test_staggered_dividers_stand_in_their_own_rows() -> None:
    """Two rows with different columns: a divider of the lower row ends under the board between."""
    rows = Cell(
        split="rows",
        cells=(
            Cell(size=Fixed(mm=300), split="columns", cells=(Cell(), Cell())),
            Cell(split="columns", cells=(Cell(size=Fixed(mm=400)), Cell())),
        ),
    )
    box = fitted(brief(cases(one(rows)))).boxes[0]
    low, high = (u for u in sorted(box.uprights, key=lambda u: u.z0_mm) if u.kind == "divider")
    assert (low.z0_mm, low.z1_left_mm, low.x_mm) == (21.0, 321.0, 891.0)
    assert (high.z0_mm, high.x_mm) == (339.0, 418.0)


def under_slope(slope: float = 0.8, height: float = 900.0, **changed: object) -> PlanarRoom:
    """A corner whose slope rises to the right from a height at the left wall."""
    planes = {**SQUARE_ALCOVE, "slope": (height, slope, 0.0)}
    del planes["right"]
    return PlanarRoom(planes=planes, **changed)  # type: ignore[arg-type]


def test_a_raked_box_keeps_below_the_slope() -> None:
    """Without play its line is the slope's own: 900 at the left, 900 + 0.8 x 1800 = 2340 at the right."""
    box = fitted(brief(cases(one(), height=None)), under_slope()).boxes[0]
    assert box.rake is not None
    assert (box.z1_left_mm, box.z1_right_mm) == pytest.approx((900.0, 2340.0))
    assert math.degrees(box.rake.pitch_rad) == pytest.approx(38.66, abs=0.005)


def test_play_under_a_slope_is_square_to_it() -> None:
    """6 mm square to a slope of 0.8 drops 6 x sqrt(1 + 0.64) = 7.68 mm."""
    wished = brief(cases(one(), height=None), allowances=Allowances(sds=0.0))
    box = fitted(wished, under_slope()).boxes[0]
    assert box.z1_right_mm == pytest.approx(2340.0 - 7.684, abs=0.01)


def test_a_ceiling_levels_the_top() -> None:
    """With a ceiling at 2000 the rake ends at (2000 - 900) / 0.8 = 1375 and the top runs on level."""
    room = under_slope()
    room.planes["ceiling"] = (2000.0, 0.0, 0.0)
    box = fitted(brief(cases(one(), height=None)), room).boxes[0]
    assert box.level_top_mm == pytest.approx(2000.0)
    assert box.outline[3] == pytest.approx((1375.0, 2000.0))


def test_the_low_end_keeps_a_side_that_can_be_screwed() -> None:
    """A slope from 0 at the left reaches 3 + 150 at 191.25 mm, marked 191.5: the box starts there, and it is said."""
    design = fitted(brief(cases(one(), height=None)), under_slope(height=0.0))
    assert design.boxes[0].x0_mm == pytest.approx(153.0 / 0.8)
    assert any(
        finding.verdict == "caution" and "moved in by 191.5 mm" in finding.summary for finding in design.findings
    )


def test_a_shelf_runs_into_the_rake() -> None:
    """At z the underside of 18 mm boards lies 18 x sqrt(1.64) below the slope's line."""
    wished = brief(cases(one(Cell(shelves=1, shelf_fixing="fixed")), height=None))
    box = fitted(wished, under_slope()).boxes[0]
    shelf = box.shelves[0]
    under = 900.0 - 18.0 * math.sqrt(1.64)
    assert shelf.cut_left
    assert shelf.x0_mm == pytest.approx((shelf.z_mm - under) / 0.8)


def test_a_bought_cabinet_keeps_its_width_and_loses_its_toe() -> None:
    """720 high with a toe of 80 stands 640 on a platform; the case beside it takes the rest."""
    units = (Unit(name="bought", bought=Bought(width_mm=800, height_mm=720, depth_mm=300, toe_height_mm=80)), one())
    design = fitted(brief(cases(*units, height=640.0), platform=Platform(height_mm=100, board="ply")))
    assert [(box.x0_mm, box.x1_mm) for box in design.boxes] == [(0.0, 800.0), (800.0, 1800.0)]
    assert not design.findings


def test_a_bought_cabinet_of_another_height_fails_with_its_cure() -> None:
    """640 in a tier of 700 needs the tier at 640 mm."""
    units = (Unit(name="bought", bought=Bought(width_mm=800, height_mm=720, depth_mm=300, toe_height_mm=80)), one())
    finding = fitted(brief(cases(*units, height=700.0))).findings[0]
    assert finding.verdict == "fail"
    assert finding.remedy.startswith("Set the tier's height to 640 mm")


def test_the_platform_is_set_from_the_high_point() -> None:
    """A floor that rises 10 mm to the right puts the platform's top 100 above its right end."""
    planes = {**SQUARE_ALCOVE, "floor": (0.0, 10.0 / 1800.0, 0.0)}
    design = fitted(brief(cases(one()), platform=Platform(height_mm=100, board="ply")), PlanarRoom(planes=planes))
    platform = design.platform
    assert platform is not None
    assert (platform.z0_mm, platform.z1_mm) == pytest.approx((13.0, 110.0))
    assert platform.high_point[0] == pytest.approx(1800.0)
    gaps = [b - a for a, b in zip(platform.bearers_x_mm, platform.bearers_x_mm[1:], strict=False)]
    assert max(gaps) <= 400.0


def test_a_top_meets_a_corner_that_is_not_square() -> None:
    """A left wall that opens 30 mm in 1000 slants the top's left edge: at 300 + 25 out it lies 9.75 further left."""
    planes = {**SQUARE_ALCOVE, "left": (0.0, 0.03, 0.0)}
    design = fitted(brief(cases(one()), Top(name="top", board="top"), start_mm=None), PlanarRoom(planes=planes))
    top = design.tops[0]
    assert top.outline[0] == pytest.approx((-9.75, -325.0))
    assert top.outline[3] == pytest.approx((0.0, 0.0))
    assert top.edges[0] is None
    left = top.edges[3]
    assert left is not None
    assert left.allowance_mm == pytest.approx(3.0)


def test_scribe_allowance_covers_the_wave() -> None:
    """Of a straight wall only the least allowance and the spread are left on: 2.33 x 2 + 3."""
    room = PlanarRoom(planes=SQUARE_ALCOVE, sd_mm=2.0)
    wished = brief(cases(one()), Top(name="top", board="top"), allowances=Allowances())
    back = fitted(wished, room).tops[0].edges[2]
    assert back is not None
    assert back.allowance_mm == pytest.approx(7.66)


def test_inset_doors_leave_the_published_gaps() -> None:
    """A pair in an opening 1764 x 664: 1764 - 7.1 over two, 664 - 4.8 high."""
    front = Front(leaves="pair", hang="inset", board="ply")
    doors = fitted(brief(cases(one(Cell(front=front))))).doors
    assert [round(_wide(door.outline), 6) for door in doors] == [878.45, 878.45]
    assert _high(doors[0].outline) == pytest.approx(659.2)
    assert doors[0].y_back_mm == -300.0 + 18.0


def test_sliding_doors_pass_each_other() -> None:
    """They lap by 25 mm, one behind the other with 2 mm between."""
    front = Front(leaves="sliding", hang="inset", board="ply")
    left, right = fitted(brief(cases(one(Cell(front=front))))).doors
    assert max(x for x, _ in left.outline) - min(x for x, _ in right.outline) == pytest.approx(25.0)
    assert right.y_back_mm - left.y_back_mm == pytest.approx(20.0)


def test_doors_cannot_slide_under_a_slope() -> None:
    """It fails with a cure instead of a door nobody can open."""
    front = Front(leaves="sliding", hang="inset", board="ply")
    design = fitted(brief(cases(one(Cell(front=front)), height=None)), under_slope())
    assert not design.doors
    assert "cannot slide under a slope" in design.findings[0].summary


def _wide(outline: tuple[tuple[float, float], ...]) -> float:
    return max(x for x, _ in outline) - min(x for x, _ in outline)


def _high(outline: tuple[tuple[float, float], ...]) -> float:
    return max(z for _, z in outline) - min(z for _, z in outline)


def test_end_strips_are_as_wide_as_their_gaps_ask() -> None:
    """A right wall that leans away 20 mm in a metre makes the right strip wider than the left: unequal widths."""
    planes = {**SQUARE_ALCOVE, "right": (1800.0, 0.0, 0.02)}
    wished = brief(cases(one(), height=1000.0), trim=Trim(board="strip"))
    strips = {strip.name: strip for strip in fitted(wished, PlanarRoom(planes=planes)).strips}
    left, right = strips["left end strip"], strips["right end strip"]
    assert _wide(left.outline) == pytest.approx(45.0)
    assert _wide(right.outline) == pytest.approx(45.0 + 20.0, abs=0.5)
    assert right.scribed is not None
    assert right.scribed[1].meets == "right"


def test_centre_strips_cover_dividers_and_doubled_sides() -> None:
    """Over two 18 mm sides and over one divider the strip is 40 wide and centred."""
    columns = Cell(split="columns", cells=(Cell(), Cell()))
    wished = brief(cases(one(columns), one()), trim=Trim(board="strip"))
    centres = [strip for strip in fitted(wished).strips if strip.name == "centre strip"]
    middles = [sum(x for x, _ in strip.outline) / 4 for strip in centres]
    assert middles == pytest.approx([450.0, 900.0])
    assert [_wide(strip.outline) for strip in centres] == pytest.approx([40.0, 40.0])


def test_skirting_higher_than_the_platform_is_ripped_and_said() -> None:
    """145 of skirting before a platform of 100 is ripped to 100; the remedy is the platform's height."""
    survey = replace(PlanarRoom(planes=SQUARE_ALCOVE).survey, skirting=Skirting(height_mm=145, thickness_mm=20))
    wished = brief(cases(one()), platform=Platform(height_mm=100, board="ply"), return_skirting=True)
    design = fitted(wished, PlanarRoom(planes=SQUARE_ALCOVE, survey=survey))
    assert [piece.height_mm for piece in design.skirting] == [100.0]
    assert design.findings[0].remedy == "Make the platform 145 mm high."


def test_skirting_turns_the_corner_at_a_seen_end() -> None:
    """An open right end gets a mitred return as deep as the platform."""
    planes = {k: v for k, v in SQUARE_ALCOVE.items() if k != "right"}
    survey = replace(PlanarRoom(planes=planes).survey, skirting=Skirting(height_mm=90, thickness_mm=20))
    wished = brief(cases(one()), platform=Platform(height_mm=100, board="ply"), return_skirting=True)
    front, side = fitted(wished, PlanarRoom(planes=planes, survey=survey)).skirting
    assert (front.miter_start, front.miter_end) == (False, True)
    assert (side.miter_start, side.miter_end) == (True, False)
    assert side.start == pytest.approx((1800.0, -300.0))


def test_all_that_is_wrong_with_a_brief_is_said_at_once() -> None:
    """Two tiers without heights and no stock of that key: each gets its sentence."""
    wished = brief(cases(one(), height=None), cases(one(), height=None, name="upper"))
    with pytest.raises(InvalidInputError) as caught:
        fitted(wished)
    assert str(caught.value) == (
        "height: found tier running up to the slope or ceiling below another tier; "
        "expected a height for every tier but the highest."
    )
    with pytest.raises(InvalidInputError) as caught:
        fitted(brief(cases(one(), board="oak", back_board="tin")))
    assert str(caught.value).splitlines() == [
        "board: found board: oak; expected a sheet stock of the shop: ply, thin.",
        "back: found back: tin; expected a sheet stock of the shop: ply, thin.",
    ]


def test_units_too_wide_for_the_run_are_refused_with_both_figures() -> None:
    """1900 does not go into 1800."""
    with pytest.raises(InvalidInputError) as caught:
        fitted(brief(cases(one(width=Fixed(mm=1900.0)))))
    assert "that need 1900 mm and more; expected sizes that go into 1800 mm" in str(caught.value)


def test_a_tier_with_nothing_above_needs_a_height() -> None:
    """No slope, no ceiling, no height: refused."""
    with pytest.raises(InvalidInputError) as caught:
        fitted(brief(cases(one(), height=None)))
    assert str(caught.value) == (
        "height: found tier without a height; expected a height, or a surveyed slope or ceiling to run up to."
    )
