"""What must hold for every cutting plan, whatever the parts."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.solvers.bounds import least_lengths, least_sheets
from nookwright.solvers.guillotine import Laid, Wanted, length_faults, sheet_faults
from nookwright.solvers.pack_lengths import Length, pack_lengths
from nookwright.solvers.pack_sheets import Rectangle, Region, pack_sheets

LENGTH, WIDTH = 2440, 1220
SIDES = st.integers(min_value=30, max_value=1200)
PARTS = st.lists(
    st.builds(Rectangle, length=SIDES, width=SIDES, turnable=st.booleans()), min_size=1, max_size=25
)  # fmt: skip
KERFS = st.integers(min_value=0, max_value=40)
TRIES = 60


def leaves(region: Region) -> list[Region]:
    """Return the uncut pieces of a cutting tree."""
    if region.low is None or region.high is None:
        return [region]
    return leaves(region.low) + leaves(region.high)


def laid(trees: tuple[Region, ...]) -> list[Laid]:
    """Return the parts as they lie."""
    return [
        Laid(part=str(leaf.part), sheet=number, x=leaf.x, y=leaf.y, length=leaf.length, width=leaf.width)
        for number, tree in enumerate(trees)
        for leaf in leaves(tree)
        if leaf.part is not None
    ]


def wanted(parts: list[Rectangle]) -> dict[str, Wanted]:
    """Return what the checker is to find."""
    return {
        str(i): Wanted(length=part.length, width=part.width, turnable=part.turnable) for i, part in enumerate(parts)
    }


@settings(max_examples=60)
@given(parts=PARTS, kerf=KERFS)
def test_every_sheet_plan_can_be_cut_and_respects_its_bound(parts: list[Rectangle], kerf: int) -> None:
    """The independent checker passes it, and no bound lies above it."""
    trees = pack_sheets(parts, length=LENGTH, width=WIDTH, kerf=kerf, tries=TRIES)
    assert sheet_faults(wanted(parts), laid(trees), length=LENGTH, width=WIDTH, trim=0, kerf=kerf) == ()
    assert least_sheets(parts, length=LENGTH, width=WIDTH, kerf=kerf).least <= len(trees)


@settings(max_examples=60)
@given(parts=PARTS, kerf=KERFS)
def test_parts_kerfs_and_free_pieces_make_up_the_sheets(parts: list[Rectangle], kerf: int) -> None:
    """Nothing is lost and nothing counted twice: each cut takes one kerf times its own length, no more.

    A far edge flush with the sheet pays no kerf; where less than a kerf is left the saw takes just that.
    """
    for tree in pack_sheets(parts, length=LENGTH, width=WIDTH, kerf=kerf, tries=10):
        assert tree.length * tree.width == accounted(tree, kerf) == LENGTH * WIDTH


def accounted(region: Region, kerf: int) -> int:
    """Return the area of a region's pieces and cuts, added up cut by cut."""
    if region.low is None or region.high is None:
        return max(0, region.length) * max(0, region.width)
    low, high = region.low, region.high
    across = region.length if region.along == "length" else region.width
    left = high.width if region.along == "length" else high.length
    sawdust = (kerf + min(0, left)) * max(0, across)
    return accounted(low, kerf) + sawdust + accounted(high, kerf)


@settings(max_examples=40)
@given(parts=PARTS, kerf=KERFS, more=st.integers(min_value=1, max_value=30))
def test_a_thicker_blade_never_needs_fewer_sheets(parts: list[Rectangle], kerf: int, more: int) -> None:
    """A plan for the thicker blade can be cut with the thinner one too, and the bound never falls.

    So the least number of sheets never falls. (A search may by luck do better with the thicker blade.)
    """
    trees = pack_sheets(parts, length=LENGTH, width=WIDTH, kerf=kerf + more, tries=10)
    assert sheet_faults(wanted(parts), laid(trees), length=LENGTH, width=WIDTH, trim=0, kerf=kerf) == ()
    thin = least_sheets(parts, length=LENGTH, width=WIDTH, kerf=kerf).least
    assert thin <= len(trees)


@settings(max_examples=60)
@given(
    pieces=st.lists(st.integers(min_value=20, max_value=1790), min_size=1, max_size=30),
    stocks=st.lists(st.integers(min_value=1800, max_value=4000), min_size=1, max_size=4, unique=True),
    price=st.integers(min_value=1, max_value=900),
    kerf=KERFS,
)
def test_every_plan_on_lengths_can_be_cut(pieces: list[int], stocks: list[int], price: int, kerf: int) -> None:
    """Each piece once, within its length, kerfs and end trim paid, and the cost not below the least possible."""
    lengths = [Length(size=size, price=price + size // 10) for size in stocks]
    plan = pack_lengths(pieces, stocks=lengths, kerf=kerf, end_trim=10, rounds=10)
    assert sorted(i for one in plan.filled for i in one.pieces) == list(range(len(pieces)))
    assert plan.cost == sum(lengths[one.stock].price for one in plan.filled)
    assert plan.least_cost <= plan.cost
    assert least_lengths([size + kerf for size in pieces], max(stocks) - 10 + kerf) <= len(plan.filled)
    for one in plan.filled:
        run, at = [], 10
        for i in one.pieces:
            run.append((str(i), at, pieces[i]))
            at += pieces[i] + kerf
        sizes = {str(i): pieces[i] for i in one.pieces}
        assert length_faults(sizes, run, length=lengths[one.stock].size, end_trim=10, kerf=kerf) == ()
