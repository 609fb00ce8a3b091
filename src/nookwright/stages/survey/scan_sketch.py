"""A first guess of a room that was scanned: lengths between the spots picked in a scan stand in for missing tapes."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations

from nookwright.basics.problems import InvalidInputError
from nookwright.solvers.linear_fit import Vector
from nookwright.stages.inputs.survey import Survey, TapeReading
from nookwright.stages.survey.sketch import sketch
from nookwright.stages.survey.unknowns import Unknowns


def sketch_with_scans(survey: Survey, unknowns: Unknowns) -> Vector:
    """Return a first guess of every unknown; what the readings leave open is taken from the scans.

    Args:
        survey: a field book that `examine` found good.
        unknowns: its unknowns.

    Returns:
        The state to start the adjustment from.

    Raises:
        InvalidInputError: if readings and scans together do not suffice.
    """
    if not survey.scans:
        return sketch(survey, unknowns)
    try:
        return sketch(survey, unknowns)
    except InvalidInputError:  # the scans may know what the readings lack
        tapes = tuple(
            TapeReading(start=one.name, end=two.name, length_mm=math.dist(one.xyz, two.xyz))
            for scan in survey.scans
            for one, two in combinations(scan.spots, 2)
        )
        return sketch(replace(survey, readings=(*survey.readings, *tapes)), unknowns)
