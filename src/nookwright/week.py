"""Several jobs cut and bought together: parts of one material share sheets and boards, fastenings share boxes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from nookwright.basics.lengths import Marks
from nookwright.basics.problems import Inspection
from nookwright.plan import Plan
from nookwright.stages.buying.buy_list import BuyList
from nookwright.stages.buying.tally import tally
from nookwright.stages.cutting.cutting_plan import CuttingPlan
from nookwright.stages.cutting.lay_out import lay_out
from nookwright.stages.cutting.more_time import MoreTime, no_more_time
from nookwright.stages.finishing.finish_plan import FinishPlan
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.facts import Facts
from nookwright.stages.inputs.shop import Shop
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.installing.install_plan import InstallPlan
from nookwright.stages.parts.part import JointMade, Part, PartList

MOST_JOBS = 50
"""More than this is no week's work. Our choice."""


TITLE = "Jobs cut and bought together"


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """What one job brings to the week.

    Args:
        mark: the sign before its part numbers: `1-` for the first job.
        survey, brief, facts: what it was worked out from.
        parts: how many parts it has.
        sheets, boards: how many it would use alone.
        total: what it would cost to buy for alone.
    """

    mark: str
    survey: Survey
    brief: Brief
    facts: Facts
    parts: int
    sheets: int
    boards: int
    total: Decimal

    @property
    def title(self) -> str:
        """The job's title."""
        return self.brief.title


@dataclass(frozen=True, slots=True, kw_only=True)
class Week:
    """Several jobs cut and bought together.

    Args:
        brief: the first job's, for units and paper, under a title of its own.
        shares: the jobs, in the order given.
        shop: the shop they share.
        parts: every part, its number led by its job's mark.
        cutting: the cutting plan of them all.
        buying: the buying list of them all.
        open_questions: site questions that any of the jobs leaves open, its mark before each.
    """

    brief: Brief
    shares: tuple[Share, ...]
    shop: Shop
    parts: PartList
    cutting: CuttingPlan
    buying: BuyList
    open_questions: tuple[str, ...]

    @property
    def saved(self) -> Decimal:
        """How much less it costs than every job bought for alone."""
        return sum((share.total for share in self.shares), Decimal(0)) - self.buying.total


def week(plans: Sequence[Plan], more_time: MoreTime = no_more_time) -> Week:
    """Cut and buy for several jobs at once.

    Args:
        plans: the jobs, each worked out alone; they draw on one shop.
        more_time: whether the search for a cheaper cutting plan may go on.

    Returns:
        Parts, cutting plan and buying list of them all. Units are those of the first job's brief.

    Raises:
        InvalidInputError: if the jobs do not share one shop, or are none or too many.
    """
    _expect_one_shop(plans)
    first = plans[0]
    marks = [f"{number}-" for number in range(1, len(plans) + 1)]
    parts = PartList(
        parts=tuple(_part(part, mark) for plan, mark in zip(plans, marks, strict=True) for part in plan.parts.parts),
        joints=tuple(_joint(one, mark) for plan, mark in zip(plans, marks, strict=True) for one in plan.parts.joints),
        matched=tuple(
            tuple(mark + number for number in group)
            for plan, mark in zip(plans, marks, strict=True)
            for group in plan.parts.matched
        ),
    )
    cutting = lay_out(parts, first.shop, more_time, Marks(units=first.brief.units, resolution=first.brief.resolution))
    installing = InstallPlan(
        packers=tuple(packer for plan in plans for packer in plan.installing.packers),
        fixings=tuple(fixing for plan in plans for fixing in plan.installing.fixings),
        holes=(),
        steps=(),
    )
    finishing = FinishPlan(
        coats=tuple(coat for plan in plans for coat in plan.finishing.coats),
        nail_holes=sum(plan.finishing.nail_holes for plan in plans),
        caulk_m=sum(plan.finishing.caulk_m for plan in plans),
        load_after_days=max(plan.finishing.load_after_days for plan in plans),
    )
    return Week(
        brief=replace(first.brief, title=TITLE),
        shares=tuple(_share(plan, mark) for plan, mark in zip(plans, marks, strict=True)),
        shop=first.shop,
        parts=parts,
        cutting=cutting,
        buying=tally(parts, cutting, installing, finishing, _all_bought(plans), first.shop),
        open_questions=tuple(
            mark + key for plan, mark in zip(plans, marks, strict=True) for key in plan.open_questions
        ),
    )


def _all_bought(plans: Sequence[Plan]) -> Brief:
    """Return the first job's brief, with what all of them ask to buy besides."""
    return replace(plans[0].brief, also_buy=tuple(wish for plan in plans for wish in plan.brief.also_buy))


def _expect_one_shop(plans: Sequence[Plan]) -> None:
    inspection = Inspection()
    count = len(plans)
    inspection.expect(1 <= count <= MOST_JOBS, "jobs", f"{count} jobs", f"from 1 to {MOST_JOBS} jobs")
    for number, plan in enumerate(plans[1:], start=2):
        inspection.expect(
            plan.shop == plans[0].shop,
            f"jobs[{number}]",
            f"another shop for {plan.brief.title} than for {plans[0].brief.title}",
            "one shop file, with the same sheets measured, for all jobs",
            "Name the same file at `shop` in every brief.",
        )
    inspection.finish()


def _part(part: Part, mark: str) -> Part:
    return replace(part, number=mark + part.number, module=f"{mark}{part.module}")


def _joint(joint: JointMade, mark: str) -> JointMade:
    return replace(joint, held=mark + joint.held, holder=mark + joint.holder)


def _share(plan: Plan, mark: str) -> Share:
    return Share(
        mark=mark,
        survey=plan.survey,
        brief=plan.brief,
        facts=plan.facts,
        parts=len(plan.parts.parts),
        sheets=len(plan.cutting.sheets),
        boards=len(plan.cutting.boards),
        total=plan.buying.total,
    )
