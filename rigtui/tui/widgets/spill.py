"""The cells of one row side by side: a text too long for its column goes on where nothing stands.

So no name is cut while its row has room for it, however wide its column is.
"""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len

from rigtui.model.text import visible
from rigtui.tui.text import fit


def side_by_side(
    texts: Sequence[str],
    widths: Sequence[int],
    aligns: Sequence[str],
    width: int,
    taken: int | None = None,
) -> list[str]:
    """Fit texts to their columns; return what is drawn for each, from the left.

    Args:
        texts: What stands in each column.
        widths: Cells of each column.
        aligns: "left" or "right", for each.
        width: Cells of the whole row; what the columns leave of it is room as well.
        taken: The column that the cursor marks: nothing goes on into it.
    """
    drawn: list[str] = []
    borrowed = 0  # cells at the head of the next column that a text has gone on into
    for at, text in enumerate(texts):
        own = widths[at] - borrowed
        borrowed = 0
        lacks = _cells(text) + 1 - own  # with the cell that keeps the next text apart
        if text.strip() and lacks > 0 and aligns[at] == "left":
            room = _room_after(at, texts, widths, aligns, width, taken)
            borrowed = min(room, lacks)
            drawn.append(fit(text, own + borrowed - 1) + " ")
            continue
        drawn.append(fit(text, own, aligns[at]))
        # A column that was borrowed whole passes on what is left of the loan.
        if own < 0:
            drawn[-1], borrowed = "", -own
    return drawn


def _room_after(
    at: int,
    texts: Sequence[str],
    widths: Sequence[int],
    aligns: Sequence[str],
    width: int,
    taken: int | None,
) -> int:
    """Blank cells right behind a column; at the end of the row one more, that nothing needs."""
    room = 0
    for nth in range(at + 1, len(texts)):
        if nth == taken:
            return room
        if texts[nth].strip():
            blank = widths[nth] - _cells(texts[nth]) if aligns[nth] == "right" else 0
            return room + max(0, blank)
        room += widths[nth]
    return room + max(0, width - sum(widths)) + 1


def _cells(text: str) -> int:
    return len(text) if text.isascii() else cell_len(visible(text))
