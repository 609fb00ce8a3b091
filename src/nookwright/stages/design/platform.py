"""The base platform, set out from the floor's high point."""

from __future__ import annotations

from itertools import pairwise

from nookwright.geometry.plane import spaced
from nookwright.stages.design.design import FittedPlatform
from nookwright.stages.design.setting import Setting
from nookwright.stages.design.splits import split_at
from nookwright.stages.inputs.brief import Platform
from nookwright.stages.room.room import Room

LEAST_RAIL_MM = 30.0
"""A rail lower than this splits at its screws. Common practice, no source."""

BARE_PACKER_MM = 3.0
"""Packer at the high point under boxes that stand without a platform. Common practice, no source."""


def high_point(
    room: Room, x_range: tuple[float, float], y_range: tuple[float, float], step_mm: float = 50.0
) -> tuple[float, float]:
    """Return where the floor is highest under a footprint. [mm]"""
    places = [(x, y) for x in spaced(*x_range, step_mm) for y in spaced(*y_range, step_mm)]
    heights = room.profile("floor", tuple(places))
    return max(zip(heights, places, strict=True), key=lambda pair: pair[0].value)[1]


def lay_platform(
    wished: Platform,
    *,
    x_range: tuple[float, float],
    y_range: tuple[float, float],
    sides_x_mm: tuple[float, ...],
    setting: Setting,
) -> FittedPlatform:
    """Return the platform: two rails along the run and cross bearers under every side and in between.

    Args:
        wished: the platform as wished.
        x_range: its ends, those of the boxes on it. [mm]
        y_range: front and rear of the boxes on it. [mm]
        sides_x_mm: centres of the box sides it must carry. [mm]
        setting: the job.
    """
    stock = setting.stock(wished.board, "board", wished.where)
    y_front, y_back = y_range[0] + wished.toe_mm, y_range[1]
    x, y = high_point(setting.room, x_range, (y_front, y_back))
    high = setting.room.at("floor", x, y)
    rail_height = wished.height_mm - wished.least_packer_mm
    setting.inspection.expect(
        rail_height >= LEAST_RAIL_MM,
        "height",
        f"a platform {setting.said(wished.height_mm)} high",
        f"at least {setting.said(LEAST_RAIL_MM + wished.least_packer_mm)}: a rail and the packer at the high point",
        where=wished.where,
    )
    clear = y_back - y_front - 2 * stock.thickness_mm
    setting.inspection.expect(
        clear >= LEAST_RAIL_MM,
        "toe",
        f"a platform {setting.said(max(0.0, y_back - y_front))} deep",
        f"at least {setting.said(LEAST_RAIL_MM + 2 * stock.thickness_mm)}: two rails and a bearer between",
        where=wished.where,
    )
    split = split_at("platform", x_range[1] - x_range[0], wished.split_mm, setting, wished.where)
    frames = tuple(pairwise((x_range[0], *(x_range[0] + place for place in split), x_range[1])))
    return FittedPlatform(
        x0_mm=x_range[0],
        x1_mm=x_range[1],
        y_front_mm=y_front,
        y_back_mm=y_back,
        z0_mm=high.value + wished.least_packer_mm,
        z1_mm=high.value + wished.height_mm,
        rail_mm=stock.thickness_mm,
        stock=stock,
        bearers_x_mm=tuple(
            x
            for frame in frames
            for x in _bearers(frame, _within(frame, sides_x_mm), stock.thickness_mm, wished.bearer_spacing_mm)
        ),
        frames_x_mm=frames,
        high_point=(x, y, high),
    )


def _within(frame: tuple[float, float], places_mm: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(x for x in places_mm if frame[0] <= x <= frame[1])


def _bearers(
    x_range: tuple[float, float], sides_x_mm: tuple[float, ...], thickness_mm: float, spacing_mm: float
) -> tuple[float, ...]:
    """Return the left faces of the cross bearers: one at each end, under every side, none further apart than wished."""
    first, last = x_range[0], x_range[1] - thickness_mm
    under = [min(max(x - thickness_mm / 2, first), last) for x in sides_x_mm]
    marks = sorted({round(x, 3) for x in (first, last, *under)})
    spread = [marks[0]]
    for mark in marks[1:]:
        if mark - spread[-1] < 2 * thickness_mm and mark != marks[-1]:
            continue
        spread.append(mark)
    if len(spread) > 2 and spread[-1] - spread[-2] < 2 * thickness_mm:
        del spread[-2]
    faces: list[float] = []
    for start, end in pairwise(spread):
        faces.extend(spaced(start, end, spacing_mm)[:-1])
    return (*faces, spread[-1])
