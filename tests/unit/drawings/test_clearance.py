"""Outlines that touch, and the page check's own eyes."""

from __future__ import annotations

import pytest

from nookwright.drawings.clearance import Taken, touching
from nookwright.drawings.lettering import text_corners
from nookwright.drawings.page import Area, Circle, Line, Page, Shape, Text
from nookwright.drawings.page_check import faults

BOX = ((0.0, 0.0), (10.0, 0.0), (10.0, 5.0), (0.0, 5.0))


@pytest.mark.parametrize(
    ("other", "gap", "touches"),
    [
        (((9.0, 4.0), (20.0, 4.0), (20.0, 9.0), (9.0, 9.0)), 0.0, True),
        (((11.0, 0.0), (20.0, 0.0), (20.0, 5.0), (11.0, 5.0)), 0.0, False),
        (((11.0, 0.0), (20.0, 0.0), (20.0, 5.0), (11.0, 5.0)), 1.5, True),
        (((-5.0, 8.0), (8.0, -5.0)), 0.0, True),
        (((9.0, 8.0), (13.0, 4.0)), 0.0, False),
    ],
)
def test_outlines_touch_when_no_edge_parts_them(other, gap, touches) -> None:
    """The last line passes the corner (10, 5) at a distance: x + y = 17 there, 15 at the corner."""
    assert touching(BOX, other, gap_mm=gap) is touches


def test_words_keep_out_of_words_lines_and_margins() -> None:
    """Each of the three makes a place unfree."""
    text = Text(at=(50.0, 50.0), text="850")
    for taken in (
        Taken(words=[text_corners(text)]),
        Taken(lines=[((50.0, 40.0), (55.0, 60.0))]),
        Taken(within=Area(x=0.0, y=0.0, width=52.0, height=100.0)),
    ):
        assert not taken.free(text_corners(text))
    assert Taken(within=Area(x=0.0, y=0.0, width=90.0, height=90.0)).free(text_corners(text))


def page(*items) -> Page:
    """Return an A4 sheet."""
    return Page(name="test", paper="A4", landscape=False, items=items)


def test_the_check_sees_words_on_words() -> None:
    """Two sizes on one place cannot be read."""
    assert faults(page(Text(at=(50.0, 50.0), text="850"), Text(at=(52.0, 51.0), text="12"))) == (
        "'850' runs into '12'",
    )


def test_the_check_sees_a_line_through_words_unless_a_white_ring_hides_it() -> None:
    """A ring drawn after the line hides it; a line drawn after the ring does not hide."""
    line, ring = Line(start=(40.0, 48.0), end=(70.0, 48.0)), Circle(centre=(51.0, 48.5), radius=4.0, fill="white")
    text = Text(at=(51.0, 50.0), text="7", anchor="middle")
    assert faults(page(line, text)) == ("'7' is crossed by a line from (40.0, 48.0)",)
    assert faults(page(line, ring, text)) == ()
    assert len(faults(page(ring, line, text))) == 1


def test_the_check_sees_a_shape_s_outline_through_words() -> None:
    """An outline is a line too; a fill alone is not."""
    outline = ((40.0, 40.0), (52.0, 40.0), (52.0, 60.0), (40.0, 60.0))
    text = Text(at=(45.0, 50.0), text="12345")
    assert len(faults(page(Shape(points=outline), text))) == 1
    assert faults(page(Shape(points=outline, pen=None, fill="tint"), text)) == ()


def test_the_check_sees_small_words_missing_letters_and_the_margin() -> None:
    """One fault each."""
    assert faults(page(Text(at=(50.0, 50.0), text="8", height_mm=2.0))) == ("'8' is 2 mm high",)
    assert "letters the font lacks" in faults(page(Text(at=(50.0, 50.0), text="木")))[0]
    assert "reaches into the margin" in faults(page(Line(start=(9.0, 50.0), end=(20.0, 50.0))))[0]
