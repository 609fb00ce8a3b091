"""Whether what is left on an edge for scribing covers the gaps that the wall there leaves."""

from __future__ import annotations

from nookwright.basics.findings import Finding
from nookwright.stages.checks.said import size
from nookwright.stages.inputs.brief import Brief
from nookwright.stages.installing.install_plan import InstallPlan, ScribeLine


def check_scribing(installing: InstallPlan, brief: Brief) -> tuple[Finding, ...]:
    """Return a finding for every scribed edge whose wall was looked at closely.

    Args:
        installing: the gaps under its scribed edges.
        brief: the units people read.

    Returns:
        Pass where the widest gap that has to be reckoned with is left on; caution where only the likeliest is; fail
        where not even that is.
    """
    return tuple(_scribed(line, brief) for line in installing.scribes)


def _scribed(line: ScribeLine, brief: Brief) -> Finding:
    """Return how one edge's allowance stands to its gaps."""
    widest = max(line.gaps, key=lambda gap: gap.gap.value)
    worst, likely = line.deepest.high_mm, widest.gap.value
    enough = worst <= line.allowance_mm
    return Finding(
        topic="scribing",
        subject=f"{line.name} {line.part}, to the {line.meets}",
        verdict="pass" if enough else "caution" if likely <= line.allowance_mm else "fail",
        summary=(
            f"Cut straight and laid on, this edge leaves gaps up to {size(likely, brief)}, and {size(worst, brief)} at "
            f"most 19 times in 20; {size(line.allowance_mm, brief)} are left on."
        ),
        demand=worst,
        limit=line.allowance_mm,
        unit="mm",
        formula="widest gap <= what is left on",
        worked=f"{worst:.1f} mm against {line.allowance_mm:.1f} mm",
        source_keys=("trade-practice",),
        remedy=""
        if enough
        else "Leave more on: `allowances: {scribe: ...}` in the brief, or lay a straightedge there again.",
    )
