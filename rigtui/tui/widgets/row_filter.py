"""Search a list: `/` and some letters, and only the rows with them stay in sight."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events

from rigtui.model.text import visible
from rigtui.tui.widgets.lazy_rows import GridRow, LazyRows


class RowFilter:
    """The words that a list is searched for, and whether they are still being typed."""

    def __init__(self) -> None:
        self.words = ""
        self.typing = False

    @property
    def active(self) -> bool:
        """Whether rows may be out of sight, or words are being typed."""
        return self.typing or bool(self.words.strip())

    def begin(self) -> None:
        """Have words typed, from the start."""
        self.words, self.typing = "", True

    def end(self) -> None:
        """Search for nothing any more."""
        self.words, self.typing = "", False

    def kept(self, rows: Sequence[GridRow] | LazyRows) -> Sequence[int]:
        """Places of the rows that hold all words, whatever their capitals.

        A search that no row fits any more ends, unless it is still being typed.
        """
        wanted = self.words.casefold().split()
        if not wanted:
            return range(len(rows))
        kept = [at for at, row in enumerate(rows) if row.note is None and _holds(row, wanted)]
        if not kept and not self.typing:
            self.end()
        return kept if self.words.strip() else range(len(rows))

    def take(self, event: events.Key) -> bool:
        """Take a key while words are typed; False if it is none that types."""
        if event.key == "enter":
            self.typing = False
        elif event.key == "escape":
            self.end()
        elif event.key == "backspace":
            self.words = self.words[:-1]
        elif event.key == "ctrl+u":
            self.words = ""
        elif event.is_printable and event.character:
            self.words += event.character
        else:  # the cursor walks on through what is left; nothing is deleted unseen
            return event.key == "delete"
        return True

    def paste(self, text: str) -> None:
        """Take pasted words: the first line of them."""
        self.words += visible((text.splitlines() or [""])[0])

    def line(self, shown: int, rows: int) -> str:
        """What stands below the list while it is searched."""
        words = visible(self.words)
        ways = "Enter keep, Esc all" if self.typing else "Esc shows all, / searches again"
        cursor = "_" if self.typing else ""
        return f"/{words}{cursor}  {shown} of {rows}  ({ways})"


def _holds(row: GridRow, wanted: Sequence[str]) -> bool:
    cells = [text for text, _ in row.pieces] if row.pieces else row.cells
    text = " ".join((*cells, row.also)).casefold()
    return all(word in text for word in wanted)
