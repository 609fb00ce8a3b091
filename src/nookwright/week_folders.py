"""Several job folders worked out, cut and bought together: where files, plans and drawings of a week meet."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from nookwright.basics.problems import InvalidInputError, Problem, Where
from nookwright.files.lists_out import buying_csv, cutting_csv
from nookwright.files.week_file import WEEK_FILE, week_json
from nookwright.jobs import Progress, Written, plan_job, silent, write_files
from nookwright.plan import Plan
from nookwright.search_time import search_time
from nookwright.week import Week, week


def plan_week(
    folders: Sequence[Path], executor: Executor | None = None, progress: Progress = silent, search_s: float = 0.0
) -> Week:
    """Work several jobs out, each by itself, and lay their parts out together.

    Args:
        folders: the job folders; their briefs name one shop.
        executor: works the jobs out side by side: any executor of `concurrent.futures`, or of a library that offers
            its interface on many machines. None works them out one after another.
        progress: told each long step.
        search_s: time that the search for cheaper sheets for all of them may take. [s]

    Returns:
        The week.

    Raises:
        InvalidInputError: carries everything wrong with the input of all jobs.
    """
    twice = [folder for i, folder in enumerate(folders) if folder.resolve() in {one.resolve() for one in folders[:i]}]
    if twice:
        found = f"{', '.join(dict.fromkeys(map(str, twice)))} twice"
        raise InvalidInputError((Problem(where=Where(path="FOLDER"), found=found, expected="each job once"),))
    progress(f"working out {len(folders)} job{'' if len(folders) == 1 else 's'}")
    outcomes = list((executor.map if executor else map)(_planned_or_not, folders))
    problems = tuple(problem for each in outcomes if not isinstance(each, Plan) for problem in each)
    if problems:
        raise InvalidInputError(problems)
    progress("laying them out together")
    with search_time(search_s, progress) as go_on:
        return week([each for each in outcomes if isinstance(each, Plan)], go_on)


@contextmanager
def workers(count: int, cluster: str | None = None) -> Iterator[Executor | None]:
    """Give the executor that jobs are worked out by, closed afterwards.

    Args:
        count: processes on this machine; 1 works in this process.
        cluster: address of a Dask scheduler whose machines work instead; needs the extra `cluster`.

    Yields:
        The executor; None to work in this process.

    Raises:
        InvalidInputError: if the extra is not installed.
    """
    if cluster is not None:
        try:
            from distributed import Client
        except ImportError:
            hint = "Install it with: pip install 'nookwright[cluster]'"
            missing = Problem(
                where=Where(path="--cluster"), found="no Dask here", expected="the extra `cluster`", hint=hint
            )
            raise InvalidInputError((missing,)) from None
        with Client(cluster) as client:
            yield client.get_executor()
    elif count > 1:
        with ProcessPoolExecutor(count, initializer=_leave_interrupts) as pool:
            yield pool
    else:
        yield None


def _leave_interrupts() -> None:
    """Let Ctrl-C be the business of the process that gives the work out."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _planned_or_not(folder: Path) -> Plan | tuple[Problem, ...]:
    """Return a job's plan, or what is wrong with its input, each file named with its folder."""
    try:
        return plan_job(folder)
    except InvalidInputError as refusal:
        return tuple(
            replace(problem, where=replace(problem.where, file=f"{folder.name}/{problem.where.file}".rstrip("/")))
            for problem in refusal.problems
        )


def write_week(
    planned: Week, folders: Sequence[Path], out: Path, progress: Progress = silent, *, cut_by_cut: bool = False
) -> Written:
    """Write the papers of jobs cut together: `week.pdf`, `labels.pdf`, `week.json`, `cutting.csv` and `buying.csv`.

    Args:
        planned: the week.
        folders: its job folders, in their order.
        out: the folder to write to; made if needed.
        progress: told each long step.
        cut_by_cut: whether every cut of the shared sheets and boards is drawn too, in `cut-by-cut.pdf`.

    Returns:
        What was written.
    """
    from nookwright.drawings.book import issue_of
    from nookwright.drawings.export.pdf import pdf
    from nookwright.drawings.pages.cut_by_cut import cut_by_cut_pages
    from nookwright.drawings.pages.week import week_labels, week_pages

    progress("drawing the papers")
    issue, title = issue_of(planned.brief), planned.brief.title
    pages = week_pages(planned, issue)
    contents = {
        "week.pdf": pdf(pages, title=title),
        "labels.pdf": pdf(week_labels(planned, issue), title=f"{title}: labels"),
        WEEK_FILE: week_json(planned, [_seen_from(out, folder) for folder in folders]).encode(),
        "cutting.csv": cutting_csv(planned.cutting, issue.marks).encode(),
        "buying.csv": buying_csv(planned.buying).encode(),
    }
    if cut_by_cut and (pictures := cut_by_cut_pages(planned, issue)):
        contents["cut-by-cut.pdf"] = pdf(pictures, title=f"{title}: cut by cut")
    out.mkdir(parents=True, exist_ok=True)
    return Written(folder=out, files=write_files(out, contents), pages=len(pages))


def _seen_from(out: Path, folder: Path) -> str:
    """Return the way from the output folder to a job, so that both can be moved together."""
    try:
        return Path(os.path.relpath(folder, out)).as_posix()
    except ValueError:  # on another drive
        return folder.resolve().as_posix()
