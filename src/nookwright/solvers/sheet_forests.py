"""Empty trees of sheets, and room to work on them, as the compiled searches want them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from nookwright.solvers.kernels.cutting_trees import Forest, Job
    from nookwright.solvers.kernels.refit import Bench, State


def fresh_state(parts: int, seed: int) -> State:
    """Return what a search knows before its first round: nothing stands outside."""
    from nookwright.solvers.kernels.refit import State

    chance = np.array([0x9E3779B97F4A7C15 ^ (seed * 0x2545F4914F6CDD1D % (1 << 63))], dtype=np.uint64)
    return State(np.zeros(4, dtype=np.int64), np.zeros(parts, dtype=np.int64), chance)


def empty_forest(sheets: int, nodes: int) -> Forest:
    """Return the trees of so many sheets of no kind yet, with room for so many nodes each."""
    from nookwright.solvers.kernels.cutting_trees import Forest

    def table() -> NDArray[np.int64]:
        return np.zeros((sheets, nodes), dtype=np.int64)

    def row() -> NDArray[np.int64]:
        return np.zeros(sheets, dtype=np.int64)

    return Forest(row(), table(), table(), row(), np.full(sheets, -1, dtype=np.int64))


def most_nodes(job: Job) -> int:
    """Return how many nodes the tree of one sheet can have: the smallest parts together must fit its area."""
    areas = np.sort(job.length * job.width)
    room = int((job.kind_length * job.kind_width).max())
    return 2 * int(np.searchsorted(np.cumsum(areas), room, side="right")) + 2


def workbench(job: Job, sheets: int | None = None) -> Bench:
    """Return room to work on so many sheets, or on as many as one round of refitting touches."""
    from nookwright.solvers.kernels.cutting_trees import Boxes
    from nookwright.solvers.kernels.refit import MOST_TAKEN, Bench

    sheets = MOST_TAKEN if sheets is None else sheets
    parts = job.length.size
    nodes = most_nodes(job)

    def row(size: int) -> NDArray[np.int64]:
        return np.zeros(size, dtype=np.int64)

    def table() -> NDArray[np.int64]:
        return np.zeros((sheets, nodes), dtype=np.int64)

    boxes = Boxes(table(), table(), table(), table(), table(), row(sheets), row(sheets))
    gone = np.zeros(nodes, dtype=np.bool_)
    return Bench(
        empty_forest(sheets, nodes), boxes, row(sheets), row(nodes), gone, row(nodes), row(nodes), row(parts),
        np.zeros(parts), row(parts),
    )  # fmt: skip
