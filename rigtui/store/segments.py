"""A file cut into the pieces that are moved, changed or taken out as a whole.

Owns the question which comment belongs to which table. A comment block directly above a table, or
parted from the table before by a blank line, belongs to the table below it. Comments straight
after a table's last line, with a blank line after them, belong to that table. A heading above the
first row of a kind, with blank lines on both sides, belongs to nobody and stays in place, and so
do the comments at the top and at the end of the file.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from rigtui.store.toml_scan import Block, line_end, line_start, pairs

_LINE = re.compile(r"[^\n]*\n|[^\n]+\Z")


@dataclass(eq=False, slots=True)
class Segment:
    """A piece of the file.

    Attributes:
        start: Offset of its first character, blank lines and comments above its header included.
        end: Offset just after its last line.
        block: The table in it; none for a heading, the end of the file, or a fresh piece.
        fresh: Text of a piece that the file did not have; goes before the piece's own text.
        gone: Whether the piece is to be left out.
        edits: What to put in place of text[start:end], as (start, end, text).
    """

    start: int = 0
    end: int = 0
    block: Block | None = None
    fresh: str = ""
    gone: bool = False
    edits: list[tuple[int, int, str]] = field(default_factory=list)

    def render(self, text: str) -> str:
        """The piece's text with its edits made."""
        if self.gone:
            return ""
        parts, at = [self.fresh], self.start
        for start, end, new in sorted(self.edits, key=lambda edit: edit[:2]):
            parts += [text[at:start], new]
            at = end
        return "".join(parts) + text[at : self.end]

    def stands_apart(self, text: str) -> bool:
        """Whether a blank line stands before the table."""
        if self.block is None:
            return self.fresh[:1] in ("\r", "\n")
        lead = text[self.start : line_start(text, self.block.start)]
        return any(not line.strip() for line in _LINE.findall(lead))


def split(text: str, tables: list[Block]) -> list[Segment]:
    """Cut the text into pieces, one for each table, and those that belong to no table."""
    pieces: list[Segment] = []
    start = 0
    for number, block in enumerate(tables):
        following = tables[number + 1] if number + 1 < len(tables) else None
        gap = _gap_start(text, block)
        own, rest = _share(text, gap, block.end, following)
        pieces.append(Segment(start, own, block))
        if rest > own:
            pieces.append(Segment(own, rest))
        start = rest
    return pieces


def _gap_start(text: str, block: Block) -> int:
    """Offset just after the last line of a table's own content; only comments follow."""
    floor = line_end(text, block.body) if block.path else 0
    at = block.end
    while at > floor:
        above = line_start(text, at - 1)
        line = text[above:at].strip()
        if line and line[0] != "#":
            break
        at = above
    if '"""' in text[at : block.end] or "'''" in text[at : block.end]:
        # What looks like a comment may be the end of a text of several lines.
        last = floor
        for pair in pairs(text, block.body, block.end):
            last = line_end(text, pair.end)
        return last
    return at


def _share(text: str, gap: int, end: int, below: Block | None) -> tuple[int, int]:
    """Share out the comments between two tables.

    Returns:
        Where the upper table's own end, and where those of the table below begin; what stands
        between the two belongs to neither.
    """
    lines = _LINE.findall(text[gap:end])
    blank = [not line.strip() for line in lines]
    own = blank.index(True) if True in blank else (0 if below else len(lines))
    if below is None:
        rest = len(lines)
    else:
        heading = own
        if below.path[1:] == (0,) and True in blank:
            last_blank = len(blank) - 1 - blank[::-1].index(True)
            heading = max((n + 1 for n in range(own, last_blank) if not blank[n]), default=own)
        rest = heading
    own_end = gap + sum(map(len, lines[:own]))
    return own_end, own_end + sum(map(len, lines[own:rest]))
