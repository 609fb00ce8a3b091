"""YAML taken apart without losing how and where things were typed."""

from __future__ import annotations

import pytest

from nookwright.basics.problems import Inspection, Where
from nookwright.files.tree import Listing, Table, Text, read_tree


def take_apart(text: str) -> tuple[Table | None, list[str]]:
    """Return the tree and the problems."""
    inspection = Inspection()
    return read_tree(text, "room.yaml", inspection), [str(problem) for problem in inspection.problems]


def test_every_scalar_stays_as_typed_with_its_place() -> None:
    """`no` stays a word, 0.50 keeps its nought, inch marks need no quotes."""
    tree, problems = take_apart('a: no\nb: [0.50, 2\' 9-5/8"]  # remark\nc: {d: 33 5/8"}\n')
    assert problems == []
    assert tree is not None
    (_, no), (_, row), (_, inner) = tree.pairs
    assert no == Text(value="no", where=Where(file="room.yaml", line=1, column=4))
    assert isinstance(row, Listing)
    assert [item.value for item in row.items if isinstance(item, Text)] == ["0.50", "2' 9-5/8\""]
    assert row.items[1].where == Where(file="room.yaml", line=2, column=11)
    assert isinstance(inner, Table)
    assert inner.pairs[0][1] == Text(value='33 5/8"', where=Where(file="room.yaml", line=3, column=8))


def test_a_blank_stands_where_its_key_stands() -> None:
    """And not on the next line, where the parser meets it."""
    tree, _ = take_apart("a:\n\n# remark\nb: 1\n")
    assert tree is not None
    assert tree.pairs[0][1] == Text(value="", where=Where(file="room.yaml", line=1, column=1))


def test_a_byte_order_mark_does_no_harm() -> None:
    """Some editors put one first."""
    tree, problems = take_apart("\ufeffa: 1\n")
    assert tree is not None
    assert problems == []


SPOILT = [
    ("", "1: found an empty file; expected a file of `key: value` lines."),
    ("# remark only\n", "1: found an empty file; expected a file of `key: value` lines."),
    ("just words\n", "1: found no keys; expected a file of `key: value` lines."),
    ("- 1\n", "1: found no keys; expected a file of `key: value` lines."),
    ("a: ?\n", "1:4: found a lone ? or a misplaced key; expected a value; leave it blank while unknown."),
    ("a: 'x\n", "1:4: found an opening quote that never closes; expected the closing quote."),
    ("a: @x\n", "1:4: found a sign that cannot start a value; expected a word or number, or quotes round the text."),
    ("a: *\n", "1:5: found a lone *; expected a word or number, or quotes round the text."),
    ("a: &\n", "1:5: found a lone &; expected a word or number, or quotes round the text."),
    ('a: "\\q"\n', "1:6: found a backslash inside double quotes; expected single quotes round that text."),
    ("a: - b\n", "1:4: found a list that starts on its key's line; expected the list on lines of its own."),
    ("%YAML 3.0\n---\na: 1\n", "1:1: found another version of YAML; expected a file without the %YAML line."),
    ("a: {b: 1\n", "2:1: found a group without its comma or closing }; expected `{a: 1, b: 2}`."),
    ("a: 1\nb 2\nc: 3\n", "3:1: found a key without a colon; expected `key: value`."),
    (
        "a:\n  - 1\n - 2\n",
        "3:2: found a line that is not in line with its neighbours; expected the same indent as those.",
    ),
    ("a: !!int 1\n", "1:4: found the tag tag:yaml.org,2002:int; expected the value alone."),
    ("a: 1\n---\nb: 2\n", "2:1: found a second document (---); expected one document a file."),
    ("[" * 50 + "]" * 50, "1:41: found too many levels of nesting; expected 40 at most."),
]


@pytest.mark.parametrize(("text", "sentence"), SPOILT)
def test_what_cannot_be_taken_apart_is_told_in_plain_words(text: str, sentence: str) -> None:
    """One sentence, with line and column; no word of the parser's own."""
    assert take_apart(text)[1] == [f"room.yaml:{sentence}"]


def test_anchors_and_aliases_are_refused() -> None:
    """A job file is read top to bottom, by people."""
    assert take_apart("a: &x 1\nb: *x\n")[1] == [
        "room.yaml:1:4: found the anchor &x; expected the value alone.",
        "room.yaml:2:4: found the alias *x; expected the value itself, written out.",
    ]


def test_every_tab_is_told_and_the_rest_is_still_read() -> None:
    """Spaces stand in for the tabs."""
    tree, problems = take_apart("a:\n\tb: 1\n\tc: 2\n")
    assert [problem.split(":")[1] for problem in problems] == ["2", "3"]
    assert tree is not None
    assert isinstance(tree.pairs[0][1], Table)
    assert len(tree.pairs[0][1].pairs) == 2


def test_a_character_no_text_holds_is_refused() -> None:
    """Such as a nought byte."""
    tree, problems = take_apart("a: 1\x00\n")
    assert tree is None
    assert len(problems) == 1
    assert problems[0].endswith("expected plain text in UTF-8.")
