"""The questions that every job asks of someone on site: what to look for, what it means, and the figures to bring."""

from __future__ import annotations

from dataclasses import dataclass

KEEPS_AWAY = ("distance", "asked")
"""How far it stands from the nearest board, and how far its own paper asks it to. [mm]"""

JOISTS = ("across", "along")
"""Spacing of joists that run away from the furniture's wall, or along it. [mm]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class StandardQuestion:
    """One of the questions that every job asks.

    Args:
        key: what the survey file calls it.
        asks: the question, answered none, found or unknown.
        caution: what it means when found; defers to local code or a licensed trade.
        source_keys: what it rests on.
        figures: what must be told beside `found`; without it the question stays open.
        may: what may be told.
    """

    key: str
    asks: str
    caution: str
    source_keys: tuple[str, ...] = ("trade-practice",)
    figures: tuple[str, ...] = ()
    may: tuple[str, ...] = ()


STANDARD_QUESTIONS: tuple[StandardQuestion, ...] = (
    StandardQuestion(
        key="wiring",
        asks="Are there cables, switches or junction boxes in or on the walls behind the furniture?",
        caution=(
            "Wiring is under local code: have a licensed electrician look at it, with the power off and proven dead. "
            "Boxes must stay reachable, and no screw may go where a cable runs."
        ),
        source_keys=("nec-314",),
    ),
    StandardQuestion(
        key="pipes",
        asks="Are there water, heating or waste pipes in the walls or floor there?",
        caution="Find them before any screw is driven, and keep valves and joints reachable. Ask a licensed plumber.",
    ),
    StandardQuestion(
        key="heater",
        asks="Is there a radiator, an electric heater or a warm-air grille behind, under or beside the furniture?",
        caution=(
            "Its maker's clearances rule. A grille must be led through the base in a sealed duct, never left to blow "
            "into it. Ask a licensed heating fitter."
        ),
        figures=KEEPS_AWAY,
    ),
    StandardQuestion(
        key="stove",
        asks="Is there a stove, fireplace or flue nearby?",
        caution=(
            "The appliance's manual and local code set the distance of anything that burns; as a pointer only, no "
            "wood within 150 mm (6 in) of a fireplace opening, and within 300 mm (12 in) it may stand out 1/8 of its "
            "distance. Measure to every part, not only to the opening."
        ),
        source_keys=("site-codes",),
        figures=KEEPS_AWAY,
    ),
    StandardQuestion(
        key="escape-window",
        asks="Does the furniture stand before or narrow a window or door that serves as an escape?",
        caution=(
            "Local code sets the opening that must stay free; one code asks for a sill at most 1118 mm (44 in) up, "
            "508 x 610 mm (20 x 24 in) and 0.53 m2 clear. A seat does not count as floor by itself."
        ),
        source_keys=("site-codes",),
        figures=("sill", "width", "height"),
    ),
    StandardQuestion(
        key="low-glass",
        asks="Is there glass lower than 455 mm (18 in) above the floor, or above a seat to be built?",
        caution="A seat may make a surface that people stand on: safety glass or a rail may be needed. Ask local code.",
        source_keys=("site-codes",),
        figures=("height",),
    ),
    StandardQuestion(
        key="old-paint",
        asks="Is there paint from before 1978, or of unknown age, that will be sanded, scraped or cut?",
        caution="It may hold lead. Have it tested; local law sets who may disturb it and how.",
        source_keys=("lead-rule",),
    ),
    StandardQuestion(
        key="asbestos",
        asks="Are there old boards, textured coatings, floor tiles or pipe lagging that will be drilled or cut?",
        caution="They may hold asbestos. Do not drill or sand before a licensed test.",
    ),
    StandardQuestion(
        key="meter",
        asks="Is there a gas or electric meter, a fuse board, a shut-off valve or an access hatch there?",
        caution="It must stay in reach with the working space that local code and the supplier ask for.",
        source_keys=("nec-314",),
        figures=KEEPS_AWAY,
    ),
    StandardQuestion(
        key="smoke-alarm",
        asks="Will the furniture cover or come close to a smoke or gas alarm, a sprinkler or a thermostat?",
        caution="Its maker and local code set its distances; only whoever may do so moves it.",
        figures=KEEPS_AWAY,
    ),
    StandardQuestion(
        key="damp",
        asks="Is the wall or floor behind wet or mouldy, from a leak, the ground or the rain, whatever the season?",
        caution="Cure the damp first. Boards creep more in damp and are reckoned so; mould comes back behind them.",
    ),
    StandardQuestion(
        key="cold-wall",
        asks="Does the wall behind feel cold in winter, or mist over, though it stays dry otherwise?",
        caution=(
            "Leave the back open, or a gap of about 50 mm that is vented at the top and the foot. Cold alone does not "
            "make boards creep more."
        ),
        source_keys=("humid-air", "surface-humidity", "trade-practice"),
        may=("surface", "room", "humidity"),
    ),
    StandardQuestion(
        key="stair-parts",
        asks="Are there treads, risers or strings of a stair over, under or beside the furniture?",
        caution=(
            "Cut none of them and screw into none: they carry people, and a point that comes through a tread hurts. "
            "Boards that line a stair's underside against fire stay whole: ask local code."
        ),
    ),
    StandardQuestion(
        key="floor-structure",
        asks="Is the floor weak, springy or of unknown strength, or do the joists run along the furniture?",
        caution="A wall of books is heavy: have an engineer or local building control look at the floor.",
        source_keys=("floor-loads",),
        may=JOISTS,
    ),
    StandardQuestion(
        key="soft-floor",
        asks="Is there carpet, underlay or a floating floor under the furniture?",
        caution="Cut it out of the footprint: the base must stand on the hard floor, and a floating floor must move.",
    ),
)


def question_keys() -> tuple[str, ...]:
    """Return the key of every standard question."""
    return tuple(question.key for question in STANDARD_QUESTIONS)


def figure_names(key: str) -> tuple[str, ...]:
    """Return the figures that may be told beside a question's `found`; none for a question of the user's own."""
    found = next((question for question in STANDARD_QUESTIONS if question.key == key), None)
    return () if found is None else found.figures + found.may
