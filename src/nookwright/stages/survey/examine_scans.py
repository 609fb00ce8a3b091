"""Whether the scans can be laid on the room: enough spots, not on one line, each named once."""

from __future__ import annotations

from collections import Counter

import numpy as np

from nookwright.basics.problems import Inspection
from nookwright.solvers.turning import spread_off_line
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.survey.examine_set_ups import examine_spot
from nookwright.stages.survey.shape import Shape

LEAST_SPOTS = 3
LEAST_OFF_LINE_MM = 150.0
"""Fewer spots, or spots that stray less than this from one line, leave a scan free to turn. [mm] Common practice, no
source."""


def examine_scans(survey: Survey, shape: Shape, inspection: Inspection) -> None:
    """Expect of each scan enough spots to lay it on the room, each a spot of this room and named once."""
    for scan in survey.scans:
        names = [spot.name for spot in scan.spots]
        known = [examine_spot(spot.name, survey, shape, inspection, spot.where) for spot in scan.spots]
        again = [name for name, times in Counter(names).items() if times > 1]
        found = f"{again[0]} picked twice in scan {scan.name}" if again else ""
        inspection.expect(not again, "", found, "each spot once", where=scan.where)
        inspection.expect(
            len(names) >= LEAST_SPOTS,
            "",
            f"{len(names)} spot{'' if len(names) == 1 else 's'} picked in scan {scan.name}",
            f"{LEAST_SPOTS} or more, not on one line",
            "Corners of the room are easy to pick.",
            scan.where,
        )
        if all(known) and not again and len(names) >= LEAST_SPOTS:
            off = spread_off_line(np.array([spot.xyz for spot in scan.spots]))
            inspection.expect(
                off >= LEAST_OFF_LINE_MM,
                "",
                f"the spots of scan {scan.name} all on one line",
                "three or more that are not",
                "Pick one more, away from that line.",
                scan.where,
            )
    files = [scan.name for scan in survey.scans]
    for name, times in Counter(files).items():
        where = next(scan.where for scan in survey.scans if scan.name == name)
        inspection.expect(times == 1, "", f"scan {name} {times} times", "each scan once", where=where)
