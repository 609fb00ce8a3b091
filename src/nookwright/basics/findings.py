"""A check's demand, capacity, verdict and source."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Verdict = Literal["pass", "caution", "fail", "question"]
"""pass: holds; caution: holds, but read it; fail: does not hold; question: only a person on site can answer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """The outcome of one check, with everything needed to argue with it.

    Args:
        topic: what kind of check, for example `shelf sag`.
        subject: what was checked, in the words of the drawings, for example `shelf C2`.
        verdict: the outcome.
        summary: one plain sentence with the numbers that matter.
        demand: what is asked, in `unit`; None when the check has no number.
        limit: what is allowed, in `unit`; None when the check has no number.
        unit: unit of demand and limit.
        formula: the formula as its source prints it; empty when there is none.
        worked: the same formula with the numbers put in.
        source_keys: keys of the sources in `trade/sources.py`.
        remedy: the cheapest cure that was computed; empty when none is needed.
    """

    topic: str
    subject: str
    verdict: Verdict
    summary: str
    demand: float | None = None
    limit: float | None = None
    unit: str = ""
    formula: str = ""
    worked: str = ""
    source_keys: tuple[str, ...] = ()
    remedy: str = ""


_ORDER: dict[Verdict, int] = {"fail": 0, "caution": 1, "question": 2, "pass": 3}


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings with fails first, then cautions, questions and passes; each kind in the order given.

    Args:
        findings: any findings.
    """
    return tuple(sorted(findings, key=lambda finding: _ORDER[finding.verdict]))


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumption:
    """A figure nobody measured: the tool's default or the trade's habit. The book prints every one.

    Args:
        what: the figure, in words.
        value: the value used, with its unit.
        why: what it rests on, and where the user can replace it.
    """

    what: str
    value: str
    why: str
