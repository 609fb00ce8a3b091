"""Pictures of every cut: each part comes free once, every word is readable, the file is written when asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from carried_out import carried_out
from example_jobs import copied
from nookwright import jobs
from nookwright.drawings.book import issue_of
from nookwright.drawings.page import Page, Text
from nookwright.drawings.page_check import faults
from nookwright.drawings.pages.cut_by_cut import cut_by_cut_pages
from nookwright.plan import Plan
from nookwright.stages.cutting.at_the_saw import cut_steps
from nookwright.stages.cutting.board_lanes import cut_alike
from nookwright.stages.cutting.board_steps import board_steps

LIMITED = "saw: {rip: 650, crosscut: 600, track: 2600, lift: 8, "


@pytest.fixture(scope="module", params=["landing-linen", "hall-stair"])
def planned(request: pytest.FixtureRequest, repository: Path, tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """Return an example in millimetres with limited saws, and one in inches where any saw will do."""
    place = copied(repository, tmp_path_factory.mktemp("cuts") / "jobs")
    shop = place / "shop.yaml"
    shop.write_text(shop.read_text(encoding="utf-8").replace("saw: {", LIMITED), encoding="utf-8")
    return jobs.plan_job(place / request.param)


@pytest.fixture(scope="module")
def pages(planned: Plan) -> tuple[Page, ...]:
    """Return its pictures."""
    return cut_by_cut_pages(planned, issue_of(planned.brief))


def test_every_part_comes_free_at_one_cut(planned: Plan) -> None:
    """And every cut is made in one piece, the first in the whole sheet."""
    for sheet in planned.cutting.sheets:
        steps = cut_steps(sheet, planned.shop.saw.kerf_mm)
        freed = [one.part for step in steps for one in step.frees]
        assert sorted(freed) == sorted(one.part for one in sheet.placed)
        assert steps[0].piece == (0.0, 0.0, sheet.length_mm, sheet.width_mm)
        for step in steps:
            assert {one.part for one in step.frees} <= {one.part for one in step.inside}


def test_what_is_left_over_comes_free_once_at_most(planned: Plan) -> None:
    """A leftover that keeps a factory edge is part of a larger piece and not told as free."""
    for sheet in planned.cutting.sheets:
        keeps = [one for step in cut_steps(sheet, planned.shop.saw.kerf_mm) for one in step.keeps]
        assert len(keeps) == len(set(keeps))
        assert set(keeps) <= set(sheet.leftovers)


def test_every_word_can_be_read(pages: tuple[Page, ...]) -> None:
    """No word runs into another, over a line or off the paper."""
    assert [fault for page in pages for fault in faults(page)] == []


def test_no_word_of_a_heavy_piece_is_lost(planned: Plan, pages: tuple[Page, ...]) -> None:
    """However much else is said of its cut."""
    heavy = [c for sheet in planned.cutting.sheets for c in sheet.cuts if c.kg > planned.shop.saw.lift_kg]
    words = " ".join(item.text for page in pages for item in page.items if isinstance(item, Text) and not item.bold)
    assert len(heavy) > 8
    assert words.count("two people, ") == len(heavy)


def test_there_is_a_picture_of_every_cut(planned: Plan, pages: tuple[Page, ...]) -> None:
    """Numbered as in the tables."""
    words = [item.text for page in pages for item in page.items if isinstance(item, Text)]
    titles = [word for word in words if word.startswith("Cut ") and word[4:].isdigit()]
    expected = [f"Cut {cut.order}" for sheet in planned.cutting.sheets for cut in sheet.cuts]
    assert titles == expected


def test_there_is_a_picture_of_every_step_of_every_board(planned: Plan, pages: tuple[Page, ...]) -> None:
    """Boards cut alike share theirs; each part comes free once on its board, and all that is kept is told."""
    stocks = {stock.key: stock for stock in planned.shop.boards}
    words = [item.text for page in pages for item in page.items if isinstance(item, Text)]
    drawn = [board_steps(a[0], stocks[a[0].stock], planned.shop.saw) for a in cut_alike(planned.cutting.boards)]
    titles = [word for word in words if word.startswith("Step ") and word[5:].isdigit()]
    assert titles == [f"Step {step.order}" for steps in drawn for step in steps]
    for board in planned.cutting.boards:
        steps = board_steps(board, stocks[board.stock], planned.shop.saw)
        freed = [piece.part for step in steps for piece in step.frees]
        assert sorted(freed) == sorted(piece.part for piece in board.pieces)
        ends = [step.keeps for step in steps if step.keeps and step.doing != "rip"]
        assert [end[0] for end in ends] == (
            [board.leftover_mm] if board.leftover_mm >= planned.shop.saw.keep_mm else []
        )


def test_the_steps_of_boards_carried_out_give_every_piece(planned: Plan) -> None:
    """As wide as printed, and not shorter; where a slanted end's corner falls away later, its lane's edge is longer."""
    stocks = {stock.key: stock for stock in planned.shop.boards}
    for board in planned.cutting.boards:
        steps = board_steps(board, stocks[board.stock], planned.shop.saw)
        bench = carried_out(steps, board, stocks[board.stock], planned.shop.saw)
        given = {(name, round(width, 1)): (near, far, lag) for name, near, far, lag, width in bench.pieces}
        assert len(bench.pieces) == len(board.pieces)
        for number, piece in enumerate(board.pieces):
            near, far, lag = given[piece.part, round(piece.width_mm, 1)]
            over = max(near, lag + far) - min(0.0, lag)
            beside = board.pieces[number + 1 : number + 2]
            slanted = piece.shared is not None or any(one.shared is not None for one in beside)
            assert -0.1 < over - piece.length_mm < (6.0 if slanted else 0.1)


def test_the_pictures_are_written_when_asked_for(tmp_path: Path, repository: Path) -> None:
    """Beside everything else; not without the option."""
    folder = copied(repository, tmp_path / "jobs") / "hall-stair"
    plan = jobs.plan_job(folder)
    assert "cut-by-cut.pdf" not in {path.name for path in jobs.write_all(plan, folder).files}
    assert "cut-by-cut.pdf" in {path.name for path in jobs.write_all(plan, folder, cut_by_cut=True).files}
