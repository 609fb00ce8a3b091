"""Tests of boards as they come: flaws on those on hand, and what straightening and flattening take off."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from shutil import copytree

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import read_job
from nookwright.stages.inputs.shop import BoardOffcut, BoardStock

EXAMPLES = Path(__file__).parents[3] / "examples"
OFFCUT = "section: 21 x 70\n    offcuts: [{{length: 2400, count: 2, flaws: [{}]}}]"


def with_flaws(write_job: Callable[..., Path], flaws: str) -> tuple[BoardOffcut, ...]:
    """Return the pieces that a board of 2400 with such flaws gives."""
    folder = write_job()
    shop = folder / "shop.yaml"
    text = shop.read_text(encoding="utf-8")
    assert "boards:" in text
    head, rest = text.split("boards:", maxsplit=1)
    board = "boards:\n  - key: flawed\n    name: flawed\n    wood: pine\n    lengths: {2400: 5}\n    " + OFFCUT.format(
        flaws
    )
    shop.write_text(f"{head}{board}{rest}", encoding="utf-8")
    return next(stock.offcuts for stock in read_job(folder).shop.boards if stock.key == "flawed")


def test_sound_pieces_between_flaws_are_what_can_be_used(write_job: Callable[..., Path]) -> None:
    """2400 with knots at 800 to 860 and 1400 to 1450, told in any order: 800, 540 and 950, two of each."""
    pieces = with_flaws(write_job, "1400 to 1450, 800 to 860")
    assert [(piece.length_mm, piece.count) for piece in pieces] == [(800, 2), (540, 2), (950, 2)]
    assert pieces[1].cut_from == "the board of 2400 mm, from 860 mm to 1400 mm"


def test_a_flaw_narrower_than_the_saw_goes_with_its_cut(write_job: Callable[..., Path]) -> None:
    """A nail hole at 1000 to 1001: the cut at 1000 ends at 1003.2, where the next piece starts: 1000 and 1396.8."""
    pieces = with_flaws(write_job, "1000 to 1001")
    assert [round(piece.length_mm, 6) for piece in pieces] == [1000, 1396.8]
    assert pieces[1].cut_from == "the board of 2400 mm, from 1003.2 mm to 2400 mm"


def test_no_cut_is_paid_where_nothing_sound_ends(write_job: Callable[..., Path]) -> None:
    """At 0 to 1 and at 1 to 2 no piece ends: what is sound starts at 2."""
    assert [piece.length_mm for piece in with_flaws(write_job, "0 to 1, 1 to 2")] == [2398]


def test_where_a_sound_piece_lies_is_told_in_inches_where_the_shop_reads_them(tmp_path: Path) -> None:
    """A board of 96 in with a knot at 32 to 33: 32 in before it, and what lies behind it."""
    copytree(EXAMPLES, tmp_path / "examples")
    shop = tmp_path / "examples" / "hall-stair" / "shop.yaml"
    text = shop.read_text(encoding="utf-8")
    sold = "nominal: 1x4\n"
    assert sold in text
    flawed = f"{sold}    offcuts: [{{length: 96, flaws: [32 to 33]}}]\n"
    shop.write_text(text.replace(sold, flawed), encoding="utf-8")
    pieces = read_job(shop.parent).shop.boards[0].offcuts
    assert [piece.cut_from for piece in pieces] == [
        'the board of 96", from 0" to 32"', 'the board of 96", from 33" to 96"'
    ]  # fmt: skip


def test_overlapping_flaws_and_short_ends_leave_nothing(write_job: Callable[..., Path]) -> None:
    """0 to 700 and 600 to 2360: 40 mm at the end are no piece."""
    assert with_flaws(write_job, "0 to 700, 600 to 2360") == ()


@pytest.mark.parametrize("flaws", ["800", "860 to 800", "800 to 2500", "a to b"])
def test_flaws_that_cannot_be_are_told(write_job: Callable[..., Path], flaws: str) -> None:
    """With what would be right."""
    with pytest.raises(InvalidInputError, match="such as `800 to 860`"):
        with_flaws(write_job, flaws)


def crooked(write_job: Callable[..., Path], said: str) -> BoardStock:
    """Return a board of 27 x 120 as the shop file tells of it."""
    folder = write_job()
    shop = folder / "shop.yaml"
    head, rest = shop.read_text(encoding="utf-8").split("boards:", maxsplit=1)
    board = f"boards:\n  - {{key: bent, name: bent, wood: pine, lengths: {{2400: 5}}, section: 27 x 120, {said}}}"
    shop.write_text(f"{head}{board}{rest}", encoding="utf-8")
    return next(stock for stock in read_job(folder).shop.boards if stock.key == "bent")


def test_a_board_is_as_thick_as_flattening_leaves_it_and_bought_as_it_is_sold(write_job: Callable[..., Path]) -> None:
    """27 less 3 is 24; 120 less 5 is 115."""
    board = crooked(write_job, "flatten: 3, straighten: 5, one face: yes")
    assert (board.thickness_mm, board.bought_thickness_mm, board.straight_width_mm) == (24, 27, 115)
    assert board.one_face


def test_more_taken_off_than_there_is_is_told(write_job: Callable[..., Path]) -> None:
    """Of a thickness of 27 no 27 can go."""
    with pytest.raises(InvalidInputError, match="flatten: found 27 mm; expected less than the board's thickness of 27"):
        crooked(write_job, "flatten: 27")


def test_a_strip_on_hand_has_its_width(write_job: Callable[..., Path]) -> None:
    """60 of the 115 that straightening leaves; all 115 is a piece of full width; a sound piece is as wide as its strip."""
    board = crooked(
        write_job, "straighten: 5, offcuts: [{length: 900, width: 60}, {length: 800, width: 115}, "
        "{length: 700, width: 50, flaws: [0 to 100]}]"
    )  # fmt: skip
    assert [(one.length_mm, one.width_mm) for one in board.offcuts] == [(900, 60), (800, 0), (600, 50)]


def test_a_strip_wider_than_its_board_is_told(write_job: Callable[..., Path]) -> None:
    """With what a board gives once its edges are straight."""
    with pytest.raises(InvalidInputError, match="width: found 116 mm; expected no more than the 115 mm that a board"):
        crooked(write_job, "straighten: 5, offcuts: [{length: 900, width: 116}]")
