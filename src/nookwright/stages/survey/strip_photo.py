"""A photo of the marker strip with its cards -> how far the wall is from a straight line, the lens found as well.

One adjustment: the strip's markers tell how the camera looks at the strip's plane and how its lens bends lines, and
how each glued sheet really lies; the cards' markers tell where the cards lie.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.adjust import Adjustment, adjust
from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.solvers.plane_camera import LENS, VIEW, first_view, on_plane, project
from nookwright.solvers.whitened import Block
from nookwright.stages.survey.marker_strip import CARDS, NOSE_MM, corners_about, strip_marker

CORNER_PX = 0.3
LEAST_CORNER_PX = 0.1
"""How closely a marker's corner is found, one standard deviation, until the photo itself tells; and at best. [pixels]
Common practice, no source."""

GLUED_MM = 0.5
GLUED_MM_PER_M = 2.0
"""How far a sheet glued to the board strays from its place and direction, one standard deviation.
Common practice, no source."""

ONE_PIECE = 1e-3
"""A strip printed in one piece has one sheet, which strays by this share of that: it settles the frame."""

CARD_SD_MM = 0.3
"""How far a card's cut end strays from its line, and the end from the wall, one standard deviation. [mm]
Common practice, no source."""

LEAST_MARKERS = 8
LEAST_CARDS = 3
"""Fewer markers of the strip leave the lens open; fewer cards show no shape."""

MISREAD_PX = 4.0
MISREAD_TIMES = 6.0
"""A marker whose corners miss by more than either, median of all beside, is misread or on bent paper.
Common practice, no source."""

WORST_PX = 1.5
"""Corners that miss by more than this, root of the mean square, tell of bent paper or an unusual lens. [pixels]
Common practice, no source."""

Detections = Mapping[int, Matrix]
"""Of each marker seen: its four corners in the photo, x right and y down, clockwise from its upper left. [pixels]"""


class UnusablePhotoError(ValueError):
    """A photo that shows no profile; `hint` says what to do."""

    def __init__(self, found: str, hint: str) -> None:
        """Keep what was found and what to do."""
        super().__init__(found)
        self.hint = hint


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """A card: how far along the strip, how far the wall is from its middle line, and how sure that is. [mm]"""

    card: int
    along_mm: float
    out_mm: float
    sd_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoProfile:
    """What a photo of the strip shows.

    Args:
        stations: the cards, along the strip.
        corner_px: how far corners miss, root of the mean square. [pixels]
        markers: how many markers of the strip counted.
        left_out: markers that did not fit the others.
    """

    stations: tuple[Station, ...]
    corner_px: float
    markers: int
    left_out: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Sight:
    """The photo made ready: corners seen, in shares of half the picture's diagonal from its middle.

    Args:
        numbers: the strip's markers, then the cards.
        sheets: of each of the strip's markers: its sheet's place among the sheets.
        printed: four corners each, on the strip or about the card's middle. [mm]
        seen: four corners each.
        pixel: one pixel in those shares.
        sheet_count: number of sheets.
    """

    numbers: tuple[int, ...]
    sheets: NDArray[np.intp]
    printed: NDArray[np.float64]
    seen: NDArray[np.float64]
    pixel: float
    sheet_count: int

    @property
    def strip_count(self) -> int:
        return len(self.sheets)

    @property
    def card_count(self) -> int:
        return len(self.numbers) - len(self.sheets)

    @property
    def middles(self) -> Matrix:
        """Return the middles about which sheets turn: those of their own markers, one row a sheet. [mm]"""
        whole = self.printed[: self.strip_count].mean(axis=1)
        return np.array([whole[self.sheets == sheet].mean(axis=0) for sheet in range(self.sheet_count)])

    def without(self, numbers: set[int]) -> _Sight:
        """Return the sight without some markers."""
        kept = [row for row, number in enumerate(self.numbers) if number not in numbers]
        strip = [row for row in kept if row < self.strip_count]
        known, sheets = np.unique(self.sheets[strip], return_inverse=True)
        return _Sight(
            numbers=tuple(self.numbers[row] for row in kept),
            sheets=sheets.astype(np.intp),
            printed=self.printed[kept],
            seen=self.seen[kept],
            pixel=self.pixel,
            sheet_count=len(known),
        )


def profile_of(
    detections: Detections, size_px: tuple[int, int], *, one_piece: bool, ruler: float = 1.0
) -> PhotoProfile:
    """Return how far the wall is from a straight line along the strip.

    Args:
        detections: the markers seen.
        size_px: the photo's width and height. [pixels]
        one_piece: whether the strip was printed in one piece, not on sheets glued side by side.
        ruler: how long its ruler really is, as a share of what is printed.

    Returns:
        One station for each card.

    Raises:
        UnusablePhotoError: if too little is seen, or it fits no flat strip.
    """
    sight = _sight(detections, size_px, one_piece)
    _expect_enough(sight)
    found, left_out = _adjusted(sight, CORNER_PX), set[int]()
    for _ in range(3):
        wrong = _misread(sight, found)
        if not wrong:
            break
        left_out |= wrong
        sight = sight.without(wrong)
        _expect_enough(sight)
        found = _adjusted(sight, CORNER_PX)
    found = _adjusted(sight, max(_corner_px(sight, found), LEAST_CORNER_PX))
    corner_px = _corner_px(sight, found)
    if not found.converged or corner_px > WORST_PX:
        found_instead = f"markers that miss a flat strip by {corner_px:.1f} pixels"
        raise UnusablePhotoError(
            found_instead,
            "Glue the strip flat, stand farther back, and take the picture without a wide-angle lens.",
        )
    return PhotoProfile(
        stations=_stations(sight, found, ruler),
        corner_px=corner_px,
        markers=sight.strip_count,
        left_out=tuple(sorted(left_out)),
    )


def _sight(detections: Detections, size_px: tuple[int, int], one_piece: bool) -> _Sight:
    strip = [marker for number in sorted(detections) if (marker := strip_marker(number)) is not None]
    cards = [number for number in sorted(detections) if number < CARDS]
    half = math.hypot(*size_px) / 2
    middle = np.array(size_px) / 2 - 0.5  # pixel 0 lies about its own middle
    numbers = (*(marker.number for marker in strip), *cards)
    seen = np.array([detections[number] for number in numbers], dtype=np.float64).reshape(-1, 4, 2)
    printed = [corners_about(marker.middle) for marker in strip] + [corners_about((0.0, 0.0))] * len(cards)
    sheets = [0 if one_piece else marker.sheet for marker in strip]
    known, places = np.unique(np.array(sheets, dtype=np.intp), return_inverse=True)
    return _Sight(
        numbers=numbers,
        sheets=places.astype(np.intp),
        printed=np.array(printed).reshape(-1, 4, 2),
        seen=(seen - middle) / half,
        pixel=1 / half,
        sheet_count=len(known),
    )


def _expect_enough(sight: _Sight) -> None:
    if sight.strip_count < LEAST_MARKERS:
        found = f"{sight.strip_count} of the strip's markers" if sight.strip_count else "none of the strip's markers"
        raise UnusablePhotoError(
            found, "Take the picture from nearer, sharp and evenly lit, with the whole strip in it."
        )
    if sight.card_count < LEAST_CARDS:
        found = f"{sight.card_count or 'no'} card{'' if sight.card_count == 1 else 's'}"
        raise UnusablePhotoError(found, f"Lay at least {LEAST_CARDS} cards across the strip, their ends on the wall.")


def _corner_px(sight: _Sight, found: Adjustment) -> float:
    """Return how far corners miss, root of the mean square. [pixels]"""
    return float(np.sqrt(np.mean(found.residuals[: 8 * len(sight.numbers)] ** 2))) / sight.pixel


def _adjusted(sight: _Sight, corner_px: float) -> Adjustment:
    """Adjust view, lens, sheets and cards together."""
    strip = sight.strip_count
    view = first_view(sight.printed[:strip].reshape(-1, 2), sight.seen[:strip].reshape(-1, 2))
    start = np.zeros(VIEW + LENS + 3 * (sight.sheet_count + sight.card_count))
    start[:VIEW] = view
    for card in range(sight.card_count):
        at = VIEW + LENS + 3 * (sight.sheet_count + card)
        corners = on_plane(view, sight.seen[strip + card])
        along = corners[1] - corners[0] + corners[2] - corners[3]
        start[at : at + 3] = (*corners.mean(axis=0), math.atan2(along[1], along[0]))
    moves = 3 * sight.sheet_count
    share = ONE_PIECE if sight.sheet_count == 1 else 1.0
    glued = np.tile([GLUED_MM, GLUED_MM, GLUED_MM_PER_M / 1000], sight.sheet_count) * share

    def stays(state: Vector) -> tuple[Vector, Matrix]:
        return state[VIEW + LENS : VIEW + LENS + moves], np.eye(moves)

    corners_block = Block(
        evaluate=lambda state: _corners(sight, state),
        columns=np.arange(len(start)),
        sd=np.full(8 * len(sight.numbers), corner_px * sight.pixel),
    )
    sheets_block = Block(evaluate=stays, columns=np.arange(VIEW + LENS, VIEW + LENS + moves), sd=glued)
    return adjust(start=start, blocks=[corners_block, sheets_block], most_iterations=60, standstill=1e-7)


def _corners(sight: _Sight, state: Vector) -> tuple[Vector, Matrix]:
    """Return how far every corner misses its place in the photo, with derivatives."""
    places, by_pose, poses = _on_strip(sight, state)
    seen, by_camera, by_place = project(state[:VIEW], state[VIEW : VIEW + LENS], places.reshape(-1, 2))
    count = len(seen)
    jacobian = np.zeros((count, 2, len(state)))
    jacobian[:, :, : VIEW + LENS] = by_camera
    chained = np.einsum("nij,njk->nik", by_place, by_pose.reshape(count, 2, 3))
    columns = (VIEW + LENS + 3 * np.repeat(poses, 4))[:, None] + np.arange(3)
    jacobian[np.arange(count)[:, None, None], np.arange(2)[None, :, None], columns[:, None, :]] = chained
    return (seen - sight.seen.reshape(-1, 2)).ravel(), jacobian.reshape(2 * count, -1)


def _on_strip(sight: _Sight, state: Vector) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.intp]]:
    """Return every corner on the strip's plane, its derivatives by its sheet's or card's pose, and whose pose it is."""
    poses = np.concatenate([sight.sheets, sight.sheet_count + np.arange(sight.card_count)])
    pivots = np.concatenate([sight.middles, np.zeros((sight.card_count, 2))])
    pose = state[VIEW + LENS :].reshape(-1, 3)[poses]
    from_pivot = sight.printed - pivots[poses][:, None, :]
    cosine, sine = np.cos(pose[:, 2])[:, None], np.sin(pose[:, 2])[:, None]
    x, y = from_pivot[..., 0], from_pivot[..., 1]
    turned = np.stack([cosine * x - sine * y, sine * x + cosine * y], axis=-1)
    places = turned + (pivots[poses] + pose[:, :2])[:, None, :]
    by_pose = np.zeros((*places.shape, 3))
    by_pose[..., 0, 0] = by_pose[..., 1, 1] = 1.0
    by_pose[..., 0, 2], by_pose[..., 1, 2] = -turned[..., 1], turned[..., 0]
    return places, by_pose, poses


def _misread(sight: _Sight, found: Adjustment) -> set[int]:
    """Return the markers whose corners miss far more than the others'."""
    misses = np.sqrt(np.mean(found.residuals[: 8 * len(sight.numbers)].reshape(-1, 8) ** 2, axis=1)) / sight.pixel
    limit = max(MISREAD_PX, MISREAD_TIMES * float(np.median(misses)))
    return {number for number, miss in zip(sight.numbers, misses, strict=True) if miss > limit}


def _stations(sight: _Sight, found: Adjustment, ruler: float) -> tuple[Station, ...]:
    stations = []
    for card in range(sight.card_count):
        at = VIEW + LENS + 3 * (sight.sheet_count + card)
        x, y, turn = found.state[at : at + 3]
        row = np.array([0.0, 1.0, -NOSE_MM * math.sin(turn)])
        variance = float(row @ found.covariance[at : at + 3, at : at + 3] @ row)
        stations.append(
            Station(
                card=sight.numbers[sight.strip_count + card],
                along_mm=ruler * (x - NOSE_MM * math.sin(turn)),
                out_mm=ruler * (y + NOSE_MM * math.cos(turn)),
                sd_mm=math.hypot(math.sqrt(variance), CARD_SD_MM),
            )
        )
    return tuple(sorted(stations, key=lambda station: station.along_mm))
