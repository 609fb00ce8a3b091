"""The stages in order: `plan()` works out the whole job. READ THIS FIRST."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.basics.findings import Finding, worst_first
from nookwright.basics.lengths import Marks
from nookwright.stages.buying.buy_list import BuyList
from nookwright.stages.buying.tally import tally
from nookwright.stages.checks.check import check
from nookwright.stages.checks.site_questions import open_questions
from nookwright.stages.cutting.cutting_plan import CuttingPlan
from nookwright.stages.cutting.lay_out import lay_out, not_cuttable
from nookwright.stages.cutting.more_time import MoreTime, no_more_time
from nookwright.stages.design.design import Design
from nookwright.stages.design.fit import fit
from nookwright.stages.finishing.coat import coat
from nookwright.stages.finishing.finish_plan import FinishPlan
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.inputs.facts import NOTHING_BUILT_YET, Facts
from nookwright.stages.inputs.shop import Shop
from nookwright.stages.inputs.survey import Survey
from nookwright.stages.installing.install_plan import InstallPlan
from nookwright.stages.installing.set_out import set_out
from nookwright.stages.parts.break_down import break_down
from nookwright.stages.parts.part import PartList
from nookwright.stages.room.room import Room
from nookwright.stages.room.standing import standing_room


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The whole job, worked out; everything the job book prints."""

    survey: Survey
    brief: Brief
    shop: Shop
    facts: Facts
    room: Room
    design: Design
    parts: PartList
    findings: tuple[Finding, ...]
    cutting: CuttingPlan
    installing: InstallPlan
    finishing: FinishPlan
    buying: BuyList

    @property
    def open_questions(self) -> tuple[str, ...]:
        """The site questions nobody has answered: until they are, every cutting page is a draft."""
        return open_questions(self.findings)


def plan(
    survey: Survey, brief: Brief, shop: Shop, facts: Facts = NOTHING_BUILT_YET, more_time: MoreTime = no_more_time
) -> Plan:
    """Work out the whole job, from tape measurements to shopping list.

    Args:
        survey: what was read in the room.
        brief: what is wanted.
        shop: stock, saw, prices.
        facts: what is already bought or built.
        more_time: whether the search for a cheaper cutting plan may go on; more time gives no dearer a plan.

    Returns:
        The whole job; the same input gives the same plan, as long as no time is given.

    Raises:
        InvalidInputError: if the inputs cannot be worked with; carries every problem at once.
    """
    shop = facts.applied_to(shop)  # the thickness measured on the batch rules
    room = standing_room(survey, brief)  # the true shape where it stands, with its uncertainty
    design = fit(brief, room, shop)  # the furniture that fits it
    parts = break_down(design, brief, room, shop)  # every board to cut, and how boards are joined
    installing = set_out(design, parts, brief, room, shop)  # packers, fixings, outlet holes, order of work
    checks = check(design, parts, installing, room, brief, shop, facts)  # will it hold, and what must be asked on site
    marks = Marks(units=brief.units, resolution=brief.resolution)
    cutting = lay_out(parts, shop, more_time, marks)  # sheets and boards
    findings = worst_first((*checks, *not_cuttable(cutting, marks)))
    finishing = coat(parts, brief, shop)  # litres, coats, days
    buying = tally(parts, cutting, installing, finishing, brief, shop)  # the list and its cost
    return Plan(
        survey=survey, brief=brief, shop=shop, facts=facts, room=room, design=design, parts=parts, findings=findings,
        cutting=cutting, installing=installing, finishing=finishing, buying=buying,
    )  # fmt: skip
