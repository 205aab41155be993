"""PDF: read back by another library (pypdf), it says what the sheet says, on pages well broken."""

from __future__ import annotations

import io
import re
import unicodedata
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
from examples import examples
from hypothesis import given, settings
from pypdf import PdfReader
from rigs_made import Data, make_rig, song
from sheets.rigs_for_sheets import rigs
from sheets.sheets_made import DEMOS, all_sheets, bare, said, sheet, song_sheet

from rigtui.model import Rig
from rigtui.model.text import count, visible
from rigtui.paper import SHEETS, Sheet
from rigtui.sheets.paging import Page
from rigtui.sheets.pdf import BOTTOM, SIDE, TOP, pdf, set_out
from rigtui.sheets.sizes import PAPERS, type_for
from rigtui.sheets.strips import Strip
from rigtui.sheets.typeface import FALLBACK, Typesetter
from rigtui.sheets.words import made_on
from rigtui.store.load import load

TICK_BOX = "☐"


def read(content: bytes) -> PdfReader:
    """A PDF file as pypdf reads it."""
    return PdfReader(io.BytesIO(content), strict=True)


def extracted(content: bytes) -> list[str]:
    """The text of each page, without blanks."""
    return ["".join(page.extract_text().split()) for page in read(content).pages]


def layout(described: Sheet, metres: float | None = None) -> list[Page]:
    """The pages of a sheet on A4."""
    return set_out(described, "a4", metres, Typesetter())[1]


def strips(pages: list[Page]) -> Iterator[Strip]:
    """All strips but those that only repeat what stands on the page before."""
    return (strip for page in pages for _, strip in page if strip.kind != "again")


def words_on(strip: Strip) -> str:
    """The text on a strip, without blanks."""
    return "".join("".join(word.text.split()) for word in strip.words)


def printable(text: str) -> str:
    """A text as it is printed, without blanks."""
    return bare(Typesetter().printable(text))


@examples(15)
@given(rigs())
def test_pages_hold_what_the_sheet_says_in_its_order(data: Data) -> None:
    """Whatever the names hold: all texts, each once, and boxes for what cannot be set."""
    for described in all_sheets(data):
        texts = (
            described.title,
            described.subtitle,
            *said(described, TICK_BOX, drawn=True),
        )
        assert "".join(map(words_on, strips(layout(described)))) == "".join(map(printable, texts))


@settings(max_examples=20)
@given(rigs())
def test_another_library_reads_what_was_laid_out(data: Data) -> None:
    """Page by page, pypdf finds the text of the strips and the foot of the page."""
    for described in all_sheets(data):
        pages, made = layout(described), pdf(described)
        texts = extracted(made.content)
        assert len(texts) == made.pages == len(pages)
        for number, (page, text) in enumerate(zip(pages, texts), 1):
            body = "".join(words_on(strip) for _, strip in page)
            assert text.startswith(body)
            foot = text[len(body) :]
            assert bare(made_on(described)) in foot
            assert f"page{number}of{len(pages)}" in foot
            assert bare(set_out(described, "a4", None, Typesetter())[0].statement) in foot


@lru_cache
def demo(name: str) -> Rig:
    """A demo rig."""
    return load(next(path for path in DEMOS if path.stem == name))[1]


def demo_sheets() -> list[tuple[str, Any]]:
    """Names of demo rigs and sheets."""
    return [(path.stem, kind) for path in DEMOS for kind in SHEETS]


@pytest.mark.parametrize(("name", "kind"), demo_sheets())
def test_a_sheet_read_back_is_the_plan(name: str, kind: Any) -> None:
    """The text of a real sheet, feet of pages and repeated heads apart, is what it says."""
    described = sheet(demo(name), kind)
    pages = layout(described)
    again = ["".join(words_on(s) for _, s in page if s.kind == "again") for page in pages]
    body = ""
    for text, repeated in zip(extracted(pdf(described).content), again):
        assert text.startswith(repeated)
        body += text[len(repeated) :].partition(bare(made_on(described)) + ":")[0]
    texts = (
        described.title,
        described.subtitle,
        *said(described, TICK_BOX, drawn=True),
    )
    assert body == "".join(map(bare, texts))


@settings(max_examples=20)
@given(rigs())
def test_nothing_runs_off_the_page_at_any_distance(data: Data) -> None:
    """Strips keep to the height, words to the width, from 0.3 to 4 metres."""
    width, height = PAPERS["a4"]
    letters = Typesetter()
    for metres in (0.3, 4.0):
        for described in all_sheets(data):
            for page in layout(described, metres):
                end = 0.0
                for top, strip in page:
                    assert top >= end - 0.001
                    end = top + strip.height
                    for word in strip.words:
                        wide = letters.face(word.bold).width(word.text, word.size) * word.squeeze
                        assert word.x + wide <= width - 2 * SIDE + 0.1 or len(word.text) == 1
                        assert 0 <= word.base <= strip.height
                assert end <= height - TOP - BOTTOM + 0.1


@pytest.mark.parametrize(("name", "kind"), demo_sheets())
def test_no_row_is_split_and_each_continued_table_has_its_head(name: str, kind: Any) -> None:
    """Each row of a table is one strip; a page that a table runs on to repeats title and head."""
    described = sheet(demo(name), kind)
    pages = layout(described)
    rows = [strip for strip in strips(pages) if strip.kind == "row"]
    in_tables = sum(len(block.rows) for part in described.parts for block in part.blocks
                    if hasattr(block, "rows"))  # fmt: skip
    assert len(rows) == in_tables
    for page in pages:
        kinds = [strip.kind for _, strip in page]
        assert kinds[0] != "row", "a row without its head"
        assert kinds[-1] != "head", "a head without a row"


LENGTHS = (2, 5, 5, 9, 3, 40, 2)


def songs_of(*lengths: int) -> Sheet:
    """The floor sheet of songs of so many sections."""
    rows = [
        song(
            f"song{at}", *({"name": f"S{n}", "bars": 4} for n in range(length)), title=f"Song {at}"
        )
        for at, length in enumerate(lengths)
    ]
    night = {"id": "n", "name": "Night", "sets": [{"songs": [row["id"] for row in rows]}]}
    return sheet(make_rig(songs=rows, setlists=[night]), "floor")


def test_pages_break_between_songs() -> None:
    """A song that fits a page is on one, short ones share one; a long one has its own."""
    pages = layout(songs_of(*LENGTHS))
    songs: dict[str, list[int]] = {}
    title = ""
    for number, page in enumerate(pages):
        for _, strip in page:
            title = strip.outline[0] if strip.outline else title
            if strip.kind == "row":
                songs.setdefault(title, []).append(number)
    for at, length in enumerate(LENGTHS):
        on = songs[f"{at + 1}  Song {at}"]
        assert len(on) == length
        assert len(set(on)) == (1 if length < 15 else 3)
    assert songs["1  Song 0"][0] == 0, "the first song follows the list"
    assert songs["2  Song 1"][0] == songs["3  Song 2"][0], "short songs share a page"
    assert songs["6  Song 5"][0] == songs["5  Song 4"][-1] + 1, "a long one begins a page"


def test_each_set_begins_a_page() -> None:
    """The list of a set stands at the top of a page."""
    night = {"id": "n", "sets": [{"name": "One", "songs": ["a"]}, {"name": "Two", "songs": ["a"]}]}
    described = sheet(make_rig(songs=[song("a")], setlists=[night]), "floor")
    texts = extracted(pdf(described).content)
    assert len(texts) == 2
    assert texts[1].startswith("Two")


def test_a_row_taller_than_a_page_is_cut_between_its_lines() -> None:
    """Nothing of a very long note is lost, and the sheet is still made."""
    note = " ".join(f"word{n}" for n in range(2300))
    described = song_sheet({"name": "Verse", "bars": 4, "hands": note})
    text = "".join(map(words_on, strips(layout(described))))
    assert note.replace(" ", "") in text
    assert pdf(described).pages > 3


@pytest.mark.parametrize(
    ("kind", "metres", "cap_mm"),
    [("floor", None, 10.0), ("floor", 1.7, 8.5), ("deputy", 1.0, 5.0), ("program", None, 2.5),
     ("program", 2.0, 10.0)],
)  # fmt: skip
def test_type_is_as_high_as_its_distance_wants(
    kind: Any, metres: float | None, cap_mm: float
) -> None:
    """Capitals are a two-hundredth of the distance (common practice): 1.7 m gives 8.5 mm, 34 pt."""
    described = sheet(demo("first-rig"), kind)
    type_ = type_for(described, metres)
    # Capital H of the typeface is 1493 units of 2048 high (its outline in the font file).
    points = cap_mm * 72 / 25.4 * 2048 / 1493
    assert (type_.big if described.big else type_.body) == pytest.approx(points)
    assert f"{points:.1f} pt, capitals {cap_mm:.1f} mm" in type_.statement
    sizes = {word.size for strip in strips(layout(described, metres)) for word in strip.words}
    assert any(size == pytest.approx(points) for size in sizes)
    if metres == 1.7:
        assert points == pytest.approx(34, abs=1)


def test_a_song_is_drawn_narrower_where_that_brings_it_on_one_page() -> None:
    """Fifteen sections of two words go on one page that would take two if each were broken."""
    names = [{"name": f"Pre-chorus {n}", "bars": 8, "preset": "wide"} for n in range(1, 16)]
    rig = make_rig(
        presets=[{"id": "wide", "name": "Ballad Lead"}],
        songs=[song("a", *names)],
        setlists=[{"id": "n", "sets": [{"songs": ["a"]}]}],
    )
    pages = layout(sheet(rig, "floor"))
    rows = [[s for _, s in page if s.kind == "row"] for page in pages]
    assert [len(page) for page in rows] == [1, 15], "the list, then the song"
    squeezed = {word.squeeze for strip in rows[1] for word in strip.words}
    assert min(squeezed) < 0.9


def test_big_words_are_drawn_narrower_before_they_are_broken_and_never_lower() -> None:
    """At one type size, letters are squeezed to seven tenths at the most."""
    long = [{"name": "Instrumental break", "bars": 4}, {"name": "Interlude" * 4, "bars": 4}]
    words = [word for strip in strips(layout(song_sheet(*long))) for word in strip.words]
    big = [word for word in words if word.size > 30]
    assert len({word.size for word in big}) == 1
    assert any(word.squeeze < 1 for word in big)
    assert all(0.7 <= word.squeeze <= 1 for word in words)


@pytest.mark.parametrize(("paper", "size"), [("a4", (210, 297)), ("letter", (215.9, 279.4))])
def test_paper(paper: Any, size: tuple[float, float]) -> None:
    """Pages have the size of the paper, in millimetres (ISO 216; ANSI A)."""
    for page in read(pdf(sheet(demo("first-rig"), "deputy"), paper).content).pages:
        box = page.mediabox
        millimetres = (float(box.width) * 25.4 / 72, float(box.height) * 25.4 / 72)
        assert millimetres == pytest.approx(size, abs=0.05)


def test_fonts_are_embedded() -> None:
    """Every font of every page is a subset of the bundled typeface, in the file itself."""
    for page in read(pdf(sheet(demo("first-rig"), "deputy")).content).pages:
        for font in page["/Resources"]["/Font"].values():  # type: ignore[index]
            assert re.fullmatch(r"/[A-Z]+\+DejaVuSans(-Bold)?", font.get_object()["/BaseFont"])
            assert "/FontFile2" in font.get_object()["/FontDescriptor"]
            assert "/ToUnicode" in font.get_object()


def _operations(page: Any) -> list[Any]:
    return page.get_contents().operations if page.get_contents() is not None else []


def test_black_and_greys_only() -> None:
    """No operator sets a colour: the sheet is the same in greyscale."""
    for page in read(pdf(sheet(demo("quay-street"), "floor")).content).pages:
        used = {operator for _, operator in _operations(page)}
        assert not used & {b"rg", b"RG", b"k", b"K", b"sc", b"SC", b"scn", b"SCN", b"cs", b"CS"}
        assert b"g" in used


def test_the_same_sheet_is_the_same_file() -> None:
    """Made twice, it is equal to the byte; it carries title, revision and an outline."""
    described = sheet(demo("first-rig"), "floor")
    assert pdf(described).content == pdf(described).content
    reader = read(pdf(described).content)
    assert reader.metadata is not None
    assert reader.metadata.title == "Open mic"
    assert described.revision in (reader.metadata.subject or "")
    assert reader.trailer["/Root"]["/Lang"] == "en"  # type: ignore[index]
    top, songs = reader.outline
    assert top.title == "Our three songs"
    assert [item.title for item in songs] == ["1  Window Peg", "2  Cold Jug", "3  Stairwell Waltz"]


@pytest.mark.parametrize(
    ("text", "shown", "missing"),
    [
        ("Ça ira, Łódź, Ελλάδα, Привет, Đường", None, ""),
        ("♯ ♭ ½ → … “x” – €", None, ""),
        ("e\u0301a\u0308", "éä", ""),  # put together before they are set
        ("ɛ\u0303", None, ""),  # an accent that has no letter of its own
        ("\U0001f600 \U00010300", None, ""),  # above U+FFFF: a face, an Old Italic letter
        ("漢字", FALLBACK * 2, "漢字"),  # not in the typeface
        ("שלום", FALLBACK * 4, "שלום"),  # there, but runs from right to left
        ("مرحبا", FALLBACK * 5, "مرحبا"),  # has to be joined as well
        ("ກິ", f"ກ{FALLBACK}", "\u0eb4"),  # a vowel to be placed over its letter
        ("❤\ufe0f", "❤", ""),  # a variant selector has no shape
        ("a\x1bb", f"a{FALLBACK}b", "\u241b"),  # a control, made visible, is not in it either
    ],
)
def test_what_the_typeface_can_set(text: str, shown: str | None, missing: str) -> None:
    """What it can set is set; for the rest a box stands, and it is told which."""
    letters = Typesetter()
    assert letters.printable(text) == (text if shown is None else shown)
    assert "".join(letters.missing) == missing
    made = pdf(song_sheet({"name": "Verse", "bars": 1, "cue": text}))
    assert set(made.missing) == set(missing)
    assert "".join(letters.printable(text).split()) in extracted(made.content)[0]


def test_printable_leaves_nothing_that_is_not_in_the_typeface() -> None:
    """Every character is set, boxed, or without a shape."""
    letters = Typesetter()
    covered = letters.regular.covered & letters.bold.covered
    # All of the typeface, all of the first plane, and some of each plane above.
    some = {*covered, *range(0xD800), *range(0xE000, 0x10000), *range(0x10000, 0x110000, 257)}
    for code in sorted(some):
        for char in letters.printable(chr(code)):
            assert ord(char) in covered or char == "\n" or code < 0x250
    below = [chr(code) for code in range(0x20, 0x250) if code not in covered]
    assert [char for char in below if unicodedata.category(char) not in ("Cc", "Cn")] == []


def test_words_of_the_program_can_be_set() -> None:
    """Nothing that the program itself writes needs a box."""
    for name, kind in demo_sheets():
        assert pdf(sheet(demo(name), kind)).missing == ()
    assert visible("\t") == "␉"
    assert count(2, "page") == "2 pages"


def test_licence_of_the_typeface_is_shipped() -> None:
    """The fonts may be passed on with their licence, which stands beside them."""
    folder = Path(pdf.__code__.co_filename).parent / "fonts"
    assert {file.name for file in folder.iterdir()} >= {
        "DejaVuSans.ttf", "DejaVuSans-Bold.ttf", "LICENSE.txt",
    }  # fmt: skip
    assert "Bitstream" in (folder / "LICENSE.txt").read_text(encoding="utf-8")
