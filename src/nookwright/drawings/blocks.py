"""Blocks: what a chapter says, before it is poured over paper or set on a screen."""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.drawings.page import Items
from nookwright.drawings.tables import Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A heading within a sheet; it keeps with what follows."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """Words, wrapped to the width."""

    text: str
    height_mm: float = 3.5
    bold: bool = False


Block = Heading | Paragraph | Table
"""What flows over sheets."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing among words on a screen.

    Args:
        name: what it shows.
        items: what is drawn. [mm]
        small: whether it only reminds, and nothing is read off it.
    """

    name: str
    items: Items
    small: bool = False


Told = Block | Picture
"""What is set on a screen."""
