"""The three example jobs, planned and written once for all tests."""

from __future__ import annotations

from pathlib import Path

import pytest

from example_jobs import JOBS, Run, Runs, copied
from nookwright.cli.main import main
from nookwright.jobs import plan_job


@pytest.fixture(scope="session")
def run_of(repository: Path, tmp_path_factory: pytest.TempPathFactory) -> Runs:
    """Return the run of an example, made when first asked for."""
    place = copied(repository, tmp_path_factory.mktemp("jobs") / "examples")
    runs: dict[str, Run] = {}

    def run(name: str) -> Run:
        if name not in runs:
            folder = place / name
            runs[name] = Run(folder, main(["plan", str(folder)]), plan_job(folder))
        return runs[name]

    return run


@pytest.fixture(scope="session", params=JOBS)
def job(request: pytest.FixtureRequest, run_of: Runs) -> Run:
    """Return each of the three examples in turn."""
    return run_of(request.param)
