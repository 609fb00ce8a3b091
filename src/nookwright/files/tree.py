"""YAML text -> a tree that keeps every scalar as typed, with its line and column."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from nookwright.basics.problems import Inspection, Problem, Where

MOST_LEVELS = 40
"""Deepest nesting read; a brief seldom needs ten levels. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A scalar, as typed; empty when the value was left blank."""

    value: str
    where: Where


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """A list, block or flow."""

    items: tuple[Node, ...]
    where: Where


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Keys with their values, in the order typed; a key may stand twice. `torn`: a line of it could not be read."""

    pairs: tuple[tuple[Text, Node], ...]
    where: Where
    torn: bool = False


Node = Text | Listing | Table

_PLAIN_WORDS = {
    "mapping values are not allowed here": (
        "a second colon on one line",
        "one `key: value` a line, or quotes round text that holds a colon",
    ),
    "mapping keys are not allowed here": ("a lone ? or a misplaced key", "a value; leave it blank while unknown"),
    "that cannot start any token": ("a sign that cannot start a value", "a word or number, or quotes round the text"),
    "while scanning an alias": ("a lone *", "a word or number, or quotes round the text"),
    "while scanning an anchor": ("a lone &", "a word or number, or quotes round the text"),
    "unknown escape character": ("a backslash inside double quotes", "single quotes round that text"),
    "sequence entries are not allowed here": ("a list that starts on its key's line", "the list on lines of its own"),
    "incompatible YAML document": ("another version of YAML", "a file without the %YAML line"),
    "could not find expected ':'": ("a key without a colon", "`key: value`"),
    "found unexpected end of stream": ("an opening quote that never closes", "the closing quote"),
    "expected <block end>, but found": ("a line that is not in line with its neighbours", "the same indent as those"),
    "expected ',' or ']'": ("a list without its comma or closing ]", "`[a, b, c]`"),
    "expected ',' or '}'": ("a group without its comma or closing }", "`{a: 1, b: 2}`"),
    "expected the node content, but found ','": ("nothing between two commas", "a value between them"),
    "did not find expected": ("a bracket or line out of place", "closed brackets and even indents"),
    "found undefined": ("a mark of YAML that job files do not use", "plain keys and values"),
}


def read_tree(text: str, file: str, inspection: Inspection) -> Table | None:
    """Return the file's table of keys.

    Args:
        text: the file's text.
        file: its name as the user sees it.
        inspection: takes every problem found.

    Returns:
        The tree, without the lines that cannot be taken apart; None when too much hangs on one of them.
    """
    text = _without_tabs(text.removeprefix("\ufeff"), file, inspection)
    problems_before = len(inspection.problems)
    torn: list[int] = []
    events = _events(text.splitlines(), file, inspection, torn)
    if events is None:
        return None
    root = _Builder(file, inspection, torn).build(iter(events))
    if isinstance(root, Table):
        return root
    if len(inspection.problems) == problems_before:
        empty = root is None or (isinstance(root, Text) and not root.value)
        found = "an empty file" if empty else "no keys"
        inspection.add(
            Problem(where=Where(file=file, line=1), found=found, expected="a file of `key: value` lines")
        )  # fmt: skip
    return None


MOST_TORN = 5
"""So many lines are left out before the rest of a file is given up. Common practice, no source."""


def _events(lines: list[str], file: str, inspection: Inspection, torn: list[int]) -> list[Any] | None:
    """Return the parser's events; a line it stumbles over is noted and left out, so that the others can be read.

    Args:
        lines: the text.
        file: its name.
        inspection: takes the problems.
        torn: takes the numbers of the lines left out.

    Returns:
        The events; None when the rest would not mean anything without that line.
    """
    while True:
        try:
            return list(YAML(typ="safe", pure=True).parse("\n".join(lines) + "\n"))
        except MarkedYAMLError as fault:
            problem = _in_plain_words(fault, file, lines)
        except (YAMLError, ValueError) as fault:  # a character that text files do not hold
            inspection.add(Problem(where=Where(file=file), found=_one_line(fault), expected="plain text in UTF-8"))
            return None
        line = problem.where.line
        if any(abs(line - other) <= 2 for other in torn):
            return None
        inspection.add(problem)
        if len(torn) == MOST_TORN or not _stands_alone(lines, line):
            return None
        torn.append(line)
        lines[line - 1] = ""


HANGS_ON = ("units", "kind", "corner", "corners", "heights", "readings", "tape", "level", "plumb")
"""Keys on which the meaning of other lines hangs."""


def _stands_alone(lines: list[str], number: int) -> bool:
    """Return whether nothing is lost with a line but what is written on it: no further line hangs on it."""
    if not 1 <= number <= len(lines) or not lines[number - 1].strip():
        return False
    if lines[number - 1].lstrip().partition(":")[0] in HANGS_ON:
        return False
    after = next((line for line in lines[number:] if line.strip() and not line.lstrip().startswith("#")), "")
    return _indent(after) <= _indent(lines[number - 1])


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())


def _without_tabs(text: str, file: str, inspection: Inspection) -> str:
    """Note every tab that indents a line, and go on with spaces in its place."""
    lines = text.splitlines()
    for number, line in enumerate(lines, start=1):
        indent = line[: len(line) - len(line.lstrip())]
        if "\t" in indent:
            place = Where(file=file, line=number, column=indent.index("\t") + 1)
            inspection.add(
                Problem(where=place, found="a tab", expected="spaces at the start of a line", hint="Use two a level.")
            )
            lines[number - 1] = indent.replace("\t", "  ") + line.lstrip()
    return "\n".join(lines) + "\n"


def _in_plain_words(fault: MarkedYAMLError, file: str, lines: Sequence[str]) -> Problem:
    """Return the parser's complaint as one plain sentence."""
    says = " ".join(part for part in (fault.context, fault.problem) if part)
    never_closed = "unexpected end of stream" in says or _runs_on(fault, lines)  # what matters is where it opened
    mark = (fault.context_mark if never_closed else None) or fault.problem_mark or fault.context_mark
    where = Where(file=file, line=mark.line + 1, column=mark.column + 1) if mark else Where(file=file)
    for piece, (found, expected) in _PLAIN_WORDS.items():
        if piece in says:
            return Problem(where=where, found=found, expected=expected)
    return Problem(where=where, found="text that is not YAML", expected="`key: value` lines", hint=_one_line(says))


_NEW_LINE = re.compile(r"\s*(-\s|[\w ]+:)")


def _runs_on(fault: MarkedYAMLError, lines: Sequence[str]) -> bool:
    """Return whether a list or group that opened on one line was found open on another that begins anew."""
    opened, noticed = fault.context_mark, fault.problem_mark
    if not (opened and noticed and "expected ',' or" in str(fault.problem) and opened.line < noticed.line < len(lines)):
        return False
    return _NEW_LINE.match(lines[noticed.line]) is not None


def _one_line(fault: object) -> str:
    """Return a message on one line."""
    return " ".join(str(fault).split())


class _Builder:
    """Turns the parser's events into nodes, noting what job files do not use."""

    def __init__(self, file: str, inspection: Inspection, torn: Sequence[int] = ()) -> None:
        self.file = file
        self.inspection = inspection
        self.torn = torn

    def build(self, events: Iterator[Any]) -> Node | None:
        """Return the root of the first document."""
        documents = 0
        root: Node | None = None
        for event in events:
            if isinstance(event, DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self._note(event, "a second document (---)", "one document a file")
                    return root
            elif isinstance(event, ScalarEvent | SequenceStartEvent | MappingStartEvent | AliasEvent):
                root = self._node(event, events, 1, since=1)
        return root

    def _node(self, event: Any, events: Iterator[Any], level: int, since: int = 0) -> Node:
        """Return one node and all below it; `since` is the line of its key."""
        where = self._where(event)
        if isinstance(event, AliasEvent):
            self._note(event, f"the alias *{event.anchor}", "the value itself, written out")
            return Text(value="", where=where)
        if event.anchor is not None:
            self._note(event, f"the anchor &{event.anchor}", "the value alone")
        if event.tag is not None and event.tag != "!":
            self._note(event, f"the tag {event.tag}", "the value alone")
        if isinstance(event, ScalarEvent):
            return Text(value=event.value.strip() if event.style is None else event.value, where=where)
        if level > MOST_LEVELS:
            self._note(event, "too many levels of nesting", f"{MOST_LEVELS} at most")
            self._skip(events)
            return Text(value="", where=where)
        if isinstance(event, SequenceStartEvent):
            return self._listing(where, events, level)
        return self._table(where, events, level, since or where.line)

    def _listing(self, where: Where, events: Iterator[Any], level: int) -> Listing:
        items: list[Node] = []
        for event in events:
            if isinstance(event, SequenceEndEvent):
                break
            items.append(self._node(event, events, level + 1))
        return Listing(items=tuple(items), where=where)

    def _table(self, where: Where, events: Iterator[Any], level: int, since: int) -> Table:
        pairs: list[tuple[Text, Node]] = []
        last = where.line
        for event in events:
            if isinstance(event, MappingEndEvent):
                last = event.end_mark.line + 1
                break
            key = self._node(event, events, level + 1)
            value = self._node(next(events), events, level + 1, since=key.where.line)
            if isinstance(key, Text):
                if isinstance(value, Text) and not value.value:
                    value = replace(value, where=key.where)  # a blank has no place of its own
                pairs.append((key, value))
            else:
                place = key.where
                self.inspection.add(Problem(where=place, found="a list or group as a key", expected="a word as a key"))
        torn = any(since <= line <= last for line in self.torn)
        return Table(pairs=tuple(pairs), where=where, torn=torn)

    def _skip(self, events: Iterator[Any]) -> None:
        """Read past the rest of a list or group."""
        depth = 1
        while depth:
            event = next(events)
            depth += isinstance(event, SequenceStartEvent | MappingStartEvent)
            depth -= isinstance(event, SequenceEndEvent | MappingEndEvent)

    def _where(self, event: Any) -> Where:
        return Where(file=self.file, line=event.start_mark.line + 1, column=event.start_mark.column + 1)

    def _note(self, event: Any, found: str, expected: str) -> None:
        self.inspection.add(Problem(where=self._where(event), found=found, expected=expected))


def at(where: Where, path: str) -> Where:
    """Return the place with the field's path added."""
    return replace(where, path=path)
