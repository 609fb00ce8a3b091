"""What a citation is, and how far it may be trusted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

SourceStatus = Literal["read", "recalled", "common practice", "computed"]
"""read: seen in the source or a copy of it; recalled: from memory; common practice: no source exists;
computed: derived here and agreed by an independent package."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where a figure or formula comes from.

    Args:
        key: short key used in the code and in the job book, for example `wood-handbook`.
        title: the document, with edition.
        place: clause, table or page.
        status: how the figure was obtained.
    """

    key: str
    title: str
    place: str
    status: SourceStatus
