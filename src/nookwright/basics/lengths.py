"""Read and print lengths, metric and inch; every rounding rule."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Units = Literal["mm", "inch"]
Way = Literal["nearest", "down", "up"]

MM_PER_INCH = Fraction(254, 10)
"""Exact by definition of the international inch."""

NOISE_MM = 1e-6
"""A figure this close to a mark counts as on it, so that float noise never moves a cut by a whole mark."""

_LENGTHS_LOOK_LIKE = """a length such as 854, 854 mm, 85.4 cm, 33 5/8" or 2' 9-5/8\""""
_TAPE_DENOMINATORS = (2, 4, 8, 16, 32, 64)
_MM_PER = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000)}
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3",
}  # fmt: skip
_SAME_SIGN = str.maketrans(
    {"′": "'", "’": "'", "‘": "'", "″": '"', "“": '"', "”": '"', "−": "-", "–": "-", "⁄": "/", "\u00a0": " "}
)

_NUMBER = r"\d{1,12}(?:[.,]\d{1,20})?"
"""Twelve digits before the point are far more than any tape has, and never too many for a float."""

_METRIC = re.compile(rf"({_NUMBER})\s*(mm|cm|m)")
_BARE = re.compile(rf"({_NUMBER})")
_FEET = re.compile(rf"({_NUMBER})\s*(?:'|ft\.?|feet|foot)")
_INCHES = re.compile(
    rf"""(?:(?P<whole>{_NUMBER})(?P<gap>\s*-\s*|\s+)?)??(?:(?P<top>\d{{1,12}})\s*/\s*(?P<under>\d{{1,12}}))?\s*"""
    r"""(?P<mark>"|in\.?|inch|inches)?"""
)
_PITCH = re.compile(r"(.+?)\s+in\s+(.+)")
_ANGLE = re.compile(rf"({_NUMBER})\s*(?:°|deg|degrees)?")


class UnreadableTextError(ValueError):
    """The text is not a length or an angle; the message is the one sentence a person reads."""

    def __init__(self, found: str, expected: str, hint: str = "") -> None:
        """Keep what was read, what would be right, and what to do."""
        tail = f" {hint}" if hint else ""
        super().__init__(f"found {quoted(found)}; expected {expected}.{tail}")
        self.expected = expected
        self.hint = hint


def quoted(text: str) -> str:
    """Return the text as typed, in quotes that it does not itself contain."""
    return f'"{text}"' if '"' not in text else f"`{text}`"


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """The marks a person reads and sets: a unit system and its smallest step.

    Args:
        units: `mm` or `inch`.
        resolution: smallest step: 0.5 or 1 for millimetres, 1/16 or 1/32 for inches. [mm or inch]
    """

    units: Units
    resolution: float

    @property
    def step_mm(self) -> Fraction:
        """The smallest step, exactly. [mm]"""
        step = Fraction(self.resolution)
        return step if self.units == "mm" else step * MM_PER_INCH


def read_length(text: str, *, unit: Units) -> float:
    """Return the length a person wrote.

    Args:
        text: for example `854`, `85,4 cm`, `33 5/8"`, `2' 9-5/8"`, `-3/16"`.
        unit: what a number without a mark is in.

    Returns:
        The length; the one conversion to a float comes last, so that inches are exact. [mm]

    Raises:
        UnreadableTextError: if the text is no length or could be read two ways.

    Example:
        >>> read_length('33 5/8"', unit="mm")
        854.075
    """
    sign, body = _signed(_tidy(text))
    for reader in (_metric, _bare, _feet_and_inches):
        size = reader(body, text, unit)
        if size is not None:
            return float(sign * size)
    raise UnreadableTextError(text, _LENGTHS_LOOK_LIKE, _slip_hint(text))


def read_pair(text: str, *, unit: Units) -> tuple[float, float]:
    """Return the two lengths of a size written as `74 x 74`.

    Args:
        text: two lengths with `x`, `×` or `by` between them.
        unit: what a number without a mark is in.

    Returns:
        Both lengths, in the order written. [mm]

    Raises:
        UnreadableTextError: if there are not just two lengths.
    """
    pieces = re.split(r"\s*(?:[x×]|\bby\b)\s*", text.strip())
    if len(pieces) != 2:
        raise UnreadableTextError(text, "two lengths with x between them, such as 74 x 86")
    return read_length(pieces[0], unit=unit), read_length(pieces[1], unit=unit)


def read_angle(text: str) -> float:
    """Return the angle a person wrote.

    Args:
        text: `40.1`, `40.1 deg`, `40.1°`, or a rise in a run: `7 in 12`.

    Returns:
        The angle. [deg]

    Raises:
        UnreadableTextError: if the text is no angle.

    Example:
        >>> round(read_angle("7 in 12"), 2)
        30.26
    """
    body = _tidy(text)
    pitch = _PITCH.fullmatch(body)
    if pitch:
        rise, run = (read_length(piece, unit="inch") for piece in pitch.groups())
        if rise < 0 or run <= 0:
            raise UnreadableTextError(text, "a rise in a run above 0, such as 7 in 12")
        return math.degrees(math.atan2(rise, run))
    sign, body = _signed(body)
    plain = _ANGLE.fullmatch(body)
    if plain is None:
        raise UnreadableTextError(text, "an angle in degrees such as 40.1, or a rise in a run such as 7 in 12")
    return float(sign * _decimal(plain[1], text))


def show(mm: float, marks: Marks, *, way: Way = "nearest", with_unit: bool = False, feet: bool = False) -> str:
    """Return the length as people write it.

    Args:
        mm: the length. [mm]
        marks: the marks they read.
        way: to the nearest mark, down to one, or up to one.
        with_unit: say the unit too; drawings say it once a sheet instead.
        feet: write inches as feet and inches, marks included; plain inches are what shops use.

    Returns:
        For example `854.5`, `33 5/8` or `2' 9-5/8"`.

    Example:
        >>> show(854.1, Marks(units="inch", resolution=1 / 16), way="down")
        '33 5/8'
    """
    steps = _steps(mm, marks, way)
    size = abs(steps) * Fraction(marks.resolution)
    sign = "-" if steps < 0 else ""
    if marks.units == "mm":
        return sign + f"{float(size):.1f}".removesuffix(".0") + (" mm" if with_unit else "")
    if feet and size >= 12:
        whole_feet, inches = divmod(size, 12)
        return f"{sign}{whole_feet}' {_fraction_text(inches, '-')}\""
    return sign + _fraction_text(size, " ") + ('"' if with_unit or feet else "")


def on_mark_mm(mm: float, marks: Marks, *, way: Way) -> float:
    """Return the length of the mark that `show` would print. [mm]

    Args:
        mm: the length. [mm]
        marks: the marks people read.
        way: to the nearest mark, down to one, or up to one.

    Example:
        >>> on_mark_mm(854.1, Marks(units="inch", resolution=1 / 16), way="down")
        854.075
    """
    return float(_steps(mm, marks, way) * marks.step_mm)


def show_fine(mm: float, marks: Marks) -> str:
    """Return a spread, sag or movement finer than people mark, with its unit.

    Args:
        mm: the length. [mm]
        marks: the marks they read.

    Returns:
        For example `2.3 mm` or `0.09 in`.
    """
    return f"{mm:.1f} mm" if marks.units == "mm" else f"{mm / float(MM_PER_INCH):.2f} in"


IN_FT_PER_MM_M = 0.012
"""Inches in a foot for one millimetre in a metre: 12 / 1000."""

Rate = Literal["mm/m", "in/ft"]
RATE_UNITS: dict[Units, Rate] = {"mm": "mm/m", "inch": "in/ft"}
"""What leans and falls are told in."""


def show_rate(mm_per_m: float, units: Units) -> str:
    """Return a lean or fall as people tell it, without its unit.

    Args:
        mm_per_m: the rate. [mm/m]
        units: those people read.

    Returns:
        For example `-5.1` in mm/m, or `-0.061` in inches a foot.
    """
    return f"{mm_per_m + 0.0:.1f}" if units == "mm" else f"{mm_per_m * IN_FT_PER_MM_M + 0.0:.3f}"


def show_read(mm: float, units: Units) -> str:
    """Return a length as it was read, in the units of its file and with its unit: `412.5 mm`, `16 1/4"`."""
    if units == "mm" or not math.isfinite(mm):
        return f"{mm:g} mm"
    return show(mm, Marks(units=units, resolution=1 / 32), with_unit=True)


MM_PER_FOOT = 304.8


def show_limit(mm: float, units: Units) -> str:
    """Return a rough limit in words: metres or millimetres, feet or inches."""
    if units == "mm":
        return f"{mm / 1000:g} m" if mm >= 1000 else f"{mm:g} mm"
    return f"{mm / MM_PER_FOOT:.0f} ft" if mm >= MM_PER_FOOT * 2 else f'{mm / float(MM_PER_INCH):.0f}"'


def _tidy(text: str) -> str:
    """Return the text with one spelling for quotes, primes, signs, fractions and spaces."""
    for sign, plain in _VULGAR.items():
        text = text.replace(sign, f" {plain}")
    return " ".join(text.translate(_SAME_SIGN).replace("''", '"').split()).lower()


def _signed(body: str) -> tuple[int, str]:
    """Split a leading sign off."""
    if body[:1] in ("+", "-"):
        return (-1 if body[0] == "-" else 1), body[1:].lstrip()
    return 1, body


def _decimal(number: str, text: str) -> Fraction:
    """Return a number written with a decimal point or comma, exactly."""
    whole, comma, after = number.partition(",")
    if comma and len(after) == 3 and not whole.startswith("0") and len(whole) <= 3:
        raise UnreadableTextError(
            text, f"{whole}{after} or {whole}.{after}", "A comma before three digits can be read two ways."
        )
    return Fraction(number.replace(",", "."))


def _metric(body: str, text: str, unit: Units) -> Fraction | None:
    """Read `854 mm`, `85.4 cm`, `0.854 m`."""
    match = _METRIC.fullmatch(body)
    return _decimal(match[1], text) * _MM_PER[match[2]] if match else None


def _bare(body: str, text: str, unit: Units) -> Fraction | None:
    """Read a number without a mark."""
    match = _BARE.fullmatch(body)
    return _decimal(match[1], text) * (MM_PER_INCH if unit == "inch" else 1) if match else None


def _feet_and_inches(body: str, text: str, unit: Units) -> Fraction | None:
    """Read `33 5/8"`, `2' 9-5/8"`, `9'`, and in inch files `33 5/8`."""
    feet_match = _FEET.match(body)
    feet, rest = Fraction(0), body
    if feet_match:
        feet = _decimal(feet_match[1], text)
        rest = body[feet_match.end() :].lstrip()
        rest = rest[1:].lstrip() if rest.startswith("-") else rest
        if not rest:
            return feet * 12 * MM_PER_INCH
    match = _INCHES.fullmatch(rest)
    if match is None or (match["whole"] is None and match["top"] is None):
        return None
    inches = _inches(match, text)
    if feet_match:
        _check_after_feet(feet, inches, match, text)
    elif match["mark"] is None and unit == "mm":
        raise UnreadableTextError(
            text, "a length in mm, or an inch mark after the fraction",
            f'Numbers without a mark are mm in this file; write {body}" if inches are meant.',
        )  # fmt: skip
    return (feet * 12 + inches) * MM_PER_INCH


def _inches(match: re.Match[str], text: str) -> Fraction:
    """Return whole inches and fraction, refusing what no tape shows."""
    whole = _decimal(match["whole"], text) if match["whole"] else Fraction(0)
    if match["top"] is None:
        return whole
    top, under = int(match["top"]), int(match["under"])
    if match["whole"] and (match["gap"] is None or not match["whole"].isdigit()):
        raise UnreadableTextError(text, _LENGTHS_LOOK_LIKE, _slip_hint(text))
    if under not in _TAPE_DENOMINATORS:
        raise UnreadableTextError(text, "a fraction in halves, quarters, eighths, 16ths, 32nds or 64ths")
    if not 0 < top < under:
        raise UnreadableTextError(text, "a fraction above 0 and below 1", "Is a digit missing or a stroke misplaced?")
    return whole + Fraction(top, under)


def _check_after_feet(feet: Fraction, inches: Fraction, match: re.Match[str], text: str) -> None:
    """Refuse inches after feet that are unmarked, 12 or more, or follow a broken number of feet."""
    if match["mark"] is None:
        raise UnreadableTextError(text, "an inch mark after the inches", f'Write {text.strip()}" if inches are meant.')
    if inches >= 12:
        raise UnreadableTextError(text, "less than 12 inches after the feet")
    if feet.denominator != 1:
        raise UnreadableTextError(text, "a whole number of feet before the inches")


def _slip_hint(text: str) -> str:
    """Return a hint for the slips seen most; empty for others."""
    if re.search(r"\d\s+\d+\s*(?:mm|cm|m)?$", text) and "/" not in text:
        return "Two numbers stand side by side; is a stroke, a point or a mark missing?"
    if re.search(r"[.,]\d+[.,]", text):
        return "There is one decimal point too many."
    return ""


def _steps(mm: float, marks: Marks, way: Way) -> int:
    """Return how many of the smallest steps make up the length, rounded one way."""
    step = float(marks.step_mm)
    if way == "down":
        return math.floor((mm + NOISE_MM) / step)
    if way == "up":
        return math.ceil((mm - NOISE_MM) / step)
    return math.floor((mm + NOISE_MM) / step + 0.5)


def _fraction_text(inches: Fraction, joiner: str) -> str:
    """Return `33 5/8`, `5/8` or `33`."""
    whole, part = divmod(inches, 1)
    if part == 0:
        return str(whole)
    return f"{whole}{joiner}{part}" if whole else str(part)
