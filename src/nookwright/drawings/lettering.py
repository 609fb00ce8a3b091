"""Lettering: how wide words are drawn, where lines break, and true fractions."""

from __future__ import annotations

import csv
import math
import re
from functools import cache, lru_cache
from importlib import resources

from nookwright.drawings.page import Text
from nookwright.geometry.frame import Point2

FAMILY = "Nook Sans"
FIGURE_SHARE = 1493 / 2048
"""Height of a figure over the font's size; from the font's own outlines."""

DESCENT_SHARE = 0.3
"""How far letters such as g reach below the line, over the height of a figure; from the font's own outlines."""

ROUND_SHARE = 0.03
"""How far round figures such as 8 reach below the line, over the height of a figure; from the font's own outlines."""

LINE_PITCH = 1.65
"""Distance from line to line, over the height of a figure. Common practice, no source."""

NOTES_MM = 2.5
"""Height of notes, the smallest words on a sheet. Common practice, no source. [mm]"""

_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_LOWERED = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
_REACH_BELOW = frozenset("gjpqyJQ,;()[]{}|/@$µçþ₀₁₂₃₄₅₆₇₈₉\u2044")
_INCH_FRACTION = re.compile(r"(?<![\d/.,])(\d{1,2})/(2|4|8|16|32|64)(?![\d/])")
_WORD_ENDS = re.compile(r"(?<!\d) | (?![⁰¹²³⁴⁵⁶⁷⁸⁹]+\u2044)")
"""Spaces where a line may end: not between a whole number and its fraction, or 2 7/16 reads as 2."""


def font_size_mm(height_mm: float) -> float:
    """Return the font size whose figures are drawn `height_mm` high. [mm]"""
    return height_mm / FIGURE_SHARE


def true_fractions(text: str) -> str:
    r"""Return the text with inch fractions set as raised and lowered figures.

    Example:
        >>> true_fractions("33 5/8") == "33 ⁵\u2044₈"
        True
    """
    return _INCH_FRACTION.sub(lambda found: f"{found[1].translate(_RAISED)}\u2044{found[2].translate(_LOWERED)}", text)


@cache
def _widths(bold: bool) -> dict[str, float]:
    """Return each letter's advance in a weight as a share of the font size."""
    source = resources.files("nookwright.drawings").joinpath("fonts/widths.csv")
    lines = [line for line in source.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    weight = "bold" if bold else "regular"
    return {chr(int(row["codepoint"], 16)): float(row[weight]) / 1000 for row in csv.DictReader(lines)}


@cache
def letters_known() -> frozenset[str]:
    """Return every letter the font can draw."""
    return frozenset(_widths(bold=False))


def drawable(text: str) -> str:
    """Return the text with every letter the font lacks replaced by `?`, so that nothing vanishes unseen."""
    known = letters_known()
    return "".join(letter if letter in known or letter == "\n" else "?" for letter in text)


def width_mm(text: str, height_mm: float, *, bold: bool = False) -> float:
    """Return how wide the words are drawn. [mm]"""
    return _width_share(text, bold) * font_size_mm(height_mm)


@lru_cache(maxsize=50_000)
def _width_share(text: str, bold: bool) -> float:
    """Return how wide the words are drawn as a share of the font size; the same ones are asked for again and again."""
    widths = _widths(bold)
    return sum(widths.get(letter, widths["?"]) for letter in text)


def line_pitch_mm(height_mm: float) -> float:
    """Return the distance from line to line. [mm]"""
    return LINE_PITCH * height_mm


def wrapped(text: str, limit_mm: float, height_mm: float, *, bold: bool = False) -> tuple[str, ...]:
    """Return the text broken into lines no wider than the limit; a longer word is broken inside.

    Args:
        text: the words; a line feed starts a new line.
        limit_mm: greatest width. [mm]
        height_mm: height of a figure. [mm]
        bold: whether the bold weight is used.

    Returns:
        The lines, fractions set as true fractions.
    """
    lines: list[str] = []
    for piece in true_fractions(text).split("\n"):
        line = ""
        for word in _WORD_ENDS.split(piece):
            trial = f"{line} {word}" if line else word
            if width_mm(trial, height_mm, bold=bold) <= limit_mm:
                line = trial
                continue
            if line:
                lines.append(line)
            line = word
            while width_mm(line, height_mm, bold=bold) > limit_mm and len(line) > 1:
                keep = _longest_start(line, limit_mm, height_mm, bold)
                lines.append(line[:keep].rstrip())
                line = line[keep:]
        lines.append(line)
    return tuple(lines)


def _longest_start(word: str, limit_mm: float, height_mm: float, bold: bool) -> int:
    """Return how many letters of the word fit, at least one; up to its last space or hyphen where it has one."""
    count = 1
    while count < len(word) and width_mm(word[: count + 1], height_mm, bold=bold) <= limit_mm:
        count += 1
    return max(word.rfind(" ", 0, count), word.rfind("-", 0, count)) + 1 or count


def reach_below_mm(text: str, height_mm: float) -> float:
    """Return how far the words reach below the line they stand on. [mm]"""
    return (DESCENT_SHARE if _REACH_BELOW.intersection(text) else ROUND_SHARE) * height_mm


def text_corners(text: Text) -> tuple[Point2, ...]:
    """Return the four corners of the space the words take, turned as they are. [mm]"""
    wide = width_mm(text.text, text.height_mm, bold=text.bold)
    left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[text.anchor]
    above = -text.height_mm
    below = reach_below_mm(text.text, text.height_mm)
    turn = math.radians(text.angle_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    x0, y0 = text.at
    # y runs down the paper, so turning counter-clockwise as seen takes (dx, dy) to (dx cos + dy sin, -dx sin + dy cos).
    return tuple(
        (x0 + dx * cos + dy * sin, y0 - dx * sin + dy * cos)
        for dx, dy in ((left, above), (left + wide, above), (left + wide, below), (left, below))
    )
