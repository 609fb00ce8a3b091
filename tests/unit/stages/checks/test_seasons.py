"""Month by month: the room's air by an independent program, the wood's moisture, gaps, slots and doors."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import psychrolib
import pytest

from nookwright.stages.checks.seasons import check_climate, dampest_month, driest_month, year_of
from nookwright.stages.checks.wood_movement import check_doors, check_movement
from nookwright.stages.design.design import Door
from nookwright.stages.inputs.brief import Climate, MonthAir
from nookwright.stages.parts.part import PartList
from nookwright.trade.movement import emc_celsius
from nookwright.trade.room_climate import room_warmth, vapour_excess

psychrolib.SetUnitSystem(psychrolib.SI)

OUTSIDE = (
    (-1, 85), (0, 82), (4, 77), (8, 71), (13, 70), (16, 71), (18, 71), (22, 73), (14, 78), (9, 83), (4, 86), (1, 87),
)  # fmt: skip
CLIMATE = Climate(outdoor=tuple(MonthAir(warmth_c=c, humidity_pct=h) for c, h in OUTSIDE))


def _theirs(outside: float, humidity: float, added_pa: float) -> float:
    """Return a month's humidity in the room by psychrolib. [%]"""
    room = 20 if outside <= 10 else min(25, 20 + (outside - 10) / 2)
    added = added_pa * min(1, max(0, 1 - outside / 20))
    vapour = psychrolib.GetVapPresFromRelHum(outside, humidity / 100) + added
    return 100 * psychrolib.GetRelHumFromVapPres(room, vapour)


@pytest.mark.parametrize("month", range(12))
def test_each_month_by_an_independent_program(job: Any, month: int) -> None:
    """270 Pa added on the dry side, 540 on the damp one: the class of dwellings and the one below."""
    year = year_of(replace(job.brief, climate=CLIMATE))
    low, high = (_theirs(*OUTSIDE[month], added) for added in (270, 540))
    assert year.months[month].room_pct == pytest.approx((low, high), rel=1e-9)


def test_the_years_ends_by_hand(job: Any) -> None:
    """January: 0.85 x 562.7 Pa + 270 x 1 = 748 of 2338.8 Pa, 32.0 %; wood 6.5 %. Late summer is dampest."""
    year = year_of(replace(job.brief, climate=CLIMATE))
    assert driest_month(year).name == "Jan"
    assert year.months[0].room_pct[0] == pytest.approx(32.0, abs=0.1)
    assert year.low_pct == pytest.approx(6.5, abs=0.1)
    assert dampest_month(year).name == "Aug"
    assert year.driest == "in Jan"


def test_measured_air_rules_over_what_is_worked_out(job: Any) -> None:
    """Twelve months of 20 C and 50 %: 9.27 % all year, by the equation's published point."""
    indoor = (MonthAir(warmth_c=20, humidity_pct=50),) * 12
    year = year_of(replace(job.brief, climate=replace(CLIMATE, indoor=indoor)))
    assert (year.low_pct, year.high_pct) == pytest.approx((9.27, 9.27), abs=0.005)


def test_without_a_climate_the_common_range_counts(job: Any) -> None:
    """6 to 12 %, and nothing is told of months."""
    assert (year_of(job.brief).low_pct, year_of(job.brief).high_pct) == (6.0, 12.0)
    (said,) = check_climate(job.brief)
    assert "from 6 % moisture when heating ends to 12 % when the damp season ends" in said.summary
    assert "Caulk along walls when heating ends" in said.summary


def test_what_the_class_adds_and_how_warm_it_is() -> None:
    """Whole in frost, half at 10 C, none at 20; 20 C up to 10 C outside, 22.5 at 15, 25 from 20 on."""
    assert [vapour_excess(outside_c=c, in_frost_pa=540) for c in (-10, 0, 10, 20, 30)] == [540, 540, 270, 0, 0]
    assert [room_warmth(outside_c=c, heated_c=20) for c in (-10, 10, 15, 20, 30)] == [20, 20, 22.5, 25, 25]


def test_gaps_month_by_month_by_hand(job: Any) -> None:
    """A beech top 640 wide: 640 x 0.00431 x (dampest - that month's driest) + 2, to half a millimetre."""
    top = replace(
        job.parts.part("C1"), role="worktop", wood="beech", pieces=5,
        outline=((0, 0), (1500, 0), (1500, 640), (0, 640)),
    )  # fmt: skip
    brief = replace(job.brief, climate=CLIMATE)
    (finding,) = check_movement(PartList(parts=(top,), joints=()), brief)
    high = emc_celsius(temperature_c=25, humidity_pct=_theirs(22, 73, 540))
    low = emc_celsius(temperature_c=20, humidity_pct=_theirs(-1, 85, 270))
    gap = round(2 * (640 * 0.00431 * (high - low) + 2)) / 2
    assert f"when it is fitted in: Jan {gap:g} mm, Feb" in finding.remedy
    assert "Aug 2 mm" in finding.remedy
    assert "caulk beside it in Jan" in finding.remedy
    assert finding.demand == pytest.approx(640 * 0.00431 * (high - low), rel=1e-6)


def _door(job: Any, width_mm: float, **changed: Any) -> Door:
    stock = replace(job.shop.sheets[0], wood="mdf")
    outline = ((0.0, 0.0), (width_mm, 0.0), (width_mm, 700.0), (0.0, 700.0))
    return replace(Door(name="door of left case", letter="D", outline=outline, y_back_mm=-306, stock=stock), **changed)


def test_a_doors_air_wet_and_dry_by_hand(job: Any) -> None:
    """600 of MDF: half of 600 x 0.0005 x 6 = 0.9 either way; (4.8 - 0.3 -+ 0.9) / 2 = 1.80 and 2.70."""
    (finding,) = check_doors(replace(job.design, doors=(_door(job, 600),)), job.brief)
    assert finding.limit == pytest.approx(1.80)
    assert "1.80 mm of air at each edge when the damp season ends and 2.70 mm when heating ends" in finding.summary
    assert finding.verdict == "pass"


def test_a_wide_door_binds_and_says_what_to_plane(job: Any) -> None:
    """2000 of MDF: 3.0 either way, (4.5 - 3.0) / 2 = 0.75: 0.5 off for 1 mm."""
    (finding,) = check_doors(replace(job.design, doors=(_door(job, 2000),)), job.brief)
    assert finding.verdict == "caution"
    assert finding.remedy == "Plane 0.5 mm off its width before painting."


def test_overlay_and_sliding_doors_have_room(job: Any) -> None:
    """Nothing to say."""
    doors = (_door(job, 600, inset=False), _door(job, 600, name="left sliding door of left case"))
    assert check_doors(replace(job.design, doors=doors), job.brief) == ()


def test_beyond_the_coefficients_the_shrinkage_counts_by_hand(job: Any) -> None:
    """A cold store of 18 to 70 %: wood from 4.1 to 13.2 %. Beech 640, S = 3000 x 0.00431 / 1.0862 = 11.904.

    640 (M2 - M1) / (3000 / 11.904 - 30 + M1): 3000 / 11.904 = 252.0.
    """
    air = tuple(MonthAir(warmth_c=20, humidity_pct=h) for h in (18.0, *([50.0] * 10), 70.0))
    brief = replace(job.brief, climate=Climate(indoor=air))
    top = replace(
        job.parts.part("C1"), role="worktop", wood="beech", pieces=5,
        outline=((0, 0), (1500, 0), (1500, 640), (0, 640)),
    )  # fmt: skip
    (finding,) = check_movement(PartList(parts=(top,), joints=()), brief)
    low, high = (emc_celsius(temperature_c=20, humidity_pct=h) for h in (18, 70))
    assert low < 6
    assert finding.demand == pytest.approx(640 * (high - low) / (252.0 - 30 + low), rel=1e-3)
    assert "shrinkage-equation" in finding.source_keys
