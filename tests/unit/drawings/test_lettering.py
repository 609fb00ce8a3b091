"""Widths of words, line breaks and true fractions."""

from __future__ import annotations

from importlib import resources

import pytest
from fontTools.ttLib import TTFont

from nookwright.drawings.lettering import (
    FIGURE_SHARE,
    drawable,
    font_size_mm,
    letters_known,
    text_corners,
    true_fractions,
    width_mm,
    wrapped,
)  # fmt: skip
from nookwright.drawings.page import Text

FONTS = resources.files("nookwright.drawings").joinpath("fonts")


@pytest.mark.parametrize(
    ("plain", "set_as"),
    [
        ("33 5/8", "33 ⁵\u2044₈"),
        ("13/16", "¹³\u2044₁₆"),
        ("1/3", "1/3"),
        ("4/8/2026", "4/8/2026"),
        ("1:10", "1:10"),
        ("7 15/32 and 3/4", "7 ¹⁵\u2044₃₂ and ³\u2044₄"),
    ],
)
def test_only_inch_fractions_are_raised(plain: str, set_as: str) -> None:
    """A whole number, a date and a scale stay as they are."""
    assert true_fractions(plain) == set_as


def test_widths_agree_with_the_font_itself() -> None:
    """The table says what the font file says, for both weights."""
    for file, bold in (("NookSans-Regular.ttf", False), ("NookSans-Bold.ttf", True)):
        font = TTFont(str(FONTS.joinpath(file)))
        cmap, advances, em = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
        text = "33 ⁵\u2044₈ Höhe ±"
        wide = sum(advances[cmap[ord(letter)]][0] for letter in text) / em * font_size_mm(3.5)
        assert width_mm(text, 3.5, bold=bold) == pytest.approx(wide, rel=2e-3)


def test_a_figure_is_drawn_as_high_as_asked() -> None:
    """The outline of figure 1 in the font gives the share of the size."""
    font = TTFont(str(FONTS.joinpath("NookSans-Regular.ttf")))
    one = font["glyf"][font.getBestCmap()[ord("1")]]
    assert one.yMax / font["head"].unitsPerEm == pytest.approx(FIGURE_SHARE)


def test_figures_are_all_equally_wide() -> None:
    """Columns of sizes line up."""
    assert len({round(width_mm(figure, 3.5), 6) for figure in "0123456789"}) == 1


def test_lines_keep_within_the_limit() -> None:
    """Even a word longer than the line is broken."""
    lines = wrapped("a platform under-the-wardrobe-all-the-way-along of 18 mm board", 25.0, 3.5)
    assert all(width_mm(line, 3.5) <= 25.0 for line in lines)
    assert "".join(lines).replace(" ", "") == "aplatformunder-the-wardrobe-all-the-way-alongof18mmboard"


def test_a_line_feed_starts_a_line() -> None:
    """Cells may hold several lines."""
    assert wrapped("one\ntwo", 100.0, 3.5) == ("one", "two")


def test_no_line_ends_between_a_number_and_its_fraction() -> None:
    """Or 2 7/16 reads as 2; but where both do not fit the line there is no other way."""
    words = "rip a lane 2 7/16 wide"
    for limit in range(12, 60):
        lines = wrapped(words, float(limit), 3.5)
        assert " ".join(lines) == true_fractions(words)
        assert not any(line.endswith("2") for line in lines)
    narrow = width_mm(true_fractions("2 7/16"), 3.5) - 0.1
    assert wrapped("2 7/16", narrow, 3.5) == ("2", true_fractions("7/16"))


def test_letters_the_font_lacks_are_shown_as_a_question_mark() -> None:
    """Nothing vanishes unseen."""
    assert "木" not in letters_known()
    assert drawable("木 5\nm") == "? 5\nm"


def test_turned_words_take_a_turned_space() -> None:
    """At 90 degrees words run up the paper: their height lies to the left of the anchor."""
    corners = text_corners(Text(at=(100.0, 100.0), text="850", height_mm=5.0, angle_deg=90.0))
    wide = width_mm("850", 5.0)
    assert min(x for x, _ in corners) == pytest.approx(95.0)
    assert min(y for _, y in corners) == pytest.approx(100.0 - wide)
    assert max(y for _, y in corners) == pytest.approx(100.0)
