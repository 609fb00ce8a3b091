"""The parts chapter: every part listed, every special part drawn, nothing overlapping."""

from __future__ import annotations

from nookwright.drawings.page import Text
from nookwright.drawings.page_check import faults
from nookwright.drawings.pages.parts import pages
from nookwright.drawings.sheet import finished


def test_every_parts_sheet_can_be_read(parts, any_issue) -> None:
    """No words overlap, none is crossed or too small, nothing reaches into the margins."""
    drafts = pages(parts, any_issue)
    for i, draft in enumerate(drafts):
        assert faults(finished(draft, any_issue, number=i + 1, total=len(drafts))) == ()
