"""Guess what a wrong name was meant to be."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rigtui.model.short_names import Labelled
from rigtui.model.text import nearest

_COMPARISONS = 40_000
"""Enough for any slip of the pen; a file of thousands of unknown names must not hang a check."""


class Guesser:
    """Finds the known name nearest to an unknown one, as long as there is patience left."""

    def __init__(self) -> None:
        self._left = _COMPARISONS

    def word(self, word: str, known: Iterable[str]) -> str | None:
        """The nearest of some words, or None."""
        words = list(known)
        return nearest(word[:80], words) if self._afford(len(words)) else None

    def row(self, word: str, rows: Sequence[Labelled]) -> str | None:
        """The id of the row whose id or name is nearest to a word, or None.

        People write the name that they read on the pedal where the file wants its id.
        """
        if not self._afford(len(rows)):
            return None
        ids = {row.id: row.label for row in rows}
        for row_id, label in ids.items():
            if label.casefold() == word.casefold():
                return row_id
        by_id = self.word(word, ids)
        if by_id is not None:
            return by_id
        by_name = {label.casefold(): row_id for row_id, label in reversed(ids.items())}
        near = self.word(word.casefold(), by_name)
        return by_name[near] if near is not None else None

    def _afford(self, comparisons: int) -> bool:
        self._left -= comparisons
        return self._left >= 0
