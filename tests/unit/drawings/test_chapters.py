"""Every chapter: all of it there, all of it readable, in both units and on both papers."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from nookwright.basics.findings import Finding
from nookwright.basics.lengths import Marks, show
from nookwright.basics.measured import Measured
from nookwright.drawings.page import Circle, Line, Text
from nookwright.drawings.page_check import faults
from nookwright.drawings.pages import buying as buying_pages
from nookwright.drawings.pages import checks as checks_pages
from nookwright.drawings.pages import cutting as cutting_pages
from nookwright.drawings.pages import finishing as finishing_pages
from nookwright.drawings.pages import front as front_pages
from nookwright.drawings.pages import installing as installing_pages
from nookwright.drawings.pages import parts as parts_pages
from nookwright.drawings.pages.part_sheets import numbers_said, part_sheets
from nookwright.drawings.pages.sheets import DOT_MM, diagram, freed_by
from nookwright.drawings.pages.steps import fastenings_of, step_sheets
from nookwright.drawings.sheet import Draft, body, finished
from nookwright.stages.buying.buy_list import OWN, Offer, Order, Split
from nookwright.stages.parts.part import Groove, PinHoles
from nookwright.trade.shimming import packer_kind, solid_packer


def texts(drafts) -> list[str]:
    """Return every line of words."""
    return [item.text for draft in drafts for item in draft.items if isinstance(item, Text)]


def all_faults(drafts, issue) -> list[str]:
    """Return every fault of every finished sheet."""
    return [
        f"{draft.name}: {fault}"
        for i, draft in enumerate(drafts)
        for fault in faults(finished(draft, issue, number=i + 1, total=len(drafts)))
    ]


@pytest.fixture
def chapters(  # noqa: PLR0917  one fixture a chapter's input
    parts, shop, cutting, installing, finishing, buying, findings, fits, assumptions, design, contents, sources,
             any_issue):  # fmt: skip
    """Every chapter's sheets by name."""
    return {
        "parts": (*parts_pages.list_pages(parts, any_issue), *parts_pages.drawing_pages(parts, any_issue)),
        "cutting": cutting_pages.pages(cutting, parts, shop, any_issue),
        "buying": buying_pages.pages(buying, any_issue),
        "checks": checks_pages.pages(findings, sources, any_issue),
        "installing": installing_pages.pages(installing, design, parts, ("BL0", "BL0"), any_issue),
        "steps": step_sheets(installing.steps, design.boxes, parts, any_issue),
        "finishing": finishing_pages.pages(finishing, any_issue),
        "front": front_pages.pages(findings, fits, assumptions, contents, {"shelf sag": 2}, any_issue),
    }


@pytest.mark.parametrize("name", ["parts", "cutting", "buying", "checks", "installing", "steps", "finishing", "front"])
def test_every_sheet_of_a_chapter_can_be_read(chapters, name: str, any_issue) -> None:
    """No words overlap, none is crossed or too small, nothing reaches into the margins."""
    assert chapters[name]
    assert all_faults(chapters[name], any_issue) == []


def drawn(parts, number: str, issue):
    """Return the one sheet that draws one part alone."""
    (draft,) = part_sheets(((parts.part(number),),), issue)
    return draft


def test_every_part_is_listed_and_every_special_part_is_drawn(parts, issue) -> None:
    """Stars in the list and rings on the drawings agree."""
    said = texts(parts_pages.list_pages(parts, issue))
    assert all(part.number in said or f"{part.number}*" in said for part in parts.parts)
    starred = {text[:-1] for text in said if text.endswith("*")}
    numbers = {part.number for part in parts.parts}
    ringed = numbers.intersection(texts(parts_pages.drawing_pages(parts, issue)))
    assert ringed == starred == {"C1", "C3", "C6", "T1", "T2"}


def test_a_row_of_part_numbers_is_shortened(parts, issue) -> None:
    """Three alike in a row are a range; two are not; letters break it."""
    assert numbers_said(["P3", "P4", "P5", "B6", "B7"]) == "P3 to P5, B6, B7"
    assert numbers_said(["C1", "D2", "D3"]) == "C1, D2, D3"


def test_parts_that_are_alike_share_a_row_and_a_drawing(parts, issue) -> None:
    """A second strip like T1 is counted in its row and named in its drawing."""
    twin = replace(parts, parts=(*parts.parts, replace(parts.part("T1"), number="T9")))
    said = texts(parts_pages.list_pages(twin, issue))
    at = said.index("T1, T9*")
    assert said[at + 1] == "2"
    assert any("also T9: 2 alike" in text for text in texts(parts_pages.drawing_pages(twin, issue)))


def test_a_part_s_drawing_carries_every_figure_needed_to_cut_it(parts, issue) -> None:
    """The back: whole sizes, where the rake starts, and the hole from the left and bottom edges, each once."""
    draft = drawn(parts, "C6", issue)
    figures = sorted(item.text for item in draft.items if isinstance(item, Text) and item.height_mm == 5.0)
    assert figures == sorted(["1180", "310", "90", "780", "980", "200", "1760", "205", "90", "640", "825"])


def test_pins_and_housings_are_measured_from_the_foot(parts, issue) -> None:
    """Pins at 200 and 420 and a housing from 691 to 709, each with its face, and the whole length, from one end."""
    side = replace(
        parts.part("C2"),
        pin_holes=(
            PinHoles(face="B", u_mm=200.0, v_mm=(37.0, 260.0), diameter_mm=5.0, receives="C7"),
            PinHoles(face="A", u_mm=420.0, v_mm=(37.0, 260.0), diameter_mm=5.0, receives="C8"),
        ),
        grooves=(Groove(face="B", start=(700.0, 0.0), end=(700.0, 300.0), width_mm=18.0, depth_mm=6.0, receives="C9"),),
    )
    (draft,) = part_sheets(((side,),), issue)
    upright = [item.text for item in draft.items if isinstance(item, Text) and item.height_mm == 5.0]
    assert upright == ["0", "200 B", "420 A", "691 B", "1742", "300"]
    said = " ".join(texts((draft,)))
    assert "pin holes in face B, 5 across, 37 from the lower edge and 40 from the upper: take C7" in said


def test_a_scribe_edge_says_how_much_is_left_on(parts, issue) -> None:
    """T1 keeps 12 mm for scribing to the left wall."""
    assert {"leave on 12", "left wall"} <= set(texts((drawn(parts, "T1", issue),)))


def test_long_and_short_points_are_marked_at_their_ends(parts, issue) -> None:
    """T2 is mitred at both ends: LP lies further out than SP, at the lower edge."""
    draft = drawn(parts, "T2", issue)
    points = {name: [t.at for t in draft.items if isinstance(t, Text) and t.text == name] for name in ("LP", "SP")}
    assert (len(points["LP"]), len(points["SP"])) == (2, 2)
    assert min(x for x, _ in points["LP"]) < min(x for x, _ in points["SP"])
    assert max(x for x, _ in points["LP"]) > max(x for x, _ in points["SP"])
    assert min(y for _, y in points["LP"]) > max(y for _, y in points["SP"])


def on_paper(cutting, issue):
    """Return the drawing of the one sheet at 1:10."""
    items, missing = diagram(cutting.sheets[0], issue.marks, body(issue.paper, landscape=True, scaled=True), 10)
    assert missing == ()
    return Draft(name="sheet", items=items, scale=10, landscape=True)


def test_every_cut_is_drawn_with_its_number(cutting, issue) -> None:
    """Eleven cuts, eleven rings, eleven wide lines."""
    drawing = on_paper(cutting, issue)
    rings = [item for item in drawing.items if isinstance(item, Circle) and item.radius > DOT_MM]
    lines = [item for item in drawing.items if isinstance(item, Line) and item.pen == "wide"]
    assert (len(rings), len(lines)) == (11, 11)
    assert {str(i) for i in range(1, 12)} <= set(texts((drawing,)))


def test_every_piece_shows_its_number_and_size_on_the_sheet(cutting, issue) -> None:
    """At 1:10 each of the four pieces has room for both."""
    said = set(texts((on_paper(cutting, issue),)))
    assert {"C1", "C2", "C3", "C4", "1742 x 300", "1440 x 300", "1144 x 300", "862 x 300"} <= said


def test_the_table_of_cuts_gives_the_fence_for_each(cutting, parts, shop, issue) -> None:
    """Cut 8 crosscuts C3 at 1440, in figures of 5 mm, on the page of its sheet."""
    page = cutting_pages.pages(cutting, parts, shop, issue)[-2]  # the last has the housings
    said = texts([page])
    assert ["8", "1440", "cross"] in [said[i : i + 3] for i in range(len(said))]
    assert any(text.text == "1440" and text.height_mm == 5.0 for text in page.items if isinstance(text, Text))


def test_a_piece_is_labelled_when_its_last_side_is_cut(cutting, shop) -> None:
    """C2 by cut 6, C3 by cut 8; cut 10 frees C4, and C1 has its far end cut last."""
    freed = freed_by(cutting.sheets[0], shop.saw.kerf_mm)
    assert {order: parts for order, parts in freed.items() if parts} == {6: ["C2"], 8: ["C3"], 10: ["C4"], 11: ["C1"]}


def test_a_sheet_with_many_cuts_has_its_table_on_the_facing_page(cutting, parts, shop, issue) -> None:
    """Thirteen cuts are too many for a drawing that shares its page: drawing first, then every cut."""
    sheet = cutting.sheets[0]
    more = tuple(replace(sheet.cuts[10], order=12 + i, x1_mm=2100.0 + 80 * i, x2_mm=2100.0 + 80 * i) for i in (0, 1))
    busy = replace(cutting, sheets=(replace(sheet, cuts=(*sheet.cuts, *more)),))
    drawing, table = cutting_pages.pages(busy, parts, shop, issue)[-3:-1]
    assert (drawing.scale, drawing.landscape, table.scale) == (10, True, 0)
    assert {str(i) for i in range(1, 14)} <= set(texts([drawing])) & set(texts([table]))


def test_the_table_of_cuts_tells_what_is_left_beyond_the_blade(cutting, parts, shop, issue) -> None:
    """Cut 1 takes 1.8 and its kerf of 3.2 off 1220; cut 8 takes 1440 and 3.2 out of 2435, 991.8 to the next 1 mm."""
    sheet = cutting.sheets[0]
    more = tuple(replace(sheet.cuts[10], order=12 + i, x1_mm=2100.0 + 80 * i, x2_mm=2100.0 + 80 * i) for i in (0, 1))
    busy = replace(cutting, sheets=(replace(sheet, cuts=(*sheet.cuts, *more)),))
    table = cutting_pages.pages(busy, parts, shop, issue)[-2]
    said = texts([table])
    rows = [said[i : i + 5] for i in range(len(said))]
    assert ["1", "2", "1215", "rip"] in [row[:4] for row in rows]
    assert ["8", "1440", "992", "cross", "C3"] in rows


def test_what_no_stock_gives_is_said_with_its_cure(cutting, parts, shop, issue) -> None:
    """C6 is wider than any sheet."""
    said = texts(cutting_pages.pages(cutting, parts, shop, issue))
    at = said.index("make the back in two pieces")
    assert said[at - 3 : at] == ["C6", "2500", "1760"]


def test_board_lengths_stand_in_their_pieces(cutting, parts, shop, issue) -> None:
    """Every piece's number and length; the short one's figure is moved to the heading, not lost."""
    said = texts(cutting_pages.pages(cutting, parts, shop, issue))
    assert {"T1", "T2", "1190.5", "945"} <= set(said)
    assert any(text.endswith("too short to letter: T3 45") for text in said)


def test_boards_cut_alike_are_drawn_once(cutting, parts, shop, issue) -> None:
    """Three boards with the same pieces make one bar that says so."""
    board = cutting.boards[0]
    three = replace(cutting, boards=tuple(replace(board, index=i) for i in (1, 2, 3)))
    said = texts(cutting_pages.pages(three, parts, shop, issue))
    assert said.count("T1") == 1
    assert any("boards 1, 2, 3: 3 alike" in text for text in said)


def test_a_ripped_board_is_drawn_lane_by_lane(cutting, parts, shop, issue) -> None:
    """Two lanes from one board make two bars, each saying its width."""
    board = cutting.boards[0]
    lanes = tuple(
        replace(piece, across_mm=across, width_mm=40.0)
        for piece, across in zip(board.pieces, (0.0, 43.2, 43.2), strict=True)
    )
    ripped = replace(cutting, boards=(replace(board, pieces=lanes),))
    said = texts(cutting_pages.pages(ripped, parts, shop, issue))
    assert sum("rip a lane 40 wide" in text for text in said) == 2


def test_findings_are_told_by_word_and_shape_failures_first(findings, sources, issue) -> None:
    """Order does not follow the input; recalled sources say so."""
    said = texts(checks_pages.pages(findings[::-1], sources, issue))
    outcomes = [text for text in said if text in set(checks_pages.SIGN.values())]
    assert outcomes == ["■ FAILS", "◇ ASK", "△ CAUTION", "○ holds"]
    assert "Source: gluing-recalled (recalled)" in said
    assert "recalled, not read:" in " ".join(said)


def finding(subject: str, **more) -> Finding:
    """Return a shelf that holds: 2 mm of 4 mm."""
    told = {"verdict": "pass", "summary": "It sags 2 mm. The stiffness was recalled.", "demand": 2.0, "limit": 4.0,
            "unit": "mm", "worked": "1 x 2 = 2", "formula": "sag = a b", "source_keys": ("wood-handbook",)}  # fmt: skip
    return Finding(topic="shelf sag", subject=subject, **(told | more))


def test_a_topic_says_its_formula_once_and_subjects_alike_share_a_row(sources, issue) -> None:
    """Two shelves with the same numbers and one with others: two rows under one heading."""
    found = (
        finding("shelf B5"),
        finding("shelf B6"),
        finding("shelf C1", demand=5.0, verdict="fail", remedy="a strip"),
    )
    said = texts(checks_pages.pages(found, sources, issue))
    assert said.count("Shelf sag") == said.count("sag = a b") == 1
    assert "The stiffness was recalled." in said  # shared by all three, so said once, under the heading
    at = said.index("shelf B5, B6")
    assert said[at + 1 : at + 5] == ["1 x 2 = 2", "2 mm", "4 mm", "50 % left"]
    at = said.index("shelf C1")
    assert said[at + 1 : at + 7] == ["It sags 2 mm.", "1 x 2 = 2", "Cure: a strip", "5 mm", "4 mm", "25 % over"]


def test_a_cure_that_several_share_is_said_once(sources, issue) -> None:
    """Two tips, one cure."""
    found = tuple(finding(f"case {i}", verdict="caution", remedy="Hold it.", demand=4.0 + i) for i in (1, 2))
    said = " ".join(texts(checks_pages.pages(found, sources, issue)))
    assert said.count("Cure: Hold it.") == 1


def test_a_full_stop_in_a_number_s_name_ends_no_sentence() -> None:
    """`No. 8` is a screw."""
    text = "2 screws: No. 8 or No. 10. They hold. Do they?"
    assert checks_pages.sentences(text) == ["2 screws: No. 8 or No. 10.", "They hold.", "Do they?"]


def test_unpriced_goods_are_said_so(buying, issue) -> None:
    """The total names its currency and what it leaves out."""
    said = texts(buying_pages.pages(buying, issue))
    assert "Total of what is priced: 96.40 EUR" in said
    assert "The shop file gives no price for: satin enamel." in said
    assert "no price" in said


def test_packers_stand_in_plan_and_table(installing, design, parts, issue) -> None:
    """Six stations in both, on one sheet; heights as worked out."""
    said = texts(installing_pages.pages(installing, design, parts, ("BL0", "BL0"), issue)[:1])
    assert all(said.count(str(i)) >= 2 for i in range(1, 7))
    assert ["5", "600", "280", "6"] in [said[i : i + 4] for i in range(len(said))]


def test_an_outlet_hole_is_placed_from_the_panel_s_own_edges(installing, design, parts, issue) -> None:
    """310 from the left, 205 from below, 90 x 90."""
    (draft,) = [
        d
        for d in installing_pages.pages(installing, design, parts, ("BL0", "BL0"), issue)
        if d.name.startswith("Outlet")
    ]
    figures = sorted(item.text for item in draft.items if isinstance(item, Text) and item.height_mm == 5.0)
    assert figures == ["205", "310", "90", "90"]


def test_a_step_counts_the_fastenings_it_closes(installing, parts, issue) -> None:
    """The bottom C4 goes in first; its joint to C1 closes when C1 stands, in step 2."""
    counted = [fastenings_of(i, installing.steps, parts, issue.marks) for i in range(3)]
    assert counted == [(), ("3 pocket screws 32 mm",), ()]


def test_a_doubtful_fit_is_said_in_words(findings, fits, assumptions, contents, issue) -> None:
    """70 of 100 is not sure."""
    said = texts(front_pages.pages(findings, fits, assumptions, contents, {"shelf sag": 2}, issue))
    assert "over 99 of 100" in said
    assert any("NOT SURE" in text for text in said)
    assert said.index("Contents") < said.index("Read this first")


def test_a_job_without_findings_says_so(fits, assumptions, contents, issue) -> None:
    """Silence would leave doubt."""
    assert "Every check holds and no question is open." in texts(
        front_pages.pages((), fits, assumptions, contents, {}, issue)
    )


def test_loading_waits_for_the_whole_time(finishing, issue) -> None:
    """8.25 days are rounded up to 8.3."""
    assert "Load nothing until 8.3 days after the start of the first coat." in texts(
        finishing_pages.pages(finishing, issue)
    )


def test_who_reads_inches_coats_in_feet_and_quarts(finishing, issue) -> None:
    """6.41 m2 are 69 square feet, 0.71 litres 0.75 US quarts, 5.3 m 17.4 feet; caulk closes 1/4 in."""
    inches = replace(issue, marks=Marks(units="inch", resolution=1 / 16))
    said = " ".join(texts(finishing_pages.pages(finishing, inches)))
    assert all(words in said for words in ("69 ft2", "0.75 quarts", "17.4 feet of caulk", 'up to ¹⁄₄"'))
    assert " m2" not in said
    assert "litres" not in said


def test_a_packer_s_pieces_are_told(installing, design, parts, issue) -> None:
    """Half an inch is the most that tapers alone make up: 11.7 mm is a tapered pair, 18 mm has 12 mm of solid wood."""
    height = Measured(value=18.0, sd=0.6)
    tall = replace(installing.packers[0], height=height, kind=packer_kind(18.0), solid_mm=solid_packer(18.0))
    plan = replace(installing, packers=(tall, *installing.packers[1:]))
    said = texts(installing_pages.pages(plan, design, parts, ("BL0", "BL0"), issue))
    assert "tapered pair" in said
    assert any(text.startswith("12 solid and") for text in said)


def test_an_angle_off_square_is_drawn_at_its_corner(parts, issue) -> None:
    """The back's rake meets its upright edge at 90 + 40.1 = 130.1 degrees, its level edge at 139.9: the lesser is drawn."""
    draft = drawn(parts, "C6", issue)
    assert [text for text in texts((draft,)) if text.endswith("°") and len(text) < 8 and text != "40.1°"] == ["130.1°"]


def test_a_number_without_room_is_left_out_and_told(cutting, issue) -> None:
    """At 1:60 a sheet is 40 mm long on paper: rings for its cuts would lie on each other."""
    area = body(issue.paper, landscape=True, scaled=True)
    items, missing = diagram(
        cutting.sheets[0], issue.marks, area.inset(right=area.width - 45.0, bottom=area.height - 25.0), 60
    )
    orders = {f"cut {cut.order}" for cut in cutting.sheets[0].cuts}
    shown = set(texts((Draft(name="sheet", items=items),)))
    assert {each for each in missing if each.startswith("cut")} == {each for each in orders if each[4:] not in shown}
    assert missing


def test_wall_screws_are_measured_off_from_one_spot(installing, design, parts, issue) -> None:
    """Each screw's number stands beside how far right it goes, two over each other beside one size."""
    first = installing.fixings[0]
    above = replace(first, z_mm=first.z_mm + 400.0)
    aside = replace(first, x_mm=first.x_mm + 2.5, z_mm=first.z_mm + 600.0)
    plan = replace(installing, packers=(), fixings=(first, above, aside))
    said = texts(installing_pages.pages(plan, design, parts, ("BL0", "BL0"), issue)[:1])
    assert f"No. 1, 2: {show(first.x_mm, issue.marks)}" in said
    assert f"No. 3: {show(first.x_mm + 2.5, issue.marks)}" in said


def test_the_list_goes_by_time_and_says_what_is_not_counted(buying, issue) -> None:
    """What is measured by is wanted first, though it was told last; doors hang by nothing that is counted."""
    first = replace(buying.lines[0], group="others", to_have="before survey", item="cabinet to measure by")
    changed = replace(buying, lines=(*buying.lines, first), not_counted=("hinges of 2 doors",))
    said = texts(buying_pages.pages(changed, issue))
    heads = [line for line in said if line.startswith("To have ")]
    assert heads[0] == "To have before survey: edging and other things"
    assert [head.split(":")[0] for head in heads] == [
        "To have before survey", "To have before cutting", "To have before cutting", "To have before finishing",
    ]  # fmt: skip
    assert "Not counted here: hinges of 2 doors" in " ".join(said)


def test_orders_are_told_only_where_something_is_bought_elsewhere(buying, issue) -> None:
    """With everything from the shop file the list above says all there is to say."""
    own = Order(supplier=OWN, items=("glue: 1 x pack of 0.5 litres",), goods=Decimal(9), delivery=Decimal(0))
    offer = Offer(supplier=OWN, goods=Decimal(9), delivery=Decimal(0), missing=())
    alone = replace(buying, offers=(offer,), split=Split(orders=(own,), missing=()))
    assert "Nothing is bought for less elsewhere." in " ".join(texts(buying_pages.pages(alone, issue)))
    both = replace(alone, split=Split(orders=(own, replace(own, supplier="yard", delivery=Decimal(5))), missing=()))
    said = " ".join(texts(buying_pages.pages(both, issue)))
    assert "deliveries included: 23.00 EUR" in said
    assert "At yard: 9.00, delivery 5.00 EUR" in said


def test_the_parts_list_tells_what_is_glued_on_edges(parts, issue) -> None:
    """By number, with the edges meant."""
    first, *others = parts.parts
    edged = replace(first, edging="birch edging 21", edged="all edges", edging_mm=1000.0)
    said = " ".join(texts(parts_pages.list_pages(replace(parts, parts=(edged, *others)), issue)))
    assert f"birch edging 21 on all edges of {first.number}." in said
