"""Several jobs cut together: every part once, for no more money than apart, whoever works them out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from example_jobs import copied
from nookwright import jobs, week_folders
from nookwright.basics.problems import InvalidInputError
from nookwright.drawings.book import issue_of
from nookwright.drawings.page import Text
from nookwright.drawings.page_check import faults
from nookwright.drawings.pages.cut_by_cut import cut_by_cut_pages
from nookwright.drawings.pages.week import week_labels, week_pages
from nookwright.files.plan_file import as_plain
from nookwright.plan import Plan
from nookwright.stages.inputs.brief import AlsoBuy
from nookwright.week import MOST_JOBS, Week, week

METRIC = ("landing-linen", "alcove-records")


@pytest.fixture(scope="module")
def examples(tmp_path_factory: pytest.TempPathFactory, repository: Path) -> Path:
    """Return a copy of the examples."""
    return copied(repository, tmp_path_factory.mktemp("week") / "examples")


@pytest.fixture(scope="module")
def plans(examples: Path) -> tuple[Plan, ...]:
    """Return the metric examples, planned."""
    return tuple(jobs.plan_job(examples / name) for name in METRIC)


@pytest.fixture(scope="module")
def together(plans: tuple[Plan, ...]) -> Week:
    """Return them cut together."""
    return week(plans)


def cut_numbers(made: Week) -> Iterator[str]:
    """Yield the number of every piece in the cutting plan."""
    for sheet in made.cutting.sheets:
        yield from (one.part for one in sheet.placed)
    for board in made.cutting.boards:
        yield from (one.part for one in board.pieces)


def test_every_part_of_every_job_is_cut_once(plans: tuple[Plan, ...], together: Week) -> None:
    """Under its number with the job's mark; what the jobs' own plans cut is what this one cuts."""
    alone = sorted(
        f"{number}-{piece}"
        for number, plan in enumerate(plans, start=1)
        for piece in cut_numbers(replace(together, cutting=plan.cutting))
    )
    assert sorted(cut_numbers(together)) == alone


def test_together_they_cost_less(plans: tuple[Plan, ...], together: Week) -> None:
    """A box of screws serves both, and half sheets meet."""
    assert together.saved == sum((plan.buying.total for plan in plans), Decimal(0)) - together.buying.total
    assert together.saved > 0
    assert len(together.cutting.sheets) <= sum(len(plan.cutting.sheets) for plan in plans)


def test_one_job_alone_is_cut_as_in_its_own_plan(plans: tuple[Plan, ...]) -> None:
    """The same sheets and the same bill."""
    made = week(plans[:1])
    assert made.saved == 0
    assert len(made.cutting.sheets) == len(plans[0].cutting.sheets)


def test_its_papers_can_be_read(together: Week) -> None:
    """No fault on any page or label."""
    issue = issue_of(together.brief)
    pages = (*week_pages(together, issue), *week_labels(together, issue))
    assert [f"{page.name}: {fault}" for page in pages for fault in faults(page)] == []


def test_side_by_side_gives_the_same(examples: Path, together: Week) -> None:
    """Two processes, byte for byte what one gives."""
    with week_folders.workers(2) as executor:
        made = week_folders.plan_week([examples / name for name in METRIC], executor)
    assert as_plain(made) == as_plain(together)


def test_a_cluster_gives_the_same(examples: Path, together: Week) -> None:
    """The executor of another library in place of our own, nothing else changed."""
    distributed = pytest.importorskip("distributed", reason="the extra `cluster` is not installed")
    with (
        distributed.LocalCluster(n_workers=2, processes=False, dashboard_address=None) as cluster,
        week_folders.workers(1, cluster.scheduler_address) as executor,
    ):
        made = week_folders.plan_week([examples / name for name in METRIC], executor)
    assert as_plain(made) == as_plain(together)


def test_jobs_of_different_shops_are_refused(examples: Path) -> None:
    """Their sheets are not the same sheets."""
    with pytest.raises(InvalidInputError, match=r"another shop for .*one shop file"):
        week_folders.plan_week([examples / "landing-linen", examples / "hall-stair"])


def test_too_many_jobs_and_none_are_refused(plans: tuple[Plan, ...]) -> None:
    """In one sentence."""
    with pytest.raises(InvalidInputError, match=f"from 1 to {MOST_JOBS} jobs"):
        week(plans[:1] * (MOST_JOBS + 1))
    with pytest.raises(InvalidInputError, match="0 jobs"):
        week(())


def test_every_problem_of_every_job_is_told_with_its_folder(examples: Path, tmp_path: Path) -> None:
    """Two spoilt jobs, both named."""
    for name in METRIC:
        folder = tmp_path / name
        folder.mkdir()
        (folder / "room.yaml").write_text((examples / name / "room.yaml").read_text().replace("kind:", "knid:", 1))
        (folder / "brief.yaml").write_text((examples / name / "brief.yaml").read_text())
    (tmp_path / "shop.yaml").write_text((examples / "shop.yaml").read_text())
    (tmp_path / "prices-timber-yard.yaml").write_text((examples / "prices-timber-yard.yaml").read_text())
    with pytest.raises(InvalidInputError) as caught:
        week_folders.plan_week([tmp_path / name for name in METRIC])
    said = str(caught.value)
    assert "landing-linen/room.yaml:" in said
    assert "alcove-records/room.yaml:" in said


def test_an_open_site_question_of_one_job_makes_the_week_a_draft(together: Week) -> None:
    """Its cutting sheets say so; the job's mark leads the question."""
    assert together.open_questions
    assert all(question.startswith(("1-", "2-")) for question in together.open_questions)
    pages = week_pages(together, issue_of(together.brief))
    cutting = [page for page in pages if page.name.startswith("Cutting")]
    marked = [page for page in cutting if any("DRAFT" in str(getattr(item, "text", "")) for item in page.items)]
    assert marked == cutting


def test_a_job_named_twice_is_refused(examples: Path) -> None:
    """Its parts would be cut twice over."""
    folder = examples / METRIC[0]
    with pytest.raises(InvalidInputError, match="twice; expected each job once"):
        week_folders.plan_week([folder, examples / ".." / examples.name / METRIC[0]])


def test_a_job_that_is_not_there_is_named_by_its_folder(tmp_path: Path) -> None:
    """Once, as it was typed."""
    with pytest.raises(InvalidInputError) as caught:
        week_folders.plan_week([tmp_path / "nowhere"])
    assert str(caught.value).startswith('nowhere: found no folder "')


def test_every_cut_of_the_shared_sheets_can_be_drawn(together: Week) -> None:
    """Each in a picture of its own, numbered as in the tables; every word can be read; each page is a draft."""
    pages = cut_by_cut_pages(together, issue_of(together.brief))
    assert [f"{page.name}: {fault}" for page in pages for fault in faults(page)] == []
    words = [[item.text for item in page.items if isinstance(item, Text)] for page in pages]
    titles = [word for its in words for word in its if word.startswith("Cut ") and word[4:].isdigit()]
    assert titles == [f"Cut {cut.order}" for sheet in together.cutting.sheets for cut in sheet.cuts]
    assert all(any("DRAFT" in word for word in its) for its in words)


def test_pictures_of_the_cuts_are_written_when_asked_for(examples: Path, together: Week, tmp_path: Path) -> None:
    """Beside the week's other papers; not without the option."""
    folders = [examples / name for name in METRIC]
    plain = week_folders.write_week(together, folders, tmp_path / "plain")
    drawn = week_folders.write_week(together, folders, tmp_path / "drawn", cut_by_cut=True)
    assert {path.name for path in drawn.files} - {path.name for path in plain.files} == {"cut-by-cut.pdf"}


def test_what_each_job_asks_to_buy_besides_is_bought_once_for_all(plans: tuple[Plan, ...]) -> None:
    """Four hinges of the one and two of the other: six."""
    counts = (4, 2)
    asking = tuple(
        replace(
            plan,
            brief=replace(
                plan.brief,
                also_buy=(AlsoBuy(item="hinge", amount=n, unit="pieces", to_have="before cutting", why=""),),
            ),
        )
        for plan, n in zip(plans, counts, strict=True)
    )
    (line,) = (line for line in week(asking).buying.lines if line.item == "hinge")
    assert line.needed == 6
