"""After the cutting: what a job's plan took from the kept offcuts, what it left, and whether that may be put in."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from typing import Any, TypeVar

from nookwright.basics.lengths import Units, quoted, show
from nookwright.basics.problems import InvalidInputError, Problem, Where
from nookwright.files.job_folder import Job
from nookwright.files.offcut_file import STEPS
from nookwright.files.plan_file import as_plain
from nookwright.stages.inputs.offcuts import KeptBoard, KeptSheet, Offcuts
from nookwright.stages.inputs.shop import BoardStock, SheetStock, Shop

Plain = dict[str, Any]
Kept = TypeVar("Kept", KeptSheet, KeptBoard)

_CENT = Decimal("0.01")
_SAME_MM = 0.05
_LEAST_MM = 50.0
"""A piece narrower or shorter than this is never put in, however small the shop's `keep`: as the file's fields say."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Keeping:
    """What one job changes in the offcut file.

    Args:
        offcuts: the file as it is afterwards.
        used, left: pieces taken out of it and put into it, in words for a person.
        elsewhere: what the job used of the stock that the shop file itself names, to be taken out there by hand.
    """

    offcuts: Offcuts
    used: tuple[str, ...]
    left: tuple[str, ...]
    elsewhere: tuple[str, ...]


def keeping(document: str, job: Job) -> Keeping:
    """Return what a job that was cut by its plan changes in the offcut file.

    Args:
        document: the text of the job's plan.json.
        job: the job as its files say now.

    Raises:
        InvalidInputError: if the plan is of other inputs, the job's leftovers are in already, or it used a piece that
            is not there.
    """
    plan = _plan_in(document)
    name = f"{job.brief.title}, revision {job.brief.revision}"
    if name in job.offcuts.done:
        hint = "If it is cut once more, give it another `revision` in brief.yaml and plan it again."
        _refuse(f"{quoted(name)} in the offcut file", "a job whose leftovers are not in there yet", hint)
    _expect_same(plan, job)
    sheets, used_sheets, from_shop = _without(job.offcuts.sheets, _used_sheets(plan), job)
    boards, used_boards, from_shop_too = _without(job.offcuts.boards, _used_boards(plan), job)
    new_sheets = tuple(_left_sheets(plan, job.shop, name))
    new_boards = tuple(_left_boards(plan, job.shop, name))
    return Keeping(
        offcuts=replace(
            job.offcuts, sheets=sheets + new_sheets, boards=boards + new_boards, done=(*job.offcuts.done, name)
        ),
        used=(
            *(_said(one, job.offcuts.units) for one in used_sheets),
            *(_said(one, job.offcuts.units) for one in used_boards),
        ),
        left=(
            *(_said(one, job.offcuts.units) for one in new_sheets),
            *(_said(one, job.offcuts.units) for one in new_boards),
        ),
        elsewhere=(*from_shop, *from_shop_too, *_used_on_hand(plan, job.shop)),
    )


def _refuse(found: str, expected: str, hint: str) -> None:
    raise InvalidInputError((Problem(where=Where(file="out/plan.json"), found=found, expected=expected, hint=hint),))


def _plan_in(document: str) -> Plain:
    try:
        read = json.loads(document)
    except ValueError:
        read = None
    plan = read.get("plan") if isinstance(read, dict) else None
    if not isinstance(plan, dict) or not {"survey", "brief", "shop", "facts", "cutting"} <= plan.keys():
        _refuse("a file that is no plan", "a plan that `nookwright plan` wrote", "Plan the job again.")
    assert isinstance(plan, dict)  # noqa: S101  without it, _refuse() has raised
    return plan


def _expect_same(plan: Plain, job: Job) -> None:
    """Refuse a plan whose room, furniture or shop is not what the files say now; the shared offcuts may differ."""
    now = {
        "survey": job.survey, "brief": job.brief, "facts": job.facts,
        "shop": _without_shared(job.facts.applied_to(job.shop)),
    }  # fmt: skip
    for key, value in now.items():
        then = plan[key] if key != "shop" else _plain_without_shared(plan[key])
        if then != json.loads(json.dumps(as_plain(value))):
            what = {"survey": "room.yaml", "brief": "brief.yaml", "facts": "built.yaml", "shop": "the shop file"}[key]
            _refuse(f"a plan of another {what}", f"the plan that was cut, with {what} as it was then", "Plan it again.")


def _without_shared(shop: Shop) -> Shop:
    sheets = tuple(replace(one, sizes=tuple(size for size in one.sizes if not size.shared)) for one in shop.sheets)
    boards = tuple(replace(one, offcuts=tuple(cut for cut in one.offcuts if not cut.shared)) for one in shop.boards)
    return replace(shop, sheets=sheets, boards=boards)


def _plain_without_shared(shop: Plain) -> Plain:
    def kept(items: list[Plain], key: str) -> list[Plain]:
        return [{**item, key: [one for one in item[key] if not one.get("shared")]} for item in items]

    return {**shop, "sheets": kept(shop["sheets"], "sizes"), "boards": kept(shop["boards"], "offcuts")}


def _used_sheets(plan: Plain) -> list[KeptSheet]:
    return [
        KeptSheet(
            stock=one["stock"], length_mm=one["length_mm"], width_mm=one["width_mm"], value=Decimal(0), left_from=""
        )
        for one in plan["cutting"]["sheets"]
        if one["offcut"]
    ]


def _used_boards(plan: Plain) -> list[KeptBoard]:
    return [
        KeptBoard(stock=one["stock"], length_mm=one["length_mm"], value=Decimal(0), left_from="")
        for one in plan["cutting"]["boards"]
        if one["offcut"]
    ]


def _without(there: tuple[Kept, ...], used: Sequence[Kept], job: Job) -> tuple[tuple[Kept, ...], list[Kept], list[str]]:
    """Return the pieces that stay, those taken out, and those that the shop file itself must lose."""
    stay, out, elsewhere = list(there), [], []
    for piece in used:
        same = next((one for one in stay if _size(one) == _size(piece)), None)
        if same is not None:
            stay.remove(same)
            out.append(same)
        elif _in_shop(piece, job.shop):
            elsewhere.append(f"take one offcut of {_said(piece, job.offcuts.units)} out of the shop file")
        else:
            hint = "Another job has used it since. Plan this job again with what is there now, or mend the offcut file."
            _refuse(
                f"an offcut of {_said(piece, job.offcuts.units)} used",
                "offcuts that are still in the offcut file",
                hint,
            )
    return tuple(stay), out, elsewhere


def _size(piece: KeptSheet | KeptBoard) -> tuple[str, float, float]:
    width = piece.width_mm if isinstance(piece, KeptSheet) else 0.0
    return piece.stock, round(piece.length_mm, 3), round(width, 3)


def _in_shop(piece: KeptSheet | KeptBoard, shop: Shop) -> bool:
    stock = shop.stock(piece.stock)
    if isinstance(stock, SheetStock) and isinstance(piece, KeptSheet):
        sizes = [(piece.stock, round(one.length_mm, 3), round(one.width_mm, 3)) for one in stock.sizes if one.offcut]
        return _size(piece) in sizes
    lengths = [round(one.length_mm, 3) for one in stock.offcuts] if isinstance(stock, BoardStock) else []
    return round(piece.length_mm, 3) in lengths


def _used_on_hand(plan: Plain, shop: Shop) -> Iterator[str]:
    """Yield what the job took of the sheets on hand."""
    for stock in shop.sheets:
        whole = [
            one
            for one in plan["cutting"]["sheets"]
            if one["stock"] == stock.key
            and not one["offcut"]
            and abs(one["length_mm"] - stock.length_mm) < _SAME_MM
            and abs(one["width_mm"] - stock.width_mm) < _SAME_MM
        ]
        taken = min(stock.on_hand, len(whole))
        if taken:
            yield f"lower `on hand` of {stock.key} in the shop file by {taken}"


def _left_sheets(plan: Plain, shop: Shop, name: str) -> Iterator[KeptSheet]:
    """Yield what is left over of sheets and worth keeping, as the plan says."""
    for sheet in plan["cutting"]["sheets"]:
        stock = shop.stock(sheet["stock"])
        assert isinstance(stock, SheetStock)  # noqa: S101  the plan was made with this shop
        for left in sheet["leftovers"]:
            length, width = left["length_mm"], left["width_mm"]
            if min(length, width) < _LEAST_MM:
                continue
            share = Decimal(f"{length * width / (stock.length_mm * stock.width_mm):.6f}")
            yield KeptSheet(
                stock=stock.key, length_mm=length, width_mm=width, value=_cents(share * stock.price), left_from=name
            )


def _left_boards(plan: Plain, shop: Shop, name: str) -> Iterator[KeptBoard]:
    """Yield the ends left over of boards that are as long as a leftover worth keeping."""
    for board in plan["cutting"]["boards"]:
        stock = shop.stock(board["stock"])
        assert isinstance(stock, BoardStock)  # noqa: S101  the plan was made with this shop
        left = board["leftover_mm"]
        if left < max(shop.saw.keep_mm, _LEAST_MM):
            continue
        cheapest = min(one.price / Decimal(f"{one.length_mm:.3f}") for one in stock.lengths)
        value = _cents(Decimal(f"{left:.3f}") * cheapest)
        yield KeptBoard(stock=stock.key, length_mm=left, value=value, left_from=name)


def _cents(money: Decimal) -> Decimal:
    return money.quantize(_CENT, rounding=ROUND_HALF_UP)


def _said(piece: KeptSheet | KeptBoard, units: Units) -> str:
    """Return a piece in the words and units of the offcut file, rounded down as there."""
    marks = STEPS[units]
    size = show(piece.length_mm, marks, way="down", with_unit=isinstance(piece, KeptBoard))
    if isinstance(piece, KeptSheet):
        size += f" x {show(piece.width_mm, marks, way='down', with_unit=True)}"
    return f"{piece.stock}, {size}"
