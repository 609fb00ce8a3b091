"""Long point, short point, mitre and tilt, from hand calculation."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from nookwright.basics.lengths import Marks
from nookwright.drawings.clearance import Taken
from nookwright.drawings.page import Text
from nookwright.drawings.part_dimensions import part_dimensions
from nookwright.drawings.part_sizes import degrees, edge_cuts, plain
from nookwright.drawings.view import View
from nookwright.stages.parts.part import SQUARE
from nookwright.stages.parts.sizes import sizes, way_of


def test_a_bevelled_end_has_its_long_point_on_the_larger_face(parts) -> None:
    """Tilt 40.1 degrees in 18 mm: face B is longer by 18 tan 40.1 = 15.157 mm."""
    size = sizes(parts.part("C1"))
    assert (size.long_on, size.short_mm) == ("B", 850.0)
    assert size.long_mm == pytest.approx(850.0 + 18.0 * math.tan(math.radians(40.1)))
    assert size.long_mm == pytest.approx(865.157, abs=1e-3)


def test_a_mitred_strip_has_its_points_on_its_edges(parts) -> None:
    """1180.5 along the lower edge, 1142.6 - 37.9 = 1104.7 along the upper."""
    size = sizes(parts.part("T2"))
    assert (size.long_mm, size.long_on) == (1180.5, "A")
    assert size.short_mm == pytest.approx(1104.7)
    assert size.width_mm == 45.0


def test_mitres_are_given_from_square(parts) -> None:
    """The strip's ends rise 45 in 37.9: atan(37.9 / 45) = 40.1 degrees off square; its long edges are square."""
    cuts = edge_cuts(parts.part("T2"))
    assert [degrees(cut.mitre_deg) for cut in cuts] == ["square", "40.1°", "square", "40.1°"]
    assert [cut.letter for cut in cuts] == ["a", "b", "c", "d"]


def test_a_rake_is_given_from_the_nearer_of_grain_and_square(parts) -> None:
    """The back's raked edge rises 825 in 980: 40.1 degrees from the grain."""
    assert degrees(edge_cuts(parts.part("C6"))[3].mitre_deg) == "40.1°"


def test_a_slightly_slanted_long_edge_is_no_end(parts) -> None:
    """A top 600 deep whose back edge slants by 10 in 1000 is measured along its front and back, not at its tip."""
    top = replace(
        parts.part("C2"),
        outline=((0.0, 0.0), (1000.0, 0.0), (1000.0, 600.0), (0.0, 590.0)),
        edges=(SQUARE, SQUARE, SQUARE, SQUARE),
    )
    assert sizes(top).long_mm == pytest.approx(math.hypot(1000, 10))
    assert sizes(top).short_mm == pytest.approx(1000)


def test_covers_are_rounded_up_and_what_enters_a_gap_down(parts) -> None:
    """A strip covers; a shelf must go in."""
    assert (way_of(parts.part("T1")), way_of(parts.part("C5"))) == ("up", "down")


def test_a_rectangle_with_nothing_in_it_needs_no_drawing(parts) -> None:
    """C2, C4 and C5 are plain; a groove, a hole, a bevel or a scribe edge is not."""
    assert [part.number for part in parts.parts if plain(part)] == ["C2", "C4", "C5"]


def test_no_size_is_drawn_that_would_read_0(parts) -> None:
    """A strip 45 wide at one end and 44.9 at the other has one width: in half millimetres the rest of it is none."""
    strip = replace(parts.part("T2"), outline=((0.0, 0.0), (1180.5, 0.0), (1142.6, 45.0), (37.9, 44.9)))
    marks, view = Marks(units="mm", resolution=0.5), View(scale=10, origin=(40.0, 100.0))
    said = [item.text for item in part_dimensions(strip, view, marks, Taken()) if isinstance(item, Text)]
    assert said.count("45") == 1
    assert "0" not in said
