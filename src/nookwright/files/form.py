"""One group of keys under reading: checks every value against its field and notes every problem.

A reader asks a form for values by key. When a value is wrong the problem is noted and a stand-in is returned, so that
the reading goes on to the next problem; whoever holds the inspection throws the result away in the end.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, TypeVar

from nookwright.basics.amounts import read_amount, read_money
from nookwright.basics.lengths import Units, UnreadableTextError, quoted, read_angle, read_length, read_pair
from nookwright.basics.problems import Inspection, Problem, Where
from nookwright.files.fields import Field, FileKind, expected_of, fields_of, one_value_of
from nookwright.files.tree import Listing, Node, Table, Text, at

T = TypeVar("T")

_LENGTH_OR_WORD = ("height", "end", "size", "grade")

STILL_BLANK = "Fill it in, or take the line out."


@dataclass(frozen=True, slots=True, kw_only=True)
class Mention:
    """A key of the shop file mentioned elsewhere: `kind` is sheet, board, stock or product."""

    kind: str
    key: str
    where: Where


@dataclass(slots=True, kw_only=True)
class Desk:
    """What the reading of one file shares: its kind, its units, the problems noted, the shop keys mentioned.

    `blanks` takes the places of readings that were not taken yet; where it is None each of them is a problem.
    """

    file: FileKind
    inspection: Inspection
    units: Units = "mm"
    mentions: list[Mention] = field(default_factory=list)
    blanks: list[Where] | None = None

    def note(self, where: Where, found: str, expected: str, hint: str = "") -> None:
        """Note a problem."""
        self.inspection.add(Problem(where=where, found=found, expected=expected, hint=hint))


class Form:
    """One group of keys, with what was typed."""

    def __init__(self, table: Table, group: str, desk: Desk, path: str = "") -> None:
        """Sort the keys by their fields, noting those that are unknown or stand twice."""
        self.desk = desk
        self.group = group
        self.path = path
        self.where = at(table.where, path)
        self.fields = fields_of(desk.file, group)
        self.values: dict[str, tuple[Text, Node]] = {}
        self.torn = table.torn
        before = ""
        for typed, value in table.pairs:
            self._take(typed, value, before)
            before = value.value if isinstance(value, Text) else ""

    def _take(self, typed: Text, value: Node, before: str) -> None:
        key = plain_key(typed.value)
        place = at(typed.where, self._path_of(key))
        if key.isdigit() and before.isdigit() and isinstance(value, Text) and not value.value:
            found, hint = quoted(f"{before},{typed.value}"), "Between braces a comma ends the value."
            self.desk.note(place, found, f"a point in the number: {before}.{typed.value}", hint)
        elif key not in self.fields:
            expected = f"one of {', '.join(self.fields)}"
            self.desk.note(place, quoted(typed.value), expected, nearest_hint(key, tuple(self.fields)))
        elif key in self.values:
            first = self.values[key][0].where.line
            self.desk.note(place, f"{quoted(typed.value)} a second time", f"it once; it stands on line {first} too")
        else:
            self.values[key] = (typed, value)

    def _path_of(self, key: str) -> str:
        return f"{self.path}.{key}" if self.path else key

    def has(self, key: str) -> bool:
        """Whether the key was given, be it blank."""
        return key in self.values

    def place(self, key: str) -> Where:
        """Return where the key's value stands; the group's own place when it was left out."""
        path = self._path_of(key)
        return at(self.values[key][1].where if key in self.values else self.where, path)

    def note(self, key: str, found: str, expected: str, hint: str = "") -> None:
        """Note a problem with a key's value."""
        self.desk.note(self.place(key), found, expected, hint)

    def _typed(self, key: str) -> str | None:
        """Return the scalar as typed, the default when left out, None after noting a problem or without default."""
        known = self.fields[key]
        if key not in self.values:
            if known.required and not self.torn:  # else it may stand on the line that could not be read
                self.note(key, "nothing", expected_of(known, self.desk.units), f"`{key}` is missing here.")
            return known.default or None
        node = self.values[key][1]
        if not isinstance(node, Text):
            self.note(key, kind_of(node), expected_of(known, self.desk.units))
            return None
        if not node.value:
            self.note(key, "nothing", expected_of(known, self.desk.units), self.blank_hint(key))
            return None
        return node.value

    def blank_hint(self, key: str) -> str:
        """Return what to do with a value left blank."""
        return "Fill it in." if self.fields[key].required else STILL_BLANK

    def _read(self, key: str, read: Callable[[str], T], stand_in: T) -> T:
        """Read a scalar and check its limits; the stand-in after a problem."""
        typed = self._typed(key)
        if typed is None:
            return stand_in
        return self.checked(key, typed, read, stand_in, self.place(key))

    def checked(self, key: str, typed: str, read: Callable[[str], T], stand_in: T, where: Where) -> T:
        """Read one text by a field's rules.

        Args:
            key: the field's key.
            typed: the text as typed.
            read: the reader of its kind; raises `UnreadableTextError`.
            stand_in: what to go on with after a problem.
            where: the text's place.

        Returns:
            The value, or the stand-in.
        """
        known = self.fields[key]
        try:
            value = read(typed)
        except UnreadableTextError as fault:
            expected = fault.expected
            if known.kind in _LENGTH_OR_WORD and not fault.hint:
                expected = expected_of(known, self.desk.units)
            self.desk.note(where, quoted(typed), expected, fault.hint)
            return stand_in
        if within(value, known):
            return value
        self.desk.note(where, quoted(typed), one_value_of(known, self.desk.units))
        return stand_in

    def text(self, key: str) -> str:
        """Return a text; empty when left out."""
        return self._typed(key) or ""

    def choice(self, key: str) -> Any:
        """Return the word chosen, spelt as in the field's choices; the caller knows its literal type."""
        typed = self._typed(key)
        choices = self.fields[key].choices
        if typed is None:
            return self.fields[key].default or choices[0]
        for choice in choices:
            if plain_key(choice) == plain_key(typed):
                return choice
        hint = nearest_hint(typed, choices)
        self.note(key, quoted(typed), expected_of(self.fields[key], self.desk.units), hint)
        return choices[0]

    def yes_no(self, key: str) -> bool:
        """Return a yes or no."""
        typed = (self._typed(key) or "no").lower()
        if typed not in ("yes", "no", "true", "false"):
            self.note(key, quoted(typed), "yes or no")
        return typed in ("yes", "true")

    def length(self, key: str) -> float:
        """Return a length. [mm]"""
        return self._read(key, self.length_in_units, 1.0)

    def length_in_units(self, typed: str) -> float:
        """Return a length as this file writes them. [mm]"""
        return read_length(typed, unit=self.desk.units)

    def pair(self, key: str) -> tuple[float, float]:
        """Return two lengths. [mm]"""
        return self._read(key, lambda typed: read_pair(typed, unit=self.desk.units), (1.0, 1.0))

    def angle(self, key: str) -> float:
        """Return an angle. [deg]"""
        return self._read(key, read_angle, 1.0)

    def amount(self, key: str) -> float:
        """Return a number in its field's unit."""
        unit = self.fields[key].unit
        return self._read(key, lambda typed: read_amount(typed, unit=unit), 1.0)

    def count(self, key: str) -> int:
        """Return a whole number."""
        return self._read(key, read_count, 1)

    def money(self, key: str) -> Decimal:
        """Return a price."""
        return self._read(key, read_money, Decimal(1))

    def read_as(self, key: str, read: Callable[[str], T], stand_in: T) -> T:
        """Return a scalar read by the caller's own reader, limits checked where the value is a number."""
        return self._read(key, read, stand_in)

    def mention(self, key: str) -> str:
        """Return a key of the shop file, kept to be looked up there; empty when left out."""
        typed = self._typed(key)
        if typed:
            self.desk.mentions.append(Mention(kind=self.fields[key].kind, key=typed, where=self.place(key)))
        return typed or ""

    def lengths(self, key: str) -> tuple[float, ...]:
        """Return a list of lengths, each checked. [mm]"""
        if not self.has(key) and self.fields[key].default:
            return tuple(read_length(piece, unit="mm") for piece in self.fields[key].default.split(", "))
        found: list[float] = []
        for number, node in enumerate(self.items(key), start=1):
            place = at(node.where, f"{self._path_of(key)}[{number}]")
            if isinstance(node, Text) and node.value:
                found.append(self.checked(key, node.value, self.length_in_units, 1.0, place))
            else:
                shown = kind_of(node) if not isinstance(node, Text) else "nothing"
                self.desk.note(place, shown, "a length", STILL_BLANK if shown == "nothing" else "")
        return tuple(found)

    def texts(self, key: str) -> tuple[str, ...]:
        """Return a list of texts, or the one text that stands there instead; empty when left out."""
        found: list[str] = []
        alone = self.values[key][1] if key in self.values else None
        if isinstance(alone, Text) and alone.value:
            if "," in alone.value:
                expected = expected_of(self.fields[key], self.desk.units)
                self.note(key, quoted(alone.value), expected, f"Put several into brackets: [{alone.value}].")
                return ()
            return (alone.value,)
        for number, node in enumerate(self.items(key), start=1):
            if isinstance(node, Text) and node.value:
                found.append(node.value)
            else:
                self.desk.note(at(node.where, f"{self._path_of(key)}[{number}]"), kind_of(node), "a text")
        return tuple(found)

    def items(self, key: str) -> tuple[Node, ...]:
        """Return the items of a list; empty when left out or after a problem."""
        known = self.fields[key]
        expected = expected_of(known, self.desk.units)
        if key not in self.values:
            if known.required and not self.torn:
                self.note(key, "nothing", expected, f"`{key}` is missing here.")
            return ()
        node = self.values[key][1]
        if isinstance(node, Listing):
            if not node.items and known.required:
                self.note(key, "an empty list", expected)
            return node.items
        blank = isinstance(node, Text) and not node.value
        if not (blank and self.torn):  # else what stood there may have been left out
            self.note(key, kind_of(node), expected, self.blank_hint(key) if blank else "")
        return ()

    def group_in(self, key: str) -> Form | None:
        """Return the form of a group of keys; None when left out or after a problem."""
        known = self.fields[key]
        expected = expected_of(known, self.desk.units)
        if key not in self.values:
            if known.required and not self.torn:
                self.note(key, "nothing", expected, f"`{key}` is missing here.")
            return None
        node = self.values[key][1]
        if isinstance(node, Table):
            return Form(node, known.inner, self.desk, self._path_of(key))
        blank = isinstance(node, Text) and not node.value
        if not (blank and self.torn):
            self.note(key, kind_of(node), expected, self.blank_hint(key) if blank else "")
        return None

    def group_or_empty(self, key: str) -> Form:
        """Return the form of a group of keys; an empty one, all defaults, when left out."""
        empty = Table(pairs=(), where=self.where)
        return self.group_in(key) or Form(empty, self.fields[key].inner, self.desk, self._path_of(key))

    def forms(self, key: str) -> list[Form]:
        """Return the forms of a list of groups."""
        found: list[Form] = []
        for number, node in enumerate(self.items(key), start=1):
            path = f"{self._path_of(key)}[{number}]"
            if isinstance(node, Table):
                found.append(Form(node, self.fields[key].inner, self.desk, path))
            else:
                keys = ", ".join(tuple(fields_of(self.desk.file, self.fields[key].inner))[:3])
                self.desk.note(at(node.where, path), kind_of(node), f"a group of keys such as {keys}")
        return found

    def pairs_in(self, key: str) -> list[tuple[Text, Node, str]]:
        """Return a list of single `name: value` lines, or a table of them: name, value, path."""
        node = self.values[key][1] if key in self.values else None
        if isinstance(node, Table):
            return [(name, value, f"{self._path_of(key)}[{i}]") for i, (name, value) in enumerate(node.pairs, start=1)]
        found: list[tuple[Text, Node, str]] = []
        for number, item in enumerate(self.items(key), start=1):
            path = f"{self._path_of(key)}[{number}]"
            if isinstance(item, Table) and len(item.pairs) == 1:
                found.append((*item.pairs[0], path))
            else:
                shown = "several keys in one line" if isinstance(item, Table) else kind_of(item)
                self.desk.note(at(item.where, path), shown, f"one `name: value`, {_such_as(self.fields[key])}")
        return found


def _such_as(known: Field) -> str:
    """Return the example in a field's help."""
    return f"such as `{known.help.split('`')[1]}`"


def plain_key(typed: str) -> str:
    """Return a key in lower case with single spaces, whether typed with spaces, hyphens or underscores."""
    return " ".join(re.sub(r"[-_]", " ", typed).lower().split())


def nearest_hint(typed: str, words: tuple[str, ...]) -> str:
    """Return `Did you mean ...?` when one of the words is near."""
    near = difflib.get_close_matches(typed.lower(), words, n=1, cutoff=0.6)
    return f"Did you mean {near[0]}?" if near else ""


def kind_of(node: Node) -> str:
    """Return what a value is, in words."""
    if isinstance(node, Text):
        return quoted(node.value) if node.value else "nothing"
    return "a list" if isinstance(node, Listing) else "a group of keys"


def read_count(typed: str) -> int:
    """Return a whole number.

    Raises:
        UnreadableTextError: if it is none.
    """
    if not re.fullmatch(r"[+-]?\d{1,9}", typed.strip()):
        raise UnreadableTextError(typed, "a whole number")
    return int(typed)


def within(value: object, known: Field) -> bool:
    """Whether a value, and each number in it, keeps to its field's limits; values that are no numbers do."""
    if isinstance(value, tuple):
        return all(within(piece, known) for piece in value)
    if not isinstance(value, int | float | Decimal):
        return True
    noise = 1e-6  # so that a limit written in inches counts as kept
    low = known.least is None or float(value) >= known.least - noise
    return low and (known.most is None or float(value) <= known.most + noise)
