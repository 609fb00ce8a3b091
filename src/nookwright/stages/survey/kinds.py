"""The shape of the room that a field book speaks of."""

from __future__ import annotations

from functools import cache

from nookwright.stages.inputs.survey import PlanCorner, RoomKind, Side, Survey
from nookwright.stages.survey.free_plan import FREE_PLAN, free_shape
from nookwright.stages.survey.kind_table import kind_shape
from nookwright.stages.survey.shape import Shape


def shape_in(survey: Survey) -> Shape:
    """Return the shape of a field book's room."""
    if survey.kind == FREE_PLAN and survey.plan:
        return _shape_round(survey.plan)
    return shape_of(survey.kind, survey.corner)


@cache
def _shape_round(plan: tuple[PlanCorner, ...]) -> Shape:
    return free_shape(plan)


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
