"""How precise each reading is: the tape's class, the level, the bevel, and the wall's own waviness."""

from __future__ import annotations

import math

from nookwright.stages.inputs.survey import TapeClass, Tools

TAPE_ERROR_MM: dict[TapeClass, tuple[float, float]] = {"I": (0.1, 0.1), "II": (0.3, 0.2), "III": (0.6, 0.4)}
"""Greatest permitted error a + b L, L in metres rounded up to the next whole metre. [mm, mm/m]

Source: [mid-tapes] Measuring Instruments Directive 2014/32/EU, Annex MI-008, material measures of length.
Status: read.
"""

OWN_SHARE = 0.5
"""How much of a tape's variance by its class is a stretch of the tape's own, the same all along it, and not an error of
each reading. Common practice, no source: a tape's marks are printed in one run, and it stretches evenly."""

LEVEL_GRADES_MM_PER_M = {"spirit": 0.5, "laser": 0.3}
"""How far off level or plumb a good spirit level and a line laser may be; taken as one standard deviation. [mm/m]

Source: [level-grades] 0.5 mm/m for a good site level, 0.3 mm/m for a line laser. Status: read. That they count as one
standard deviation, though makers mean the greatest error, is common practice, no source: levels are dropped.
"""

ANGLE_GRADES_DEG = {"bevel": 0.2, "digital": 0.1}
"""How closely a bevel set on a protractor and a digital angle finder read, one standard deviation. [deg]

Source: [level-grades] a digital level shows steps of 0.05 deg. Status: read. The two figures themselves are common
practice, no source: a finder is about as good as two of its steps.
"""

ROUGH_SD_MM = 8.0
"""How well a distance is told by eye, one standard deviation. [mm] Common practice, no source."""

PLACED_SD_MM = 3.0
"""How far beside its place a tape between two surfaces is held, one standard deviation. [mm]
Common practice, no source."""

TAPE_ZERO_SD_MM = 0.7
"""Play of a tape's hook, the same in every reading of one tape, one standard deviation. [mm]
Common practice, no source."""

MARK_SD_MM = 1.5
"""How well a level mark stands at its height, one standard deviation. [mm] Common practice, no source."""

ALIGNED_SD_MM = 8.0
"""How well a spot is marked above or below another by eye, one standard deviation. [mm] Common practice, no source."""

SQUARE_SD_MM = 5.0
"""How far the foot of a tape held square to a wall strays from square, one standard deviation. [mm]
Common practice, no source."""

BLADE_MM = 300.0
"""Length of a bevel's blade: over it the wall's waviness turns the angle. [mm] Common practice, no source."""

PITCH_LEVEL_MM = 600.0
"""Length of the level or board laid on a slope to read its pitch. [mm] Common practice, no source."""

WAVE_MM = 500.0
"""Range of the plaster's waviness in the Matern-3/2 law. [mm] Computed: chosen on simulated rooms; no source."""

GRAIN_SD_MM = 0.4
"""Unevenness of plaster from spot to spot, on top of its waviness, one standard deviation. [mm]
Common practice, no source."""


def likeness(distance_mm: float) -> float:
    """Return how alike the waviness is at two places: the Matern-3/2 correlation of their distance.

    Args:
        distance_mm: between the two places. [mm]

    Returns:
        Correlation, 1 at no distance.

    Source:
        The Matern covariance of order 3/2, (1 + sqrt(3) r / l) exp(-sqrt(3) r / l). Status: recalled.
    """
    reach = math.sqrt(3) * distance_mm / WAVE_MM
    return (1 + reach) * math.exp(-reach)


def tape_sd_mm(length_mm: float, tools: Tools) -> float:
    """Return the standard deviation of a tape reading apart from the tape's own stretch and zero error.

    The class's greatest error counts as two standard deviations.

    Args:
        length_mm: length read. [mm]
        tools: tape class and how closely it is read.

    Returns:
        One standard deviation. [mm]

    Source:
        [mid-tapes] see `TAPE_ERROR_MM`. Status: read. That two standard deviations reach the greatest permitted
        error is common practice, no source.
    """
    fixed, per_m = TAPE_ERROR_MM[tools.tape]
    greatest = fixed + per_m * math.ceil(length_mm / 1000)
    return math.hypot(math.sqrt(1 - OWN_SHARE) * greatest / 2, tools.reading_mm)


def tape_stretch_sd(tools: Tools) -> float:
    """Return the standard deviation of how much too long a whole tape reads, by its class. [mm/m]"""
    _, per_m = TAPE_ERROR_MM[tools.tape]
    return math.sqrt(OWN_SHARE) * per_m / 2


def plumb_sd_mm(height_mm: float, tools: Tools) -> float:
    """Return the standard deviation of a plumb reading over a height. [mm]"""
    return math.hypot(tools.reading_mm, plumb_grade(tools) * abs(height_mm) / 1000)


def plumb_grade(tools: Tools) -> float:
    """Return how true to plumb a wall is plumbed, one standard deviation. [mm/m]"""
    return tools.level_mm_per_m if tools.plumb_mm_per_m is None else tools.plumb_mm_per_m


def bevel_sd_deg(tool_deg: float, tools: Tools) -> float:
    """Return the standard deviation of a corner angle: the tool's, and two wavy walls under its blades. [deg]"""
    return math.hypot(tool_deg, math.sqrt(2) * _turn_deg(BLADE_MM, tools))


def pitch_sd_deg(tool_deg: float, tools: Tools) -> float:
    """Return the standard deviation of a slope's pitch: the tool's, and one wavy surface under it. [deg]"""
    return math.hypot(tool_deg, _turn_deg(PITCH_LEVEL_MM, tools))


def _turn_deg(length_mm: float, tools: Tools) -> float:
    """Return how far waviness turns a straight edge laid on a surface, one standard deviation. [deg]"""
    return math.degrees(tools.waviness_mm * math.sqrt(2 * (1 - likeness(length_mm))) / length_mm)
