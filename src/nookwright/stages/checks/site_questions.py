"""Questions only someone on site can answer; the tool raises them and approves none."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.platform_rails import carried_kg
from nookwright.stages.checks.said import size
from nookwright.stages.design.design import Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.survey import Answer, SiteQuestion, Survey
from nookwright.stages.parts.part import PartList
from nookwright.trade.tipping import GRAVITY_M_S2

ROOM_KPA = 1.9
"""Live load that floors of rooms are commonly built for, 40 psf. Source: [floor-loads]. Status: read."""

BEDROOM_KPA = 1.4
"""The same for bedrooms, 30 psf. Source: [floor-loads]. Status: read."""

JOIST_MM = 400.0
"""Usual spacing of joists. Source: [trade-practice]. Status: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StandardQuestion:
    """One of the questions that every job asks.

    Args:
        key: what the survey file calls it.
        asks: the question, answered none, found or unknown.
        caution: what it means when found; defers to local code or a licensed trade.
        source_keys: what it rests on.
    """

    key: str
    asks: str
    caution: str
    source_keys: tuple[str, ...] = ("trade-practice",)


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
    ),
    StandardQuestion(
        key="escape-window",
        asks="Does the furniture stand before or narrow a window or door that serves as an escape?",
        caution=(
            "Local code sets the opening that must stay free; one code asks for a sill at most 1118 mm (44 in) up, "
            "508 x 610 mm (20 x 24 in) and 0.53 m2 clear. A seat does not count as floor by itself."
        ),
        source_keys=("site-codes",),
    ),
    StandardQuestion(
        key="low-glass",
        asks="Is there glass lower than 455 mm (18 in) above the floor, or above a seat to be built?",
        caution="A seat may make a surface that people stand on: safety glass or a rail may be needed. Ask local code.",
        source_keys=("site-codes",),
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
    ),
    StandardQuestion(
        key="smoke-alarm",
        asks="Will the furniture cover or come close to a smoke or gas alarm, a sprinkler or a thermostat?",
        caution="Its distances are set by its maker and local code; have it moved by whoever may do so.",
    ),
    StandardQuestion(
        key="damp",
        asks="Are there signs of damp or mould on the wall behind?",
        caution="Cure the damp first. On a solid external wall leave a vented gap of about 50 mm, or an open back.",
    ),
    StandardQuestion(
        key="floor-structure",
        asks="Is the floor weak, springy or of unknown strength, or do the joists run along the furniture?",
        caution="A wall of books is heavy: have an engineer or local building control look at the floor.",
        source_keys=("floor-loads",),
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


def open_questions(findings: tuple[Finding, ...]) -> tuple[str, ...]:
    """Return the site questions that nobody has answered; while there is one, no cutting list is final.

    Args:
        findings: of the whole plan.

    Returns:
        Their keys, as `room.yaml` calls them with a space for each hyphen.
    """
    return tuple(each.subject for each in findings if each.topic == "site" and each.verdict == "question")


def damp_found(survey: Survey) -> bool:
    """Return whether the survey answers that damp was found."""
    return any(answer.key == "damp" and answer.answer == "found" for answer in survey.questions)


def check_site(design: Design, parts: PartList, survey: Survey, brief: Brief) -> tuple[Finding, ...]:
    """Return a finding for every site question, answered or not, and the load on the floor.

    Args:
        design: what will stand there.
        parts: for its mass.
        survey: for the answers and the wall.
        brief: for the load of the shelves.

    Returns:
        Pass where the answer is none, caution where something was found, question where nobody knows.
    """
    answers = {answer.key: answer for answer in survey.questions}
    findings = [_answered(question, answers.get(question.key)) for question in STANDARD_QUESTIONS]
    known = set(question_keys())
    findings += [_own(answer) for answer in survey.questions if answer.key not in known]
    if survey.wall.outside:
        findings.append(_outside_wall())
    return (*findings, _floor_load(design, parts, brief))


def _answered(question: StandardQuestion, answer: SiteQuestion | None) -> Finding:
    """Return the finding of one standard question."""
    if answer is not None and answer.answer == "none":
        return Finding(
            topic="site", subject=question.key, verdict="pass", summary=f"{question.asks} None.",
            source_keys=question.source_keys,
        )  # fmt: skip
    if answer is not None and answer.answer == "found":
        note = f" Found: {answer.note}." if answer.note else " Found."
        return Finding(
            topic="site", subject=question.key, verdict="caution", summary=f"{question.asks}{note}",
            source_keys=question.source_keys, remedy=question.caution,
        )  # fmt: skip
    return Finding(
        topic="site", subject=question.key, verdict="question", summary=f"{question.asks} Not answered yet.",
        source_keys=question.source_keys, remedy=f"If so: {question.caution}",
    )  # fmt: skip


def _own(answer: SiteQuestion) -> Finding:
    """Return the finding of a question that the user added."""
    verdicts: dict[Answer, Verdict] = {"none": "pass", "found": "caution", "unknown": "question"}
    return Finding(
        topic="site",
        subject=answer.key,
        verdict=verdicts[answer.answer],
        summary=f"{answer.key}: {answer.answer}" + (f", {answer.note}." if answer.note else "."),
        remedy="" if answer.answer == "none" else "Settle it before anything is cut.",
    )


def _outside_wall() -> Finding:
    """Return the caution that an external wall brings."""
    return Finding(
        topic="site",
        subject="outside wall",
        verdict="caution",
        summary="The back wall is an external one: a closed back against it stays cold, and damp air may wet it.",
        source_keys=("trade-practice",),
        remedy="Leave the back open, or a gap of about 50 mm that is vented at the top and the foot.",
    )


def _floor_load(design: Design, parts: PartList, brief: Brief) -> Finding:
    """Return the load on the floor under the furniture; a question whatever it is, for only the floor's maker knows."""
    mass = carried_kg(design, parts, brief)
    width = max((box.x1_mm for box in design.boxes), default=0.0) - min(
        (box.x0_mm for box in design.boxes), default=0.0
    )
    depth = max((box.depth_mm for box in design.boxes), default=0.0)
    if width <= 0 or depth <= 0:
        return Finding(topic="floor load", subject="floor", verdict="pass", summary="Nothing stands on the floor.")
    force_kn = mass * GRAVITY_M_S2 / 1000
    line, patch = force_kn / (width / 1000), force_kn / (width * depth * 1e-6)
    return Finding(
        topic="floor load",
        subject="floor",
        verdict="question",
        summary=(
            f"Full, it weighs {mass:.0f} kg: {line:.2f} kN/m along the wall, {patch:.1f} kPa under it, which is "
            f"{patch / ROOM_KPA:.1f} times the {ROOM_KPA} kPa that rooms are commonly built for ({BEDROOM_KPA} kPa for "
            "bedrooms). That figure is an average over the whole floor, so this alone neither passes nor fails it. "
            f"Joists across it every {size(JOIST_MM, brief)} would carry {line * JOIST_MM / 1000:.2f} kN each; "
            f"where they run along it, one joist may get nearly all of the {line:.2f} kN/m."
        ),
        demand=patch,
        limit=ROOM_KPA,
        unit="kPa",
        formula="patch = m g / (width x depth)",
        worked=f"{mass:.0f} x 9.81 / ({width / 1000:.2f} x {depth / 1000:.3f}) = {patch * 1000:.0f} Pa",
        source_keys=("floor-loads", "trade-practice"),
        remedy="Find which way the joists run and ask an engineer or local building control.",
    )
