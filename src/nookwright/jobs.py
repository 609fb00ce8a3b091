"""Open a job folder, run the plan, write the outputs: where files, plan and drawings of one job meet."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from nookwright.basics.lengths import Marks
from nookwright.files.job_folder import RoomJob, read_job, read_room
from nookwright.files.lists_out import buying_csv, cutting_csv, parts_csv
from nookwright.files.new_job import new_job
from nookwright.files.plan_file import as_plain, plan_json
from nookwright.plan import Plan, plan
from nookwright.search_time import search_time
from nookwright.stages.inputs.survey import RoomKind, Side
from nookwright.stages.room.advice import NextReading, next_readings
from nookwright.stages.room.forecast import Forecast, forecast
from nookwright.stages.room.room import Room
from nookwright.stages.room.standing import surveyed_room
from nookwright.stages.survey.asked import spot_readings

Progress = Callable[[str], None]
"""Told the name of each long step as it starts."""


def silent(step: str) -> None:
    """Say nothing about a step."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What was written for a job.

    Args:
        folder: the output folder.
        files: every file written, in order.
        pages: number of pages of the job book.
    """

    folder: Path
    files: tuple[Path, ...]
    pages: int


def new(kind: RoomKind, folder: Path, units: Literal["mm", "inch"], corner: Side = "left") -> tuple[Path, ...]:
    """Write a commented job to fill in.

    Args:
        kind: the room's kind.
        folder: where to write it; nothing that exists is overwritten.
        units: units of the job.
        corner: the side of the slope's wall, or of the stair's low end.

    Returns:
        The files written.

    Raises:
        InvalidInputError: when a job is there already.
    """
    return new_job(kind, folder, units=units, corner=corner)


@dataclass(frozen=True, slots=True, kw_only=True)
class Surveyed:
    """A room as measured.

    Args:
        room: its true shape, with its uncertainty.
        marks: the units its owner reads.
        next_readings: what to measure next for the furniture in the brief, or for the room while there is none.
    """

    room: Room
    marks: Marks
    next_readings: tuple[NextReading, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldSheet:
    """A field sheet that was written.

    Args:
        file: the sheet.
        pages: how many pages it has.
        readings: how many readings it asks for.
        missing: how many of them the room file still leaves blank.
        marks: the units of the room file.
        forecast: what they will tell.
    """

    file: Path
    pages: int
    readings: int
    missing: int
    marks: Marks
    forecast: Forecast


def survey_job(folder: Path) -> Surveyed:
    """Read a job's room and adjust it.

    Args:
        folder: the job folder; its brief need not be finished.

    Returns:
        The room, and what to measure next.

    Raises:
        InvalidInputError: carries everything wrong with the room file.
    """
    job = read_room(folder)
    room = surveyed_room(job.survey, job.brief)
    return Surveyed(room=room, marks=_marks(job), next_readings=next_readings(room, job.brief))


def missing_readings(folder: Path) -> tuple[int, int]:
    """Return how many readings the room file still leaves blank, and how many it names.

    Args:
        folder: the job folder.

    Raises:
        InvalidInputError: if anything else is wrong with the room file.
    """
    job = read_room(folder, blanks=True)
    return job.missing, len(job.survey.readings)


def write_field_sheet(folder: Path) -> FieldSheet:
    """Write the sheet to take to the room: FOLDER/out/field-sheet.pdf.

    Args:
        folder: the job folder; readings may be blank and its brief need not be finished.

    Returns:
        What was written.

    Raises:
        InvalidInputError: carries everything wrong with the room file.
    """
    from nookwright.drawings.export.pdf import pdf
    from nookwright.drawings.pages.field_sheet import field_sheet
    from nookwright.drawings.sheet import Issue

    job = read_room(folder, blanks=True)
    survey = replace(job.survey, readings=spot_readings(job.survey), scans=(), photos=())
    found = forecast(survey, job.brief)
    marks, brief = _marks(job), job.brief
    paper: Literal["A4", "Letter"] = brief.paper if brief else ("A4" if job.survey.units == "mm" else "Letter")
    title = brief.title if brief else folder.resolve().name
    issue = Issue(job=title, date=brief.date if brief else "", revision="A", marks=marks, paper=paper)
    pages = field_sheet(survey, found, issue)
    out = folder / "out"
    out.mkdir(parents=True, exist_ok=True)
    (file,) = write_files(out, {"field-sheet.pdf": pdf(pages, title=f"{title}: field sheet")})
    return FieldSheet(
        file=file,
        pages=len(pages),
        readings=len(survey.readings),
        missing=job.missing,
        marks=marks,
        forecast=found,
    )


def _marks(job: RoomJob) -> Marks:
    """Return the units a job's owner reads: the brief's, and before it can be read the room's."""
    if job.brief:
        return Marks(units=job.brief.units, resolution=job.brief.resolution)
    return Marks(units=job.survey.units, resolution=0.5 if job.survey.units == "mm" else 1 / 16)


def survey_json(surveyed: Surveyed) -> str:
    """Return a surveyed room as JSON: spots, derived figures, studs, outlets, readings, what to measure next.

    Args:
        surveyed: the room.
    """
    room = surveyed.room
    shown = {
        "waviness_mm": room.waviness_mm,
        "spots": room.spots,
        "derived": room.derived,
        "studs": room.studs,
        "outlets": room.outlets,
        "readings": room.fits,
        "left_out": room.left_out,
        "next": surveyed.next_readings,
    }
    return json.dumps({key: as_plain(value) for key, value in shown.items()}, indent=1, ensure_ascii=False) + "\n"


def field_sheet_json(sheet: FieldSheet) -> str:
    """Return a field sheet as JSON: the file, its readings, how long they take, how surely they will tell.

    Args:
        sheet: what was written.
    """
    shown = {
        "file": str(sheet.file),
        "readings": sheet.readings,
        "missing": sheet.missing,
        "minutes": sheet.forecast.minutes,
        "spreads": sheet.forecast.spreads + sheet.forecast.furniture,
        "findable": sheet.forecast.findable,
    }
    return json.dumps({key: as_plain(value) for key, value in shown.items()}, indent=1, ensure_ascii=False) + "\n"


def write_strip(folder: Path, paper: Literal["A4", "Letter", "Roll"], length_mm: float) -> Written:
    """Write the marker strip and its cards, to be printed at full size: FOLDER/out/strip.pdf.

    Args:
        folder: the job folder.
        paper: A4 or Letter for sheets to be glued side by side; Roll for one long piece.
        length_mm: length wanted. [mm]

    Returns:
        What was written.
    """
    from nookwright.drawings.export.pdf import pdf
    from nookwright.drawings.pages.marker_strip import strip_pages

    pages = strip_pages(paper, length_mm)
    out = folder / "out"
    out.mkdir(parents=True, exist_ok=True)
    files = write_files(out, {"strip.pdf": pdf(pages, title="Marker strip")})
    return Written(folder=out, files=files, pages=len(pages))


def plan_job(folder: Path, progress: Progress = silent, search_s: float = 0.0) -> Plan:
    """Read a job folder and work the job out.

    Args:
        folder: holds `room.yaml`, `brief.yaml`, `shop.yaml` and, once something is built, `built.yaml`.
        progress: told each long step.
        search_s: time that the search for a cheaper cutting plan may take, where the quick plan is not proven best. [s]

    Returns:
        The whole job.

    Raises:
        InvalidInputError: carries everything wrong with the input.
    """
    progress("reading the job")
    job = read_job(folder)
    progress("working it out")
    with search_time(search_s, progress) as go_on:
        return plan(job.survey, job.brief, job.shop, job.facts, go_on)


def write_book(planned: Plan, folder: Path, progress: Progress = silent) -> Written:
    """Write only the job book.

    Args:
        planned: the job.
        folder: the job folder; the book goes into its `out`.
        progress: told each long step.

    Returns:
        What was written.
    """
    out = _out(folder)
    contents, pages = _book(planned, progress)
    return Written(folder=out, files=write_files(out, {"book.pdf": contents["book.pdf"]}), pages=pages)


def write_all(planned: Plan, folder: Path, progress: Progress = silent, *, cut_by_cut: bool = False) -> Written:
    """Write the book, its sheets, the lists, the plan and the model.

    Args:
        planned: the job.
        folder: the job folder; everything goes into its `out`.
        progress: told each long step.
        cut_by_cut: whether every cut of every sheet and every step of every board is drawn too.

    Returns:
        What was written.
    """
    out = _out(folder)
    contents, pages = _book(planned, progress)
    progress("writing lists and model")
    marks = Marks(units=planned.brief.units, resolution=planned.brief.resolution)
    contents |= {
        "plan.json": plan_json(planned).encode(),
        "parts.csv": parts_csv(planned.parts, marks).encode(),
        "cutting.csv": cutting_csv(planned.cutting, marks).encode(),
        "buying.csv": buying_csv(planned.buying).encode(),
    }
    contents |= _for_screens(planned) | _papers_for_the_saw(planned, cut_by_cut=cut_by_cut)
    return Written(folder=out, files=write_files(out, contents), pages=pages)


def _book(planned: Plan, progress: Progress) -> tuple[dict[str, bytes], int]:
    """Return the book and its sheets as files, and how many pages it has."""
    from nookwright.drawings.book import book
    from nookwright.drawings.export.pdf import pdf
    from nookwright.drawings.export.svg import svg

    progress("drawing the book")
    pages = book(planned)
    contents = {"book.pdf": pdf(pages, title=planned.brief.title)}
    contents |= {f"sheets/{i:02d}.svg": svg(page) for i, page in enumerate(pages, start=1)}
    return contents, len(pages)


def _papers_for_the_saw(planned: Plan, *, cut_by_cut: bool) -> dict[str, bytes]:
    """Return the parts' labels, and pictures of every cut and step if wanted, as PDFs."""
    from nookwright.drawings.book import issue_of
    from nookwright.drawings.export.pdf import pdf
    from nookwright.drawings.pages.cut_by_cut import cut_by_cut_pages
    from nookwright.drawings.pages.labels import label_pages

    issue, title = issue_of(planned.brief), planned.brief.title
    pages = label_pages(planned.parts, planned.cutting, planned.shop, issue)
    contents = {"labels.pdf": pdf(pages, title=f"{title}: labels")}
    if cut_by_cut and (pictures := cut_by_cut_pages(planned, issue)):
        contents["cut-by-cut.pdf"] = pdf(pictures, title=f"{title}: cut by cut")
    return contents


def _for_screens(planned: Plan) -> dict[str, bytes]:
    """Return the furniture as a binary glTF model, and the job as a page."""
    from nookwright.drawings.export.model3d import glb
    from nookwright.drawings.model import solids
    from nookwright.drawings.screen import screen

    return {"model.glb": glb(solids(planned.parts)), "page.html": screen(planned)}


def _out(folder: Path) -> Path:
    """Return the job's output folder, made if needed."""
    out = folder / "out"
    (out / "sheets").mkdir(parents=True, exist_ok=True)
    return out


def write_files(out: Path, contents: dict[str, bytes]) -> tuple[Path, ...]:
    """Write files so that an interrupted run leaves the old ones whole; sheets of an earlier, longer book go.

    Args:
        out: the folder, which is there.
        contents: what each file holds, by its name in the folder.

    Returns:
        The files, in their order.
    """
    sheets = {name for name in contents if name.startswith("sheets/")}
    for old in (out / "sheets").glob("*.svg") if sheets else ():
        if f"sheets/{old.name}" not in sheets:
            old.unlink()
    written: list[Path] = []
    for name, content in contents.items():
        path = out / name
        partial = path.with_name(path.name + ".part")
        partial.write_bytes(content)
        os.replace(partial, path)
        written.append(path)
    return tuple(written)
