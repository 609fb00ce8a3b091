"""What the terminal shows: progress and problems on stderr, results on stdout."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from nookwright import __version__

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from nookwright.after_cutting import Kept
    from nookwright.basics.findings import Finding
    from nookwright.basics.problems import Problem
    from nookwright.jobs import Written
    from nookwright.plan import Plan
    from nookwright.stages.buying.buy_list import BuyList
    from nookwright.week import Week

MARKS = {"fail": "FAILS", "caution": "caution", "question": "ask", "pass": "holds"}
"""The words findings are printed with."""


def _line(text: str = "") -> None:
    sys.stdout.write(text + "\n")


def progress(step: str) -> None:
    """Say which step begins, on stderr so that results can be piped."""
    sys.stderr.write(f"{step} ...\n")
    sys.stderr.flush()


def say_version() -> None:
    """Print the version."""
    _line(f"nookwright {__version__}")


def say_problems(problems: Sequence[Problem]) -> None:
    """Print everything wrong with the input, one sentence each, on stderr."""
    count = len(problems)
    sys.stderr.write(f"{count} {'thing' if count == 1 else 'things'} to put right:\n")
    for problem in problems:
        sys.stderr.write(f"  {problem}\n")


def say_broken_off() -> None:
    """Print that the user broke the program off, on stderr."""
    sys.stderr.write("Broken off. Files written so far are whole.\n")


def say_new(folder: Path, files: Sequence[Path]) -> None:
    """Print what was written for a new job and what comes next."""
    _line(f"Written: {', '.join(path.name for path in files)} in {folder}")
    _line("What comes next:")
    _line(f"  nookwright survey {folder}   prints the field sheet to take to the room")
    _line(f"  then write its readings into room.yaml, and: nookwright survey {folder}")
    _line(f"  then look through brief.yaml and shop.yaml, and: nookwright plan {folder}")


def say_strip(written: Written) -> None:
    """Print where the marker strip is, and what it must measure."""
    _line(f"Marker strip and cards: {written.files[0]}, {written.pages} pages")
    _line("Print it at full size (100 %): its ruler must measure 200 mm (7 7/8 in).")


def _money(buying: BuyList) -> str:
    """Return what a list costs; with the tax where that comes on top."""
    total = f"{buying.total:.2f} {buying.currency}"
    return total if buying.to_pay == buying.total else f"{total}, {buying.to_pay:.2f} with tax"


def say_plan(planned: Plan, written: Written) -> None:
    """Print a plan's summary: what to cut and buy, what to heed, where the papers are."""
    sheets, boards = len(planned.cutting.sheets), len(planned.cutting.boards)
    _line(f"{planned.brief.title}")
    on_none = len(planned.cutting.too_large)
    apart = f"; {on_none} part{'s are' if on_none > 1 else ' is'} on none of them" if on_none else ""
    _line(f"  {len(planned.parts.parts)} parts from {sheets} sheets and {boards} boards{apart}")
    missing = len(planned.buying.unpriced)
    unpriced = f", {missing} item{'s' if missing > 1 else ''} without a price" if missing else ""
    without = f", without what {'those are' if on_none > 1 else 'that one is'} cut from" if on_none else ""
    _line(f"  to buy: {_money(planned.buying)}{unpriced}{without}")
    if planned.buying.for_nothing:
        _line(f"    counted at a price of 0: {', '.join(planned.buying.for_nothing)}")
    for seller, item, theirs in planned.buying.nearly:
        _line(f"    the prices of {seller} have none for `{item}` but one for `{theirs}`: is that meant?")
    _line(f"  {_counts(planned.findings)}")
    for finding in planned.findings:
        if finding.verdict == "fail":
            _line(f"  {MARKS['fail']}: {finding.subject}, {finding.topic}: {finding.summary}")
            if finding.remedy:
                _line(f"         {finding.remedy}")
    if planned.open_questions:
        keys = ", ".join(key.replace("-", " ") for key in planned.open_questions)
        _line(f"  DRAFT, cut nothing yet: answer these under `questions` in the survey: {keys}")
    _line(f"  {_files(written)} in {written.folder}; the job book has {written.pages} pages")


def _files(written: Written) -> str:
    """Return how many files were written."""
    return f"{len(written.files)} file{'' if len(written.files) == 1 else 's'}"


def say_kept(kept: Kept) -> None:
    """Print what went out of the offcut file and what came in, and what is left to do by hand."""
    for heading, pieces in (("used up", kept.changed.used), ("put in", kept.changed.left)):
        for piece in pieces:
            _line(f"  {heading}: {piece}")
    for todo in kept.changed.elsewhere:
        _line(f"  by hand: {todo}")
    offcuts = kept.changed.offcuts
    count = len(offcuts.sheets) + len(offcuts.boards)
    _line(f"{kept.file} now holds {count} pieces worth {offcuts.value}")


def say_week(planned: Week, folders: Sequence[Path], written: Written) -> None:
    """Print what several jobs cut together need, beside each alone; jobs of one title are told apart by folder."""
    currency = planned.buying.currency
    for share, folder in zip(planned.shares, folders, strict=True):
        alone = f"{share.sheets} sheets, {share.boards} boards, {share.total} {currency} alone"
        _line(f"  {share.mark}  {share.title} ({folder.resolve().name}): {share.parts} parts, {alone}")
    sheets, boards = len(planned.cutting.sheets), len(planned.cutting.boards)
    saves = f"{planned.saved} {currency} less" if planned.saved >= 0 else f"{-planned.saved} {currency} MORE"
    _line(f"Together: {sheets} sheets, {boards} boards, {_money(planned.buying)}: {saves}")
    _line(f"  {_files(written)} in {written.folder}; week.pdf has {written.pages} pages")


def _counts(findings: Sequence[Finding]) -> str:
    """Return how many findings of each kind there are."""
    counts = {word: sum(1 for finding in findings if finding.verdict == word) for word in MARKS}
    return (
        f"checks: {counts['pass']} hold, {counts['caution']} with a caution, {counts['fail']} fail,"
        f" {counts['question']} to ask on site"
    )
