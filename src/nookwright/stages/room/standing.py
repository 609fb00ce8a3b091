"""The room as the furniture meets it: laid out along the wall it stands at, each surface called what it is to it."""

from __future__ import annotations

from dataclasses import replace

from nookwright.basics.lengths import quoted
from nookwright.basics.problems import Inspection, InvalidInputError, Problem, Where
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.survey import Outlet, SurfaceName, Survey
from nookwright.stages.room.height_field import HeightField
from nookwright.stages.room.network import THOROUGH, network_of, solve
from nookwright.stages.room.reconcile import adjusted_room, reconcile, spot_fixes
from nookwright.stages.room.room import Room
from nookwright.stages.survey.examine import examine
from nookwright.stages.survey.kinds import shape_in
from nookwright.stages.survey.shape import Place, Shape


def standing_room(survey: Survey, brief: Brief) -> Room:
    """Work out the room, as the furniture of a brief meets it.

    Args:
        survey: the field book.
        brief: says where in the room the furniture stands.

    Returns:
        The room, x along the wall behind the furniture; its surfaces are `floor`, `back` and those of `left`, `right`,
        `slope` and `ceiling` that are there. Its readings, spots and figures keep the names of the field book.

    Raises:
        InvalidInputError: if the field book cannot be worked with, or the brief names no place of such a room; carries
            every problem at once.
    """
    shape = shape_in(survey)
    wrong = _wrong_place(shape, brief)
    if wrong is not None:
        inspection = Inspection()
        inspection.add(wrong)
        try:
            examine(survey)
        except InvalidInputError as refusal:
            inspection.problems.extend(refusal.problems)
        inspection.finish()
    place = place_in(shape, brief)
    assert place is not None  # noqa: S101  without one, finish() has raised
    return as_met(reconcile(laid_out(survey, place)), place)


def surveyed_room(survey: Survey, brief: Brief | None) -> Room:
    """Work out the whole room, or where it was not all measured as much of it as the furniture's place needs.

    Args:
        survey: the field book.
        brief: the furniture, when it is known.

    Returns:
        The room, its surfaces called as in the field book.

    Raises:
        InvalidInputError: if the field book cannot be worked with; carries every problem at once.
    """
    place = place_in(shape_in(survey), brief) if brief else None
    try:
        return reconcile(survey)
    except InvalidInputError as refusal:
        if place is None or place.own_names:
            raise
        try:
            return reconcile(laid_out(survey, place))
        except InvalidInputError:
            raise refusal from None


def place_in(shape: Shape, brief: Brief) -> Place | None:
    """Return the place in a room that a brief names, or the only one there is; None when there is no such place."""
    if not brief.place:
        return shape.places[0] if len(shape.places) == 1 else None
    return next((place for place in shape.places if _is_called(place, brief.place) and not place.refused), None)


def _is_called(place: Place, typed: str) -> bool:
    """Return whether a place has the name that was typed; a wall may be named by its corners alone."""
    name, words = place.name.lower(), " ".join(typed.lower().split())
    return words in (name, name.removeprefix("wall "))


def laid_out(survey: Survey, place: Place) -> Survey:
    """Return a field book whose room is laid out along the wall of a place."""
    return survey if place.own_names else replace(survey, place=place.name)


def seen_from(room: Room, place: Place) -> Room:
    """Return a room laid out along the wall of a place; what was found of its readings and its walls stays as it is."""
    survey = laid_out(room.survey, place)
    if shape_in(survey) == room.unknowns.shape:
        return replace(room, survey=survey)
    network = network_of(survey)
    between_mm = room.fields["floor"].tools.waviness_mm
    adjusted = adjusted_room(network, solve(network, room.waviness_mm, effort=THOROUGH), between_mm)
    return replace(
        room,
        survey=survey,
        spots=spot_fixes(adjusted),
        unknowns=network.unknowns,
        state=adjusted.state,
        fields=adjusted.fields,
        covariance=adjusted.covariance,
    )


def as_met(room: Room, place: Place) -> Room:
    """Return a room laid out along a place's wall with each surface called what it is to the furniture there.

    Outlets on other walls do not come into it.
    """
    if place.own_names:
        return replace(room, place=place)
    roles = {surface: role for role, surface in place.roles}
    outlets = tuple(_met(outlet, roles) for outlet in room.survey.outlets if outlet.wall in roles)
    fields = fields_met(room.fields, place)
    return replace(
        room, place=place, fields=fields, surfaces=tuple(fields), survey=replace(room.survey, outlets=outlets)
    )


def fields_met(fields: dict[SurfaceName, HeightField], place: Place) -> dict[SurfaceName, HeightField]:
    """Return surfaces by what they are to furniture at a place."""
    lids = {role: role for role in ("ceiling",) if role in fields}
    met = {"floor": "floor", **lids, **dict(place.roles)}
    return {role: fields[surface] for role, surface in met.items()}


def _met(outlet: Outlet, roles: dict[SurfaceName, str]) -> Outlet:
    return replace(outlet, wall=roles[outlet.wall])


def _wrong_place(shape: Shape, brief: Brief) -> Problem | None:
    """Return what is wrong with the place that a brief names; None when nothing is."""
    if place_in(shape, brief) is not None:
        return None
    names = [place.name for place in shape.places if not place.refused]
    named = next((place for place in shape.places if _is_called(place, brief.place)), None)
    hint = f"{named.refused[0].upper()}{named.refused[1:]}." if named else ""
    return Problem(
        where=brief.place_where if str(brief.place_where) else Where(file="brief.yaml", path="place"),
        found=quoted(brief.place) if brief.place else f"no place in {shape.called}",
        expected=f"one of {', '.join(names)}" if names else "a wall with others nearly square to it",
        hint=hint,
    )
