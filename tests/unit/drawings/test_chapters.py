"""Every chapter: all of it there, all of it readable, in both units and on both papers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nookwright.drawings.page import Circle, Line, Text
from nookwright.drawings.page_check import faults
from nookwright.drawings.pages import buying as buying_pages
from nookwright.drawings.pages import checks as checks_pages
from nookwright.drawings.pages import cutting as cutting_pages
from nookwright.drawings.pages import finishing as finishing_pages
from nookwright.drawings.pages import front as front_pages
from nookwright.drawings.pages import installing as installing_pages
from nookwright.drawings.pages import parts as parts_pages
from nookwright.drawings.pages.steps import fastenings_of
from nookwright.drawings.sheet import finished


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
        "parts": parts_pages.pages(parts, any_issue),
        "cutting": cutting_pages.pages(cutting, parts, shop, any_issue),
        "buying": buying_pages.pages(buying, any_issue),
        "checks": checks_pages.pages(findings, sources, any_issue),
        "installing": installing_pages.pages(installing, design, parts, any_issue),
        "finishing": finishing_pages.pages(finishing, any_issue),
        "front": front_pages.pages(findings, fits, assumptions, contents, any_issue),
    }


@pytest.mark.parametrize("name", ["parts", "cutting", "buying", "checks", "installing", "finishing", "front"])
def test_every_sheet_of_a_chapter_can_be_read(chapters, name: str, any_issue) -> None:
    """No words overlap, none is crossed or too small, nothing reaches into the margins."""
    assert chapters[name]
    assert all_faults(chapters[name], any_issue) == []


def test_every_part_is_listed_and_every_special_part_is_drawn(parts, issue) -> None:
    """Stars in the list and drawings agree."""
    drafts = parts_pages.pages(parts, issue)
    said = texts(draft for draft in drafts if draft.name.startswith("Parts list"))
    assert all(part.number in said or f"{part.number}*" in said for part in parts.parts)
    starred = {text[:-1] for text in said if text.endswith("*")}
    assert (
        {draft.name.removeprefix("Part ") for draft in drafts if draft.scale}
        == starred
        == {"C1", "C3", "C6", "T1", "T2"}
    )


def test_a_part_s_drawing_carries_every_figure_needed_to_cut_it(parts, issue) -> None:
    """The back: whole sizes, where the rake starts, and the hole from the left and bottom edges, each once."""
    (draft,) = [draft for draft in parts_pages.pages(parts, issue) if draft.name == "Part C6"]
    figures = sorted(item.text for item in draft.items if isinstance(item, Text) and item.height_mm == 5.0)
    assert figures == sorted(["1180", "310", "90", "780", "980", "200", "1760", "205", "90", "640", "825"])


def test_a_scribe_edge_says_how_much_is_left_on(parts, issue) -> None:
    """T1 keeps 12 mm for scribing to the left wall."""
    (draft,) = [draft for draft in parts_pages.pages(parts, issue) if draft.name == "Part T1"]
    assert {"leave on 12", "left wall"} <= set(texts((draft,)))


def test_long_and_short_points_are_marked_at_their_ends(parts, issue) -> None:
    """T2 is mitred at both ends: LP lies further out than SP, at the lower edge."""
    (draft,) = [draft for draft in parts_pages.pages(parts, issue) if draft.name == "Part T2"]
    points = {name: [t.at for t in draft.items if isinstance(t, Text) and t.text == name] for name in ("LP", "SP")}
    assert (len(points["LP"]), len(points["SP"])) == (2, 2)
    assert min(x for x, _ in points["LP"]) < min(x for x, _ in points["SP"])
    assert max(x for x, _ in points["LP"]) > max(x for x, _ in points["SP"])
    assert min(y for _, y in points["LP"]) > max(y for _, y in points["SP"])


def test_every_cut_is_drawn_with_its_number(cutting, parts, shop, issue) -> None:
    """Eleven cuts, eleven rings, eleven wide lines."""
    drawing = cutting_pages.pages(cutting, parts, shop, issue)[1]
    rings = [item for item in drawing.items if isinstance(item, Circle)]
    lines = [item for item in drawing.items if isinstance(item, Line) and item.pen == "wide"]
    assert (len(rings), len(lines)) == (11, 11)
    assert {str(i) for i in range(1, 12)} <= set(texts((drawing,)))


def test_every_piece_shows_its_number_and_size_on_the_sheet(cutting, parts, shop, issue) -> None:
    """At 1:10 each of the four pieces has room for both."""
    drawing = cutting_pages.pages(cutting, parts, shop, issue)[1]
    assert drawing.scale == 10
    assert {"C1", "C2", "C3", "C4", "1742 x 300", "1440 x 300", "1144 x 300", "862 x 300"} <= set(texts((drawing,)))


def test_the_table_of_cuts_gives_the_fence_for_each(cutting, parts, shop, issue) -> None:
    """Cut 8 crosscuts C3 at 1440."""
    said = texts([cutting_pages.pages(cutting, parts, shop, issue)[2]])
    at = said.index("8")
    assert said[at : at + 4] == ["8", "1440", "crosscut", "C3"]


def test_board_lengths_stand_under_their_pieces(cutting, parts, shop, issue) -> None:
    """Every piece's number and length; the short one's figure is moved, not lost."""
    said = texts([cutting_pages.pages(cutting, parts, shop, issue)[-1]])
    assert {"T1", "T2", "T3", "1190.5", "945", "45"} <= set(said)


def test_a_ripped_board_is_drawn_lane_by_lane(cutting, parts, shop, issue) -> None:
    """Two lanes from one board make two bars, each saying its width."""
    board = cutting.boards[0]
    lanes = tuple(
        replace(piece, across_mm=across, width_mm=40.0)
        for piece, across in zip(board.pieces, (0.0, 43.2, 43.2), strict=True)
    )
    ripped = replace(cutting, boards=(replace(board, pieces=lanes),))
    said = texts([cutting_pages.pages(ripped, parts, shop, issue)[-1]])
    assert sum("rip a lane 40 wide" in text for text in said) == 2


def test_findings_are_told_by_word_and_shape_failures_first(findings, sources, issue) -> None:
    """Order does not follow the input; recalled sources say so."""
    said = texts(checks_pages.pages(findings[::-1], sources, issue))
    outcomes = [text for text in said if text in set(checks_pages.SIGN.values())]
    assert outcomes == ["■ FAILS", "◇ ASK", "△ CAUTION", "○ holds"]
    assert "Source: eurocode-5 (recalled)" in said
    assert "recalled, not read:" in " ".join(said)


def test_unpriced_goods_are_said_so(buying, issue) -> None:
    """The total names its currency and what it leaves out."""
    said = texts(buying_pages.pages(buying, issue))
    assert "Total of what is priced: 96.40 EUR" in said
    assert "The shop file gives no price for: satin enamel." in said
    assert "no price" in said


def test_packers_stand_in_plan_and_table(installing, design, parts, issue) -> None:
    """Six stations in both; heights as worked out."""
    drafts = installing_pages.pages(installing, design, parts, issue)
    plan, table = texts(drafts[:1]), texts(drafts[1:2])
    assert {"1", "2", "3", "4", "5", "6"} <= set(plan)
    at = table.index("5")
    assert table[at : at + 4] == ["5", "600", "280", "6"]


def test_an_outlet_hole_is_placed_from_the_panel_s_own_edges(installing, design, parts, issue) -> None:
    """310 from the left, 205 from below, 90 x 90."""
    (draft,) = [d for d in installing_pages.pages(installing, design, parts, issue) if d.name.startswith("Outlet")]
    figures = sorted(item.text for item in draft.items if isinstance(item, Text) and item.height_mm == 5.0)
    assert figures == ["205", "310", "90", "90"]


def test_a_step_counts_the_fastenings_it_closes(installing, parts, issue) -> None:
    """The bottom C4 goes in first; its joint to C1 closes when C1 stands, in step 2."""
    counted = [fastenings_of(i, installing.steps, parts, issue.marks) for i in range(3)]
    assert counted == [(), ("3 pocket screws 32 mm",), ()]


def test_a_doubtful_fit_is_said_in_words(findings, fits, assumptions, contents, issue) -> None:
    """70 of 100 is not sure."""
    said = texts(front_pages.pages(findings, fits, assumptions, contents, issue))
    assert "over 99 of 100" in said
    assert any("NOT SURE" in text for text in said)
    assert said.index("Read this first") < said.index("Contents")


def test_a_job_without_findings_says_so(fits, assumptions, contents, issue) -> None:
    """Silence would leave doubt."""
    assert "Every check holds and no question is open." in texts(
        front_pages.pages((), fits, assumptions, contents, issue)
    )


def test_loading_waits_for_the_whole_time(finishing, issue) -> None:
    """8.25 days are rounded up to 8.3."""
    assert "Load nothing until 8.3 days after the start of the first coat." in texts(
        finishing_pages.pages(finishing, issue)
    )


def test_an_angle_off_square_is_drawn_at_its_corner(parts, issue) -> None:
    """The back's rake meets its upright edge at 90 + 40.1 = 130.1 degrees, its level edge at 139.9: the lesser is drawn."""
    (draft,) = [draft for draft in parts_pages.pages(parts, issue) if draft.name == "Part C6"]
    assert [text for text in texts((draft,)) if text.endswith("°") and len(text) < 8 and text != "40.1°"] == ["130.1°"]
