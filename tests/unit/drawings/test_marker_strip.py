"""The marker strip on paper: at full size, readable everywhere, and found again in its own picture."""

from __future__ import annotations

import re
from typing import Literal

import numpy as np
import pytest

from nookwright.drawings.export.svg import svg
from nookwright.drawings.page import Line, Page, Shape
from nookwright.drawings.page_check import faults
from nookwright.drawings.pages.marker_strip import strip_pages

PAPERS: tuple[Literal["A4", "Letter", "Roll"], ...] = ("A4", "Letter", "Roll")


@pytest.mark.parametrize("paper", PAPERS)
def test_every_page_can_be_read_everywhere(paper: Literal["A4", "Letter", "Roll"]) -> None:
    """Nothing off the paper, no words crossed."""
    for page in strip_pages(paper):
        assert faults(page) == (), page.name


@pytest.mark.parametrize(("paper", "pages"), [("A4", 8), ("Letter", 8), ("Roll", 4)])
def test_a_strip_of_1200_mm_is_five_sheets_or_one_piece(paper: Literal["A4", "Letter", "Roll"], pages: int) -> None:
    """And three pages of cards."""
    assert len(strip_pages(paper, 1200.0)) == pages


def test_the_ruler_measures_200_mm_and_a_marker_30_mm() -> None:
    """As exported: one user unit is a millimetre, and the page says so."""
    page = strip_pages("A4")[0]
    text = svg(page).decode()
    assert 'width="297mm" height="210mm" viewBox="0 0 297 210"' in text
    level = [line for line in page.items if isinstance(line, Line) and line.start[1] == line.end[1]]
    assert max(abs(line.end[0] - line.start[0]) for line in level) == pytest.approx(200)
    black = [np.array(shape.points) for shape in page.items if isinstance(shape, Shape) and shape.fill == "black"]
    assert len(black) == 8
    assert all(np.ptp(square, axis=0) == pytest.approx([30, 30]) for square in black)


def picture(page: Page, scale: int = 8) -> np.ndarray:
    """Return a page's shapes as a picture."""
    cv2 = pytest.importorskip("cv2", reason="the optional extra `photo` is not installed")
    found = np.full((round(page.height_mm) * scale, round(page.width_mm) * scale), 255, np.uint8)
    for shape in page.items:
        if isinstance(shape, Shape) and shape.fill in ("black", "white"):
            corners = np.round(np.array(shape.points) * scale * 16 - 8).astype(np.int32)
            cv2.fillConvexPoly(found, corners, 0 if shape.fill == "black" else 255, shift=4)
    return found


def test_the_printed_markers_are_found_where_they_should_be() -> None:
    """All forty of the strip and all sixteen cards, each once and in its place."""
    pytest.importorskip("cv2", reason="the optional extra `photo` is not installed")
    from nookwright.files.photo_strip import markers_in
    from nookwright.stages.survey.marker_strip import strip_marker

    roll, *cards = strip_pages("Roll")
    seen = markers_in(picture(roll, 4)).markers
    assert sorted(seen) == list(range(16, 56))
    for number, corners in seen.items():
        one = strip_marker(number)
        assert one is not None
        x, y = corners.mean(axis=0) / 4
        assert (x - 30, 90 - y) == pytest.approx(one.middle, abs=0.2)
        assert corners[0] == pytest.approx(corners.min(axis=0), abs=1)  # the upper left one comes first
    found = [number for page in cards for number in markers_in(picture(page)).markers]
    assert sorted(found) == list(range(16))


def test_no_marker_is_printed_twice() -> None:
    """Sheets of one strip never repeat a number."""
    names = [page.name for page in strip_pages("A4", 2400)]
    assert len(set(names)) == len(names) == 13
    assert re.fullmatch(r"Marker strip, sheet 10 of 10", names[9])
