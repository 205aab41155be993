"""A sheet as PDF: pages that break between songs, type for its reading distance, black on white.

The typeface is embedded, so that the sheet looks the same on any printer. Each page carries the
revision, the day, its number, and how large the type is.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from io import BytesIO

from reportlab.pdfgen.canvas import Canvas

from rigtui.model.sheet_kinds import SHEET_KINDS
from rigtui.model.text import visible
from rigtui.paper.content import Sheet, Table
from rigtui.sheets.blocks import LEADING, PAD, Setting, headline
from rigtui.sheets.paging import Group, Page, paged
from rigtui.sheets.sizes import PAPERS, PLAIN_POINTS, POINTS_IN_MM, Paper, Type, type_for
from rigtui.sheets.strips import Strip, Words, broken
from rigtui.sheets.typeface import BOLD, REGULAR, Typesetter
from rigtui.sheets.words import made_on

SIDE = 10 * POINTS_IN_MM
TOP = 10 * POINTS_IN_MM
BOTTOM = 17 * POINTS_IN_MM
"""Margins; the footer stands in the lower one, outside what desktop printers leave blank."""
FOOT = 8.0
FOOT_GREY = 0.27
_FARTHER_M = (0.55, 0.6, 0.62, 0.65, 0.68, 0.7, 0.75, 0.8, 0.9, 1.0, 1.2, 1.4, 1.7, 2.0)
"""Reading distances that a page for each set is tried for, one after the other."""


@dataclass(frozen=True)
class Pdf:
    """A PDF file, and what could not be printed as it is written."""

    content: bytes
    pages: int
    missing: tuple[str, ...]
    """Characters that the typeface cannot set; each stands as a box."""


def pdf(sheet: Sheet, paper: Paper = "a4", distance_m: float | None = None) -> Pdf:
    """Return a sheet as PDF.

    Args:
        sheet: What stands on it.
        paper: What it will be printed on.
        distance_m: Reading distance in metres; None for what is usual for such a sheet.
    """
    width, height = PAPERS[paper]
    letters = Typesetter()
    type_, pages = set_out(sheet, paper, distance_m, letters)
    into = BytesIO()
    # Made twice of the same sheet, it is byte for byte the same file.
    canvas = Canvas(
        into,
        (width, height),
        pageCompression=1,
        invariant=1,
        lang="en",
        initialFontName=REGULAR,
        initialFontSize=FOOT,
    )
    canvas.setTitle(visible(sheet.title))
    canvas.setSubject(f"{visible(sheet.subtitle)}. {made_on(sheet)}")
    canvas.setCreator("rigtui")
    foot = Footer(sheet, type_, letters, width - 2 * SIDE, len(pages))
    for number, page in enumerate(pages, 1):
        canvas.translate(SIDE, height - TOP)
        for top, strip in page:
            _draw(canvas, strip, top, width - 2 * SIDE)
        for words in foot.words(number, height - TOP):
            _write(canvas, words, 0.0)
        canvas.showPage()
    canvas.save()
    return Pdf(into.getvalue(), len(pages), tuple(letters.missing))


def set_out(
    sheet: Sheet, paper: Paper, distance_m: float | None, letters: Typesetter
) -> tuple[Type, list[Page]]:
    """Choose the type of a sheet and put it on pages.

    Where no distance is asked for, a sheet that is a page a set gets the largest type with which it
    is, and if it never is that with which it has the fewest pages.
    """
    width, height = PAPERS[paper]
    room = (width - 2 * SIDE, height - TOP - BOTTOM)
    type_ = type_for(sheet, distance_m)
    pages = laid_out(sheet, type_, *room, letters)
    if distance_m is None and SHEET_KINDS[sheet.kind].fills_pages:
        for farther in _FARTHER_M:
            larger = type_for(sheet, farther)
            tried = laid_out(sheet, larger, *room, letters)
            if len(tried) > len(pages):
                break
            type_, pages = larger, tried
    return type_, pages


def laid_out(
    sheet: Sheet, type_: Type, width: float, height: float, letters: Typesetter
) -> list[Page]:
    """Put a sheet on pages of a size."""
    tables = [
        block
        for part in sheet.parts
        if not part.big
        for block in part.blocks
        if isinstance(block, Table)
    ]
    setting = Setting(type_, width, height, letters, tuple(tables))
    groups = [_title(sheet, setting), *map(setting.group, sheet.parts)]
    # The title belongs to what comes first.
    if len(groups) > 1:
        first = Group(groups[0].strips + groups[1].strips)
        groups[:2] = [first]
    return paged(groups, height)


def _title(sheet: Sheet, setting: Setting) -> Group:
    """The title with the subtitle at its right, or under it where both are too long for that."""
    body = setting.type.body
    large, small = headline(body, 1.4), min(body, PLAIN_POINTS)
    over = list(setting.flow(sheet.title, large, bold=True))
    under = list(setting.flow(sheet.subtitle, small, after=PAD))
    if len(over) == len(under) == 1 and over[0].words and under[0].words:
        title, subtitle = over[0].words[0], under[0].words[0]
        ends = [setting.wide(words.text, words.size, words.bold) for words in (title, subtitle)]
        if sum(ends) + large <= setting.width:
            beside = replace(subtitle, x=setting.width - ends[1], base=title.base)
            return Group((Strip(over[0].height + PAD, (title, beside)),))
    return Group((*over, *under))


@dataclass(frozen=True)
class Footer:
    """The two lines at the foot of each page."""

    sheet: Sheet
    type: Type
    letters: Typesetter
    width: float
    pages: int

    def words(self, number: int, down: float) -> list[Words]:
        """Set the footer of a page, counted from 1; `down` is the lower edge of the paper."""
        face = self.letters.regular
        page = f"page {number} of {self.pages}"
        right = self.width - face.width(page, FOOT)
        lower = down - 6 * POINTS_IN_MM
        upper = lower - FOOT * LEADING
        mark = f"{made_on(self.sheet)}: "
        title = self._clipped(self.sheet.title, right - PAD * 3 - face.width(mark, FOOT))
        return [
            Words(0, upper, mark + title, FOOT, grey=FOOT_GREY),
            Words(right, upper, page, FOOT, grey=FOOT_GREY),
            Words(0, lower, self.type.statement, FOOT, grey=FOOT_GREY),
        ]

    def _clipped(self, title: str, room: float) -> str:
        text = " ".join(self.letters.printable(title).split())
        lines = broken(text, room, self.letters.regular, FOOT)
        return lines[0][0] + ("…" if len(lines) > 1 else "") if lines else ""


def _draw(canvas: Canvas, strip: Strip, top: float, width: float) -> None:
    if strip.shade < 1:
        canvas.setFillGray(strip.shade)
        canvas.rect(0, -top - strip.height, width, strip.height, stroke=0, fill=1)
    for stroke in strip.strokes:
        canvas.setLineWidth(stroke.width)
        canvas.setDash(*((3, 2) if stroke.dashed else ()))
        canvas.line(stroke.x, -top - stroke.y, stroke.to_x, -top - stroke.to_y)
    if strip.outline is not None:
        title, depth = strip.outline
        key = f"at{canvas.getPageNumber()}-{top:.1f}"
        canvas.bookmarkHorizontal(key, 0, -top)
        canvas.addOutlineEntry(title or "untitled", key, depth)
    for words in strip.words:
        _write(canvas, words, top)


def _write(canvas: Canvas, words: Words, top: float) -> None:
    text = canvas.beginText(words.x, -top - words.base)
    text.setFont(BOLD if words.bold else REGULAR, words.size)
    text.setFillGray(words.grey)
    if words.squeeze < 1:
        text.setHorizScale(words.squeeze * 100)
    text.textOut(words.text)
    if words.squeeze < 1:
        text.setHorizScale(100)
    canvas.drawText(text)
