"""From the blocks of a sheet to strips: headings, paragraphs, tables, and lines to write on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from rigtui.paper.content import (
    BOX,
    Block,
    Column,
    Heading,
    Lines,
    Para,
    Part,
    Picture,
    Table,
    pieces,
)
from rigtui.paper.drawing import Drawing, Label, Stroke
from rigtui.sheets.columns import share_out
from rigtui.sheets.paging import Group
from rigtui.sheets.sizes import DENSE_SMALL, PLAIN_POINTS, Type
from rigtui.sheets.strips import ASCENT, NARROWEST, Strip, Words, broken, in_pieces
from rigtui.sheets.typeface import Typesetter

LEADING, BIG_LEADING = 1.25, 1.12
"""From baseline to baseline, as a share of the type size."""
PAD = 4.0
"""Room on either side of what stands in a table."""
ROW_PAD = 2.2
"""Room above what stands in a row."""

BIG_PAD = 0.14
"""Room on all sides of big type, as a share of its size."""
EASY_SQUEEZE = 0.8
"""How far big type is drawn narrower, at its full height, to save a line."""
HARD_SQUEEZE = NARROWEST
"""How far, to save a page; its lines then come closer as well."""
CLOSE_PAD, CLOSE_LEADING = 0.05, 1.05
"""Room on all sides of big type, and between its baselines, where that saves a page."""
SMALL = 0.85
"""Size of small print, and of the heads of columns, as a share of what is round it."""
SHADE = 0.9
"""Grey of the rows to be seen first, and of heads; black on it keeps a contrast of 16."""
MOST_HEADLINE = 24.0
"""Points above which a headline is not larger than what is under it."""
TICK_BOX = "☐"


class Look(NamedTuple):
    """How a table is set."""

    leading: float = LEADING
    row_pad: float = ROW_PAD
    small: float = SMALL
    """Size of what stands under a row, as a share of what is in it."""
    narrow: float = 1.0
    """Width of the letters; 1 is their own."""


USUAL, DENSE = Look(), Look(1.14, 1.6, DENSE_SMALL, 0.88)
"""The dense look leaves little white; its letters are about as wide as a condensed cut's."""


@dataclass
class Setting:
    """How one sheet is set."""

    type: Type
    width: float
    height: float
    letters: Typesetter
    tables: tuple[Table, ...]
    """All tables of the sheet: those with the same columns get the same widths."""

    def __post_init__(self) -> None:
        self._known_widths: dict[tuple[Column, ...], list[float]] = {}

    def group(self, part: Part) -> Group:
        """Set a part of a sheet."""
        strips = self._strips(part)
        if part.big and sum(strip.height for strip in strips) > self.height:
            narrow = self._strips(part, HARD_SQUEEZE)
            if sum(strip.height for strip in narrow) <= self.height:
                strips = narrow
        names = [part.title, *(block.text for block in part.blocks if isinstance(block, Heading))]
        again = self._again(next(filter(None, names), ""))
        return Group(tuple(strips), part.new_page, self.type.body, again, part.big)

    def _strips(self, part: Part, squeeze: float = EASY_SQUEEZE) -> list[Strip]:
        strips: list[Strip] = []
        if part.title:
            strips += self._heading(part.title, headline(self.type.body, 1.4), 0, part.big)
        for block in part.blocks:
            if part.dense and isinstance(block, Table):
                strips += self._table(block, DENSE)
            else:
                strips += self._block(block, part.big, squeeze)
        return strips

    def _again(self, title: str) -> Strip | None:
        """What stands at the top of a page that a part runs on to."""
        if not title:
            return None
        size = min(self.type.body, PLAIN_POINTS * 1.2)
        words, _ = self.lines(f"(continued) {title}", size, bold=True)
        return Strip(size * LEADING + PAD, tuple(words[:1]), kind="again", sticks=True)

    def lines(
        self, text: str, size: float, x: float = 0.0, room: float | None = None, bold: bool = False,
        grey: float = 0.0, leading: float = LEADING, squeeze: float = 1.0, narrow: float = 1.0,
    ) -> tuple[list[Words], float]:  # fmt: skip
        """Set a text in lines one under the other; return them and the height that they take."""
        face = self.letters.face(bold)
        width = self.width - x if room is None else room
        lines = broken(self.letters.printable(text), width / narrow, face, size, squeeze)
        words = [
            Words(x, size * (ASCENT + leading * at), line, size, bold, tight * narrow, grey)
            for at, (line, tight) in enumerate(lines)
        ]
        return words, size * leading * len(lines)

    def flow(
        self, text: str, size: float, after: float = 0.0, bar: bool = False, **look: bool | float
    ) -> Iterator[Strip]:
        """Set a text as strips of a line each, so that it may run on over a page."""
        x = PAD * 2 if bar else 0.0
        words, _ = self.lines(text, size, x, **look)  # type: ignore[arg-type]
        for at, word in enumerate(words):
            height = size * LEADING + (after if at == len(words) - 1 else 0.0)
            strokes = (Stroke(0, 0, 0, size * LEADING, 2.0),) if bar else ()
            yield Strip(height, (replace(word, base=size * ASCENT),), strokes)

    def _heading(self, text: str, size: float, depth: int, big: bool) -> Iterator[Strip]:
        leading = BIG_LEADING if big else LEADING
        words, height = self.lines(text, size, bold=True, leading=leading)
        strokes = (Stroke(0, height, self.width, height, 1.0),) if not depth else ()
        outline = (self.letters.printable(text), depth)
        after = PAD * (1.0 if depth else 1.5)
        yield Strip(height + after, tuple(words), strokes, sticks=True, outline=outline)

    def _block(self, block: Block, big: bool, squeeze: float) -> Iterator[Strip]:
        body = self.type.under if big else self.type.body
        match block:
            case Heading(text=text):
                yield from self._heading(
                    text, self.type.big if big else headline(body, 1.2), 1, big
                )
            case Para(text=text, look="small"):
                yield from self.flow(
                    text, min(body, self.type.body, PLAIN_POINTS) * SMALL, PAD, grey=0.27
                )
            case Para(text=text, look=look):
                yield from self.flow(
                    text, body, PAD, bar=look == "caution", bold=look == "strong"
                )  # fmt: skip
            case Lines(count=count):
                height = max(24.0, body * 2)
                yield from [Strip(height, strokes=(Stroke(0, height, self.width, height),))] * count
            case Picture(drawing=drawing):
                yield from map(self._band, drawing.bands())
                yield Strip(PAD)
            case Table():
                yield from self._big_table(block, squeeze) if big else self._table(block)

    # Pictures

    def _band(self, drawing: Drawing) -> Strip:
        """Set a band of a drawing, as wide as the page if it would be wider."""
        scale = min(1.0, self.width / drawing.width)
        strokes = list(drawing.strokes)
        for frame in drawing.frames:
            right, bottom = frame.x + frame.width, frame.y + frame.height
            corners = ((frame.x, frame.y), (right, frame.y), (right, bottom), (frame.x, bottom))
            for start, end in zip(corners, (*corners[1:], corners[0])):
                strokes.append(Stroke(*start, *end, frame.pen, frame.dashed))
        scaled = [
            replace(
                stroke, x=stroke.x * scale, y=stroke.y * scale,
                to_x=stroke.to_x * scale, to_y=stroke.to_y * scale,
            )
            for stroke in strokes
        ]  # fmt: skip
        words = tuple(self._label(label, scale) for label in drawing.labels)
        return Strip(drawing.height * scale, words, tuple(scaled))

    def _label(self, label: Label, scale: float) -> Words:
        text, size = self.letters.printable(label.text), label.size * scale
        wide = self.wide(text, size, label.bold)
        squeeze = min(1.0, label.room * scale / wide) if wide else 1.0
        x = label.x * scale - wide * squeeze / 2 * label.middle
        return Words(x, label.base * scale, text, size, label.bold, squeeze)

    # Tables

    def _table(self, table: Table, look: Look = USUAL) -> Iterator[Strip]:
        beside = [at for at, column in enumerate(table.columns) if column.look != "under"]
        sizes = [self.type.body] * len(beside)
        widths = self._known_widths.get(table.columns)
        if widths is None:
            alike = [other for other in self.tables if other.columns == table.columns]
            widths = self._widths(alike, beside, sizes, PAD, spread=True)
            self._known_widths[table.columns] = widths
        head = self._head([table.columns[at] for at in beside], widths, PAD)
        yield head
        for at, row in enumerate(table.rows):
            strong = at in table.strong
            words, frames, height, x, lead = [], [], 0.0, 0.0, ""
            for place, size, width in zip(beside, sizes, widths):
                kind, text = table.columns[place].look, row[place]
                if kind == "lead":
                    lead = text
                    continue  # its column is the next one's as well
                boxed: list[int] = []
                if kind == "pieces":
                    some, tall, boxed = self._pieces(lead, text, size, x, look)
                else:
                    text = text.replace(BOX, TICK_BOX) if kind == "boxes" else text
                    some, tall = self.lines(
                        text, size, x + PAD, width - 2 * PAD, strong,
                        leading=look.leading, narrow=look.narrow,
                    )  # fmt: skip
                some = [replace(word, base=word.base + look.row_pad) for word in some]
                frames += [stroke for at in boxed for stroke in self._box(some[at])]
                words += some
                height, x = max(height, tall), x + width
            small = self.type.body * look.small
            some, tall = self._under(table, row, small, PAD, strong, look.narrow)
            words += [replace(word, base=word.base + look.row_pad + height) for word in some]
            yield self._row(words, height + tall + 1.5 * look.row_pad, strong, head, frames)

    def _pieces(
        self, lead: str, text: str, size: float, x: float, look: Look
    ) -> tuple[list[Words], float, list[int]]:
        """Set a lead and pieces up to the edge; return the places of what is crowded as well."""
        told = [(lead, True, 0)] if lead else []
        told += [(piece, crowded, at) for at, (piece, crowded) in enumerate(pieces(text), 1)]
        told = [(self.letters.printable(piece), bold, at) for piece, bold, at in told]
        room = (self.width - x - 2 * PAD) / look.narrow
        runs, count = in_pieces(told, room, self.letters.face, size)
        words = [
            replace(
                run.words,
                x=x + PAD + run.words.x * look.narrow,
                base=size * (ASCENT + look.leading * run.line),
                squeeze=run.words.squeeze * look.narrow,
            )
            for run in runs
        ]
        boxed = [at for at, run in enumerate(runs) if run.piece and run.words.bold]
        return words, size * look.leading * count, boxed

    def _box(self, words: Words) -> list[Stroke]:
        """A box round some words, clear of their letters."""
        wide = self.wide(words.text, words.size, words.bold) * words.squeeze
        left, right = words.x - 1.5, words.x + wide + 1.5
        top, bottom = words.base - words.size * 0.83, words.base + words.size * 0.27
        corners = ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))
        return [Stroke(*start, *end, 0.8) for start, end in pairwise(corners)]

    def _under(
        self, table: Table, row: tuple[str, ...], size: float, pad: float, bold: bool,
        narrow: float = 1.0,
    ) -> tuple[list[Words], float]:  # fmt: skip
        """Set what stands in lines under a row, each after the head of its column."""
        details = [
            f"{column.head}: {cell}"
            for column, cell in zip(table.columns, row)
            if column.look == "under" and cell
        ]
        return self._details(details, size, pad, bold, narrow)

    def _big_table(self, table: Table, squeeze: float) -> Iterator[Strip]:
        """Set the big cells of a row side by side on one baseline, and details under them."""
        big, under = self.type.big, self.type.under
        close = squeeze == HARD_SQUEEZE
        pad, leading = (big * CLOSE_PAD, CLOSE_LEADING) if close else (big * BIG_PAD, BIG_LEADING)
        beside = [at for at, column in enumerate(table.columns) if column.look != "under"]
        sizes = [big if table.columns[at].look == "big" else under for at in beside]
        widths = self._widths([table], beside, sizes, pad)
        head = self._head([table.columns[at] for at in beside], widths, pad)
        yield head
        for at, row in enumerate(table.rows):
            strong = at in table.strong
            words, height, x = [], 0.0, 0.0
            for place, size, width in zip(beside, sizes, widths):
                some, tall = self.lines(
                    row[place],
                    size,
                    x + pad,
                    width - 2 * pad,
                    _is_bold(table.columns[place], row[place]),
                    leading=leading,
                    squeeze=squeeze,
                )
                drop = (big - size) * ASCENT + pad
                words += [replace(word, base=word.base + drop) for word in some]
                height, x = max(height, tall + drop), x + width
            some, tall = self._under(table, row, under, pad, strong)
            words += [replace(word, base=word.base + height) for word in some]
            yield self._row(words, height + tall + pad / 2, strong, head)

    def _details(
        self, details: Sequence[str], size: float, pad: float, bold: bool, narrow: float
    ) -> tuple[list[Words], float]:
        """Set details one behind the other in lines, none of them over the end of a line."""
        words: list[Words] = []
        height, x, line = 0.0, pad, size * LEADING
        for text in details:
            wide = self.wide(self.letters.printable(text), size, bold) * narrow
            if x > pad and x + wide > self.width - pad:
                height, x = height + line, pad
            some, tall = self.lines(text, size, x, self.width - pad - x, bold, narrow=narrow)
            words += [replace(word, base=word.base + height) for word in some]
            height, x = height + tall - line, x + wide + size
        return words, height + line * bool(details)

    def _row(
        self, words: Sequence[Words], height: float, strong: bool, head: Strip,
        frames: Sequence[Stroke] = (),
    ) -> Strip:  # fmt: skip
        strokes = (Stroke(0, 0, self.width, 0), *frames)
        return Strip(height, tuple(words), strokes, "row", SHADE if strong else 1.0, head=head)

    def _head(self, columns: Sequence[Column], widths: Sequence[float], pad: float) -> Strip:
        size = min(self.type.body, 9.0) * SMALL
        words, height, x = [], 0.0, 0.0
        for column, width in zip(columns, widths):
            some, tall = self.lines(column.head, size, x + pad, width - 2 * pad)
            words += some
            height, x = max(height, tall), x + width
        return Strip(height + 2, tuple(words), kind="head", shade=SHADE, sticks=True)

    def _widths(
        self,
        tables: Sequence[Table],
        places: Sequence[int],
        sizes: Sequence[float],
        pad: float,
        spread: bool = False,
    ) -> list[float]:
        """Share the width of the page out; what is left goes to all columns, or to the last."""
        wanted, needed = [], []
        for place, size in zip(places, sizes):
            column = tables[0].columns[place]
            whole = [self.wide(column.head, self.type.body * SMALL, False)]
            words = list(whole)
            for table in tables:
                for at, row in enumerate(table.rows):
                    bold = (spread and at in table.strong) or _is_bold(column, row[place])
                    for line in self.letters.printable(row[place]).split("\n"):
                        whole.append(self.wide(line, size, bold))
                        words += [self.wide(word, size, bold) for word in line.split(" ")]
            least = max(whole if column.look == "boxes" else words) + 2 * pad + 0.5
            wanted.append(max(whole) + 2 * pad + 0.5)
            needed.append(least)
        widths = share_out(self.width, wanted, needed)
        left = self.width - sum(widths)
        if spread:
            total = sum(widths)
            return [width + left * width / total for width in widths]
        return [*widths[:-1], widths[-1] + left]

    def wide(self, text: str, size: float, bold: bool) -> float:
        """Return how wide a text is, in points."""
        return self.letters.face(bold).width(text, size)


def headline(size: float, times: float) -> float:
    """Size of a headline over type of a size; over very large type it need not be larger still."""
    return max(size, min(size * times, MOST_HEADLINE))


def _is_bold(column: Column, cell: str) -> bool:
    """Whether a cell is a switch to press; in brackets it is one that is not pressed."""
    return column.head == "press" and not cell.startswith("(")
