"""Pictures of a board's steps: each step once, its figure as it is set, every word readable, what comes free told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

import pytest

from corrupted_boards import part, whole_plan
from nookwright.basics.lengths import Marks, Units, show
from nookwright.drawings.page import Page, Paper, Shape, Text
from nookwright.drawings.page_check import faults
from nookwright.drawings.pages.board_cuts import board_cut_pages
from nookwright.drawings.sheet import Issue, finished
from nookwright.stages.cutting.board_lanes import cut_alike
from nookwright.stages.cutting.board_layout import lay_out_boards
from nookwright.stages.cutting.board_steps import board_steps
from nookwright.stages.cutting.cutting_plan import BoardPlan
from nookwright.stages.inputs.shop import BoardLength, BoardOffcut, BoardStock, Saw, Shop

PINE = BoardStock(
    key="pine", name="pine", wood="pine", thickness_mm=20, width_mm=100,
    lengths=(BoardLength(length_mm=2000, price=Decimal(9)),),
)  # fmt: skip
SAW = Saw(kerf_mm=3, end_trim_mm=10)
RESOLUTION: dict[Units, float] = {"mm": 0.5, "inch": 1 / 32}


def pages_of(boards: Sequence[BoardPlan], stock: BoardStock, saw: Saw, units: Units = "mm") -> tuple[Page, ...]:
    """Return the pages of boards."""
    paper: Paper = "A4" if units == "mm" else "Letter"
    issue = Issue(
        job="A job", date="", revision="A", marks=Marks(units=units, resolution=RESOLUTION[units]), paper=paper
    )
    drafts = board_cut_pages(tuple(boards), Shop(currency="EUR", sheets=(), boards=(stock,), saw=saw), issue)
    return tuple(finished(one, issue, number=i, total=len(drafts)) for i, one in enumerate(drafts, start=1))


def planned(*sizes: tuple[float, float], stock: BoardStock = PINE, saw: Saw = SAW) -> tuple[BoardPlan, ...]:
    """Return the boards that parts of these sizes are cut from."""
    parts = [part(f"S{i}", *size, pieces=1) for i, size in enumerate(sizes, start=1)]
    return lay_out_boards(parts, stock, saw)[0]


def words_of(pages: Sequence[Page]) -> list[str]:
    """Return all words, page after page."""
    return [item.text for page in pages for item in page.items if isinstance(item, Text)]


@pytest.mark.parametrize("units", ["mm", "inch"])
@pytest.mark.parametrize("number", range(16))
def test_every_word_can_be_read_and_every_step_is_drawn(number: int, units: Units) -> None:
    """Of jobs with several widths, offcuts, strips, far trims and slanted ends: numbered, and figured as it is set."""
    plans, _, stock, saw = whole_plan(number)
    pages = pages_of(plans, stock, saw, units)
    assert [f"{page.name}: {fault}" for page in pages for fault in faults(page)] == []
    words = words_of(pages)
    steps = [step for alike in cut_alike(plans) for step in board_steps(alike[0], stock, saw)]
    numbers = [i for i, word in enumerate(words) if word.startswith("Step ") and word[5:].isdigit()]
    assert [words[i] for i in numbers] == [f"Step {step.order}" for step in steps]
    if units == "mm":
        marks = Marks(units="mm", resolution=0.5)
        for i, step in zip(numbers, steps, strict=True):
            if step.doing in {"rip", "narrow", "crosscut", "keep end", "true"}:
                assert words[i + 1] == show(step.figures[0].mm, marks)
    free = " ".join(words)
    assert all(f"{piece.part} " in free for plan in plans for piece in plan.pieces)


def test_a_crooked_board_is_told_to_be_planed_and_straightened() -> None:
    """To 20 thick, then to 94 wide; the end that is kept has its full width yet, 2000 - 910 - 3 long."""
    crooked = replace(PINE, straighten_mm=6, flatten_mm=3)
    pages = pages_of(planned((900, 40), (900, 40), stock=crooked), crooked, SAW)
    words = words_of(pages)
    assert [fault for page in pages for fault in faults(page)] == []
    assert "Free: keep 1087 x 100." in words
    assert "Plane its faces flat, to 20 thick." in words
    assert "Straighten the near edge." in words
    assert words[words.index("Step 4") + 1] == "94"
    assert "Rip, the near edge at the fence; same setting." in words
    assert "S2 is what remains: measure it" in " ".join(words)


def test_boards_cut_alike_share_their_pictures() -> None:
    """Three boards, each with one piece of 1200: named in the note, drawn once."""
    boards = planned((1200, 100), (1200, 100), (1200, 100))
    with_one_name = [
        replace(one, pieces=tuple(replace(piece, part="T1") for piece in one.pieces)) for one in boards
    ]  # fmt: skip
    pages = pages_of(with_one_name, PINE, SAW)
    assert [page.name for page in pages] == ["pine, 3 boards: steps 1 to 2"]
    assert any(word.startswith("Boards 1, 2, 3: 3 alike, 2000 long, 100 wide.") for word in words_of(pages))


def test_what_is_kept_is_tinted_and_lettered() -> None:
    """A strip beyond the last lane, 1990 x 57, and the end of a board of full width."""
    saw = replace(SAW, keep_strip_mm=30)
    for boards, said in ((planned((1850, 40), saw=saw), "keep 1990 x 57"), (planned((700, 100)), "keep 1287 x 100")):
        (page,) = pages_of(boards, PINE, saw)
        assert said in " ".join(words_of([page]))
        assert words_of([page]).count("keep") == 1
        tints = [item for item in page.items if isinstance(item, Shape) and item.fill == "tint"]
        assert len(tints) == (3 if boards[0].strip_mm else 2)


def test_a_board_used_as_it_lies_there_has_no_page() -> None:
    """An offcut just as long and wide as its piece."""
    stock = replace(PINE, offcuts=(BoardOffcut(length_mm=700),))
    assert pages_of(planned((700, 100), stock=stock), stock, SAW) == ()
