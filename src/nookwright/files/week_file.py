"""week.json: several jobs cut together as data, with where their folders are, so that what is left can be kept."""

from __future__ import annotations

import json
from collections.abc import Sequence

from nookwright.files.plan_file import as_plain
from nookwright.week import Week

WEEK_FILE = "week.json"
"""Its name in the output folder."""

WEEK_VERSION = 1
"""Raised by one whenever a key is renamed or removed or changes its meaning; new keys leave it as it is."""


def week_json(week: Week, folders: Sequence[str]) -> str:
    """Return the week as JSON text, in the form of plan.json.

    Args:
        week: the jobs, cut and bought together.
        folders: the way to each job's folder from the one the file is written to.
    """
    document = {
        "format": "nookwright week", "version": WEEK_VERSION, "folders": list(folders), "plan": as_plain(week),
    }  # fmt: skip
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False) + "\n"
