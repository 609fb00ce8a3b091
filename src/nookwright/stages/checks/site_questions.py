"""Questions only someone on site can answer; the tool raises them and approves none."""

from __future__ import annotations

from nookwright.basics.findings import Finding, Verdict
from nookwright.stages.checks.floor_load import check_floor_load
from nookwright.stages.checks.question_table import STANDARD_QUESTIONS, StandardQuestion, question_keys
from nookwright.stages.checks.said import size
from nookwright.stages.checks.site_figures import judged, missing
from nookwright.stages.design.design import Design
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.survey import Answer, SiteQuestion, Survey
from nookwright.stages.parts.part import PartList


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
    findings = [_answered(question, answers.get(question.key), brief) for question in STANDARD_QUESTIONS]
    known = set(question_keys())
    findings += [_own(answer) for answer in survey.questions if answer.key not in known]
    if survey.wall.outside:
        findings.append(_outside_wall(brief))
    return (*findings, check_floor_load(design, parts, survey, brief))


def _answered(question: StandardQuestion, answer: SiteQuestion | None, brief: Brief) -> Finding:
    """Return the finding of one standard question."""
    if answer is not None and answer.answer == "none":
        return Finding(
            topic="site", subject=question.key, verdict="pass", summary=f"{question.asks} None.",
            source_keys=question.source_keys,
        )  # fmt: skip
    if answer is not None and answer.answer == "found":
        return _found(question, answer, brief)
    return Finding(
        topic="site", subject=question.key, verdict="question", summary=f"{question.asks} Not answered yet.",
        source_keys=question.source_keys, remedy=f"If so: {question.caution}",
    )  # fmt: skip


def _found(question: StandardQuestion, answer: SiteQuestion, brief: Brief) -> Finding:
    """Return the finding of something found: judged by its figures, or open as long as they are missing."""
    note = f" Found: {answer.note}." if answer.note else " Found."
    asked = missing(question, answer)
    if asked:
        written = f"{question.key.replace('-', ' ')}: found, {', '.join(f'{name} ...' for name in asked)}"
        return Finding(
            topic="site", subject=question.key, verdict="question",
            summary=f"{question.asks}{note} Still to be told: {', '.join(asked)}.",
            source_keys=question.source_keys, remedy=f"Write it as `{written}`. {question.caution}",
        )  # fmt: skip
    told = judged(answer, brief)
    if told is None:
        return Finding(
            topic="site", subject=question.key, verdict="caution", summary=f"{question.asks}{note}",
            source_keys=question.source_keys, remedy=question.caution,
        )  # fmt: skip
    return Finding(
        topic="site", subject=question.key, verdict=told.verdict, summary=f"{question.asks}{note} {told.says}",
        demand=told.demand, limit=told.limit, unit=told.unit, formula=told.formula, worked=told.worked,
        source_keys=question.source_keys, remedy=f"{told.cure} {question.caution}".strip(),
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


def _outside_wall(brief: Brief) -> Finding:
    """Return the caution that an external wall brings."""
    return Finding(
        topic="site",
        subject="outside wall",
        verdict="caution",
        summary="The back wall is an external one: a closed back against it stays cold, and damp air may wet it.",
        source_keys=("trade-practice",),
        remedy=f"Leave the back open, or a gap of about {size(50.0, brief)} that is vented at the top and the foot.",
    )
