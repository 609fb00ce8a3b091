"""Cuts through the furniture: seen from above at each tier, and from the side, with the gaps to the walls."""

from __future__ import annotations

from nookwright.drawings.page import Item
from nookwright.drawings.sheet import Draft, Issue
from nookwright.stages.design.design import Design
from nookwright.stages.parts.part import PartList
from nookwright.stages.room.room import Room


def section_pages(design: Design, parts: PartList, room: Room, issue: Issue) -> tuple[Draft, ...]:
    return ()
