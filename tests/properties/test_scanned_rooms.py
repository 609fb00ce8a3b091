"""Scans against rooms known exactly: what is promised of the spreads, and scans that are wrong as a whole."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import replace

import numpy as np
import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.stages.inputs.survey import RoomKind, Survey
from nookwright.stages.room.reconcile import reconcile
from nookwright.stages.survey.examine import examine
from nookwright.stages.survey.scan_register import with_surfaces
from scanned_rooms import FEW, SPOTS, scanned, true_values
from simulated_rooms import Waviness
from simulated_scans import Scanner

KINDS = tuple(SPOTS)
ROOMS = 8
QUICK = Scanner(points=20_000)


@pytest.mark.parametrize("kind", KINDS)
def test_with_a_scan_and_three_tapes_the_truth_lies_within_two_standard_deviations(kind: RoomKind) -> None:
    """Noise of 2.5 mm, a tenth of all points astray, furniture before the walls; walls of 0.7, 1.5 and 3 mm.

    Together 0.92 up: with so few rooms, whose values go together, 0.95 can come out at that.
    """
    sizes: dict[str, list[float]] = defaultdict(list)
    alarms = 0
    for seed in range(ROOMS):
        wavy = Waviness((0.7, 1.5, 3.0)[seed % 3], belly_mm=3.0 if seed % 5 == 0 else 0.0)
        truth, survey, points = scanned(kind, 200 + seed, scanner=QUICK, wavy=wavy)
        room = reconcile(with_surfaces(survey, [points]))
        true = true_values(truth, survey, room)
        alarms += any(fit.suspect for fit in room.fits)
        for one in room.derived:
            if one.fixed and one.name in true:
                quantity = next(
                    word for word in ("corner", "lean", "width", "fall", "pitch", "depth") if word in one.name
                )
                sizes[quantity].append(abs(one.measured.value - true[one.name]) / one.measured.sd)
    for quantity, found in sizes.items():
        assert np.mean(np.array(found) < 1.96) >= 0.8, quantity
        assert max(found) < 5, quantity
    together = np.concatenate([np.array(found) for found in sizes.values()])
    assert 0.92 <= np.mean(together < 1.96) <= 0.999
    assert 0.6 < math.sqrt(np.mean(together**2)) < 1.2
    assert alarms <= 2


def test_a_wall_between_the_spots_lies_within_the_band_a_scan_gives() -> None:
    """Every 50 mm along the back wall, 1 m up, where no spot is: nine in ten within two standard deviations."""
    scores: list[float] = []
    for seed in range(6):
        truth, survey, points = scanned("alcove", 300 + seed, scanner=QUICK, wavy=Waviness((1.0, 2.5)[seed % 2]))
        room = reconcile(with_surfaces(survey, [points]))
        width = next(one for one in room.derived if one.name == "width at the back at the floor").measured.value
        places = [(x, 1000.0) for x in np.arange(0.1 * width, 0.9 * width, 50.0)]
        true = truth.surface_at("back", 1, np.array(places))
        found = room.profile("back", places)
        scores += [(one.value - y) / one.sd for one, y in zip(found, true, strict=True)]
        assert max(one.sd for one in found) < 4
    assert 0.9 <= np.mean(np.abs(scores) < 1.96) <= 1.0
    assert 0.5 < math.sqrt(np.mean(np.square(scores))) < 1.3


@pytest.mark.parametrize("kind", KINDS)
def test_a_scan_and_three_tapes_fix_every_lean(kind: RoomKind) -> None:
    """Three tapes and four levels say nothing of any lean."""
    _, survey, points = scanned(kind, 1, scanner=QUICK)
    leans = [one for one in reconcile(with_surfaces(survey, [points])).derived if one.name.endswith("lean")]
    assert len(leans) >= 2
    assert all(one.fixed and one.measured.sd < 6 for one in leans)
    if kind == "alcove":  # without a scan the slope's height is not known at all, and the room refused
        alone = reconcile(replace(survey, scans=(), readings=survey.readings[:-1]))
        assert not any(one.fixed for one in alone.derived if one.name.endswith("lean"))


@pytest.mark.parametrize("scale", [0.99, 1.01])
def test_a_scan_one_percent_too_large_or_small_is_found_out_by_one_tape(scale: float) -> None:
    """Tape and scale contradict each other by 13 mm; the marked heights, which the scan shows too, side with the tape."""
    takes = (("tape", "BL0", "BR0"), *FEW[3:])
    found = 0
    for seed in range(4):
        _, survey, points = scanned("alcove", seed, scanner=replace(QUICK, scale=scale, pick_mm=2.0), takes=takes)
        fits = reconcile(with_surfaces(survey, [points])).fits
        found += "scale of scan room.ply" in {fit.text for fit in fits if fit.suspect}
    assert found >= 3


def test_with_three_tapes_it_is_the_scale_that_is_named() -> None:
    """The tapes agree with each other and not with the scan; without its scale the room is right again."""
    truth, survey, points = scanned("alcove", 5, scanner=replace(QUICK, scale=1.01))
    room = reconcile(with_surfaces(survey, [points]))
    suspects = [fit for fit in room.fits if fit.suspect]
    assert [fit.text for fit in suspects] == ["scale of scan room.ply"]
    assert suspects[0].slip is not None
    assert suspects[0].slip.says(suspects[0].read).value == pytest.approx(1000 / 1.01, abs=2.5)
    free = replace(survey, readings=(*survey.readings[:-1], replace(survey.readings[-1], use=False)))
    left = reconcile(with_surfaces(free, [points]))
    width = next(one for one in left.derived if one.name == "width at the back at the floor").measured
    true = true_values(truth, survey, left)["width at the back at the floor"]
    assert abs(width.value - true) < 3 * width.sd
    assert width.sd < 2


def refused(survey: Survey, points: np.ndarray) -> str:
    """Return what is said of a scan that is refused."""
    with pytest.raises(InvalidInputError) as caught:
        with_surfaces(survey, [points])
    return str(caught.value)


@pytest.mark.parametrize("pair", [("BL0", "BR0"), ("FL0", "FR0"), ("BL0", "BL2"), ("FR0", "FR3"), ("BR0", "FL0")])
def test_two_spots_that_changed_places_are_named(pair: tuple[str, str]) -> None:
    """As when two names are typed the wrong way round."""
    _, survey, points = scanned("alcove", 2, scanner=QUICK)
    swap = dict([pair, pair[::-1]])
    spots = tuple(replace(spot, name=swap.get(spot.name, spot.name)) for spot in survey.scans[0].spots)
    survey = replace(survey, scans=(replace(survey.scans[0], spots=spots),))
    said = refused(survey, points)
    assert "spots of scan room.ply that miss their places in the room by" in said
    assert any(f"{a} and {b} seem to have changed places." in said for a, b in (pair, pair[::-1]))


def test_a_spot_picked_far_off_is_named() -> None:
    """400 mm up the wall: the other seven agree."""
    _, survey, points = scanned("alcove", 2, scanner=QUICK)
    scan = survey.scans[0]
    x, y, z = scan.spots[0].xyz
    spots = (replace(scan.spots[0], xyz=(x, y, z + 400)), *scan.spots[1:])
    said = refused(replace(survey, scans=(replace(scan, spots=spots),)), points)
    assert said.endswith("BL0 seems to be wrong: pick it again.")


def test_a_spot_picked_a_little_off_its_wall_is_named() -> None:
    """80 mm to the side of the left wall's corner, which the scan shows well."""
    truth, survey, points = scanned("alcove", 2, scanner=replace(QUICK, pick_mm=0.5, points=60_000))
    scan = survey.scans[0]
    corner, along = (np.array(next(s for s in scan.spots if s.name == name).xyz) for name in ("BL2", "BR2"))
    moved = corner + 80 * (along - corner) / np.linalg.norm(along - corner)
    spots = tuple(replace(spot, xyz=tuple(moved.tolist())) if spot.name == "BL2" else spot for spot in scan.spots)
    said = refused(replace(survey, scans=(replace(scan, spots=spots),)), points)
    assert "spot BL2 picked" in said
    assert "mm off the left wall in scan room.ply; expected a place within 30 mm of every surface it lies on." in said
    assert truth.kind == "alcove"
    inches = replace(survey, units="inch", scans=(replace(scan, spots=spots),))
    assert 'expected a place within 1 3/16" of every surface it lies on.' in refused(inches, points)


@pytest.mark.parametrize(("factor", "unit"), [(1000 / 304.8, "foot"), (1000.0, "mm"), (1000 / 25.4, "inch")])
def test_a_scan_in_another_unit_is_told_its_unit(factor: float, unit: str) -> None:
    """The file's numbers taken for metres."""
    _, survey, points = scanned("alcove", 2, scanner=QUICK)
    scan = survey.scans[0]
    spots = tuple(replace(spot, xyz=tuple(value * factor for value in spot.xyz)) for spot in scan.spots)
    said = refused(replace(survey, scans=(replace(scan, spots=spots),)), points * factor)
    assert f"Its units seem to be {unit}." in said


def test_a_scan_of_another_place_is_refused() -> None:
    """Points, but none where the spots say that walls are."""
    _, survey, points = scanned("alcove", 2, scanner=QUICK)
    assert "no wall or floor in scan room.ply" in refused(survey, points + 9000)


def test_a_scan_whose_y_axis_points_up_gives_the_same_room() -> None:
    """Some programs write y as up: which axis is upright is seen from the spots. Rounding moves a few points."""
    values = []
    for upright in (2, 1):
        _, survey, points = scanned("alcove", 3, scanner=replace(QUICK, upright=upright))
        values.append({d.name: d.measured for d in reconcile(with_surfaces(survey, [points])).derived})
    for name, measured in values[0].items():
        assert values[1][name].value == pytest.approx(measured.value, abs=0.1 * measured.sd + 0.01)
        assert values[1][name].sd == pytest.approx(measured.sd, rel=0.1)


@pytest.mark.parametrize("kind", KINDS)
def test_a_noisier_scan_never_makes_a_figure_surer(kind: RoomKind) -> None:
    """The same pieces, each known half as well; spots picked half as well; an axis half as plumb."""
    _, survey, points = scanned(kind, 4, scanner=QUICK)
    survey = replace(survey, tools=replace(survey.tools, waviness_fixed=True))
    good = with_surfaces(survey, [points])
    scan = good.scans[0]
    patches = tuple(replace(patch, sd_mm=2 * patch.sd_mm) for patch in scan.patches)
    worse = replace(scan, patches=patches, pick_mm=2 * scan.pick_mm, level_mm_per_m=2 * scan.level_mm_per_m)
    sure = {one.name: one.measured.sd for one in reconcile(good).derived}
    for one in reconcile(replace(good, scans=(worse,))).derived:
        if one.name in sure:  # the high point may be another one
            assert one.measured.sd >= 0.999 * sure[one.name], one.name


def garble(survey: Survey, points: np.ndarray, seed: int) -> tuple[Survey, np.ndarray]:
    """Return a scan spoilt as files and fingers spoil them."""
    rng = np.random.default_rng(seed)
    scan = survey.scans[0]
    spots = list(scan.spots)
    size = 10 ** rng.uniform(-2, 5)
    match seed % 8:
        case 0:
            spots = [replace(spot, xyz=tuple(rng.normal(0, size, 3).tolist())) for spot in spots]
        case 1:
            points = rng.normal(0, size, (int(rng.integers(0, 3000)), 3))
        case 2:
            points = points[: int(rng.integers(0, 300))]
        case 3:
            points = np.repeat(points[:1], int(rng.integers(1, 2000)), axis=0)
        case 4:
            points = points * (1, 1, 0)
        case 5:
            names = rng.permutation([spot.name for spot in spots])
            spots = [replace(spot, name=str(name)) for spot, name in zip(spots, names, strict=True)]
        case 6:
            spots = spots[: int(rng.integers(1, len(spots) + 1))]
        case _:
            spots = [replace(spot, xyz=spots[0].xyz) for spot in spots]
    scan = replace(scan, spots=tuple(spots), sd_mm=float(10 ** rng.uniform(-1, 1.5)))
    return replace(survey, scans=(scan,)), points


def test_a_garbled_scan_is_refused_or_adjusted() -> None:
    """Nothing else happens: no other exception, no value that is not a number."""
    good = {kind: scanned(kind, 1, scanner=replace(QUICK, points=8_000))[1:] for kind in KINDS}
    adjusted = 0
    for seed in range(48):
        survey, points = garble(*good[KINDS[seed % 3]], seed)
        try:
            examine(survey)
            room = reconcile(with_surfaces(survey, [points]))
        except InvalidInputError:
            continue
        adjusted += 1
        assert all(math.isfinite(one.measured.value) and one.measured.sd >= 0 for one in room.derived)
    assert 1 <= adjusted <= 24  # both ends are really tried
