"""A sheet as plain text and as Markdown."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from rigtui.model.cells import fit, wrap
from rigtui.model.text import visible
from rigtui.sheets.content import Block, Heading, Lines, Para, Part, Sheet, Table

WIDTH = 80


def text(sheet: Sheet, width: int = WIDTH) -> str:
    """Return a sheet as plain text, no line wider than `width` cells."""
    head = [sheet.title, "=" * min(width, max(4, len(sheet.title)))]
    lines = [*head, *wrap(sheet.subtitle, width), _made(sheet), ""]
    for part in sheet.parts:
        if part.title:
            lines += [part.title, "-" * min(width, max(4, len(part.title)))]
        for block in part.blocks:
            lines += [*_text_block(block, width), ""]
    return "\n".join(visible(line).rstrip() for line in lines).rstrip() + "\n"


def _made(sheet: Sheet) -> str:
    return f"Revision {sheet.revision}, made on {sheet.day:%d %B %Y}"


def _text_block(block: Block, width: int) -> Iterator[str]:
    match block:
        case Heading(text=words):
            yield words.upper()
        case Para(text=words, look=look):
            mark = "! " if look == "caution" else ""
            for paragraph in words.split("\n"):
                yield from wrap(mark + visible(paragraph), width)
        case Lines(count=count):
            for _ in range(count):
                yield "_" * width
        case Table():
            yield from _text_table(block, width)


def _text_table(table: Table, width: int) -> Iterator[str]:
    gaps = len(table.widths) - 1
    whole = sum(table.widths)
    sizes = [max(3, int((width - gaps) * share / whole)) for share in table.widths]
    over = sum(sizes) + gaps - width
    if over > 0:
        widest = sizes.index(max(sizes))
        sizes[widest] = max(3, sizes[widest] - over)
    if any(table.head):
        yield from _text_row(table.head, sizes)
        yield " ".join("-" * size for size in sizes)
    for row in table.rows:
        yield from _text_row(row, sizes)


def _text_row(cells: Sequence[str], sizes: Sequence[int]) -> Iterator[str]:
    columns = [wrap(visible(cell), size) or [""] for cell, size in zip(cells, sizes)]
    for at in range(max(map(len, columns))):
        line = [column[at] if at < len(column) else "" for column in columns]
        yield " ".join(fit(cell, size) for cell, size in zip(line, sizes)).rstrip()


_SPECIAL = re.compile(r"([\\`*_{}\[\]<>()#+!|~-])")


def markdown(sheet: Sheet) -> str:
    """Return a sheet as Markdown with tables in the usual extension's form."""
    lines = [f"# {_md(sheet.title)}", "", _md(sheet.subtitle), "", f"*{_md(_made(sheet))}*", ""]
    for part in sheet.parts:
        lines += _md_part(part)
    return "\n".join(lines).rstrip() + "\n"


def _md(words: str) -> str:
    """Text from the file as text: nothing in it is taken for a mark."""
    return _SPECIAL.sub(r"\\\1", visible(words).replace("␊", " "))


def _md_part(part: Part) -> Iterator[str]:
    if part.title:
        yield from (f"## {_md(part.title)}", "")
    for block in part.blocks:
        match block:
            case Heading(text=words):
                yield from (f"### {_md(words)}", "")
            case Para(text=words, look=look):
                mark = "**" if look in ("strong", "caution") else ""
                yield from (mark + _md(words) + mark, "")
            case Lines(count=count):
                yield from [r"\_" * 40 + "\n"] * count
            case Table():
                yield _md_row(block.head)
                yield "|" + " --- |" * len(block.head)
                for row in block.rows:
                    yield _md_row(row)
                yield ""


def _md_row(cells: Sequence[str]) -> str:
    return "| " + " | ".join(_md(cell) for cell in cells) + " |"
