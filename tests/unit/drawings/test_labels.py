"""Labels: every part has one, in the order it is cut, and every one can be read."""

from __future__ import annotations

from dataclasses import replace

from nookwright.drawings.page import Text
from nookwright.drawings.page_check import faults
from nookwright.drawings.pages.labels import ACROSS, DOWN, label_pages


def numbers(pages) -> list[str]:
    """Return the part numbers, the largest words."""
    return [item.text for page in pages for item in page.items if isinstance(item, Text) and item.height_mm >= 7.0]


def test_every_part_has_a_label_in_the_order_it_is_cut(parts, cutting, shop, issue) -> None:
    """Sheet 1 gives C2, C3, C4, C1, the board T2, T1; what is not in the plan comes last."""
    assert numbers(label_pages(parts, cutting, shop, issue)) == ["C2", "C3", "C4", "C1", "T2", "T1", "C5", "C6"]


def test_labels_can_be_read(parts, cutting, shop, any_issue) -> None:
    """Nothing runs into anything, off the paper, or over a cutting line."""
    (page,) = label_pages(parts, cutting, shop, any_issue)
    assert faults(page) == ()


def test_large_figures_stand_clear_of_the_name_above(parts, cutting, shop, issue) -> None:
    """A fraction rises above its figures: each size keeps 1.4 of its height below the name's line."""
    (page,) = label_pages(parts, cutting, shop, issue)
    words = [item for item in page.items if isinstance(item, Text)]
    sizes = [item for item in words if item.bold and " x " in item.text]
    assert {item.height_mm for item in sizes} >= {5.0}
    for size in sizes:
        above = max(w.at[1] for w in words if w.at[0] == size.at[0] and w.at[1] < size.at[1])
        assert size.at[1] - above >= 1.4 * size.height_mm


def test_a_page_holds_so_many_and_a_long_name_is_shortened(parts, cutting, shop, issue) -> None:
    """One label more than fits a page begins the next; the part drawing has the whole name."""
    long = "shelf beside the chimney breast with a very long name that nobody would type"
    many = replace(parts, parts=tuple(replace(parts.parts[0], number=f"A{i}", name=long) for i in range(22)))
    first, second = label_pages(many, cutting, shop, issue)
    assert len(numbers((first,))) == ACROSS * DOWN == 21
    assert numbers((second,)) == ["A21"]
    assert faults(first) == ()
    assert any(item.text.endswith("…") for item in first.items if isinstance(item, Text))


def test_a_label_says_what_is_still_to_be_done(parts, cutting, shop, issue) -> None:
    """Bevels, scribes with what they meet, housings, cut-outs."""
    (page,) = label_pages(parts, cutting, shop, issue)
    words = [item.text for item in page.items if isinstance(item, Text)]
    assert "bevel 40.1°; 1 housing" in words
    assert "scribe 12 mm to left wall" in words
    assert "1 cut-out" in words
