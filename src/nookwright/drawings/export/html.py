"""A page for a screen, in one HTML file: words that reflow, boxes to tick, drawings to enlarge. Needs no network."""

from __future__ import annotations

import base64
import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from html import escape
from importlib import resources

from nookwright.drawings.blocks import Heading, Paragraph, Picture, Told
from nookwright.drawings.clearance import around
from nookwright.drawings.export.svg import svg_of
from nookwright.drawings.lettering import FAMILY, NOTES_MM, true_fractions
from nookwright.drawings.tables import Column, Table

BOX = "□"
"""What stands for a box to tick on paper."""

_EDGE_MM = 4.0
"""Clear edge around a drawing. Our choice."""

_NARROW = 44
"""Letters that stand side by side on a telephone; a wider table becomes a card for each row there. Our choice."""

_SHORT, _LONG = 12, 28
"""Letters: up to so many a cell is never broken, and above so many it has a line of a card to itself. Our choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chapter:
    """A chapter of the page.

    Args:
        name: its heading.
        told: words and drawings in order.
        mark: what must be known before it is used, or empty; its first words stand at every drawing too.
    """

    name: str
    told: tuple[Told, ...]
    mark: str = ""

    @property
    def anchor(self) -> str:
        """What a link to the chapter names."""
        return slug(self.name)


@dataclass(slots=True)
class _Setting:
    """What a chapter's words are set with: its name and mark, where links lead, and which ticks there are already."""

    chapter: str
    mark: str
    links: Mapping[str, str]
    ticks: Counter[str] = field(default_factory=Counter)

    def tick(self, words: str) -> str:
        """Return a box to tick for a line; the same line twice has two boxes."""
        self.ticks[words] += 1
        key = f"{self.chapter}|{words}|{self.ticks[words]}"
        return f'<input type="checkbox" aria-label="{escape(words)}" data-tick="{escape(key)}">'


def slug(name: str) -> str:
    """Return a name as an anchor: `Parts list` becomes `parts-list`."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


def page_html(title: str, about: str, chapters: Sequence[Chapter], links: Mapping[str, str]) -> bytes:
    """Return the page; the same job gives the same bytes.

    Args:
        title: the job's title.
        about: a line under it.
        chapters: in order; the first is open from the start.
        links: for words that open a cell, or stand as a heading across a table, the anchor that is that heading's.

    Returns:
        HTML 5 in UTF-8, with style, script and lettering inside.
    """
    bars = "".join(f'<a href="#{each.anchor}">{escape(each.name)}</a>' for each in chapters)
    body = [
        f"<header><h1>{escape(title)}</h1>",
        f'<p class="about">{escape(about)}</p>',
        f'</header><nav aria-label="Chapters"><div>{bars}</div></nav><main>',
        '<p class="note">Tap a drawing to enlarge it, again to make it fit. What you tick stays on this device.</p>',
        *(_chapter(each, links, open_=not i) for i, each in enumerate(chapters)),
        "</main>",
    ]
    head = (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; "
        "script-src 'unsafe-inline'; font-src data:\">"
        f"<title>{escape(title)}</title>\n<style>{_fonts()}\n{_asset('page.css')}</style></head>\n"
    )
    foot = f"\n<script>{_asset('page.js')}</script></body></html>\n"
    return (head + f'<body data-job="{escape(f"{title}|{about}")}">' + "\n".join(body) + foot).encode("utf-8")


def _asset(name: str) -> str:
    return resources.files("nookwright.drawings.export").joinpath(f"screen/{name}").read_text(encoding="utf-8")


def _fonts() -> str:
    """Return the drawings' lettering as style rules: their words were placed by its widths."""
    rules: list[str] = []
    for weight, file in (("normal", "NookSans-Regular.ttf"), ("bold", "NookSans-Bold.ttf")):
        content = resources.files("nookwright.drawings").joinpath(f"fonts/{file}").read_bytes()
        source = f"url(data:font/ttf;base64,{base64.b64encode(content).decode('ascii')})"
        rules.append(f'@font-face{{font-family:"{FAMILY}";font-weight:{weight};src:{source}}}')
    return "\n".join(rules)


def _chapter(chapter: Chapter, links: Mapping[str, str], *, open_: bool) -> str:
    """Return a chapter that opens and closes."""
    setting = _Setting(chapter=chapter.anchor, mark=chapter.mark.partition(",")[0], links=links)
    told = [_told(one, setting) for one in chapter.told]
    head = f'<details class="chapter" id="{chapter.anchor}"{" open" if open_ else ""}>'
    summary = f"<summary><h2>{escape(chapter.name)}</h2>{_mark(chapter.mark)}</summary>"
    return "\n".join((head, summary, *told, "</details>"))


def _mark(words: str) -> str:
    return f' <span class="mark">{escape(words)}</span>' if words else ""


def _picture(told: Picture, setting: _Setting) -> str:
    """Return a drawing, as much of its paper as it takes, in a button that enlarges it."""
    caption = "" if told.small else f"<figcaption>{_words(told.name)}{_mark(setting.mark)}</figcaption>"
    drawing = svg_of(told.items, around(told.items, _EDGE_MM), told.name)
    button = f'<button type="button" aria-pressed="false">{drawing}</button>'
    return f"<figure{_kinds(('small', told.small))}>{caption}{button}</figure>"


def _told(told: Told, setting: _Setting) -> str:
    if isinstance(told, Table):
        return _table(told.in_one(), setting)
    if isinstance(told, Picture):
        return _picture(told, setting)
    if isinstance(told, Heading):
        if told.text.startswith(BOX):
            words = told.text.removeprefix(BOX).strip()
            return f'<h3><label class="tick">{setting.tick(words)}<span>{_words(words)}</span></label></h3>'
        return f"<h3>{_words(told.text)}</h3>"
    return _paragraph(told)


def _paragraph(told: Paragraph) -> str:
    kinds = [name for name, is_so in (("bold", told.bold), ("note", told.height_mm <= NOTES_MM)) if is_so]
    of_kind = f' class="{" ".join(kinds)}"' if kinds else ""
    return f"<p{of_kind}>{_words(told.text)}</p>"


def _words(text: str) -> str:
    """Return words with true fractions and their line breaks."""
    return escape(true_fractions(text), quote=False).replace("\n", "<br>")


def _table(table: Table, setting: _Setting) -> str:
    """Return a table; each cell knows its column's head, which stands beside it where there is no room for columns."""
    heads = "".join(
        f'<th scope="col"{_kinds(("end", column.align == "end"))}>{_words(column.title)}</th>'
        for column in table.columns
    )
    rows = "\n".join(_row(table, row, setting) for row in table.rows)
    cards = _kinds(("cards", _letters_wide(table) > _NARROW))
    return f"<table{cards}><thead><tr>{heads}</tr></thead><tbody>\n{rows}\n</tbody></table>"


def _letters_wide(table: Table) -> int:
    """Return how many letters wide a table is at the least."""
    wide = 0
    rows = [row for row in table.rows if len(row) == len(table.columns)]
    for i, column in enumerate(table.columns):
        lines = [line for row in rows for line in row[i].split("\n")]
        longest = max(map(len, lines), default=0)
        words = [*column.title.split(), *(word for line in lines for word in line.split())]
        wide += 1 + max(max(map(len, words), default=0), min(longest, _SHORT if longest <= _SHORT else _SHORT + 4))
    return wide


def _row(table: Table, cells: Sequence[str], setting: _Setting) -> str:
    if len(cells) == 1 < len(table.columns):
        head, *notes = cells[0].split("\n")
        anchor = f' id="{setting.links[head]}"' if head in setting.links else ""
        said = f"<span>{_words(chr(10).join(notes))}</span>" if notes else ""
        return f'<tr class="across"{anchor}><td colspan="{len(table.columns)}"><b>{_words(head)}</b>{said}</td></tr>'
    row_words = ", ".join(cell for cell in cells if cell and cell != BOX)
    return f"<tr>{''.join(_cell(*each, row_words, setting) for each in zip(cells, table.columns, strict=True))}</tr>"


def _cell(cell: str, column: Column, row_words: str, setting: _Setting) -> str:
    """Return one cell; a box to tick in it stands for the whole row."""
    ticks = cell == BOX
    inside = f'<label class="tick">{setting.tick(row_words)}</label>' if ticks else _linked(cell, setting.links)
    longest = max(map(len, cell.split("\n")))
    kinds = _kinds(
        ("bold", column.bold), ("end", column.align == "end"), ("short", longest <= _SHORT), ("long", longest > _LONG)
    )
    head = "" if ticks else f' data-head="{escape(column.title)}"'
    return f"<td{head}{kinds}>{inside}</td>"


def _linked(cell: str, links: Mapping[str, str]) -> str:
    """Return a cell's words; a name before its first colon that is a heading elsewhere leads there."""
    name, colon, rest = cell.partition(": ")
    if colon and name in links:
        return f'<a href="#{links[name]}">{_words(name)}</a>: {_words(rest)}'
    return _words(cell)


def _kinds(*named: tuple[str, bool]) -> str:
    names: Iterable[str] = [name for name, is_so in named if is_so]
    said = " ".join(names)
    return f' class="{said}"' if said else ""
