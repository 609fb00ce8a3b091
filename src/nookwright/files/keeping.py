"""After the cutting: what a plan took from the kept offcuts, what it left, and whether that may be put in."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from typing import Any, NoReturn, TypeVar

from nookwright.basics.lengths import Units, quoted, show
from nookwright.basics.problems import InvalidInputError, Problem, Where
from nookwright.files.job_folder import Job
from nookwright.files.offcut_file import STEPS
from nookwright.files.plan_file import as_plain
from nookwright.stages.inputs.offcuts import KeptBoard, KeptSheet, Offcuts
from nookwright.stages.inputs.shop import LEAST_KEPT_MM, BoardStock, SheetStock, Shop

Plain = dict[str, Any]
Kept = TypeVar("Kept", KeptSheet, KeptBoard)

_CENT = Decimal("0.01")
_SAME_MM = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """The plan that was cut, as its file says: of one job, or of several cut together.

    Args:
        file: its name, for messages.
        jobs: for each job the sign before its part numbers, and its survey, brief and facts.
        shop: the shop.
        sheets, boards: the cutting plan.
        folders: of a week, the way to each job from the folder the file is in.
    """

    file: str
    jobs: tuple[tuple[str, Plain], ...]
    shop: Plain
    sheets: tuple[Plain, ...]
    boards: tuple[Plain, ...]
    folders: tuple[str, ...] = ()

    def left_from(self, names: Sequence[str], held: Sequence[Plain]) -> str:
        """Return the jobs that pieces of a sheet or board belong to, of the jobs' names."""
        marks = [mark for mark, _ in self.jobs]
        mine = {mark for mark in marks for one in held if one["part"].startswith(mark)}
        return "; ".join(name for mark, name in zip(marks, names, strict=True) if mark in mine)


@dataclass(frozen=True, slots=True, kw_only=True)
class Keeping:
    """What was cut changes in the offcut file.

    Args:
        offcuts: the file as it is afterwards.
        used, left: pieces taken out of it and put into it, in words for a person.
        elsewhere: what was used of the stock that the shop file itself names, to be taken out there by hand.
    """

    offcuts: Offcuts
    used: tuple[str, ...]
    left: tuple[str, ...]
    elsewhere: tuple[str, ...]


def keeping(plan: CutPlan, jobs: Sequence[Job]) -> Keeping:
    """Return what jobs that were cut by their plan change in the offcut file.

    Args:
        plan: the plan that was cut.
        jobs: its jobs as their files say now, in its order; all of one shop and one offcut file.

    Raises:
        InvalidInputError: if the plan is of other inputs, the leftovers are in already, or a piece was used that is
            not there.
    """
    names = [f"{job.brief.title}, revision {job.brief.revision}" for job in jobs]
    _expect_new(plan, names, jobs[0].offcuts)
    for job, (mark, then) in zip(jobs, plan.jobs, strict=True):
        _expect_same(plan, job, mark, then)
    shop, offcuts = jobs[0].shop, jobs[0].offcuts
    used = _Used(plan, shop, offcuts.units)
    sheets, used_sheets = used.taken(offcuts.sheets, _used_sheets(plan))
    boards, used_boards = used.taken(offcuts.boards, _used_boards(plan))
    new_sheets = tuple(_left_sheets(plan, shop, names))
    new_boards = tuple(_left_boards(plan, shop, names))
    return Keeping(
        offcuts=replace(offcuts, sheets=sheets + new_sheets, boards=boards + new_boards, done=(*offcuts.done, *names)),
        used=(*_all_said(used_sheets, offcuts.units), *_all_said(used_boards, offcuts.units)),
        left=(*_all_said(new_sheets, offcuts.units), *_all_said(new_boards, offcuts.units)),
        elsewhere=(*used.elsewhere, *_used_of_flawed(plan, offcuts.units), *_used_on_hand(plan, shop)),
    )


def cut_plan(document: str, file: str) -> CutPlan:
    """Return the plan that was cut.

    Args:
        document: the text of a job's plan.json, or of a week's week.json.
        file: its name, for messages.

    Raises:
        InvalidInputError: if it is no such file.
    """
    try:
        read = json.loads(document)
        plan = read["plan"]
        weekly = "folders" in read
        told = [(one["mark"] if weekly else "", one) for one in (plan["shares"] if weekly else [plan])]
        folders = [read["folders"][number] for number in range(len(told))] if weekly else []
        return CutPlan(
            file=file,
            jobs=tuple((mark, {key: one[key] for key in ("survey", "brief", "facts")}) for mark, one in told),
            shop=plan["shop"],
            sheets=tuple(plan["cutting"]["sheets"]),
            boards=tuple(plan["cutting"]["boards"]),
            folders=tuple(folders),
        )
    except (ValueError, LookupError, TypeError):
        _refuse(file, "a file that is no plan", "a plan that `nookwright` wrote", "Plan it again.")


def _refuse(file: str, found: str, expected: str, hint: str) -> NoReturn:
    raise InvalidInputError((Problem(where=Where(file=file), found=found, expected=expected, hint=hint),))


def _expect_new(plan: CutPlan, names: Sequence[str], offcuts: Offcuts) -> None:
    """Refuse jobs whose leftovers are in the file, and two jobs that it could not tell apart."""
    for number, name in enumerate(names):
        if name in offcuts.done:
            hint = "If it is cut once more, give it another `revision` in brief.yaml and plan it again."
            _refuse(plan.file, f"{quoted(name)} in the offcut file", "a job whose leftovers are not in there yet", hint)
        if name in names[:number]:
            hint = "Give one of them another title in its brief.yaml, and plan them again."
            _refuse(plan.file, f"two jobs called {quoted(name)}", "jobs that the offcut file can tell apart", hint)


def _expect_same(plan: CutPlan, job: Job, mark: str, told: Plain) -> None:
    """Refuse a plan whose room, furniture or shop is not what the files say now; the shared offcuts may differ."""
    now = {
        "survey": job.survey, "brief": job.brief, "facts": job.facts,
        "shop": _without_shared(job.facts.applied_to(job.shop)),
    }  # fmt: skip
    of = f" of {quoted(job.brief.title)}" if mark else ""
    for key, value in now.items():
        then = told[key] if key != "shop" else _plain_without_shared(plan.shop)
        if then != json.loads(json.dumps(as_plain(value))):
            what = {"survey": "room.yaml", "brief": "brief.yaml", "facts": "built.yaml", "shop": "the shop file"}[key]
            _refuse(
                plan.file, f"a plan of another {what}{of}", f"the plan that was cut, with {what} as it was then",
                "Plan it again.",
            )  # fmt: skip


def _without_shared(shop: Shop) -> Shop:
    sheets = tuple(replace(one, sizes=tuple(size for size in one.sizes if not size.shared)) for one in shop.sheets)
    boards = tuple(replace(one, offcuts=tuple(cut for cut in one.offcuts if not cut.shared)) for one in shop.boards)
    return replace(shop, sheets=sheets, boards=boards)


def _plain_without_shared(shop: Plain) -> Plain:
    def kept(items: list[Plain], key: str) -> list[Plain]:
        return [{**item, key: [one for one in item[key] if not one.get("shared")]} for item in items]

    return {**shop, "sheets": kept(shop["sheets"], "sizes"), "boards": kept(shop["boards"], "offcuts")}


def _used_sheets(plan: CutPlan) -> list[KeptSheet]:
    return [
        KeptSheet(
            stock=one["stock"], length_mm=one["length_mm"], width_mm=one["width_mm"], value=Decimal(0), left_from=""
        )
        for one in plan.sheets
        if one["offcut"]
    ]


def _used_boards(plan: CutPlan) -> list[KeptBoard]:
    return [
        KeptBoard(
            stock=one["stock"],
            length_mm=one["length_mm"],
            width_mm=one.get("width_mm", 0.0),
            value=Decimal(0),
            left_from="",
        )
        for one in plan.boards
        if one["offcut"] and not one.get("cut_from")
    ]


def _used_of_flawed(plan: CutPlan, units: Units) -> Iterator[str]:
    """Yield what was cut out of boards on hand to leave their flaws behind, piece by piece."""
    for board in plan.boards:
        if board.get("cut_from"):
            length, width = board["length_mm"], board.get("width_mm", 0.0)
            piece = KeptBoard(
                stock=board["stock"], length_mm=length, width_mm=width, value=Decimal(0), left_from=""
            )  # fmt: skip
            yield (
                f"{_said(piece, units)}, was cut out of {board['cut_from']}: in the shop file, put what is left of "
                "that board in its place"
            )


class _Used:
    """Takes out what was used; notes in `elsewhere` what the shop file itself must lose."""

    def __init__(self, plan: CutPlan, shop: Shop, units: Units) -> None:
        self.elsewhere: list[str] = []
        self._plan = plan
        self._shop = shop
        self._units = units

    def taken(self, there: tuple[Kept, ...], used: Sequence[Kept]) -> tuple[tuple[Kept, ...], list[Kept]]:
        """Return the pieces that stay, and those taken out."""
        stay, out = list(there), []
        for piece in used:
            same = next((one for one in stay if _size(one) == _size(piece)), None)
            if same is not None:
                stay.remove(same)
                out.append(same)
            elif _in_shop(piece, self._shop):
                self.elsewhere.append(f"take one offcut of {_said(piece, self._units)} out of the shop file")
            else:
                hint = "Another job has used it since. Plan again with what is there now, or mend the offcut file."
                found = f"an offcut of {_said(piece, self._units)} used"
                _refuse(self._plan.file, found, "offcuts that are still in the offcut file", hint)
        return tuple(stay), out


def _size(piece: KeptSheet | KeptBoard) -> tuple[str, float, float]:
    return piece.stock, round(piece.length_mm, 3), math.floor(piece.width_mm * 10 + 1e-6) / 10


def _in_shop(piece: KeptSheet | KeptBoard, shop: Shop) -> bool:
    stock = shop.stock(piece.stock)
    there: list[tuple[float, float]] = []
    if isinstance(stock, SheetStock):
        there = [(one.length_mm, one.width_mm) for one in stock.sizes if one.offcut]
    elif isinstance(stock, BoardStock):
        there = [(one.length_mm, one.width_mm) for one in stock.offcuts]
    return any(_size(replace(piece, length_mm=length, width_mm=width)) == _size(piece) for length, width in there)


def _used_on_hand(plan: CutPlan, shop: Shop) -> Iterator[str]:
    """Yield what the job took of the sheets on hand."""
    for stock in shop.sheets:
        whole = [
            one
            for one in plan.sheets
            if one["stock"] == stock.key
            and not one["offcut"]
            and abs(one["length_mm"] - stock.length_mm) < _SAME_MM
            and abs(one["width_mm"] - stock.width_mm) < _SAME_MM
        ]
        taken = min(stock.on_hand, len(whole))
        if taken:
            yield f"lower `on hand` of {stock.key} in the shop file by {taken}"


def _left_sheets(plan: CutPlan, shop: Shop, names: Sequence[str]) -> Iterator[KeptSheet]:
    """Yield what is left over of sheets and worth keeping, as the plan says."""
    for sheet in plan.sheets:
        stock = shop.stock(sheet["stock"])
        assert isinstance(stock, SheetStock)  # noqa: S101  the plan was made with this shop
        for left in sheet["leftovers"]:
            length, width = left["length_mm"], left["width_mm"]
            if min(length, width) < LEAST_KEPT_MM:
                continue
            share = Decimal(f"{length * width / (stock.length_mm * stock.width_mm):.6f}")
            yield KeptSheet(
                stock=stock.key, length_mm=length, width_mm=width, value=_cents(share * stock.price),
                left_from=plan.left_from(names, sheet["placed"]),
            )  # fmt: skip


def _left_boards(plan: CutPlan, shop: Shop, names: Sequence[str]) -> Iterator[KeptBoard]:
    """Yield the ends left over of boards that are long enough to be kept, and the strips of ripped ones."""
    for board in plan.boards:
        stock = shop.stock(board["stock"])
        assert isinstance(stock, BoardStock)  # noqa: S101  the plan was made with this shop
        cheapest = min(one.price / Decimal(f"{one.length_mm:.3f}") for one in stock.lengths)
        full = board.get("width_mm") or stock.straight_width_mm
        pieces = [(board["leftover_mm"], full)] if board["leftover_mm"] >= shop.saw.kept_from_mm else []
        if board.get("strip_mm"):
            pieces.append((board["strip_length_mm"], board["strip_mm"]))
        for length, width in pieces:
            share = Decimal(f"{length * width / stock.straight_width_mm:.3f}")
            yield KeptBoard(
                stock=stock.key, length_mm=length, width_mm=width if width < stock.straight_width_mm else 0.0,
                value=_cents(share * cheapest), left_from=plan.left_from(names, board["pieces"]),
            )  # fmt: skip


def _cents(money: Decimal) -> Decimal:
    return money.quantize(_CENT, rounding=ROUND_HALF_UP)


def _all_said(pieces: Sequence[KeptSheet | KeptBoard], units: Units) -> Iterator[str]:
    return (_said(piece, units) for piece in pieces)


def _said(piece: KeptSheet | KeptBoard, units: Units) -> str:
    """Return a piece in the words and units of the offcut file, rounded down as there."""
    marks = STEPS[units]
    size = show(piece.length_mm, marks, way="down", with_unit=not piece.width_mm)
    if piece.width_mm:
        size += f" x {show(piece.width_mm, marks, way='down', with_unit=True)}"
    return f"{piece.stock}, {size}"
