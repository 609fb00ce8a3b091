"""What no room can hold is refused, and what a room changes is said: word for word."""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest

from nookwright.basics.findings import Finding
from nookwright.basics.measured import Measured
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
    Tier,
    Top,
    Trim,
    Unit,
)
from nookwright.stages.inputs.survey import Skirting, SurfaceName
from planar_rooms import SQUARE_ALCOVE, PlanarRoom, a_shop

NO_PLAY = Allowances(sds=0.0, least_gap_mm=0.0, top_gap_mm=0.0)
CASE = Unit(name="case")


def brief(*tiers: Tier, **changed: object) -> Brief:
    """A brief with those tiers, without play."""
    given: dict[str, object] = {"allowances": NO_PLAY, **changed}
    return Brief(title="job", units="mm", resolution=0.5, tiers=tiers, **given)  # type: ignore[arg-type]


def cases(*units: Unit, height: float | None = 700.0, **changed: object) -> Cases:
    """A tier 300 deep of 18 mm boards without a back."""
    given: dict[str, object] = {"name": "tier", "depth_mm": 300.0, "board": "ply", **changed}
    return Cases(height_mm=height, units=units or (CASE,), **given)  # type: ignore[arg-type]


def room_with(**planes: tuple[float, float, float]) -> PlanarRoom:
    """A square alcove 1800 wide with some more planes."""
    return PlanarRoom(planes={**SQUARE_ALCOVE, **planes})  # type: ignore[dict-item]


def under_slope(slope: float = 0.8, height: float = 900.0) -> PlanarRoom:
    """A corner whose slope rises to the right from a height at the left wall."""
    planes = {**room_with(slope=(height, slope, 0.0)).planes}
    del planes["right"]
    return PlanarRoom(planes=planes)


def fitted(wished: Brief, room: PlanarRoom | None = None) -> Design:
    """Fit into a square alcove unless another room is given."""
    return fit(wished, room or room_with(), a_shop())  # type: ignore[arg-type]


def refused(wished: Brief, room: PlanarRoom | None = None) -> list[str]:
    """Return the sentences a brief is refused with."""
    with pytest.raises(InvalidInputError) as caught:
        fitted(wished, room)
    return str(caught.value).splitlines()


def said(design: Design) -> list[tuple[str, str, str, str]]:
    """Return verdict, subject, summary and remedy of every finding."""
    return [(each.verdict, each.subject, each.summary, each.remedy) for each in design.findings]


# ---- refused ----


def test_a_brief_without_cases_is_refused() -> None:
    """A top alone lies on nothing: both faults are told."""
    assert refused(brief(Top(name="top", board="ply"))) == [
        "tiers: found no tier of cases; expected at least one tier of cases.",
        "tiers: found a top as the lowest tier; expected cases below every top.",
    ]


def test_more_units_than_letters_are_refused() -> None:
    """Nineteen letters stand for boxes: A to Z less D, I, K, O, P, S and T."""
    units = tuple(Unit(name=f"unit {i}") for i in range(20))
    assert refused(brief(cases(*units))) == ["tiers: found 20 units; expected at most 19 units."]


def test_a_top_on_a_tier_up_to_the_ceiling_is_refused() -> None:
    """There is no room for it above."""
    wished = brief(cases(height=None), Top(name="top", board="ply"))
    assert refused(wished, room_with(ceiling=(2400.0, 0.0, 0.0))) == [
        "height: found top on a tier that runs up to the slope or ceiling; expected a height for the tier below a top."
    ]


@pytest.mark.parametrize(("start", "end"), [(900.0, 950.0), (900.0, 400.0), (0.0, 0.0)])
def test_a_run_that_is_no_run_is_refused(start: float, end: float) -> None:
    """Too short, the wrong way round, or nothing."""
    assert refused(brief(cases(), start_mm=start, end_mm=end)) == [
        f"end: found a run from {start:g} mm to {end:g} mm right of BL0; expected an end at least 100 mm right of its start."
    ]


def test_an_end_behind_a_wall_is_refused() -> None:
    """Walls that lean in by 0.02 stand 14 in at 700: start 0 and end 1800 lie behind them."""
    room = room_with(left=(0.0, 0.0, 0.02), right=(1800.0, 0.0, -0.02))
    assert refused(brief(cases(), start_mm=0.0, end_mm=1800.0), room) == [
        "start: found a start 0 mm right of BL0; expected `wall`, or at least 14 mm, where the left wall stands.",
        "end: found an end 1800 mm right of BL0; expected `wall`, or at most 1786 mm, where the right wall stands.",
    ]
    assert not fitted(brief(cases(), start_mm=14.0, end_mm=1786.0), room).findings


def test_a_unit_too_narrow_for_its_sides_is_refused() -> None:
    """Two sides of 18 and a space of 40 are 76."""
    narrow = replace(CASE, name="narrow", width=Fixed(mm=75.5))
    assert refused(brief(cases(narrow, CASE))) == [
        "units: found narrow 75.5 mm wide; expected at least 76 mm: two boards and a space between."
    ]


def test_a_tier_the_ceiling_leaves_no_height_is_refused() -> None:
    """A ceiling at 750 above a tier up to 703 leaves 47 for the next."""
    wished = brief(cases(), cases(replace(CASE, name="upper"), name="upper tier"))
    assert refused(wished, room_with(ceiling=(750.0, 0.0, 0.0))) == [
        "units: found upper 47 mm high; expected at least 76 mm: two boards and a space between."
    ]


def test_columns_that_do_not_go_in_are_refused() -> None:
    """1764 less one divider is 1746; 1000 and 800 do not go in."""
    inside = Cell(split="columns", cells=(Cell(size=Fixed(mm=1000)), Cell(size=Fixed(mm=800))))
    assert refused(brief(cases(replace(CASE, inside=inside)))) == [
        "columns of case: found columns of case that need 1800 mm and more; expected sizes that go into 1746 mm, with at"
        " least 40 mm for each share. Make a fixed size smaller, or take one out."
    ]


def test_rows_that_leave_a_share_too_little_are_refused() -> None:
    """664 less a board is 646; 610 leaves 36 of the 40 a share needs."""
    inside = Cell(split="rows", cells=(Cell(size=Fixed(mm=610)), Cell()))
    assert refused(brief(cases(replace(CASE, inside=inside)))) == [
        "rows of case: found rows of case that need 610 mm and more; expected sizes that go into 646 mm, with at"
        " least 40 mm for each share. Make a fixed size smaller, or take one out."
    ]


def test_a_platform_too_low_or_too_shallow_is_refused() -> None:
    """Below 33 no rail goes over the packer; 300 less a toe of 240 leaves 60, and 18 + 30 + 18 need 66."""
    assert refused(brief(cases(), platform=Platform(height_mm=32.0, board="ply"))) == [
        "height: found a platform 32 mm high; expected at least 33 mm: a rail and the packer at the high point."
    ]
    assert refused(brief(cases(), platform=Platform(height_mm=100.0, board="ply", toe_mm=240.0))) == [
        "toe: found a platform 60 mm deep; expected at least 66 mm: two rails and a bearer between."
    ]


def test_stocks_the_shop_lacks_are_refused_with_what_it_has() -> None:
    """A platform may be of any stock; trim must be of boards, doors of sheets."""
    front = Front(leaves="one", hang="inset", board="glass")
    wished = brief(
        cases(replace(CASE, inside=Cell(front=front))), Top(name="top", board="slate"),
        platform=Platform(height_mm=100.0, board="steel"), trim=Trim(board="ply"),
    )  # fmt: skip
    sentences = refused(wished)
    assert sentences[0] == "board: found board: steel; expected a stock of the shop: ply, thin, strip, top."
    assert "board: found board: slate; expected a stock of the shop: ply, thin, strip, top." in sentences
    alone = replace(wished, platform=None, tiers=wished.tiers[:1])
    assert "trim: found trim board: ply; expected a board stock of the shop: strip, top." in refused(alone)
    without_trim = replace(alone, trim=None)
    assert refused(without_trim) == ["front: found front: glass; expected a sheet stock of the shop: ply, thin."]


def test_a_top_above_the_slope_is_refused() -> None:
    """A gentle slope from 200: tiers below it end far to the right, and a top at their greatest height has no place.

    The run ends at 700, where the slope is at 200 + 0.1 x 700 = 270; the case is as high as the slope there, 270,
    and so is the top's underside; its upper face at 297 lies above the slope everywhere.
    """
    wished = brief(cases(height=600.0), Top(name="top", board="top", overhang_mm=0.0), end_mm=700.0)
    assert refused(wished, under_slope(slope=0.1, height=200.0)) == [
        "height: found top 297 mm up, above the slope; expected a tier below it that is low enough for the slope to pass"
        " over its top."
    ]


# ---- said ----


def test_a_tier_lowered_by_the_ceiling_is_said() -> None:
    """From 3 up to a ceiling at 650: 647 of the 700 wished."""
    design = fitted(brief(cases()), room_with(ceiling=(650.0, 0.0, 0.0)))
    assert design.boxes[0].z1_left_mm == 650.0
    assert said(design) == [
        (
            "caution",
            "tier",
            "700 mm high was wished; the ceiling leaves 647 mm.",
            "Make a tier or the platform lower, or accept the height that is drawn.",
        )
    ]


def test_units_that_leave_a_rest_are_said() -> None:
    """One of 1500 in 1800."""
    design = fitted(brief(cases(replace(CASE, width=Fixed(mm=1500.0)))))
    assert said(design) == [
        (
            "caution",
            "tier",
            "The units leave 300 mm free at the right end; the end strip must cover it.",
            "Give one unit the width `equal` so that it takes up the rest.",
        )
    ]


def test_a_bought_cabinet_under_the_slope_fails() -> None:
    """800 wide from the left wall where the slope is at 500: 3 up, 497 are left for a cabinet 700 high."""
    unit = Unit(name="bought", bought=Bought(width_mm=800, height_mm=700, depth_mm=300))
    findings = fitted(brief(cases(unit, CASE)), under_slope(height=500.0)).findings
    finding: Finding = next(each for each in findings if each.verdict == "fail")
    assert finding.summary == "The slope leaves 497 mm at the cabinet's low end; it is 700 mm high."
    assert finding.remedy == "Stand it further from the low end, or build a raked case there."


def test_shelves_that_do_not_go_in_are_said() -> None:
    """A space of 164 takes (164 - 40) / (40 + 18) = 2 shelves, not five."""
    design = fitted(brief(cases(replace(CASE, inside=Cell(shelves=5)), height=200.0)))
    assert len(design.boxes[0].shelves) == 2
    assert said(design) == [
        (
            "fail",
            "case",
            "5 shelves do not go into a space 164 mm high; 2 are drawn.",
            "Wish for fewer shelves there, or make the space higher.",
        )
    ]


@pytest.mark.parametrize(
    ("inside", "height", "trim", "reason"),
    [
        (Cell(front=Front(leaves="one", hang="inset", board="ply")), 90.0, None, "the opening is too small for a door"),
        (
            Cell(front=Front(leaves="one", hang="inset", board="ply")),
            100.0,
            Trim(board="strip", rail_mm=90.0),
            "the strips leave no opening for the door",
        ),
    ],
)
def test_no_door_is_hung_where_none_goes(inside: Cell, height: float, trim: Trim | None, reason: str) -> None:
    """Too low an opening, 54; or a strip 90 high over an opening of 64 below a top of 18."""
    design = fitted(brief(cases(replace(CASE, inside=inside), height=height), trim=trim))
    assert not design.doors
    assert said(design) == [
        ("fail", "door of case", f"No door: {reason}.", "Hang a single inset door there, or leave the space open.")
    ]


def test_a_cell_above_the_slope_is_said_and_left_out() -> None:
    """Under a slope of 0.8 from 300 nothing is left 200 right of the left side, 900 and a board up.

    3 up, a bottom of 18, a row of 900 and a board of 18: 939. The slope is at 300 + 0.8 x 218 = 474 there.
    """
    columns = Cell(split="columns", cells=(Cell(size=Fixed(mm=200)), Cell()))
    rows = Cell(split="rows", cells=(Cell(size=Fixed(mm=900)), columns))
    design = fitted(brief(cases(replace(CASE, inside=rows), height=None)), under_slope(height=300.0))
    remedy = "Give it a lower row, or a column nearer the tall side."
    assert said(design) == [
        (
            "fail",
            "case",
            f"What is wished {x0} mm to {x1} mm right of BL0, 939 mm up, lies above the slope.",
            remedy,
        )
        for x0, x1 in ((18, 218), (218, 236))
    ]
    assert not [upright for upright in design.boxes[0].uprights if upright.kind == "divider"]


def test_a_tier_leaves_room_below_the_ceiling_for_its_top() -> None:
    """A ceiling at 700, a top of 27: the case ends at 673, the top at the ceiling."""
    design = fitted(brief(cases(), Top(name="top", board="top")), room_with(ceiling=(700.0, 0.0, 0.0)))
    assert design.boxes[0].z1_left_mm == 673.0
    assert design.tops[0].z_mm + design.tops[0].thickness_mm == 700.0


# ---- kept clear of walls ----


def test_a_free_tops_overhang_stops_at_a_wall() -> None:
    """The run starts 10 from a straight wall; of an overhang of 25 only 10 go in. At the open right end all 25."""
    planes = {name: plane for name, plane in SQUARE_ALCOVE.items() if name != "right"}
    wished = brief(cases(), Top(name="top", board="ply", overhang_mm=25.0), start_mm=10.0)
    (top,) = fitted(wished, PlanarRoom(planes=planes)).tops
    assert [x for x, _ in top.outline] == pytest.approx([0.0, 1825.0, 1825.0, 0.0])
    assert [edge is None for edge in top.edges] == [True, True, False, True]


@pytest.mark.parametrize(("start", "names"), [(19.0, 1), (20.0, 2)])
def test_skirting_turns_a_corner_only_where_it_has_room(start: float, names: int) -> None:
    """20 mm of skirting go between the furniture and a wall 20 away, not into 19; then it runs on to the wall."""
    survey = replace(room_with().survey, skirting=Skirting(height_mm=90, thickness_mm=20))
    room = replace(room_with(), survey=survey)
    wished = brief(
        cases(), platform=Platform(height_mm=100, board="ply"), return_skirting=True, start_mm=start, end_mm=None
    )  # fmt: skip
    pieces = fitted(wished, room).skirting
    assert len(pieces) == names
    assert pieces[0].start[0] == (0.0 if names == 1 else start)


def test_doors_hang_in_the_plane_of_the_strips() -> None:
    """A bought cabinet 350 deep beside a case of 300: strips and doors both stand before its front."""
    unit = Unit(name="bought", bought=Bought(width_mm=800, height_mm=700, depth_mm=350))
    for hang, rear in (("inset", -350.0), ("overlay", -370.0)):
        front = Front(leaves="one", hang=hang, board="ply")  # type: ignore[arg-type]
        wished = brief(cases(unit, replace(CASE, inside=Cell(front=front))), trim=Trim(board="strip"))
        design = fitted(wished)
        assert {strip.y_back_mm for strip in design.strips} == {-350.0}
        assert [door.y_back_mm for door in design.doors] == [rear]


def test_an_end_strip_closes_at_most_half_of_a_narrow_space() -> None:
    """A case 136 wide between seen ends has a space of 100: a rail of 90 wished ends at its middle, 68."""
    planes = {name: plane for name, plane in SQUARE_ALCOVE.items() if name not in {"left", "right"}}
    wished = brief(cases(), trim=Trim(board="strip", rail_mm=90.0), start_mm=0.0, end_mm=136.0)
    strips = {strip.name: strip for strip in fitted(wished, PlanarRoom(planes=planes)).strips}
    assert max(x for x, _ in strips["left end strip"].outline) == 68.0
    assert min(x for x, _ in strips["right end strip"].outline) == 68.0


@dataclass(frozen=True)
class BumpedRoom(PlanarRoom):
    """A room whose left wall stands 5 proud within a hand's width of one place, 162.5 out."""

    def at(self, surface: SurfaceName, p: float, q: float) -> Measured:
        """The plane's value, with the bump on it."""
        bump = 5.0 if surface == "left" and abs(p + 162.5) < 20.0 else 0.0
        return super().at(surface, p, q).shifted(bump)


def test_a_tops_edge_touches_the_proudest_place_of_its_wall() -> None:
    """Looked at 325, 243.75, 162.5, 81.25 and 0 out, the bump lies in the middle: no tilt, the edge stands at 5.

    The gap is then 0 at the bump and 5 beside it: 5 and the least allowance of 3 are left on.
    """
    wished = brief(cases(), Top(name="top", board="top", overhang_mm=25.0))
    (top,) = fitted(wished, BumpedRoom(planes=SQUARE_ALCOVE)).tops
    assert [x for x, _ in top.outline] == pytest.approx([5.0, 1800.0, 1800.0, 5.0])
    left = top.edges[3]
    assert left is not None
    assert left.gap == pytest.approx((0.0, 5.0))
    assert left.allowance_mm == pytest.approx(8.0)


@pytest.mark.parametrize(("width", "reaches"), [(1681.0, True), (1679.0, False)])
def test_an_end_strip_reaches_a_wall_up_to_120_away(width: float, reaches: bool) -> None:
    """One unit leaves 119 or 121 to the right wall at 1800."""
    wished = brief(cases(replace(CASE, width=Fixed(mm=width))), trim=Trim(board="strip"))
    strips = {strip.name: strip for strip in fitted(wished).strips}
    outer = max(x for x, _ in strips["right end strip"].outline)
    assert outer == pytest.approx(1800.0 if reaches else width)
    assert (strips["right end strip"].scribed is not None) is reaches


@pytest.mark.parametrize(("ceiling", "reaches"), [(782.0, True), (784.0, False)])
def test_a_top_strip_reaches_a_ceiling_up_to_80_above(ceiling: float, reaches: bool) -> None:
    """Above a case that ends at 703."""
    room = room_with(ceiling=(ceiling, 0.0, 0.0))
    strips = {strip.name: strip for strip in fitted(brief(cases(), trim=Trim(board="strip")), room).strips}
    assert max(z for _, z in strips["top strip"].outline) == (ceiling if reaches else 703.0)
    assert (strips["top strip"].scribed is not None) is reaches


def test_a_top_strip_below_a_worktop_reaches_no_ceiling() -> None:
    """The worktop lies between them."""
    wished = brief(cases(), Top(name="top", board="top"), trim=Trim(board="strip"))
    strips = {strip.name: strip for strip in fitted(wished, room_with(ceiling=(760.0, 0.0, 0.0))).strips}
    assert max(z for _, z in strips["top strip"].outline) == 703.0


@pytest.mark.parametrize(("centre", "gap"), [(40.0, 20.0), (18.0, 3.0)])
def test_two_overlay_doors_keep_apart_on_a_narrow_strip(centre: float, gap: float) -> None:
    """Each laps by 10, which leaves 20 of a strip of 40; one of 18 is shared with 3 between."""
    front = Front(leaves="one", hang="overlay", board="ply")
    inside = Cell(split="columns", cells=(Cell(front=front), Cell(front=front)))
    wished = brief(cases(replace(CASE, inside=inside)), trim=Trim(board="strip", centre_mm=centre, reveal_mm=0.0))
    left, right = fitted(wished).doors
    assert min(x for x, _ in right.outline) - max(x for x, _ in left.outline) == pytest.approx(gap)
