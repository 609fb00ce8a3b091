"""What a tape reads of true lengths: its own stretch and the play of its hook are the same in all its readings."""

from __future__ import annotations

from nookwright.solvers.linear_fit import Matrix, Vector
from nookwright.stages.survey.unknowns import Unknowns


def as_read(lengths: Vector, derivatives: Matrix, state: Vector, unknowns: Unknowns) -> tuple[Vector, Matrix]:
    """Return what the room's tape reads of true lengths, with its derivatives.

    Args:
        lengths: true lengths, one a reading. [mm]
        derivatives: their derivatives by the state, a row a reading; changed in place.
        state: the unknowns.
        unknowns: where the tape's own errors stand in the state.

    Returns:
        Readings [mm] and their derivatives by the state.
    """
    stretch = 1 + state[unknowns.tape_stretch] / 1000
    derivatives *= stretch
    derivatives[:, unknowns.tape_stretch] = lengths / 1000
    derivatives[:, unknowns.tape_zero] = 1.0
    return lengths * stretch + state[unknowns.tape_zero], derivatives
