"""A sheet as plain text for a terminal, a mail, a pocket notebook."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigtui.model.cells import cells, fit, wrap
from rigtui.model.text import visible
from rigtui.paper.content import (
    TIED,
    Block,
    Column,
    Heading,
    Lines,
    Para,
    Part,
    Picture,
    Sheet,
    Table,
)
from rigtui.sheets.columns import share_out
from rigtui.sheets.words import made_on

WIDTH = 80
GAP = 2
"""Blanks between two columns; one where the table is tight."""


def text(sheet: Sheet, width: int = WIDTH) -> str:
    """Return a sheet as plain text, no line wider than `width` cells."""
    lines = [*_titled(sheet.title, "=", width), *wrap(visible(sheet.subtitle), width)]
    lines += [*wrap(made_on(sheet), width), ""]
    for part in sheet.parts:
        lines += _part(part, width, sheet)
    return "\n".join(line.rstrip() for line in lines).rstrip().replace(TIED, " ") + "\n"


def _titled(title: str, under: str, width: int) -> Iterator[str]:
    lines = wrap(visible(title), width) or [""]
    yield from lines
    yield under * max(4, *map(cells, lines))


def _part(part: Part, width: int, sheet: Sheet) -> Iterator[str]:
    if part.title:
        yield from _titled(part.title, "-", width)
    for block in part.blocks:
        if isinstance(block, Table):
            alike = [block] if part.big else _alike(sheet, block)
            yield from _table(block, alike, width)
        else:
            yield from _block(block, width)
        yield ""


def _alike(sheet: Sheet, table: Table) -> list[Table]:
    """The tables of a sheet that have the same columns: they get the same widths."""
    return [
        block
        for part in sheet.parts
        for block in part.blocks
        if isinstance(block, Table) and block.columns == table.columns
    ]


def _block(block: Block, width: int) -> Iterator[str]:
    match block:
        case Heading(text=words):
            yield from _titled(words, "~", width)
        case Para(text=words, look=look):
            mark = "! " if look == "caution" else ""
            for line in words.split("\n"):
                yield from wrap(mark + visible(line), width) or [""]
        case Lines(count=count):
            yield "\n\n".join(["_" * width] * count)
        case Picture(lines=lines):
            for line in lines:
                yield from [line] if cells(line) <= width else wrap(line, width)


def _table(table: Table, alike: list[Table], width: int) -> Iterator[str]:
    rows = [[visible(cell) for cell in row] for row in table.rows]
    all_rows = [[visible(cell) for cell in row] for other in alike for row in other.rows]
    gap, sizes = _sizes(table.columns, all_rows, width)
    yield from _row([column.head for column in table.columns], sizes, gap)
    yield (" " * gap).join("-" * size for size in sizes)
    for row in rows:
        yield from _row(row, sizes, gap)


def _sizes(
    columns: Sequence[Column], rows: Sequence[Sequence[str]], width: int
) -> tuple[int, list[int]]:
    """Blanks between the columns, and the cells that each column takes."""
    wanted, needed = [], []
    for at, column in enumerate(columns):
        held = [row[at] for row in rows]
        wanted.append(max(map(cells, (column.head, *held))))
        words = [word for cell in (column.head, *held) for word in cell.split(" ")]
        needed.append(wanted[-1] if column.look == "boxes" else max(map(cells, words)))
    gap = GAP if sum(needed) + GAP * (len(columns) - 1) <= width else 1
    room = width - gap * (len(columns) - 1)
    return gap, [max(1, int(size)) for size in share_out(room, wanted, needed)]


def _row(held: Sequence[str], sizes: Sequence[int], gap: int) -> Iterator[str]:
    columns = [wrap(cell, size) or [""] for cell, size in zip(held, sizes)]
    for at in range(max(map(len, columns))):
        line = [column[at] if at < len(column) else "" for column in columns]
        yield (" " * gap).join(fit(cell, size) for cell, size in zip(line, sizes)).rstrip()
