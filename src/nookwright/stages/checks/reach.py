"""Does the furniture, or an outlet, lie past the last place that was measured along its wall?"""

from __future__ import annotations

from nookwright.basics.findings import Finding
from nookwright.stages.checks.said import size
from nookwright.stages.design.design import Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.parts.outlets import outlet_places
from nookwright.stages.room.room import Room

PAST_MM = 25.0
"""Beyond the last spot by no more than this, nothing is said. Our choice. [mm]"""


def check_reach(design: Design, room: Room, brief: Brief) -> tuple[Finding, ...]:
    """Return a caution for each end of the furniture, and each outlet, past what was measured of the back wall.

    An end that a side wall closes cannot be passed, and needs no word.

    Args:
        design: the boxes and the platform.
        room: the spots along the back wall.
        brief: for the units people read.
    """
    first, last = room.ends
    xs = {end: [spot.xyz[0] for spot in room.spots if room.column(spot.name) == end] for end in (first, last)}
    if not all(xs.values()):
        return ()
    low, high = min(xs[first]), max(xs[last])
    places = [x for box in design.boxes for x in (box.x0_mm, box.x1_mm)]
    found: list[Finding] = []
    ends = (("left", low - min(places, default=low), first), ("right", max(places, default=high) - high, last))
    for side, past, spot in ends:
        if past > PAST_MM and not room.has(side):
            said = f"It runs {size(past, brief)} past {spot}"
            found.append(_unmeasured("furniture", said, "Measure at its end too", past))
    for place in outlet_places(design, room):
        past, spot = max((low - place.x_mm, first), (place.x_mm - high, last))
        if past > PAST_MM:
            said = f"It is {size(past, brief)} past {spot}"
            found.append(_unmeasured(place.outlet.name, said, "Check how far it is from the end of the wall", past))
    return tuple(found)


def _unmeasured(subject: str, said: str, remedy: str, past_mm: float) -> Finding:
    return Finding(
        topic="survey",
        subject=subject,
        verdict="caution",
        summary=f"{said}, where the measured wall ends: what is there is only continued from what was measured.",
        demand=past_mm,
        limit=0.0,
        unit="mm",
        source_keys=("adjustment",),
        remedy=f"{remedy}.",
    )
