"""Leftovers kept for the next job: the file that jobs share, what goes in and out, and what is refused."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from example_jobs import copied
from nookwright import jobs
from nookwright.after_cutting import keep_leftovers
from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import read_job
from nookwright.files.plan_file import plan_json

FIRST, SECOND = "landing-linen", "alcove-records"


def planned(folder: Path) -> None:
    """Plan a job and write its plan only, without the book."""
    out = folder / "out"
    out.mkdir(exist_ok=True)
    (out / "plan.json").write_text(plan_json(jobs.plan_job(folder)), encoding="utf-8")


@pytest.fixture
def shared(tmp_path: Path, repository: Path) -> Path:
    """Return the examples, whose shop names an offcut file."""
    place = copied(repository, tmp_path / "jobs")
    shop = place / "shop.yaml"
    shop.write_text(shop.read_text(encoding="utf-8") + "offcuts: offcuts.yaml\n", encoding="utf-8")
    planned(place / FIRST)
    return place


def test_what_a_job_leaves_is_valued_by_area_and_length(shared: Path) -> None:
    """Every leftover of the plan is in the file, worth its share of a sheet's or a board's price."""
    job = read_job(shared / FIRST)
    cutting = jobs.plan_job(shared / FIRST).cutting
    offcuts = keep_leftovers(shared / FIRST).changed.offcuts
    expected = [(sheet.stock, left.length_mm, left.width_mm) for sheet in cutting.sheets for left in sheet.leftovers]
    assert sorted((one.stock, one.length_mm, one.width_mm) for one in offcuts.sheets) == sorted(expected)
    for one in offcuts.sheets:
        sheet = next(stock for stock in job.shop.sheets if stock.key == one.stock)
        share = one.length_mm * one.width_mm / (sheet.length_mm * sheet.width_mm)
        assert float(one.value) == pytest.approx(share * float(sheet.price), abs=0.006)
    long_enough = [board for board in cutting.boards if board.leftover_mm >= job.shop.saw.keep_mm]
    assert sorted(one.length_mm for one in offcuts.boards) == sorted(board.leftover_mm for board in long_enough)
    assert offcuts.value == sum((one.value for one in (*offcuts.sheets, *offcuts.boards)), Decimal(0))


def test_the_file_is_read_back_as_it_was_written(shared: Path) -> None:
    """And the shop has the pieces on its shelves, free and limited in number."""
    kept = keep_leftovers(shared / FIRST)
    job = read_job(shared / FIRST)
    key = [(one.stock, one.length_mm, one.width_mm, one.value) for one in kept.changed.offcuts.sheets]
    assert sorted((one.stock, one.length_mm, one.width_mm, one.value) for one in job.offcuts.sheets) == sorted(key)
    pieces = sum(size.count for sheet in job.shop.sheets for size in sheet.sizes if size.shared)
    assert pieces == len(key)
    assert not list(shared.glob("*.part"))


def test_a_job_is_kept_once_only(shared: Path) -> None:
    """The second time is refused and changes nothing, even when the job was planned again."""
    before = keep_leftovers(shared / FIRST).file.read_bytes()
    planned(shared / FIRST)
    with pytest.raises(InvalidInputError, match="whose leftovers are not in there yet"):
        keep_leftovers(shared / FIRST)
    assert (shared / "offcuts.yaml").read_bytes() == before


def test_the_next_job_uses_the_offcuts_first_and_takes_them_out(shared: Path) -> None:
    """It costs less than without them; afterwards the used pieces are gone and its own are there."""
    alone = jobs.plan_job(shared / SECOND).buying.total
    before = keep_leftovers(shared / FIRST).changed.offcuts
    planned(shared / SECOND)
    second = jobs.plan_job(shared / SECOND)
    assert second.buying.total < alone
    used = [(sheet.stock, sheet.length_mm, sheet.width_mm) for sheet in second.cutting.sheets if sheet.offcut]
    assert used
    changed = keep_leftovers(shared / SECOND).changed
    there = [(one.stock, one.length_mm, one.width_mm) for one in before.sheets]
    left = [(one.stock, one.length_mm, one.width_mm) for one in changed.offcuts.sheets]
    for piece in used:
        assert there.count(piece) > left.count(piece)
    assert len(changed.used) == len(used) + sum(board.offcut for board in second.cutting.boards)


def test_a_piece_cut_out_of_a_flawed_board_is_told_with_that_board(shared: Path) -> None:
    """The shop file names no piece of 1840, but the board that it was cut out of; the rest of that is no offcut yet."""
    shop = shared / "shop.yaml"
    text = shop.read_text(encoding="utf-8")
    sold = "section: 27 x 120\n"
    assert sold in text
    flawed = f"{sold}    offcuts: [{{length: 2000, flaws: [1900 to 1950]}}]\n"
    shop.write_text(text.replace(sold, flawed), encoding="utf-8")
    planned(shared / FIRST)
    changed = keep_leftovers(shared / FIRST).changed
    told = [todo for todo in changed.elsewhere if todo.startswith("pine-27x120")]
    assert told == [
        "pine-27x120, 1900 mm, was cut out of the board of 2000 mm, from 0 mm to 1900 mm: in the shop file, put what is "
        "left of that board in its place"
    ]
    assert not any("1900" in used for used in changed.used)


def test_a_strip_is_kept_valued_read_back_and_used_up_again(shared: Path) -> None:
    """Worth its share by length and width of the cheapest board: 9.60 for 3600 x 90; none narrower than 5 is."""
    shop = shared / "shop.yaml"
    text = shop.read_text(encoding="utf-8")
    assert "keep: 200}" in text
    assert "section: 21 x 70" in text
    wider = text.replace("section: 21 x 70", "section: 21 x 90")
    shop.write_text(wider.replace("keep: 200}", "keep: 200, keep strip: 2}"), encoding="utf-8")
    planned(shared / FIRST)
    left = [one for one in jobs.plan_job(shared / FIRST).cutting.boards if one.strip_mm]
    kept = [one for one in keep_leftovers(shared / FIRST).changed.offcuts.boards if one.width_mm]
    assert left
    assert min(one.strip_mm for one in left) >= 5
    assert [(one.length_mm, one.width_mm) for one in kept] == [(one.strip_length_mm, one.strip_mm) for one in left]
    for one in kept:
        assert float(one.value) == pytest.approx(one.length_mm * one.width_mm * 9.60 / (3600 * 90), abs=0.006)
    there = next(stock for stock in read_job(shared / FIRST).shop.boards if stock.key == left[0].stock).offcuts
    assert sorted((one.length_mm, one.width_mm) for one in there if one.width_mm) == sorted(
        (one.strip_length_mm, one.strip_mm) for one in left
    )
    wide = "boards:\n  - {stock: pine-21x70, length: 2300, width: 80, left from: 'somewhere'}\n"
    (shared / "offcuts.yaml").write_text(wide, encoding="utf-8")
    planned(shared / SECOND)
    changed = keep_leftovers(shared / SECOND).changed
    assert "pine-21x70, 2300 x 80 mm" in changed.used
    assert (2300, 80) not in [(one.length_mm, one.width_mm) for one in changed.offcuts.boards]


def test_a_plan_of_other_inputs_is_refused(shared: Path) -> None:
    """The brief was changed after the plan was made: what was cut is not what the files say."""
    brief = shared / FIRST / "brief.yaml"
    brief.write_text(brief.read_text(encoding="utf-8") + "\nallowances: {scribe: 4}\n", encoding="utf-8")
    with pytest.raises(InvalidInputError, match=r"a plan of another brief\.yaml"):
        keep_leftovers(shared / FIRST)
    assert not (shared / "offcuts.yaml").exists()


def test_an_offcut_that_another_job_used_is_refused(shared: Path) -> None:
    """Both jobs planned with the same piece: the second to be kept is told."""
    keep_leftovers(shared / FIRST)
    planned(shared / SECOND)
    text = (shared / "offcuts.yaml").read_text(encoding="utf-8")
    (shared / "offcuts.yaml").write_text(text.split("sheets:", maxsplit=1)[0], encoding="utf-8")
    with pytest.raises(InvalidInputError, match="offcuts that are still in the offcut file"):
        keep_leftovers(shared / SECOND)


def test_a_shop_without_an_offcut_file_and_a_job_without_a_plan_are_told_what_to_do(
    repository: Path, tmp_path: Path, shared: Path
) -> None:
    """Each refusal names the cure."""
    place = copied(repository, tmp_path / "others")
    with pytest.raises(InvalidInputError, match=r"offcuts: offcuts\.yaml"):
        keep_leftovers(place / FIRST)
    with pytest.raises(InvalidInputError, match="Run `nookwright plan` and cut"):
        keep_leftovers(shared / SECOND)
    (shared / FIRST / "out" / "plan.json").write_text("{}", encoding="utf-8")
    with pytest.raises(InvalidInputError, match="a file that is no plan"):
        keep_leftovers(shared / FIRST)


def test_a_wrong_offcut_file_tells_every_problem(shared: Path) -> None:
    """An unknown stock, a size that is none: both are told with their lines."""
    (shared / "offcuts.yaml").write_text(
        "sheets:\n  - {stock: brich-18, size: 700 x 400}\n  - {stock: birch-18, size: large}\n", encoding="utf-8"
    )
    with pytest.raises(InvalidInputError) as refused:
        read_job(shared / FIRST)
    said = [str(problem) for problem in refused.value.problems]
    assert len(said) == 2
    assert "offcuts.yaml:2" in said[0]
    assert "Did you mean birch-18?" in said[0]
