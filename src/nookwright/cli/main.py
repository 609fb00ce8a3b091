"""The commands: new, plan, survey, book, week, keep, strip. Parses, calls `jobs`, prints."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

GOOD, FAILS_A_CHECK, BAD_INPUT, BROKEN_OFF = 0, 1, 2, 130
"""Exit codes: all is well; planned, but something fails its check; the input has problems; Ctrl-C, as shells say it."""

LONGEST_SEARCH_S, MOST_WORKERS = 86_400, 64
"""A day, and more processes than one machine has use for. Our choice."""

KINDS = {
    "alcove": "a recess between two walls, for example beside a chimney breast",
    "bay": "a back wall between two splayed side walls, for example a window seat",
    "corner-under-slope": "a corner whose ceiling slopes down to one side",
    "corner-two-slopes": "a corner under two slopes, one over each wall",
    "free-plan": "a room of any plan, whose corners you name in order",
    "twin-alcoves": "a chimney breast with an alcove on either side",
    "under-stair": "the space under a flight of stairs",
}

STORY = """\
A job is a folder of short text files:

  room.yaml    what was read in the room with tape, level and bevel
  brief.yaml   the furniture that is wanted, from the floor up
  shop.yaml    stock, saw and prices; several jobs may share one
  built.yaml   what is already bought or built, once something is

Start one with `nookwright new`, fill it in, and run `nookwright plan`. Everything the tool
makes goes into FOLDER/out and may be deleted at any time.

exit codes: 0 all is well, 1 planned but something fails its check, 2 the input has problems,
130 broken off with Ctrl-C
"""


def parser() -> argparse.ArgumentParser:
    """Return the command line's parser."""
    root = argparse.ArgumentParser(
        prog="nookwright",
        description="Work out fitted furniture for rooms where nothing is plumb, level or square.",
        epilog=STORY,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    root.add_argument("--version", action="store_true", help="print the version and stop")
    commands = root.add_subparsers(dest="command", metavar="COMMAND")
    new = _command(
        commands,
        "new",
        "write a commented job to fill in",
        "Write a commented job folder to fill in. Nothing that exists is ever overwritten.\n\n"
        "kinds of room:\n" + "\n".join(f"  {kind:<20} {words}" for kind, words in KINDS.items()),
    )
    new.add_argument("kind", choices=KINDS, metavar="KIND", help="one of the kinds above")
    new.add_argument("folder", type=Path, metavar="FOLDER", help="a folder that does not exist yet, or is empty")
    new.add_argument("--units", choices=("mm", "inch"), default="mm", help="units of the job (default: mm)")
    new.add_argument(
        "--corner",
        choices=("left", "right"),
        default="left",
        help="the side of the slope's wall, or of the stair's low end, facing the back wall (default: left)",
    )
    plan = _command(
        commands,
        "plan",
        "work the whole job out and write everything",
        "Work the whole job out and write FOLDER/out: book.pdf, its sheets as SVG, page.html for a telephone,\n"
        "labels.pdf, parts.csv, cutting.csv, buying.csv, plan.json and model.glb.",
    )
    plan.add_argument("folder", type=Path, metavar="FOLDER", help="the job folder")
    _add_search(plan)
    _add_cut_by_cut(plan)
    survey = _command(
        commands,
        "survey",
        "print the field sheet, then the room as measured",
        "Before anything is read: write FOLDER/out/field-sheet.pdf to take to the room, and print how surely\n"
        "its readings will settle it. Once they are in room.yaml: adjust them and print the readings that look\n"
        "like slips, what is not fixed by what was measured, what to measure next, and the room's shape.",
    )
    survey.add_argument("folder", type=Path, metavar="FOLDER", help="the job folder")
    survey.add_argument("--json", action="store_true", help="print it as JSON for other programs")
    survey.add_argument("--sheet", action="store_true", help="write the field sheet whatever was read")
    book = _command(commands, "book", "write only the job book", "Work the job out and write only FOLDER/out/book.pdf.")
    book.add_argument("folder", type=Path, metavar="FOLDER", help="the job folder")
    _add_search(book)
    week = _command(
        commands,
        "week",
        "cut and buy for several jobs together",
        "Work several jobs out and lay their parts out on shared sheets and boards. Writes week.pdf\n"
        "(cutting plan and buying list of them all), labels.pdf, week.json, cutting.csv and buying.csv.\n"
        "All briefs must name one shop file. Each job keeps its own book for everything else.\n"
        "After the cutting, `keep OUT` puts what is left into the offcut file, once for all of them.",
    )
    week.add_argument("folders", type=Path, nargs="+", metavar="FOLDER", help="the job folders")
    week.add_argument("--out", type=Path, required=True, metavar="OUT", help="where to write")
    week.add_argument(
        "--workers", type=_workers, default=2, metavar="N", help="jobs worked out side by side (default: 2)"
    )
    week.add_argument(
        "--cluster",
        metavar="ADDRESS",
        help="work them out on machines of a Dask cluster instead; needs the "
        "optional extra: pip install 'nookwright[cluster]'",
    )
    _add_search(week)
    _add_cut_by_cut(week)
    keep = _command(
        commands,
        "keep",
        "keep what a job left over for the next one",
        "After the cutting: take the offcuts that the job used out of the offcut file named in the shop file,\n"
        "and put in what it left over, as FOLDER/out/plan.json says. For jobs cut together, FOLDER is where\n"
        "`week` wrote; its week.json counts for all of them. Refuses to do it twice for a job, and when a\n"
        "job's files are no longer those the plan was made from.",
    )
    keep.add_argument("folder", type=Path, metavar="FOLDER", help="the job folder, or the OUT of a week")
    strip = _command(
        commands,
        "strip",
        "print the marker strip for photos of a wall",
        "Write FOLDER/out/strip.pdf: the marker strip and its cards, to be printed at full size. Laid beside\n"
        "a wall and photographed, they give the wall's gaps: see `photos` in docs/reference/files.md.",
    )
    strip.add_argument("folder", type=Path, metavar="FOLDER", help="the job folder")
    strip.add_argument(
        "--paper",
        choices=("A4", "Letter", "Roll"),
        default="A4",
        help="A4 or Letter for sheets to glue side by side, Roll for one piece 1.2 m long (default: A4)",
    )
    strip.add_argument(
        "--length",
        type=_strip_length,
        default=1200,
        metavar="MM",
        help="length of the glued strip, 240 to 2400 mm (default: 1200)",
    )
    return root


def _add_search(command: argparse.ArgumentParser) -> None:
    """Add the option that gives the cutting plan more time."""
    command.add_argument(
        "--search",
        type=_seconds,
        default=0.0,
        metavar="SECONDS",
        help="time to look for cheaper sheets, then for a larger leftover; Ctrl-C takes the best so far "
        "(default: 0, the quick plan)",
    )


def _add_cut_by_cut(command: argparse.ArgumentParser) -> None:
    """Add the option that draws every cut."""
    command.add_argument(
        "--cut-by-cut",
        action="store_true",
        help="write cut-by-cut.pdf too: a picture of every cut of sheets and boards, with what lies on the saw "
        "and what comes free",
    )


def _seconds(typed: str) -> float:
    """Return a time. [s]"""
    try:
        seconds = float(typed)
    except ValueError:
        seconds = -1.0
    if not 0 <= seconds <= LONGEST_SEARCH_S:
        message = f"found {typed!r}; expected seconds from 0 to {LONGEST_SEARCH_S}"
        raise argparse.ArgumentTypeError(message)
    return seconds


def _workers(typed: str) -> int:
    """Return how many processes work."""
    if not (typed.isdecimal() and 1 <= int(typed) <= MOST_WORKERS):
        message = f"found {typed!r}; expected a whole number from 1 to {MOST_WORKERS}"
        raise argparse.ArgumentTypeError(message)
    return int(typed)


def _strip_length(typed: str) -> int:
    """Return the length of a strip. [mm]"""
    if not (typed.isdecimal() and 240 <= int(typed) <= 2400):
        message = f"found {typed!r}; expected a whole number of millimetres from 240 to 2400"
        raise argparse.ArgumentTypeError(message)
    return int(typed)


def commands_of(root: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
    """Return every command's own parser by its name.

    Args:
        root: the command line's parser.

    Returns:
        Name and parser, in the order of `--help`.
    """
    found: dict[str, argparse.ArgumentParser] = {}
    for action in root._actions:
        if isinstance(action, argparse._SubParsersAction):
            found.update(action.choices)
    return found


def _command(
    commands: argparse._SubParsersAction[argparse.ArgumentParser], name: str, summary: str, text: str
) -> argparse.ArgumentParser:
    """Add one command with its help."""
    return commands.add_parser(
        name, help=summary, description=text, formatter_class=argparse.RawDescriptionHelpFormatter
    )


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command.

    Args:
        arguments: what was typed; the process's own when None.

    Returns:
        The exit code.
    """
    root = parser()
    asked = root.parse_args(arguments)
    if asked.version:
        from nookwright.cli import printing

        printing.say_version()
        return GOOD
    if asked.command is None:
        root.print_help()
        return BAD_INPUT
    return _run(asked)


def _run(asked: argparse.Namespace) -> int:
    """Run the command asked for, and print problems of the input as a list.

    The matrices are small: one thread is faster than several that wait for each other.

    Args:
        asked: the command and its arguments.

    Returns:
        The exit code.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    from nookwright.basics.problems import InvalidInputError
    from nookwright.cli import printing

    try:
        return _carried_out(asked)
    except InvalidInputError as error:
        printing.say_problems(error.problems)
        return BAD_INPUT
    except KeyboardInterrupt:
        printing.say_broken_off()
        return BROKEN_OFF


def _carried_out(asked: argparse.Namespace) -> int:
    """Run the command asked for; return its exit code."""
    from nookwright.cli import commands

    run = {
        "new": lambda: commands.new(asked.kind, asked.folder, asked.units, asked.corner),
        "plan": lambda: commands.plan(asked.folder, asked.search, cut_by_cut=asked.cut_by_cut),
        "survey": lambda: commands.survey(asked.folder, as_json=asked.json, sheet=asked.sheet),
        "book": lambda: commands.book(asked.folder, asked.search),
        "week": lambda: commands.week(
            asked.folders,
            asked.out,
            workers=asked.workers,
            cluster=asked.cluster,
            search_s=asked.search,
            cut_by_cut=asked.cut_by_cut,
        ),
        "keep": lambda: commands.keep(asked.folder),
        "strip": lambda: commands.strip(asked.folder, asked.paper, asked.length),
    }
    return run[asked.command]()


if __name__ == "__main__":
    sys.exit(main())
