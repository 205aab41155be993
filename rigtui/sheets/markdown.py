"""A sheet as Markdown, with tables as the usual extension has them.

Source: CommonMark 0.31.2; tables of the GitHub Flavored Markdown specification 0.29.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from rigtui.model.text import visible
from rigtui.paper.content import Block, Heading, Lines, Para, Part, Picture, Sheet, Table
from rigtui.sheets.words import made_on

# CommonMark 2.4: any ASCII punctuation may be escaped. These begin something inside a line; the
# last ones are addresses, which the extension makes links of. Marks at the end of a heading would
# be taken for its close (4.2).
_INLINE = re.compile(r"[\\`*_\[\]<>|~&$@]|#(?=#*$)|:(?=//)|(?<=www)\.", re.I)
_AT_START = re.compile(r"^([#+=-]|\d+(?=[.)]))")


def markdown(sheet: Sheet) -> str:
    """Return a sheet as Markdown."""
    lines = [f"# {_inline(sheet.title)}", "", _inline(sheet.subtitle), "", made_on(sheet), ""]
    for part in sheet.parts:
        lines += _part(part)
    return "\n".join(lines).rstrip() + "\n"


def _inline(words: str) -> str:
    """Text as text: nothing in it is taken for a mark."""
    line = " ".join(visible(words, keep="\n").split("\n")).strip()
    escaped = _INLINE.sub(r"\\\g<0>", line)
    start = _AT_START.match(escaped)
    if start is None:
        return escaped
    cut = start.end() if start[1].isdigit() else 0
    return f"{escaped[:cut]}\\{escaped[cut:]}"


def _part(part: Part) -> Iterator[str]:
    title = _inline(part.title)
    if title:  # a name of blanks makes no heading
        yield from (f"## {title}", "")
    for block in part.blocks:
        yield from _block(block)


def _block(block: Block) -> Iterator[str]:
    match block:
        case Heading(text=words):
            yield from (f"### {_inline(words)}", "")
        case Para(text=words, look=look):
            mark = "**" if look in ("strong", "caution") else ""
            lines = map(_inline, visible(words, keep="\n").split("\n"))
            yield "\\\n".join(mark + line + mark for line in lines if line)
            yield ""
        case Lines(count=count):
            yield from [r"\_" * 40 + "\n"] * count
        case Picture(lines=lines):  # an indented code block (4.4): nothing in it is a mark
            yield from (f"    {line}" for line in lines)
            yield ""
        case Table():
            yield _row([column.head for column in block.columns])
            yield "|" + " --- |" * len(block.columns)
            yield from (_row(row) for row in block.rows)
            yield ""


def _row(held: Sequence[str]) -> str:
    return "| " + " | ".join(_inline(cell) for cell in held) + " |"
