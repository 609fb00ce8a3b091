"""What a tape reads of true lengths: its own stretch and the play of its hook are the same in all its readings."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.survey.unknowns import Unknowns


def with_tape_errors(columns: NDArray[np.intp], unknowns: Unknowns) -> NDArray[np.intp]:
    """Return the unknowns that true lengths depend on, one row a reading, with the tape's own two after them."""
    return np.column_stack([columns, np.tile([unknowns.tape_stretch, unknowns.tape_zero], (len(columns), 1))])


def as_read(lengths: Vector, derivatives: Matrix, state: Vector, unknowns: Unknowns) -> tuple[Vector, Matrix]:
    """Return what the room's tape reads of true lengths, with its derivatives.

    Args:
        lengths: true lengths, one a reading. [mm]
        derivatives: their derivatives by the unknowns they depend on, a row a reading.
        state: the unknowns.
        unknowns: where the tape's own errors stand in the state.

    Returns:
        Readings [mm] and their derivatives by the same unknowns, then by the tape's stretch and its zero error.
    """
    stretch = 1 + state[unknowns.tape_stretch] / 1000
    found = np.column_stack([derivatives * stretch, lengths / 1000, np.ones(len(lengths))])
    return lengths * stretch + state[unknowns.tape_zero], found
