"""Markdown read by an independent reader (markdown-it-py) says what the sheet says."""

from __future__ import annotations

from datetime import date
from html.parser import HTMLParser

import pytest
from examples import examples
from hypothesis import given
from markdown_it import MarkdownIt
from rigs_made import Data
from sheets.rigs_for_sheets import rigs
from sheets.sheets_made import all_sheets, bare, said, tables

from rigtui.paper.content import Lines, Part, Sheet
from rigtui.sheets.markdown import markdown
from rigtui.sheets.words import made_on

# As the extension's readers are set: tables, struck-out text, raw HTML, addresses made links.
READER = MarkdownIt("commonmark", {"linkify": True, "html": True}).enable(
    ["table", "strikethrough", "linkify"]
)


class MarkdownSeen(HTMLParser):
    """Texts and tags of a page."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[str] = []
        self.text = ""
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: object) -> None:
        self.tags.append(tag)

    def handle_data(self, data: str) -> None:
        self.text += data


@examples(20)
@given(rigs())
def test_a_reader_sees_the_very_words_and_no_other_marks(data: Data) -> None:
    """Whatever the names hold, the page has the sheet's headings, tables and texts, no more."""
    for sheet in all_sheets(data):
        seen = MarkdownSeen(READER.render(markdown(sheet)))
        texts = (sheet.title, sheet.subtitle, made_on(sheet), *said(sheet, head_marks=False))
        words = "".join(map(bare, texts))
        rules = sum(b.count for p in sheet.parts for b in p.blocks if isinstance(b, Lines))
        assert bare(seen.text).replace("_" * 40, "", rules) == words
        assert set(seen.tags) <= {
            "h1", "h2", "h3", "p", "strong", "br", "table", "thead", "tbody", "tr", "th", "td",
            "pre", "code",
        }  # fmt: skip
        assert seen.tags.count("table") == len(list(tables(sheet)))
        assert seen.tags.count("h2") == sum(bool(bare(part.title)) for part in sheet.parts)


@pytest.mark.parametrize("title", ["a #", "#", "## both ##", "C# minor", "1. first", "x  #y"])
def test_a_title_with_marks_at_its_ends_is_that_title(title: str) -> None:
    """What would open or close a heading is text (CommonMark 4.2, ATX headings)."""
    described = Sheet("floor", title, "", (Part((), title),), date(2027, 1, 1))
    page = MarkdownSeen(READER.render(markdown(described)))
    assert bare(page.text) == bare(title + made_on(described) + title)
    assert page.tags.count("h1") == page.tags.count("h2") == 1


def test_a_title_of_blanks_makes_no_heading() -> None:
    """An empty heading would be a stop for those who go from heading to heading."""
    described = Sheet("floor", "Title", "", (Part((), "  "),), date(2027, 1, 1))
    assert "h2" not in MarkdownSeen(READER.render(markdown(described))).tags
