"""Photos of the marker strip whose truth is known: a lens, a camera and a wall of their own, none of the tool's code.

Markers are drawn by the computer-vision library itself and where the strip's printed description says they are.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import pytest
from numpy.typing import NDArray

cv2 = pytest.importorskip("cv2", reason="the optional extra `photo` is not installed")

Image = NDArray[np.uint8]
PX_PER_MM = 8  # of the drawn strip
MARGIN_MM = 120
BOOK = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_100)
MARKER, PITCH, ROW, NOSE, CARD_WIDTH, TAIL, SHEET = 30.0, 60.0, 45.0, 100.0, 40.0, 20.0, 240.0


@dataclass(frozen=True)
class Camera:
    """A hand-held camera above the strip.

    Args:
        size_px: width and height of the picture.
        focal_px: focal length. [pixels]
        lens: k1, k2, k3, p1, p2 of the lens, in shares of the focal length.
        off_centre_px: how far its optical axis misses the picture's middle. [pixels]
        height_mm: above the strip. [mm]
        aside_mm: from above the strip's middle: along it, and away from the wall. [mm]
        tilt_deg: how it is turned out of straight down about both axes, and about its own. [deg]
        blur_px: of focus and hand. [pixels]
        noise: of the sensor, in 255 steps of grey.
        jpeg: quality of the file; 0 leaves the picture as it is.
    """

    size_px: tuple[int, int] = (4000, 1500)
    focal_px: float = 3000.0
    lens: tuple[float, float, float, float, float] = (0.06, -0.12, 0.05, 4e-4, -3e-4)
    off_centre_px: tuple[float, float] = (12.0, -8.0)
    height_mm: float = 1100.0
    aside_mm: tuple[float, float] = (20.0, 60.0)
    tilt_deg: tuple[float, float, float] = (4.0, -2.5, 1.5)
    blur_px: float = 0.8
    noise: float = 4.0
    jpeg: int = 90


@dataclass(frozen=True)
class Laid:
    """How strip and cards were laid.

    Args:
        columns: columns of markers on the strip.
        wall: how far the wall is from the strip's middle line, along it. [mm]
        cards_at: where the cards lie along it. [mm]
        glued_mm, glued_rad: how far each sheet strays from its place and direction, one standard deviation.
        card_mm: thickness of a card. [mm]
        cut_mm: how far a card's cut end strays, likewise. [mm]
    """

    columns: int
    wall: Callable[[float], float]
    cards_at: Sequence[float]
    glued_mm: float = 0.4
    glued_rad: float = 0.0015
    card_mm: float = 0.4
    cut_mm: float = 0.15


@dataclass(frozen=True)
class _Paper:
    image: NDArray[np.float32]
    mask: NDArray[np.float32]


def photo(laid: Laid, camera: Camera, seed: int = 0) -> tuple[Image, dict[int, tuple[float, float]]]:
    """Return a picture, and for each card where its end really lies: along the strip, and out from its middle line."""
    rng = np.random.default_rng(seed)
    length = laid.columns * PITCH
    strip, cards, ends = _strip(laid, length, rng), _blank(length), {}
    for number, at in enumerate(laid.cards_at):
        slope = (laid.wall(at + 10) - laid.wall(at - 10)) / 20
        end = (at, laid.wall(at))
        ends[number] = end
        _draw_card(cards, number, end, math.atan(slope), rng.normal(0, laid.cut_mm))
    grey = _looked_at(strip, camera, length, 0.0)
    over = _looked_at(cards, camera, length, laid.card_mm)
    picture = strip_over(grey, over)
    picture = cv2.GaussianBlur(picture, (0, 0), camera.blur_px)
    shade = np.linspace(0.75, 1.0, picture.shape[1], dtype=np.float32)[None, :]
    picture = 20 + 200 * picture * shade + rng.normal(0, camera.noise, picture.shape)
    found = np.clip(picture, 0, 255).astype(np.uint8)
    if camera.jpeg:
        found = cv2.imdecode(cv2.imencode(".jpg", found, [cv2.IMWRITE_JPEG_QUALITY, camera.jpeg])[1], 0)
    return found, ends


def strip_over(grey: tuple[NDArray[np.float32], ...], over: tuple[NDArray[np.float32], ...]) -> NDArray[np.float32]:
    """Return cards over the strip over a grey board."""
    below = 0.55 * (1 - grey[1]) + grey[0] * grey[1]
    return np.asarray(below * (1 - over[1]) + over[0] * over[1])


def _blank(length: float) -> _Paper:
    size = (round(2 * MARGIN_MM + 60) * PX_PER_MM, round(length + 2 * MARGIN_MM) * PX_PER_MM)
    return _Paper(np.ones(size, np.float32), np.zeros(size, np.float32))


def _strip(laid: Laid, length: float, rng: np.random.Generator) -> _Paper:
    paper = _blank(length)
    for first in range(0, laid.columns, 4):
        middle = np.array([(first + 2) * PITCH, 0.0])
        move = rng.normal(0, laid.glued_mm, 2)
        turn = _turn(rng.normal(0, laid.glued_rad))
        placed = lambda local, m=middle, d=move, t=turn: (np.array(local) - m) @ t.T + m + d  # noqa: E731
        left, right = first * PITCH, (first + 4) * PITCH
        _fill(paper.mask, placed([(left, -70), (right, -70), (right, 70), (left, 70)]), 1.0)
        for column in range(first, min(first + 4, laid.columns)):
            for row, y in ((0, ROW), (1, -ROW)):
                _draw_marker(
                    paper,
                    16 + 2 * column + row,
                    lambda local, p=placed, c=column, y=y: p(np.add(local, ((c + 0.5) * PITCH, y))),
                )
    return paper


def _turn(angle: float) -> NDArray[np.float64]:
    return np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])


def _draw_card(paper: _Paper, number: int, end: tuple[float, float], angle: float, cut: float) -> None:
    turn = _turn(angle)
    placed = lambda local: (np.array(local) - (0, NOSE + cut)) @ turn.T + end  # noqa: E731
    half = CARD_WIDTH / 2
    outline = placed([(-half, -TAIL), (half, -TAIL), (half, NOSE + cut), (-half, NOSE + cut)])
    _fill(paper.mask, outline, 1.0)
    _fill(paper.image, outline, 1.0)
    _draw_marker(paper, number, placed)


def _draw_marker(paper: _Paper, number: int, placed: Callable[..., NDArray[np.float64]]) -> None:
    squares = cv2.aruco.generateImageMarker(BOOK, number, 6, borderBits=1)
    side = MARKER / 6
    for row in range(6):
        for column in range(6):
            if squares[row, column] == 0:
                x, y = -MARKER / 2 + column * side, MARKER / 2 - row * side
                _fill(paper.image, placed([(x, y), (x + side, y), (x + side, y - side), (x, y - side)]), 0.05)


def _fill(image: NDArray[np.float32], corners: NDArray[np.float64], value: float) -> None:
    """Fill a shape given on the strip's plane: x along it, y towards the wall, up in the drawing."""
    at = np.column_stack([corners[:, 0] + MARGIN_MM, MARGIN_MM + 60 - corners[:, 1]]) * PX_PER_MM - 0.5
    cv2.fillConvexPoly(image, np.round(at * 256).astype(np.int32), value, lineType=cv2.LINE_8, shift=8)


def _looked_at(paper: _Paper, camera: Camera, length: float, height: float) -> tuple[NDArray[np.float32], ...]:
    """Return a paper and its mask as the camera sees them."""
    width, tall = camera.size_px
    step = 8  # the bent rays change slowly: worked out for every eighth pixel, between by cubics
    us = np.arange(-step, width + 2 * step, step, dtype=np.float64)
    vs = np.arange(-step, tall + 2 * step, step, dtype=np.float64)
    x, y = _met(camera, length, height, *np.meshgrid(us, vs))
    big = [
        _finer(part, step, camera.size_px)
        for part in ((x + MARGIN_MM) * PX_PER_MM - 0.5, (MARGIN_MM + 60 - y) * PX_PER_MM - 0.5)
    ]
    sigma = 0.5 * camera.height_mm / camera.focal_px * PX_PER_MM
    return tuple(
        cv2.remap(
            cv2.GaussianBlur(part, (0, 0), sigma),
            *big,
            cv2.INTER_LINEAR,
            borderMode=cv2.BORDER_CONSTANT,
            borderValue=edge,
        )
        for part, edge in ((paper.image, 1.0), (paper.mask, 0.0))
    )


def _finer(part: NDArray[np.float64], step: int, size: tuple[int, int]) -> NDArray[np.float32]:
    """Return values given for every so many pixels, from one step before the first, for every pixel."""
    width, tall = size
    us = (np.arange(width, dtype=np.float32) + step) / step
    vs = (np.arange(tall, dtype=np.float32) + step) / step
    grid = np.meshgrid(us, vs)
    return cv2.remap(part.astype(np.float32), grid[0], grid[1], cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE)


def _met(
    camera: Camera, length: float, height: float, us: NDArray[np.float64], vs: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return where the ray of each pixel meets the plane at a height: along the strip, and towards the wall."""
    centre = np.array(camera.size_px) / 2 - 0.5 + camera.off_centre_px
    bent_x, bent_y = (us - centre[0]) / camera.focal_px, (vs - centre[1]) / camera.focal_px
    x, y = bent_x.copy(), bent_y.copy()
    k1, k2, k3, p1, p2 = camera.lens
    for _ in range(25):
        r2 = x**2 + y**2
        radial = 1 + k1 * r2 + k2 * r2**2 + k3 * r2**3
        x, y = (
            (bent_x - 2 * p1 * x * y - p2 * (r2 + 2 * x**2)) / radial,
            (bent_y - p1 * (r2 + 2 * y**2) - 2 * p2 * x * y) / radial,
        )
    a, b, c = (math.radians(angle) for angle in camera.tilt_deg)
    about_x = np.array([[1, 0, 0], [0, math.cos(a), -math.sin(a)], [0, math.sin(a), math.cos(a)]])
    about_y = np.array([[math.cos(b), 0, math.sin(b)], [0, 1, 0], [-math.sin(b), 0, math.cos(b)]])
    about_z = np.array([[math.cos(c), -math.sin(c), 0], [math.sin(c), math.cos(c), 0], [0, 0, 1]])
    # The camera looks down: right along the strip, its picture's down away from the wall.
    rays = np.stack([x, -y, -np.ones_like(x)], axis=-1) @ (about_z @ about_y @ about_x).T
    eye = np.array([length / 2 + camera.aside_mm[0], 30 - camera.aside_mm[1], camera.height_mm])
    reach = (height - eye[2]) / rays[..., 2]
    return eye[0] + reach * rays[..., 0], eye[1] + reach * rays[..., 1]
