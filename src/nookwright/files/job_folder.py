"""A job folder -> Job: reads its files together and reports every problem of all of them at once."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from pathlib import Path

from nookwright.basics.lengths import quoted
from nookwright.basics.problems import Inspection, Problem, Where
from nookwright.files.brief_file import read_brief
from nookwright.files.built_file import read_built
from nookwright.files.form import Mention, nearest_hint
from nookwright.files.offcut_file import read_offcuts
from nookwright.files.prices_file import read_prices
from nookwright.files.shop_file import PricesNamed, read_shop
from nookwright.files.survey_file import read_survey
from nookwright.files.tree import Table, Text, read_tree
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.facts import NOTHING_BUILT_YET, Facts
from nookwright.stages.inputs.offcuts import NO_OFFCUTS, Offcuts, with_offcuts
from nookwright.stages.inputs.shop import Shop, Supplier
from nookwright.stages.inputs.survey import Survey

MOST_BYTES = 2_000_000
"""Largest job file read; a thorough field book is 20 kB. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """Everything a job folder says.

    Args:
        shop: the shop, with the offcuts that jobs share.
        offcuts_file: where those are kept; None where the shop names no such file.
        offcuts: what is in it; nothing before the first job put something in.
    """

    survey: Survey
    brief: Brief
    shop: Shop
    facts: Facts
    offcuts_file: Path | None = None
    offcuts: Offcuts = NO_OFFCUTS


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomJob:
    """A job as far as its room goes: the furniture may still be undecided, readings may still be missing.

    Args:
        survey: the field book; the value of a reading not taken yet stands for nothing.
        missing: how many readings were not taken yet.
        brief: the furniture; None while it cannot be read.
    """

    survey: Survey
    missing: int
    brief: Brief | None


def read_room(folder: Path, *, blanks: bool = False) -> RoomJob:
    """Return the room of a job, and its brief where that can be read.

    Args:
        folder: holds room.yaml and mostly brief.yaml.
        blanks: whether readings may be blank.

    Returns:
        The room and the brief. A title or an end of the run that is still blank does not keep the brief from being
        read.

    Raises:
        InvalidInputError: if anything in room.yaml is wrong; a blank reading too unless `blanks` are allowed.
    """
    inspection = Inspection()
    _expect_folder(folder, inspection)
    missing: list[Where] = []
    tree = _tree(folder / "room.yaml", "room.yaml", inspection)
    survey = read_survey(tree, inspection, missing if blanks else None) if tree else None
    inspection.finish()
    assert survey is not None  # noqa: S101  without it, finish() has raised
    survey = survey if blanks else _with_recordings(survey, folder)
    aside = Inspection()
    wish = _tree(folder / "brief.yaml", "brief.yaml", aside)
    brief = read_brief(_without_blanks(wish, folder.resolve().name), aside).brief if wish else None
    return RoomJob(survey=survey, missing=len(missing), brief=brief)


def _with_recordings(survey: Survey, folder: Path) -> Survey:
    """Return the survey with what the scans and photos it names show."""
    if not survey.scans and not survey.photos:
        return survey
    from nookwright.files.recordings import with_recordings  # noqa: PLC0415  a job without them needs no numbers library

    return with_recordings(survey, folder)


def _without_blanks(wish: Table, title: str) -> Table:
    """Return a brief without the keys still blank, under a title of its own if it has none yet."""
    pairs = tuple((key, value) for key, value in wish.pairs if not isinstance(value, Text) or value.value)
    if not any(key.value == "title" for key, _ in pairs):
        pairs += ((Text(value="title", where=wish.where), Text(value=title or "not named yet", where=wish.where)),)
    return replace(wish, pairs=pairs)


def read_job(folder: Path) -> Job:
    """Return the job in a folder.

    Args:
        folder: holds room.yaml, brief.yaml, the shop file that the brief names, and built.yaml if anything is built.

    Returns:
        The job.

    Raises:
        InvalidInputError: if anything in any of the files is wrong; carries every problem of all of them.
    """
    inspection = Inspection()
    _expect_folder(folder, inspection)
    room_tree = _tree(folder / "room.yaml", "room.yaml", inspection)
    survey = read_survey(room_tree, inspection) if room_tree else None
    brief_tree = _tree(folder / "brief.yaml", "brief.yaml", inspection)
    brief_read = read_brief(brief_tree, inspection) if brief_tree else None
    mentions = brief_read.mentions if brief_read else ()
    shop_place = brief_read.shop_where if brief_read else None
    shop_file = brief_read.shop_file if brief_read else "shop.yaml"
    shop_tree = _tree(folder / shop_file, shop_file, inspection, named_at=shop_place)
    carried = _shop(shop_tree, folder, shop_file, inspection) if shop_tree else None
    shop = carried.shop if carried else None
    facts: Facts | None = NOTHING_BUILT_YET
    if (folder / "built.yaml").exists():
        built_tree = _tree(folder / "built.yaml", "built.yaml", inspection)
        built = read_built(built_tree, inspection) if built_tree else None
        facts, more = built or (None, ())
        mentions += more
    if shop is not None and shop_tree is not None and not shop_tree.torn:  # a stock may stand on a line left out
        _look_up(mentions, shop, shop_file, inspection)
    if inspection.problems and survey is not None:
        from nookwright.files.misnamed import misnamed  # noqa: PLC0415  a good job needs no numbers library

        inspection.problems.extend(misnamed(survey))
    inspection.finish()
    brief = brief_read.brief if brief_read else None
    assert survey is not None  # noqa: S101  without one of them, finish() has raised
    assert brief is not None  # noqa: S101
    assert carried is not None  # noqa: S101
    assert facts is not None  # noqa: S101
    return Job(
        survey=_with_recordings(survey, folder), brief=brief, shop=carried.shop, facts=facts,
        offcuts_file=carried.offcuts_file, offcuts=carried.offcuts or Offcuts(units=brief.units),
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class _Carried:
    """A shop with what the files beside it say, and where its offcuts are kept."""

    shop: Shop
    offcuts_file: Path | None
    offcuts: Offcuts | None


def _shop(tree: Table, folder: Path, shop_file: str, inspection: Inspection) -> _Carried | None:
    """Return the shop with the prices of every supplier it names, and the offcuts that jobs share."""
    read = read_shop(tree, inspection)
    if read is None:
        return None
    shop, named, kept = read
    beside = (folder / shop_file).parent
    shop = replace(shop, suppliers=_suppliers(named, shop, beside, inspection))
    if kept is None:
        return _Carried(shop=shop, offcuts_file=None, offcuts=None)
    path = Path(os.path.normpath(beside / kept.file))
    if not path.exists():  # the first job to keep something makes it
        return _Carried(shop=shop, offcuts_file=path, offcuts=None)
    pieces = _tree(path, kept.file, inspection, named_at=kept.where)
    offcuts = read_offcuts(pieces, shop, inspection) if pieces else None
    return _Carried(shop=with_offcuts(shop, offcuts) if offcuts else shop, offcuts_file=path, offcuts=offcuts)


def _suppliers(
    named: tuple[PricesNamed, ...], shop: Shop, beside: Path, inspection: Inspection
) -> tuple[Supplier, ...]:
    suppliers: list[Supplier] = []
    for one in named:
        prices = _tree(beside / one.file, one.file, inspection, named_at=one.where)
        supplier = read_prices(prices, one, shop, inspection) if prices else None
        suppliers += [supplier] if supplier else []
    return tuple(suppliers)


def _expect_folder(folder: Path, inspection: Inspection) -> None:
    """Refuse a job folder that is not there, before its files are missed one by one."""
    if not folder.is_dir():
        hint = "`nookwright new KIND FOLDER` makes one."
        inspection.add(
            Problem(where=Where(), found=f"no folder {quoted(str(folder))}", expected="a job folder", hint=hint)
        )
        inspection.finish()


def _tree(path: Path, shown: str, inspection: Inspection, named_at: Where | None = None) -> Table | None:
    """Return a file's tree; `named_at` is where another file names it, when one does."""
    where = Where(file=shown)
    try:
        raw = path.read_bytes() if path.is_file() and path.stat().st_size <= MOST_BYTES else None
        there = path.is_file()
    except OSError as fault:  # a name too long, a file that may not be opened
        found, hint = "a file that cannot be opened", f"The system says: {fault.strerror}."
        inspection.add(Problem(where=named_at or where, found=found, expected="a readable file", hint=hint))
        return None
    if not there:
        hint = "`nookwright new` writes a job to fill in."
        if named_at is not None and named_at.line and shown != "shop.yaml":
            where, hint = named_at, "The path starts from the folder of the file that names it."
        inspection.add(Problem(where=where, found=f"no file {quoted(shown)}", expected="that file", hint=hint))
        return None
    if raw is None:
        inspection.add(Problem(where=where, found="a very large file", expected=f"{MOST_BYTES:,} bytes at most"))
        return None
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as fault:
        line = raw[: fault.start].count(b"\n") + 1
        inspection.add(
            Problem(where=Where(file=shown, line=line), found="a character that is not UTF-8", expected="text in UTF-8")
        )
        return None
    return read_tree(text, shown, inspection)


def _look_up(mentions: tuple[Mention, ...], shop: Shop, shop_file: str, inspection: Inspection) -> None:
    """Note every key that the shop lacks, or that names the wrong kind of thing."""
    sheets, boards = tuple(s.key for s in shop.sheets), tuple(b.key for b in shop.boards)
    known = {
        "sheet": sheets,
        "board": boards,
        "stock": sheets + boards,
        "product": tuple(product.key for product in shop.products),
    }
    for mention in mentions:
        keys = known[mention.kind]
        if mention.key in keys:
            continue
        what = {"stock": "sheet or board"}.get(mention.kind, mention.kind)
        listed = f": {', '.join(keys)}" if keys else ", which lists none"
        hint = nearest_hint(mention.key, keys)
        if mention.kind in ("sheet", "board") and mention.key in sheets + boards:
            hint = f"{mention.key} is a {'board' if mention.key in boards else 'sheet'}."
        inspection.add(
            Problem(
                where=mention.where,
                found=quoted(mention.key),
                expected=f"the key of a {what} in {shop_file}{listed}",
                hint=hint,
            )
        )
