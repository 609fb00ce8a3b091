"""Tests of refitting that gathers waste: what waste counts for, by hand, and that the books agree after many rounds."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.solvers.kernels.cutting_trees import Forest, Job, measure
from nookwright.solvers.kernels.gathered_refit import free_area, gathering_rounds, waste_together
from nookwright.solvers.kernels.refit import choose, copy_tree
from nookwright.solvers.sheet_forests import empty_forest, fresh_state, most_nodes, workbench


def job_of(sizes: list[tuple[int, int]], *, side: int) -> Job:
    """Parts that may turn, and square sheets."""
    one = np.ones(1, dtype=np.int64)
    length, width = (np.array(each, dtype=np.int64) for each in zip(*sizes, strict=True))
    turnable = np.ones(len(sizes), dtype=np.int64)
    return Job(length, width, length * width, turnable, side * one, side * one, one, 9 * one, 0)


def counted(job: Job, forest: Forest, s: int) -> tuple[float, int]:
    """What the waste of a sheet counts for, and its free area, measured anew."""
    bench = workbench(job)
    copy_tree(forest, s, bench.forest, 0)
    measure(job, bench.forest, 0, bench.boxes, bench.last)
    return waste_together(job, bench.forest, 0, bench.boxes), free_area(job, bench.forest, 0)


@pytest.mark.parametrize(
    ("nodes", "worth", "free"),
    [
        ([], 100.0, 100),
        # 6 x 4: cut off along its upper edge first, 10 x 6 and 4 x 4 are left: 60 * 60 + 16 * 16
        ([(0, 0)], 38.56, 76),
        # beside it 4 x 10: 6 x 6 is left above it
        ([(0, -1), (1, 0), (1, 2)], 12.96, 36),
        # and there 3 x 6 twice: nothing is left
        ([(0, -1), (1, -1), (2, 0), (2, -1), (3, 4), (3, 6), (1, 2)], 0.0, 0),
    ],
)
def test_what_waste_counts_for(nodes: list[tuple[int, int]], worth: float, free: int) -> None:
    """A sheet of 10 x 10, worked out by hand."""
    job = job_of([(6, 4), (4, 10), (3, 6), (3, 6)], side=10)
    forest = empty_forest(1, most_nodes(job))
    forest.kind[:] = 0
    forest.nodes[0] = len(nodes)
    for i, (depth, token) in enumerate(nodes):
        forest.depth[0, i], forest.token[0, i] = depth, token
    assert counted(job, forest, 0) == (pytest.approx(worth), free)


def test_after_many_rounds_every_part_is_somewhere_and_the_books_agree() -> None:
    """Thirty parts of more area than two sheets: what stands outside, its area, and what each sheet's waste counts."""
    sizes = [(17 + 7 * i % 31, 12 + 11 * i % 37) for i in range(30)]
    job = job_of(sizes, side=100)
    areas = job.length * job.width
    assert areas.sum() > 20_000
    forest, state, gathered = empty_forest(2, most_nodes(job)), fresh_state(30, 1), np.zeros(2)
    forest.kind[:] = 0
    state.outside[:] = np.arange(30)
    state.figures[:] = 30, areas.sum(), 0, 0
    gathering_rounds(2000, job, forest, state, workbench(job), gathered)
    outside = state.outside[: state.figures[0]]
    inside = [int(token) >> 1 for s in range(2) for token in forest.token[s, : forest.nodes[s]] if token >= 0]
    assert 0 < len(outside) < 15
    assert sorted([*inside, *outside.tolist()]) == list(range(30))
    assert state.figures[1] == areas[outside].sum()
    for s in range(2):
        worth, _ = counted(job, forest, s)
        assert gathered[s] == pytest.approx(worth)
    assert sum(counted(job, forest, s)[1] for s in range(2)) == 20_000 - areas[inside].sum()


def test_of_two_sheets_looked_at_the_poorer_is_chosen() -> None:
    """Two sheets of three are full, one holds a hundredth: of two drawn at random it is the poorer in 5 of 9 cases."""
    job = job_of([(100, 100), (100, 100), (10, 10)], side=100)
    forest, touched, chance = empty_forest(3, most_nodes(job)), np.zeros(4, dtype=np.int64), fresh_state(3, 1).chance
    forest.kind[:], forest.nodes[:], forest.token[:, 0] = 0, 1, [0, 2, 4]
    chosen = []
    for _ in range(900):
        choose(job, forest, touched, 1, 2, chance)
        chosen.append(int(touched[0]))
    assert 450 < chosen.count(2) < 550
    choose(job, forest, touched, 3, 2, chance)
    assert sorted(touched[:3].tolist()) == [0, 1, 2]
