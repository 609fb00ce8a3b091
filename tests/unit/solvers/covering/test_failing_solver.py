"""A solver of linear programs that says it failed is not believed."""

from __future__ import annotations

import highspy
import pytest

from nookwright.solvers.covering.master import run


class Failing:
    """A model whose run fails."""

    def run(self) -> highspy.HighsStatus:
        """Fail."""
        return highspy.HighsStatus.kError

    def getModelStatus(self) -> str:  # noqa: N802
        """Say how."""
        return "kSolveError"


def test_a_failure_is_told_and_gives_no_answer() -> None:
    """The status is in the message."""
    with pytest.raises(RuntimeError, match="kSolveError"):
        run(Failing())
