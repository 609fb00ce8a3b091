"""Names of spots and walls that a room does not have, told together with whatever else is wrong with its file."""

from __future__ import annotations

from dataclasses import replace

from nookwright.basics.problems import Inspection, InvalidInputError, Problem
from nookwright.stages.inputs.survey import BevelReading, EdgeReading, LevelReading, PitchReading, Reading, Survey
from nookwright.stages.survey.examine import examine_each
from nookwright.stages.survey.spoken import with_value

READ_AS: dict[type[Reading], float] = {BevelReading: 90.0, EdgeReading: 90.0, PitchReading: 45.0, LevelReading: -100.0}
"""Values that any reading of a kind may have; all else may read 1."""


def misnamed(survey: Survey) -> tuple[Problem, ...]:
    """Return what is wrong with the names in a field book, whatever its readings read.

    Args:
        survey: the field book; the values of its readings do not count.
    """
    readings = tuple(with_value(reading, READ_AS.get(type(reading), 1.0)) for reading in survey.readings)
    inspection = Inspection()
    try:
        examine_each(replace(survey, readings=readings, scans=(), photos=()), inspection)
    except InvalidInputError as refusal:
        return refusal.problems
    return tuple(inspection.problems)
