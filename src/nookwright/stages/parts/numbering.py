"""Part numbers: the same board gets the same number every time."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(slots=True)
class Numbers:
    """Hands out numbers such as `A1`, `A2`, `B1`, letter by letter in the order boards are made."""

    used: dict[str, int] = field(default_factory=dict)

    def next(self, letter: str) -> str:
        """Return the next number of a letter."""
        self.used[letter] = self.used.get(letter, 0) + 1
        return f"{letter}{self.used[letter]}"
