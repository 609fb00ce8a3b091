"""The shape of the room that a field book speaks of."""

from __future__ import annotations

from functools import cache

from nookwright.stages.inputs.survey import PlanCorner, RoomKind, Side, Survey
from nookwright.stages.survey.free_plan import FREE_PLAN, free_shape
from nookwright.stages.survey.kind_table import kind_shape
from nookwright.stages.survey.shape import Shape, laid_along


def shape_in(survey: Survey) -> Shape:
    """Return the shape of a field book's room."""
    plan = survey.plan if survey.kind == FREE_PLAN else ()
    return _laid_out(survey.kind, survey.corner, plan, survey.place)


@cache
def _laid_out(kind: RoomKind, corner: Side, plan: tuple[PlanCorner, ...], place: str) -> Shape:
    """Return a room's shape as seen from its own back wall, or from a place in it."""
    whole = free_shape(plan) if plan else shape_of(kind, corner)
    here = next((one for one in whole.places if one.name == place), None)
    return laid_along(whole, here) if here else whole


@cache
def shape_of(kind: RoomKind, corner: Side) -> Shape:
    """Return the shape of a room of a kind in the table.

    Args:
        kind: the kind.
        corner: the side whose wall a corner has; under a stair the side where the soffit comes down to the floor and
            no wall stands.

    Returns:
        Its surfaces, columns and figures.
    """
    return kind_shape(kind, corner)
