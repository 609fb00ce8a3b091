"""What each command does: call the floor below, print its result, return the exit code."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Literal

from nookwright import after_cutting, jobs, week_folders
from nookwright.basics.problems import InvalidInputError
from nookwright.cli import field_sheet_said, printing, room_said
from nookwright.cli.main import BAD_INPUT, FAILS_A_CHECK, GOOD

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from nookwright.plan import Plan
    from nookwright.stages.inputs.survey import RoomKind, Side


def new(kind: RoomKind, folder: Path, units: Literal["mm", "inch"], corner: Side) -> int:
    """Write a commented job to fill in.

    Args:
        kind: the room's kind.
        folder: where to write it.
        units: units of the job.
        corner: the side of the slope's wall, or of the stair's low end.

    Returns:
        The exit code.
    """
    printing.say_new(folder, jobs.new(kind, folder, units, corner))
    return GOOD


def plan(folder: Path, search_s: float, *, cut_by_cut: bool = False) -> int:
    """Work the job out and write everything.

    Args:
        folder: the job folder.
        search_s: time for a cheaper cutting plan. [s]
        cut_by_cut: whether every cut is drawn in a picture of its own.

    Returns:
        The exit code.
    """
    planned = jobs.plan_job(folder, printing.progress, search_s)
    written = jobs.write_all(planned, folder, printing.progress, cut_by_cut=cut_by_cut)
    printing.say_plan(planned, written)
    return _verdict(planned)


def book(folder: Path, search_s: float) -> int:
    """Work the job out and write only its book.

    Args:
        folder: the job folder.
        search_s: time for a cheaper cutting plan. [s]

    Returns:
        The exit code.
    """
    planned = jobs.plan_job(folder, printing.progress, search_s)
    printing.say_plan(planned, jobs.write_book(planned, folder, printing.progress))
    return _verdict(planned)


def survey(folder: Path, *, as_json: bool, sheet: bool) -> int:
    """Print the room as measured; before anything is read, or when asked, write the field sheet instead.

    Args:
        folder: the job folder.
        as_json: whether to print JSON.
        sheet: whether the field sheet is wanted whatever was read.

    Returns:
        The exit code.
    """
    missing, named = jobs.missing_readings(folder)
    if sheet or (named and missing == named):
        written = jobs.write_field_sheet(folder)
        if as_json:
            sys.stdout.write(jobs.field_sheet_json(written))
        else:
            field_sheet_said.say_field_sheet(written, folder)
        return GOOD
    if missing:
        return _still_missing(folder, missing, named)
    surveyed = jobs.survey_job(folder)
    if as_json:
        sys.stdout.write(jobs.survey_json(surveyed))
    else:
        room_said.say_room(surveyed)
    return FAILS_A_CHECK if any(fit.suspect for fit in surveyed.room.fits) else GOOD


def week(
    folders: Sequence[Path], out: Path, *, workers: int, cluster: str | None, search_s: float, cut_by_cut: bool = False
) -> int:
    """Cut and buy for several jobs together.

    Args:
        folders: the job folders.
        out: where to write.
        workers: how many jobs are worked out side by side.
        cluster: address of a cluster's scheduler; None to work on this machine.
        search_s: time for a cheaper cutting plan of them all. [s]
        cut_by_cut: whether every cut of the shared sheets and boards is drawn in a picture of its own.

    Returns:
        The exit code.
    """
    with week_folders.workers(workers, cluster) as executor:
        planned = week_folders.plan_week(folders, executor, printing.progress, search_s)
    written = week_folders.write_week(planned, folders, out, printing.progress, cut_by_cut=cut_by_cut)
    printing.say_week(planned, folders, written)
    return GOOD


def keep(folder: Path) -> int:
    """Put what a job or a week of jobs left over into the offcut file.

    Args:
        folder: the job folder, or the one that the week was written to.

    Returns:
        The exit code.
    """
    printing.say_kept(after_cutting.keep_leftovers(folder))
    return GOOD


def _still_missing(folder: Path, missing: int, named: int) -> int:
    """Print which readings are missing, and what can be done about it."""
    try:
        jobs.survey_job(folder)
    except InvalidInputError as error:
        printing.say_problems(error.problems)
    field_sheet_said.say_missing(folder, missing, named)
    return BAD_INPUT


def strip(folder: Path, paper: Literal["A4", "Letter", "Roll"], length_mm: float) -> int:
    """Write the marker strip.

    Args:
        folder: the job folder.
        paper: what it is printed on.
        length_mm: length wanted. [mm]

    Returns:
        The exit code.
    """
    printing.say_strip(jobs.write_strip(folder, paper, length_mm))
    return GOOD


def _verdict(planned: Plan) -> int:
    """Return the exit code of a plan: whether anything fails its check."""
    return FAILS_A_CHECK if any(finding.verdict == "fail" for finding in planned.findings) else GOOD
