"""The marker strip: its markers are those of the open dictionary, where its description says."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.stages.survey.marker_strip import (
    CARDS,
    HALF_WIDTH_MM,
    MARKER_MM,
    MOST_COLUMNS,
    columns_for,
    corners_about,
    squares_of,
    strip_marker,
)


def test_every_marker_is_the_one_of_the_open_dictionary() -> None:
    """All hundred, square by square, beside those the computer-vision library draws."""
    cv2 = pytest.importorskip("cv2", reason="the optional extra `photo` is not installed")
    book = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_100)
    for number in range(100):
        drawn = cv2.aruco.generateImageMarker(book, number, 6, borderBits=1) == 0
        assert np.array_equal(np.array(squares_of(number)), drawn), number


def test_no_two_markers_look_alike_however_they_are_turned() -> None:
    """Any two differ in two squares or more in all four turns."""
    faces = [np.array(squares_of(number)) for number in range(100)]
    for number, face in enumerate(faces):
        for turn in range(4):
            apart = [np.count_nonzero(np.rot90(face, turn) != other) for other in faces[number + 1 :]]
            assert min(apart, default=2) >= 2


def test_the_strip_begins_after_the_cards_with_its_wall_row() -> None:
    """Columns of two, 60 mm apart, the first 30 mm from zero; four columns a sheet."""
    places = [(one.middle, one.sheet) for number in (16, 17, 18, 24) if (one := strip_marker(number))]
    assert places == [((30, 45), 0), ((30, -45), 0), ((90, 45), 0), ((270, 45), 1)]


def test_other_numbers_are_not_the_strips() -> None:
    """Cards have the first sixteen; the dictionary ends at 99."""
    assert strip_marker(CARDS - 1) is None
    assert strip_marker(CARDS + 2 * MOST_COLUMNS) is None


def test_markers_lie_within_the_strip() -> None:
    """With a white border of a square's width or more all round, which finding them needs."""
    for number in range(CARDS, CARDS + 2 * MOST_COLUMNS):
        one = strip_marker(number)
        assert one is not None
        assert max(abs(y) for _, y in corners_about(one.middle)) <= HALF_WIDTH_MM - MARKER_MM / 6


@pytest.mark.parametrize(("length", "columns"), [(1, 4), (240, 4), (241, 8), (1200, 20), (2400, 40), (9999, 40)])
def test_a_strip_is_of_whole_sheets(length: float, columns: int) -> None:
    """240 mm each, and no more than there are markers for."""
    assert columns_for(length) == columns
