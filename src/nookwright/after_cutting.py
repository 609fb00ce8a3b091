"""After the cutting: what a job or a week of jobs used goes out of the offcut file, what they left goes in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import NoReturn

from nookwright.basics.problems import InvalidInputError, Problem, Where
from nookwright.files.job_folder import Job, read_job
from nookwright.files.keeping import CutPlan, Keeping, cut_plan, keeping
from nookwright.files.offcut_file import offcuts_text
from nookwright.files.week_file import WEEK_FILE
from nookwright.jobs import write_files

_JOB_PLAN = "out/plan.json"


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """What was kept of a job or a week: the offcut file, and what changed in it."""

    file: Path
    changed: Keeping


def keep_leftovers(folder: Path) -> Kept:
    """Take what was used out of the offcut file, and put what was left over into it.

    Args:
        folder: a job folder, whose `out` holds the plan that was cut; or the folder that a week was written to.

    Returns:
        What was changed.

    Raises:
        InvalidInputError: if the shop names no offcut file, the plan is missing or of other inputs, or the leftovers
            are in the file already.
    """
    if (folder / WEEK_FILE).is_file():
        plan = cut_plan((folder / WEEK_FILE).read_text(encoding="utf-8"), WEEK_FILE)
        jobs = _jobs(folder, plan)
    else:
        jobs = (read_job(folder),)
        if not (folder / _JOB_PLAN).is_file() and jobs[0].offcuts_file is not None:
            hint = "Run `nookwright plan` and cut by what it prints; then keep what is left."
            _refuse(Where(file=_JOB_PLAN), "no plan", "the plan that was cut", hint)
        plan = None
    files = {job.offcuts_file for job in jobs}
    file = jobs[0].offcuts_file
    if file is None:
        hint = "Add the line `offcuts: offcuts.yaml` to the shop file; jobs that share the shop share that file."
        _refuse(Where(file="shop file", path="offcuts"), "nothing", "an offcut file", hint)
    if len(files) > 1:
        hint = "Name the same shop file in every brief."
        _refuse(Where(file="shop file", path="offcuts"), "another offcut file for some jobs", "one for the week", hint)
    plan = plan or cut_plan((folder / _JOB_PLAN).read_text(encoding="utf-8"), _JOB_PLAN)
    changed = keeping(plan, jobs)
    file.parent.mkdir(parents=True, exist_ok=True)
    write_files(file.parent, {file.name: offcuts_text(changed.offcuts).encode()})
    return Kept(file=file, changed=changed)


def _jobs(out: Path, plan: CutPlan) -> tuple[Job, ...]:
    """Return the jobs of a week as their files say now.

    Raises:
        InvalidInputError: with everything wrong in all of them, each file named with its folder.
    """
    jobs: list[Job] = []
    problems: list[Problem] = []
    for way in plan.folders:
        folder = out / way
        try:
            jobs.append(read_job(folder))
        except InvalidInputError as refusal:
            problems += _named(refusal.problems, folder.resolve().name)
    if problems:
        raise InvalidInputError(tuple(problems))
    return tuple(jobs)


def _named(problems: Sequence[Problem], folder: str) -> list[Problem]:
    return [
        replace(problem, where=replace(problem.where, file=f"{folder}/{problem.where.file}".rstrip("/")))
        for problem in problems
    ]


def _refuse(where: Where, found: str, expected: str, hint: str) -> NoReturn:
    raise InvalidInputError((Problem(where=where, found=found, expected=expected, hint=hint),))
