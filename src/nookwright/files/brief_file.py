"""brief.yaml -> Brief: the furniture wanted, from the floor up."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from nookwright.basics.amounts import read_amount
from nookwright.basics.lengths import UnreadableTextError, quoted
from nookwright.basics.problems import Inspection, Where
from nookwright.files.climate_lists import read_climate
from nookwright.files.form import Desk, Form, Mention, read_count
from nookwright.files.shop_file import item_of
from nookwright.files.tree import Table
from nookwright.stages.inputs.brief import (
    Allowances,
    AlsoBuy,
    Bought,
    Brief,
    Cases,
    Cell,
    EdgingWish,
    Finish,
    Fixed,
    Front,
    GrainWish,
    Joinery,
    Load,
    Matched,
    Platform,
    Share,
    Size,
    Tier,
    Top,
    Trim,
    Unit,
    WallScrew,
)

_SHARE = re.compile(r"(\d{1,12}(?:[.,]\d{1,20})?)\s*parts?")
_SHELVES = re.compile(r"(\S+?)(?:\s+(on pins|fixed))?")
_RESOLUTIONS = {"0.5": 0.5, "1": 1.0, "1/16": 1 / 16, "1/32": 1 / 32}

Shelves = tuple[int, Literal["pins", "fixed"]]
Leaves = tuple[Literal["one", "pair", "sliding"], Literal["inset", "overlay"]]

_EQUAL: Size = Share()
_NO_SHELVES: Shelves = (0, "pins")
_FRONTS: dict[str, Leaves] = {
    "one": ("one", "inset"),
    "one inset": ("one", "inset"),
    "one overlay": ("one", "overlay"),
    "pair": ("pair", "inset"),
    "pair inset": ("pair", "inset"),
    "pair overlay": ("pair", "overlay"),
    "sliding": ("sliding", "inset"),
    "sliding inset": ("sliding", "inset"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class BriefRead:
    """What a brief file holds.

    Args:
        brief: the brief; None when anything in the file is wrong.
        mentions: keys of the shop file it names.
        shop_file: where the shop file is, from the job folder.
        shop_where: where the brief says so.
    """

    brief: Brief | None
    mentions: tuple[Mention, ...]
    shop_file: str
    shop_where: Where


def read_brief(tree: Table, inspection: Inspection) -> BriefRead:
    """Return the brief, with what it says of the shop file.

    Args:
        tree: the file's tree.
        inspection: takes every problem.
    """
    before = len(inspection.problems)
    desk = Desk(file="brief", inspection=inspection)
    form = Form(tree, "brief", desk)
    desk.units = form.choice("units")
    brief = Brief(
        title=form.text("title"),
        date=form.text("date"),
        revision=form.text("revision"),
        units=desk.units,
        resolution=_resolution(form),
        paper=form.choice("paper"),
        place=form.text("place"),
        start_mm=form.read_as("start", lambda typed: _end(form, typed), None),
        end_mm=form.read_as("end", lambda typed: _end(form, typed), None),
        platform=_platform(form.group_in("platform")),
        tiers=_tiers(form),
        trim=_trim(form.group_in("trim")),
        return_skirting=form.yes_no("return skirting"),
        joinery=_joinery(form.group_or_empty("joinery")),
        allowances=_allowances(form.group_or_empty("allowances")),
        load=_load(form.group_or_empty("load")),
        finish=_finish(form.group_or_empty("finish")),
        grain=tuple(
            GrainWish(parts=one.texts("parts"), runs=one.choice("runs"), where=one.where) for one in form.forms("grain")
        ),
        edging=tuple(
            EdgingWish(parts=one.texts("parts"), edges=one.choice("edges"), item=one.text("item"), where=one.where)
            for one in form.forms("edging")
        ),
        also_buy=tuple(
            AlsoBuy(
                item=item_of(one, "item", one.text("item")),
                amount=one.amount("amount"),
                unit=one.choice("unit"),
                to_have=one.choice("to have"),
                why=one.text("why"),
                where=one.where,
            )
            for one in form.forms("also buy")
        ),
        matched=tuple(Matched(parts=one.texts("parts"), where=one.where) for one in form.forms("matched")),
        climate=read_climate(form.group_in("climate")),
        wall_screw=_wall_screw(form.group_or_empty("wall fixing")),
        where=form.where,
        place_where=form.place("place"),
    )
    return BriefRead(
        brief=brief if len(inspection.problems) == before else None,
        mentions=tuple(desk.mentions),
        shop_file=form.text("shop") or "shop.yaml",
        shop_where=form.place("shop"),
    )


def _resolution(form: Form) -> float:
    """Return the smallest step people mark, which must suit the units. [mm or inch]"""
    if not form.has("resolution"):
        return 0.5 if form.desk.units == "mm" else 1 / 16
    chosen: str = form.choice("resolution")
    if ("/" in chosen) != (form.desk.units == "inch"):
        form.note("resolution", quoted(chosen), "0.5 or 1 with units mm, 1/16 or 1/32 with units inch")
    return _RESOLUTIONS[chosen]


def _end(form: Form, typed: str) -> float | None:
    """Return an end of the run; None for the wall. [mm]"""
    return None if typed.lower() == "wall" else form.length_in_units(typed)


def _platform(form: Form | None) -> Platform | None:
    if form is None:
        return None
    return Platform(
        height_mm=form.length("height"),
        board=form.mention("board"),
        toe_mm=form.length("toe"),
        least_packer_mm=form.length("least packer"),
        bearer_spacing_mm=form.length("bearer spacing"),
        split_mm=form.lengths("split"),
        where=form.where,
    )


def _tiers(form: Form) -> tuple[Tier, ...]:
    """Return the tiers; every name of a tier or box must stand once, for the drawings name things by it."""
    tiers: list[Tier] = []
    for tier in form.forms("tiers"):
        if tier.has("cases") == tier.has("top"):
            tier.desk.note(tier.where, "both" if tier.has("top") else "neither", "either `cases` or `top`")
            continue
        cases, top = tier.group_in("cases"), tier.group_in("top")
        if cases is not None:
            tiers.append(_cases(cases))
        elif top is not None:
            tiers.append(_top(top))
    _names_once(form.desk, tiers)
    return tuple(tiers)


_OWN_NAMES = ("platform", "face trim", "doors", "skirting")
"""What parts that belong to no box are grouped under."""


def _names_once(desk: Desk, tiers: list[Tier]) -> None:
    boxes = [(unit.name, unit.where) for tier in tiers if isinstance(tier, Cases) for unit in tier.units]
    for named in ([(tier.name, tier.where) for tier in tiers], boxes):
        seen: dict[str, Where] = {}
        for name, where in named:
            if name and name in seen:
                expected = f"a name of its own; line {seen[name].line} has it too"
                desk.note(where, f"the name {quoted(name)} a second time", expected)
            if name in _OWN_NAMES:
                expected = "another name; the drawings use this one for parts of their own"
                desk.note(where, f"the name {quoted(name)}", expected)
            seen.setdefault(name, where)


def _cases(form: Form) -> Cases:
    board = form.mention("board")
    return Cases(
        name=form.text("name"),
        height_mm=form.read_as("height", lambda typed: _height(form, typed), None),
        depth_mm=form.length("depth"),
        units=tuple(_unit(unit, board) for unit in form.forms("units")),
        board=board,
        back_board=form.mention("back"),
        rake_low=form.choice("rake low"),
        rake_high=form.choice("rake high"),
        where=form.where,
    )


def _height(form: Form, typed: str) -> float | None:
    """Return an outside height; None for up to the slope or ceiling. [mm]"""
    return None if " ".join(typed.lower().split()) in ("to slope", "to ceiling") else form.length_in_units(typed)


def _top(form: Form) -> Top:
    return Top(
        name=form.text("name"), board=form.mention("board"), overhang_mm=form.length("overhang"),
        split_mm=form.lengths("split"), where=form.where,
    )  # fmt: skip


def _unit(form: Form, board: str) -> Unit:
    """Return a box; `board` is the stock its doors are made of unless they name another."""
    bought, inside = form.group_in("bought"), form.group_in("inside")
    if bought is not None and inside is not None:
        form.note("inside", "an inside for a bought cabinet", "either `bought` or `inside`")
    cabinet = _bought(bought) if bought else None
    width: Size = Fixed(mm=cabinet.width_mm) if cabinet else Share()
    if form.has("width") or not cabinet:
        width = form.read_as("width", lambda typed: _size(form, typed), _EQUAL)
    if cabinet and form.has("width"):
        form.note("width", "a width beside a bought cabinet", "its width once, under `bought`")
    _check_size(form, "width", width)
    return Unit(
        name=form.text("name"),
        width=width,
        bought=cabinet,
        inside=_cell(inside, board) if inside else Cell(),
        where=form.where,
    )


def _bought(form: Form) -> Bought:
    bought = Bought(
        width_mm=form.length("width"),
        height_mm=form.length("height"),
        depth_mm=form.length("depth"),
        toe_height_mm=form.length("toe"),
        side_mm=form.length("side"),
        back_mm=form.length("back"),
        doors=form.count("doors"),
        drawers=form.count("drawers"),
        mass_kg=form.amount("mass") if form.has("mass") else None,
    )
    if bought.toe_height_mm >= bought.height_mm:
        form.note("toe", f"{bought.toe_height_mm:g} mm", "less than the cabinet's height")
    return bought


def _size(form: Form, typed: str) -> Size:
    """Return a fixed size or a share."""
    words = " ".join(typed.lower().split())
    if words == "equal":
        return Share()
    share = _SHARE.fullmatch(words)
    if share:
        parts = read_amount(share[1], unit="")
        if parts <= 0:
            raise UnreadableTextError(typed, "a share above 0, such as `2 parts`")
        return Share(parts=parts)
    return Fixed(mm=form.length_in_units(typed))


def _check_size(form: Form, key: str, size: Size) -> None:
    """Check a fixed size against its field's limits."""
    if isinstance(size, Fixed) and form.has(key):
        form.checked(key, form.text(key), form.length_in_units, size.mm, form.place(key))


def _cell(form: Form, board: str) -> Cell:
    """Return a cell with all the smaller cells in it."""
    kinds = [key for key in ("columns", "rows", "shelves") if form.has(key)]
    if len(kinds) > 1:
        form.desk.note(form.where, f"{' and '.join(kinds)} in one cell", "one of columns, rows or shelves")
    split: Literal["none", "columns", "rows"] = "none"
    if form.has("columns"):
        split = "columns"
    elif form.has("rows"):
        split = "rows"
    shelves, fixing = form.read_as("shelves", _shelves, _NO_SHELVES)
    size = form.read_as("size", lambda typed: _size(form, typed), _EQUAL)
    _check_size(form, "size", size)
    return Cell(
        size=size,
        split=split,
        cells=tuple(_cell(cell, board) for cell in form.forms(split)) if split != "none" else (),
        shelves=shelves,
        shelf_fixing=fixing,
        front=_front(form, board),
        where=form.where,
    )


def _shelves(typed: str) -> Shelves:
    """Return how many shelves, and on what."""
    match = _SHELVES.fullmatch(" ".join(typed.lower().split()))
    number = "0" if match and match[1] in ("none", "no") else (match[1] if match else "")
    if match is None or not number.isdigit():
        raise UnreadableTextError(typed, "a number with `on pins` or `fixed`, such as `3 on pins`")
    return read_count(number), "fixed" if match[2] == "fixed" else "pins"


def _front(form: Form, board: str) -> Front | None:
    """Return the door; without a board of its own it takes the boxes'."""
    leaves = form.read_as("front", _leaves, None)
    own_board = form.mention("front board")
    if leaves is None:
        if own_board and not form.has("front"):
            form.note("front board", quoted(own_board), "a `front` beside it")
        return None
    return Front(leaves=leaves[0], hang=leaves[1], board=own_board or board)


def _leaves(typed: str) -> Leaves | None:
    """Return how many leaves and how they hang."""
    words = " ".join(typed.lower().split())
    if words == "none":
        return None
    if words not in _FRONTS:
        hint = "Sliding doors are always inset." if "sliding" in words else ""
        raise UnreadableTextError(typed, "one, pair or sliding, then inset or overlay, such as `pair inset`", hint)
    return _FRONTS[words]


def _trim(form: Form | None) -> Trim | None:
    if form is None:
        return None
    return Trim(
        board=form.mention("board"),
        reveal_mm=form.length("reveal"),
        centre_mm=form.length("centre"),
        rail_mm=form.length("rail"),
    )


def _joinery(form: Form) -> Joinery:
    return Joinery(corners=form.choice("corners"), dividers=form.choice("dividers"), housing_mm=form.length("housing"))


def _allowances(form: Form) -> Allowances:
    return Allowances(
        sds=form.amount("sds"),
        least_gap_mm=form.length("least gap"),
        top_gap_mm=form.length("top gap"),
        scribe_mm=form.length("scribe"),
    )


def _load(form: Form) -> Load:
    return Load(
        shelf_kg_per_m=form.amount("shelf"),
        sag_per_m_mm=form.amount("sag"),
        anchor_pull_n=form.amount("pull"),
        shelf_limit=form.choice("limit"),
        person_kg=form.amount("person"),
    )


def _wall_screw(form: Form) -> WallScrew:
    """Return what holds boxes to the wall; an anchor's figure is only believed with the paper it stands in."""
    pull = form.amount("pull") if form.has("pull") else 0.0
    if pull > 0 and not (form.text("anchor") and form.text("paper")):
        form.note("pull", form.text("pull"), "the `anchor` and the maker's `paper` beside its figure")
    return WallScrew(
        screw=form.choice("screw"), anchor=form.text("anchor"), anchor_pull_n=pull, paper=form.text("paper")
    )


def _finish(form: Form) -> Finish:
    return Finish(
        primer=form.mention("primer"),
        primer_coats=form.count("primer coats"),
        coat=form.mention("coat"),
        coats=form.count("coats"),
    )
