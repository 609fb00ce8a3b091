"""Sheets, scales and the mapping of model places onto paper."""

from __future__ import annotations

import math

import pytest

from nookwright.drawings.hatching import hatch_lines
from nookwright.drawings.page import Area, Shape, Text
from nookwright.drawings.page_check import faults
from nookwright.drawings.sheet import Draft, Issue, chosen_scale, finished
from nookwright.drawings.view import View, fitted


@pytest.mark.parametrize(
    ("size", "scale"),
    [((90.0, 40.0), 1), ((101.0, 40.0), 2), ((1000.0, 990.0), 10), ((1001.0, 5.0), 20), ((9000.0, 9000.0), 50)],
)
def test_the_largest_scale_that_fits_is_chosen(size, scale) -> None:
    """In a space of 100 x 100 mm; the smallest scale when none fits."""
    assert chosen_scale(size, (100.0, 100.0)) == scale


@pytest.mark.parametrize("scale", [0, 1, 2, 5, 10, 20, 50])
@pytest.mark.parametrize("landscape", [True, False])
def test_an_empty_sheet_can_be_read(any_issue, scale: int, landscape: bool) -> None:
    """Heading, title strip and bar at every scale, both ways round."""
    page = finished(Draft(name="Plan", items=(), scale=scale, landscape=landscape), any_issue, number=3, total=12)
    assert faults(page) == ()
    said = {item.text for item in page.items if isinstance(item, Text)}
    assert "3 of 12" in said
    assert (f"1:{scale}" in said) == (scale > 0)


def test_a_long_job_title_is_shortened_with_a_mark(issue) -> None:
    """Two small lines, the second ending in an ellipsis."""
    long = Issue(job="A very long title " * 12, date="", revision="A", marks=issue.marks, paper="A4")
    page = finished(Draft(name="Plan", items=()), long, number=1, total=1)
    assert faults(page) == ()
    assert any(item.text.endswith("…") for item in page.items if isinstance(item, Text))


def test_a_view_turns_z_up_into_y_down() -> None:
    """At 1:10 from (20, 200): 500 right and 1000 up lies at (70, 100)."""
    assert View(scale=10, origin=(20.0, 200.0)).at((500.0, 1000.0)) == (70.0, 100.0)


def test_a_fitted_view_centres_the_model() -> None:
    """Equal space left and right, above and below."""
    view = fitted((-100.0, 0.0), (900.0, 500.0), Area(x=10.0, y=20.0, width=120.0, height=80.0))
    (x0, y0), (x1, y1) = view.at((-100.0, 0.0)), view.at((900.0, 500.0))
    assert view.scale == 10
    assert (x0 - 10.0, y1 - 20.0) == (pytest.approx(130.0 - x1), pytest.approx(100.0 - y0))


def test_the_wall_s_band_lies_on_its_own_side() -> None:
    """Going right with the wall to the left, the band lies above the edge on paper."""
    band = View(scale=10, origin=(0.0, 100.0)).wall(((0.0, 0.0), (1000.0, 0.0)), side=1.0)[0]
    assert isinstance(band, Shape)
    assert min(y for _, y in band.points) == pytest.approx(96.0)
    assert max(y for _, y in band.points) == pytest.approx(100.0)


def test_hatch_lines_cover_their_share_of_the_area() -> None:
    """Lines a pitch apart: length times pitch comes near the area, here 40 x 30 less a 20 x 10 notch = 1000."""
    outline = (
        (0.0, 0.0),
        (40.0, 0.0),
        (40.0, 30.0),
        (30.0, 30.0),
        (30.0, 20.0),
        (10.0, 20.0),
        (10.0, 30.0),
        (0.0, 30.0),
    )
    lines = hatch_lines(outline, pitch_mm=0.1)
    assert 0.1 * sum(math.dist(a, b) for a, b in lines) == pytest.approx(1000.0, rel=5e-3)
    assert not any(10.0 < (a[0] + b[0]) / 2 < 30.0 and (a[1] + b[1]) / 2 > 20.0 for a, b in lines)
