"""YAML text -> a tree that keeps every scalar as typed, with its line and column."""

from __future__ import annotations

from collections.abc import Iterator
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
    """Keys with their values, in the order typed; a key may stand twice."""

    pairs: tuple[tuple[Text, Node], ...]
    where: Where


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
        The tree; None when the text cannot be taken apart at all.
    """
    text = _without_tabs(text.removeprefix("\ufeff"), file, inspection)
    problems_before = len(inspection.problems)
    try:
        events = list(YAML(typ="safe", pure=True).parse(text))
    except MarkedYAMLError as fault:
        inspection.add(_in_plain_words(fault, file))
        return None
    except (YAMLError, ValueError) as fault:  # a character that text files do not hold
        inspection.add(Problem(where=Where(file=file), found=_one_line(fault), expected="plain text in UTF-8"))
        return None
    root = _Builder(file, inspection).build(iter(events))
    if isinstance(root, Table):
        return root
    if len(inspection.problems) == problems_before:
        empty = root is None or (isinstance(root, Text) and not root.value)
        found = "an empty file" if empty else "no keys"
        inspection.add(
            Problem(where=Where(file=file, line=1), found=found, expected="a file of `key: value` lines")
        )  # fmt: skip
    return None


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


def _in_plain_words(fault: MarkedYAMLError, file: str) -> Problem:
    """Return the parser's complaint as one plain sentence."""
    says = " ".join(part for part in (fault.context, fault.problem) if part)
    never_closed = "unexpected end of stream" in says  # then the place that matters is where it opened
    mark = (fault.context_mark if never_closed else None) or fault.problem_mark or fault.context_mark
    where = Where(file=file, line=mark.line + 1, column=mark.column + 1) if mark else Where(file=file)
    for piece, (found, expected) in _PLAIN_WORDS.items():
        if piece in says:
            return Problem(where=where, found=found, expected=expected)
    return Problem(where=where, found="text that is not YAML", expected="`key: value` lines", hint=_one_line(says))


def _one_line(fault: object) -> str:
    """Return a message on one line."""
    return " ".join(str(fault).split())


class _Builder:
    """Turns the parser's events into nodes, noting what job files do not use."""

    def __init__(self, file: str, inspection: Inspection) -> None:
        self.file = file
        self.inspection = inspection

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
                root = self._node(event, events, 1)
        return root

    def _node(self, event: Any, events: Iterator[Any], level: int) -> Node:
        """Return one node and all below it."""
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
        return self._table(where, events, level)

    def _listing(self, where: Where, events: Iterator[Any], level: int) -> Listing:
        items: list[Node] = []
        for event in events:
            if isinstance(event, SequenceEndEvent):
                break
            items.append(self._node(event, events, level + 1))
        return Listing(items=tuple(items), where=where)

    def _table(self, where: Where, events: Iterator[Any], level: int) -> Table:
        pairs: list[tuple[Text, Node]] = []
        for event in events:
            if isinstance(event, MappingEndEvent):
                break
            key = self._node(event, events, level + 1)
            value = self._node(next(events), events, level + 1)
            if isinstance(key, Text):
                if isinstance(value, Text) and not value.value:
                    value = replace(value, where=key.where)  # a blank has no place of its own
                pairs.append((key, value))
            else:
                place = key.where
                self.inspection.add(Problem(where=place, found="a list or group as a key", expected="a word as a key"))
        return Table(pairs=tuple(pairs), where=where)

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
