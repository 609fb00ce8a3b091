"""What is wrong with the input, where, and what would be right.

The family of errors:

    Exception
    └── InvalidInputError      the input cannot be worked with: carries every problem at once

A design that computes but fails a check is never an error: it is a `Finding` (see `findings.py`).
"""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """A place in the user's own files.

    Args:
        file: file name as the user sees it, for example `room.yaml`.
        line: line number from 1; 0 when the place is the whole file.
        column: column number from 1; 0 when unknown.
        path: the field's path, for example `readings.tape[3]`.
    """

    file: str = ""
    line: int = 0
    column: int = 0
    path: str = ""

    def __str__(self) -> str:
        """Return `room.yaml:12:5 readings.tape[3]`, leaving out what is unknown."""
        place = self.file
        if self.line:
            place += f":{self.line}"
            if self.column:
                place += f":{self.column}"
        return " ".join(piece for piece in (place, self.path) if piece)


NOWHERE = Where()


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing wrong with the input, told so that the user can mend it.

    Args:
        where: the place in the user's file.
        found: what was read, as typed.
        expected: what would be right, with its unit.
        hint: what to do in the room or in the file; may be empty.
    """

    where: Where
    found: str
    expected: str
    hint: str = ""

    def __str__(self) -> str:
        """Return the one sentence a person reads."""
        place = f"{self.where}: " if str(self.where) else ""
        hint = f" {self.hint}" if self.hint else ""
        return f"{place}found {self.found}; expected {self.expected}.{hint}"


class InvalidInputError(Exception):
    """The input cannot be worked with; `problems` lists everything wrong with it."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        """Keep the problems; the message is one line each."""
        super().__init__("\n".join(str(problem) for problem in problems))
        self.problems = problems


@dataclass(slots=True)
class Inspection:
    """Collects problems, so that all are reported at once.

    Example:
        >>> inspection = Inspection()
        >>> inspection.expect(-3 > 0, "span_mm", -3, "a length above 0 mm")
        >>> inspection.finish()
        Traceback (most recent call last):
        ...
        nookwright.basics.problems.InvalidInputError: span_mm: found -3; expected a length above 0 mm.
    """

    problems: list[Problem] = field(default_factory=list)

    def add(self, problem: Problem) -> None:
        """Note one problem."""
        self.problems.append(problem)

    def expect(
        self, holds: bool, path: str, found: object, expected: str, hint: str = "", where: Where = NOWHERE
    ) -> None:
        """Note a problem unless the condition holds."""
        if holds:
            return
        place = where if str(where) else Where(path=path)
        shown = f"{found:g}" if isinstance(found, float) else str(found)
        self.add(Problem(where=place, found=shown, expected=expected, hint=hint))

    def finish(self) -> None:
        """Raise everything noted, each problem once however often it was met, file by file from the top down.

        Raises:
            InvalidInputError: if any problem was noted.
        """
        if self.problems:
            files = list(dict.fromkeys(problem.where.file for problem in self.problems))
            once = dict.fromkeys(self.problems)
            raise InvalidInputError(tuple(sorted(once, key=lambda each: _place(each.where, files))))


def _place(where: Where, files: list[str]) -> tuple[int, int]:
    return files.index(where.file), where.line
