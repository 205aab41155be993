"""HTML: valid, complete in itself, sound in structure, readable, and literal.

Checked by hand beyond this (2026-11): html-validate 10.17 and the Nu Html Checker find no fault in
any sheet of the demo rigs, and axe-core 4.14 in Chromium no violation of WCAG 2.2 up to AAA, on
screen and in print.
"""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import html5lib
import pytest
from examples import examples
from hypothesis import given
from rigs_made import Data
from sheets.rigs_for_sheets import rigs
from sheets.sheets_made import DEMOS, all_sheets, bare, said, sheet, song_sheet, tables

from rigtui.model import Rig
from rigtui.model.base import SheetKind
from rigtui.paper import SHEETS
from rigtui.sheets import html as html_module
from rigtui.sheets.html import GROUND, INK, SHADE, SOFT, TICK_BOX, html
from rigtui.sheets.sizes import type_for
from rigtui.store.load import load

SVG = "{http://www.w3.org/2000/svg}"


def parsed(page: str) -> Any:
    """The page as the HTML standard's own algorithm reads it; any parse error fails the test."""
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)


def texts(element: Any) -> str:
    """All text in an element, without blanks."""
    return bare("".join(element.itertext()))


def shown(text: str) -> str:
    """A text as a page may hold it: what is no character at all (U+FFFE and such) is replaced."""
    return "".join("\ufffd" if ord(c) & 0xFFFE == 0xFFFE or c in NO_CHARACTERS else c
                   for c in bare(text))  # fmt: skip


NO_CHARACTERS = {chr(code) for code in range(0xFDD0, 0xFDF0)}


@examples(20)
@given(rigs())
def test_a_browser_reads_the_very_words_and_no_markup_of_theirs(data: Data) -> None:
    """Whatever the names hold, the body says what the sheet says, in the sheet's own elements."""
    for described in all_sheets(data):
        page = parsed(html(described))
        assert texts(page.find("body/main")) == "".join(
            map(shown, said(described, TICK_BOX, captions=True, drawn=True))
        )
        assert texts(page.find("body/header")) == "".join(
            map(shown, (described.title, described.subtitle))
        )
        assert {element.tag for element in page.iter()} <= {
            "html", "head", "meta", "title", "style", "body", "header", "main", "footer", "section",
            "div", "h1", "h2", "h3", "p", "strong", "table", "caption", "thead", "tbody", "tr",
            "th", "td", "figure", *(SVG + tag for tag in ("svg", "title", "rect", "line", "text")),
        }  # fmt: skip
        plain = [element for element in page.iter() if not element.tag.startswith(SVG)]
        attributes = {name for element in plain for name in element.attrib}
        assert attributes <= {"lang", "charset", "name", "content", "class", "scope", "colspan"}


@lru_cache
def demo(path: Path) -> Rig:
    """A demo rig."""
    return load(path)[1]


@pytest.mark.parametrize("kind", SHEETS)
@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_structure(path: Path, kind: SheetKind) -> None:
    """One first heading, none skipped; every table has a caption, heads and a head for each row."""
    described = sheet(demo(path), kind)
    page = parsed(html(described))
    levels = [int(element.tag[1]) for element in page.iter() if re.fullmatch("h[1-6]", element.tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    written = list(page.iter("table"))
    assert len(written) == len(list(tables(described)))
    for table, (_, made) in zip(written, tables(described)):
        assert texts(table.find("caption")) == bare(made.caption)
        assert all(head.get("scope") == "col" and texts(head) for head in table.find("thead/tr"))
        heads = [row.find("th") for body in table.iter("tbody") for row in body]
        rows = [head for head in heads if head is not None]
        assert len(rows) == len(made.rows)
        assert all(head.get("scope") == "row" for head in rows)
        wide = len(table.find("thead/tr"))
        for row in table.iter("tr"):
            assert sum(int(cell.get("colspan", 1)) for cell in row) == wide


def test_the_file_needs_nothing_else() -> None:
    """No style, script, picture or font is fetched."""
    page = html(sheet(demo(DEMOS[0]), "deputy"))
    assert not re.search(r"https?:|url\(|@import|src=|href=|<script", page)


def luminance(colour: str) -> float:
    """Relative luminance. Source: WCAG 2.2, definition of relative luminance (sRGB)."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(first: str, second: str) -> float:
    """Contrast ratio. Source: WCAG 2.2, definition of contrast ratio."""
    dark, light = sorted((luminance(first), luminance(second)))
    return (light + 0.05) / (dark + 0.05)


def test_contrast_formula() -> None:
    """Black on white is 21 (WCAG 2.2); #767676 on white is the well-known 4.54."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("ink", [INK, SOFT])
@pytest.mark.parametrize("ground", [GROUND, SHADE])
def test_every_text_has_the_contrast_of_level_aaa(ink: str, ground: str) -> None:
    """At least 7 to 1 (WCAG 2.2, 1.4.6), and in grey as well: the colours are greys."""
    assert contrast(ink, ground) >= 7
    assert all(len({colour[1:3], colour[3:5], colour[5:7]}) == 1 for colour in (ink, ground))


def test_no_colour_but_those_that_are_checked() -> None:
    """The style names the four colours and no other."""
    floor = sheet(demo(DEMOS[0]), "floor")
    style = html_module._style(floor, "A4", type_for(floor))
    assert set(re.findall(r"#[0-9a-f]{3,6}\b", style)) <= {INK, GROUND, SOFT, SHADE}


def test_crowded_changes_are_told_by_a_mark_and_not_by_looks_alone() -> None:
    """The row has the mark in its text."""
    floor = song_sheet({"name": "Verse", "bars": 4})
    assert "! " not in "".join(said(floor)).replace("!: more", "")
    strong = [
        row[0] for path in DEMOS for _, table in tables(sheet(demo(path), "floor"))
        for at, row in enumerate(table.rows) if at in table.strong
    ]  # fmt: skip
    assert strong
    assert all(name.startswith("! ") for name in strong)


@pytest.mark.parametrize(
    ("paper", "metres", "size", "points"),
    [("a4", None, "A4", 38.9), ("letter", 1.0, "letter", 19.4)],
)
def test_paper_and_type_size(paper: Any, metres: float | None, size: str, points: float) -> None:
    """The page size and the big type are those asked for; the foot states the type."""
    page = html(song_sheet({"name": "Verse", "bars": 4}), paper, metres)
    assert f"@page {{ size: {size};" in page
    assert f"font-size: {points}pt" in page
    assert f"big type {points} pt" in texts_of_foot(page)


def texts_of_foot(page: str) -> str:
    """The footer's text."""
    return "".join(parsed(page).find("body/footer").itertext())
