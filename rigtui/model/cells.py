"""How much room text takes in a terminal, in cells; cutting, filling and breaking it by them.

A Chinese character takes two cells, an accent none. Text must have gone through `visible` before:
what moves the cursor has no width.

Source: wcwidth, which follows Unicode Standard Annex 11 (East Asian Width) and the emoji data.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

# Latin letters and the program's own marks, all one cell: with these alone the tables of the
# library, 20 ms to load, are not needed.
_ONE_CELL_EACH = re.compile("[ -~\xa0-\u02ff…→·×█░│]*")


def cells(text: str) -> int:
    """Return how many cells a text takes in one line of a terminal."""
    if _ONE_CELL_EACH.fullmatch(text):
        return len(text)
    from wcwidth import wcswidth

    return max(0, wcswidth(text))


def clip(text: str, width: int, ellipsis: str = "…") -> str:
    """Cut a text to at most `width` cells; where something is cut, the ellipsis ends it."""
    if cells(text) <= width:
        return text
    room = width - cells(ellipsis)
    if room < 0:
        return _head(text, width)
    return _head(text, room).rstrip() + ellipsis


def fit(text: str, width: int, align: str = "<", ellipsis: str = "…") -> str:
    """Cut or fill a text to exactly `width` cells; align "<" fills after it, ">" before it."""
    text = clip(text, width, ellipsis)
    space = " " * (width - cells(text))
    return space + text if align == ">" else text + space


def wrap(text: str, width: int, indent: str = "", hang: str | None = None) -> list[str]:
    """Break a text at blanks into lines of at most `width` cells, and inside a word if it must.

    Args:
        text: Words; blanks where a line is broken are left out, all others stay.
        width: Cells in a line, its indent included.
        indent: What the first line begins with.
        hang: What the other lines begin with; as the first, if left out.
    """
    hang = indent if hang is None else hang
    measure = len if _ONE_CELL_EACH.fullmatch(text) else cells
    used, hung = cells(indent), cells(hang)
    room = max(1, width - max(used, hung))
    lines, line, filled = [], indent, False
    for word in text.split(" "):
        for piece in (word,) if measure(word) <= room else _pieces(word, room):
            size = measure(piece)
            if filled and used + 1 + size > width:
                lines.append(line.rstrip())
                line, used, filled = hang, hung, False
            if piece or filled:
                line += " " * filled + piece
                used += filled + size
                filled = True
    return [*lines, line.rstrip()] if filled else lines


def _pieces(word: str, width: int) -> Iterator[str]:
    """Cut a word that is wider than a line; a character that is wider still stands alone."""
    while cells(word) > width:
        head = _head(word, width) or word[0]
        yield head
        word = word[len(head) :]
    yield word


def _head(text: str, width: int) -> str:
    """As many whole characters, accents and joined emoji included, as fit the cells."""
    if _ONE_CELL_EACH.fullmatch(text):
        return text[:width]
    from wcwidth import iter_graphemes

    kept, room = "", width
    for character in iter_graphemes(text):
        room -= cells(character)
        if room < 0:
            break
        kept += character
    return kept
