"""Page check: words that overlap, words crossed by dimension lines, words too small, things off the paper."""

from __future__ import annotations

import math

from nookwright.drawings.clearance import Corners, drawn_lines, extremes, touching
from nookwright.drawings.lettering import letters_known, text_corners
from nookwright.drawings.page import Circle, Items, Line, Page, Shape, Text

SMALLEST_MM = 2.5
"""Smallest height of a figure, for notes. Common practice, no source."""

MARGIN_MM = 10.0
"""Edge that home printers may not reach. Common practice, no source."""


def faults(page: Page) -> tuple[str, ...]:
    """Return what is wrong with the page, one sentence each; empty when it can be read everywhere."""
    words = [(i, item, text_corners(item)) for i, item in enumerate(page.items) if isinstance(item, Text) and item.text]
    lines = [
        (i, line) for i, item in enumerate(page.items) if isinstance(item, Line | Shape) for line in drawn_lines(item)
    ]
    found: list[str] = []
    for n, (order, text, place) in enumerate(words):
        if text.height_mm < SMALLEST_MM - 1e-9:
            found.append(f"{text.text!r} is {text.height_mm:g} mm high")
        missing = sorted(set(text.text) - letters_known())
        if missing:
            found.append(f"{text.text!r} has letters the font lacks: {missing}")
        found.extend(
            f"{text.text!r} runs into {other.text!r}"
            for _, other, other_place in words[n + 1 :]
            if touching(place, other_place, gap_mm=-0.05)
        )
        hidden_below = _hidden_below(page.items, order, place)
        found.extend(
            f"{text.text!r} is crossed by a line from {line[0]}"
            for i, line in lines
            if i > hidden_below and touching(place, line, gap_mm=-0.05)
        )
    found.extend(_off_paper(page))
    return tuple(found)


def _hidden_below(items: Items, order: int, place: Corners) -> int:
    """Return the index of the last filled circle under the words, which hides what was drawn before it; else -1."""
    for i in range(order - 1, -1, -1):
        item = items[i]
        if isinstance(item, Circle) and item.fill != "none":
            (x, y), r = item.centre, item.radius
            if all(math.hypot(px - x, py - y) <= r + 0.2 for px, py in place):
                return i
    return -1


def _off_paper(page: Page) -> list[str]:
    """Return the items that reach into the margins."""
    return [
        f"{item!r} reaches into the margin"
        for item in page.items
        if any(
            not (
                MARGIN_MM - 1e-6 <= x <= page.width_mm - MARGIN_MM + 1e-6
                and MARGIN_MM - 1e-6 <= y <= page.height_mm - MARGIN_MM + 1e-6
            )
            for x, y in extremes(item)
        )
    ]
