"""`rigtui sheet`: what it writes and where, what it refuses, and what it leaves alone."""

from __future__ import annotations

import io
import os
import subprocess
import sys
import tomllib
from datetime import date
from pathlib import Path

import pytest
from cli.conftest import Run
from pypdf import PdfReader

from rigtui.checks import check
from rigtui.cli import main
from rigtui.cli import sheet as command
from rigtui.model.sheet_kinds import SHEET_KINDS
from rigtui.sheets.formats import FORMATS
from rigtui.store.load import load


@pytest.fixture(autouse=True)
def one_day(monkeypatch: pytest.MonkeyPatch) -> None:
    """Make all sheets on the same day."""

    class Day(date):
        @classmethod
        def today(cls) -> date:  # type: ignore[override]
            return date(2027, 3, 1)

    monkeypatch.setattr(command, "date", Day)


def test_neither_screens_nor_pdf_are_loaded_for_text() -> None:
    """A sheet as text needs neither library."""
    code = (
        "import sys, rigtui.cli.sheet, rigtui.sheets.plain, rigtui.sheets.html;"
        "print([one for one in ('textual', 'rich', 'reportlab') if one in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, text=True)
    assert done.stdout == "[]\n"


@pytest.mark.parametrize("kind", SHEET_KINDS)
def test_text_on_standard_output_is_the_default(run: Run, rig_file: Path, kind: str) -> None:
    """The sheet itself, in 80 columns, and nothing else."""
    done = run("sheet", kind, rig_file)
    assert (done.status, done.err) == (0, "")
    assert "Revision " in done.out
    assert "made on 1 March 2027" in done.out
    assert max(map(len, done.out.split("\n"))) <= 80


@pytest.mark.parametrize("kind", SHEET_KINDS)
@pytest.mark.parametrize(
    ("name", "begin"),
    [("s.txt", b""), ("s.md", b"# "), ("s.HTML", b"<!DOCTYPE html>"), ("s.htm", b"<!DOCTYPE"),
     ("s.pdf", b"%PDF-")],
)  # fmt: skip
def test_the_ending_says_the_format(
    run: Run, rig_file: Path, tmp_path: Path, kind: str, name: str, begin: bytes
) -> None:
    """A file is written, whole, and one line says what it is."""
    done = run("sheet", kind, rig_file, "-o", tmp_path / name)
    assert (done.status, done.err) == (0, "")
    assert done.out.startswith(f"Wrote {tmp_path / name}: {SHEET_KINDS[kind].name}, revision ")
    assert (tmp_path / name).read_bytes().startswith(begin)


@pytest.mark.parametrize("kind", SHEET_KINDS)
def test_pages_are_said_before_anything_is_written(
    run: Run, rig_file: Path, tmp_path: Path, kind: str
) -> None:
    """As many as the PDF then has; on the paper and for the distance that is asked for."""
    for options in ((), ("--paper", "letter", "--distance", "1.5")):
        said = run("sheet", kind, rig_file, "--pages", *options)
        assert said.status == 0
        out = tmp_path / f"{kind}-{len(options)}.pdf"
        run("sheet", kind, rig_file, "-o", out, *options)
        pages = len(PdfReader(out).pages)
        noun = "page" if pages == 1 else "pages"
        assert f": {pages} {noun} of {'Letter' if options else 'A4'}; " in said.out


def test_counting_pages_writes_nothing(run: Run, rig_file: Path, tmp_path: Path) -> None:
    """With -o or --record it is a mistake; without, no file comes of it."""
    before = sorted(tmp_path.rglob("*"))
    for options in (("-o", tmp_path / "s.pdf"), ("--record",)):
        done = run("sheet", "set", rig_file, "--pages", *options)
        assert done.status == 2
        assert "--pages writes nothing" in done.err
    run("sheet", "set", rig_file, "--pages")
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize("format", FORMATS)
def test_a_folder_gets_a_file_named_after_the_sheet(
    run: Run, rig_file: Path, tmp_path: Path, format: str
) -> None:
    """The name is made of ids, so that it cannot lead out of the folder."""
    folder = tmp_path / "out"
    folder.mkdir()
    assert run("sheet", "floor", rig_file, "-o", folder, "--format", format).status == 0
    (made,) = folder.iterdir()
    assert made.stem == "floor-friday"


def test_formats_go_to_a_pipe_byte_for_byte(
    rig_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, run: Run
) -> None:
    """What standard output gets is what a file gets, whatever the encoding of the terminal."""
    for format in ("md", "html", "pdf"):
        run("sheet", "floor", rig_file, "-o", tmp_path / f"s.{format}")
        out = io.TextIOWrapper(io.BytesIO(), "ascii")
        monkeypatch.setattr(sys, "stdout", out)
        assert main(["sheet", "floor", str(rig_file), "--format", format]) == 0
        monkeypatch.setattr(sys, "stdout", sys.__stdout__)
        wanted = (tmp_path / f"s.{format}").read_bytes()
        got = out.buffer.getvalue()  # type: ignore[attr-defined]
        assert got == wanted


def test_paper_and_distance_reach_the_file(run: Run, rig_file: Path, tmp_path: Path) -> None:
    """Letter paper, and type for half the distance: fewer pages."""
    far, near = tmp_path / "far.pdf", tmp_path / "near.pdf"
    run("sheet", "floor", rig_file, "-o", far)
    run("sheet", "floor", rig_file, "-o", near, "--paper", "letter", "--distance", "0.6")
    pages = [PdfReader(path).pages for path in (far, near)]
    assert [float(page[0].mediabox.width) for page in pages] == pytest.approx([595.28, 612], abs=1)
    assert len(pages[0]) > len(pages[1])


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["flor", "RIG"], "invalid choice: 'flor'"),
        (["floor"], "FILE"),
        (["floor", "RIG", "--format", "doc"], "invalid choice: 'doc'"),
        (["floor", "RIG", "-o", "x.doc"], "x.doc: its name doesn't say a format"),
        (["floor", "RIG", "--distance", "2"], "--distance is for html and pdf"),
        (["floor", "RIG", "--paper", "a4", "-o", "x.md"], "--paper is for html and pdf"),
        (["floor", "RIG", "--format", "pdf", "--distance", "99"], "use metres from 0.3 to 4"),
        (["floor", "RIG", "--format", "pdf", "--distance", "nan"], "use metres from 0.3 to 4"),
        (["floor", "RIG", "--paper", "a3"], "invalid choice: 'a3'"),
        (["floor", "RIG", "--setlist", "fridy"], "did you mean friday?"),
        (["wiring", "RIG", "--setlist", "no"], 'there is no setlist with the id "no"'),
        (["floor", "nowhere.toml"], "nowhere.toml: "),
        (["floor", "RIG", "-o", "no/such/folder.pdf"], "folder.pdf was not written"),
    ],
)
def test_mistakes_are_told_in_one_message(
    run: Run, rig_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    arguments: list[str], says: str,
) -> None:  # fmt: skip
    """Exit status 2, what is wrong and what would be right; nothing is written."""
    monkeypatch.chdir(tmp_path)
    before = sorted(tmp_path.iterdir())
    done = run("sheet", *[str(rig_file) if word == "RIG" else word for word in arguments])
    assert (done.status, done.out) == (2, "")
    assert says in done.err
    assert "Traceback" not in done.err
    assert sorted(tmp_path.iterdir()) == before


def test_a_bad_file_is_told_as_everywhere(run: Run, tmp_path: Path) -> None:
    """All that is wrong with it, by line."""
    bad = tmp_path / "bad.toml"
    bad.write_text("format = 1\nname = 3\n[switcher]\nmemories = 200\nbank_size = 4\n")
    done = run("sheet", "floor", bad)
    assert done.status == 2
    assert len(done.err.splitlines()) == 2


def test_what_is_there_is_replaced_only_with_force(
    run: Run, rig_file: Path, tmp_path: Path
) -> None:
    """Without it the file stays as it was, and the message names the way."""
    there = tmp_path / "friday.txt"
    there.write_text("a letter")
    done = run("sheet", "floor", rig_file, "-o", there)
    assert done.status == 2
    assert done.err == f"rigtui sheet: {there} already exists; --force replaces it\n"
    assert there.read_text() == "a letter"
    assert run("sheet", "floor", rig_file, "-o", there, "--force").status == 0
    assert there.read_text().startswith("Friday\n")


@pytest.mark.parametrize("name", ["rig.toml", "other.toml", "RIG.TOML", "link.txt", "hidden.txt"])
def test_a_rig_file_is_never_written_over(
    run: Run, rig_file: Path, tmp_path: Path, name: str
) -> None:
    """Not by its ending, nor through a link, nor under another name; not even with --force."""
    text = rig_file.read_bytes()
    (tmp_path / "hidden.txt").write_bytes(text)
    os.symlink(rig_file, tmp_path / "link.txt")
    done = run("sheet", "floor", rig_file, "-o", tmp_path / name, "--format", "text", "--force")
    assert done.status == 2
    assert "rigtui never writes a sheet over one" in done.err
    assert rig_file.read_bytes() == (tmp_path / "hidden.txt").read_bytes() == text
    assert not (tmp_path / "other.toml").exists()


def test_letters_that_cannot_be_printed_are_told(run: Run, rig_file: Path, tmp_path: Path) -> None:
    """Exit status 0, a box on paper, and the characters on standard error."""
    text = rig_file.read_text(encoding="utf-8").replace("Low Fen", "漢字 שלום")
    rig_file.write_text(text, encoding="utf-8")
    done = run("sheet", "floor", rig_file, "-o", tmp_path / "s.pdf")
    assert done.status == 0
    assert "漢 (U+6F22), 字 (U+5B57), ש (U+05E9)" in done.err
    assert "prints a box for each" in done.err
    assert "□□ □□□□" in PdfReader(tmp_path / "s.pdf").pages[0].extract_text()
    assert run("sheet", "floor", rig_file, "-o", tmp_path / "s.html").err == ""


def test_of_several_setlists_the_first_is_taken_and_that_is_said(run: Run, rig_file: Path) -> None:
    """The others are named; asked for by name, nothing needs to be said."""
    text = rig_file.read_text(encoding="utf-8")
    more = '\n[[setlists]]\nid = "sunday"\nname = "Sunday"\nsets = [{ songs = ["tin-moth"] }]\n'
    rig_file.write_text(text + more, encoding="utf-8")
    done = run("sheet", "floor", rig_file)
    assert done.out.startswith("Friday\n")
    assert done.err == "This is setlist friday; for another one, --setlist: sunday\n"
    done = run("sheet", "floor", rig_file, "--setlist", "sunday")
    assert (done.out.split("\n")[0], done.err) == ("Sunday", "")
    assert run("sheet", "wiring", rig_file).err == ""


def test_program_and_wiring_for_an_evening_say_what_it_does_not_need(
    run: Run, rig_file: Path
) -> None:
    """The other presets and pedals are named as such."""
    text = rig_file.read_text(encoding="utf-8")
    more = '\n[[setlists]]\nid = "sunday"\nsets = [{ songs = ["tin-moth"] }]\n'
    rig_file.write_text(text + more, encoding="utf-8")
    assert "Lead (not needed)" in run("sheet", "program", rig_file, "--setlist", "sunday").out
    assert "(not needed)" not in run("sheet", "program", rig_file).out
    out = run("sheet", "wiring", rig_file, "--setlist", "sunday").out
    assert "Not needed for sunday: Rocker wah, boost." in out


def test_the_record(run: Run, rig_file: Path, tmp_path: Path) -> None:
    """--record notes sheet, setlist, revision and day, once; comments in the file stay."""
    rig_file.write_text("# mine\n" + rig_file.read_text(encoding="utf-8"), encoding="utf-8")
    before = rig_file.read_text(encoding="utf-8")
    done = run("sheet", "floor", rig_file, "-o", tmp_path / "s.txt", "--record")
    assert done.status == 0
    after = rig_file.read_text(encoding="utf-8")
    assert after.startswith(before)
    (row,) = tomllib.loads(after)["printed"]
    revision = done.out.split("revision ")[1].strip()
    assert row == {
        "sheet": "floor", "setlist": "friday", "revision": revision, "date": date(2027, 3, 1),
    }  # fmt: skip
    run("sheet", "floor", rig_file, "--record")
    assert rig_file.read_text(encoding="utf-8") == after
    assert not [finding for finding in check(load(rig_file)[1]) if finding.rule == "stale-sheet"]
    rig_file.write_text(after.replace("tempo = 120", "tempo = 121", 1), encoding="utf-8")
    assert run("report", rig_file).status == 1
    run("sheet", "floor", rig_file, "--record")
    assert len(tomllib.loads(rig_file.read_text(encoding="utf-8"))["printed"]) == 1


def test_a_record_without_a_way_back_is_told(
    run: Run, rig_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The note is in the file, and what could not be kept is said."""
    monkeypatch.setenv("XDG_STATE_HOME", str(rig_file))
    done = run("sheet", "floor", rig_file, "--record")
    assert done.status == 0
    assert len(load(rig_file)[1].printed) == 1
    assert done.err.endswith(
        "recorded as printed, but the earlier version of rig.toml could not be kept: "
        "their folder can't be made (not a directory)\n"
    )


def test_without_record_the_rig_file_is_only_read(run: Run, rig_file: Path, tmp_path: Path) -> None:
    """Bytes and time of the file stay as they were."""
    before = (rig_file.read_bytes(), rig_file.stat().st_mtime_ns)
    run("sheet", "deputy", rig_file, "-o", tmp_path / "s.pdf")
    assert (rig_file.read_bytes(), rig_file.stat().st_mtime_ns) == before


def test_a_demo_rig_keeps_no_record(run: Run) -> None:
    """What came with the program is not written to."""
    demo = Path(__file__).parents[2] / "rigs" / "first-rig.toml"
    text = demo.read_bytes()
    done = run("sheet", "floor", demo, "--record")
    assert done.status == 2
    assert "save a copy of it first" in done.err
    assert demo.read_bytes() == text


def test_control_characters_do_not_reach_the_terminal(run: Run, rig_file: Path) -> None:
    """A title that holds an escape sequence is shown, not obeyed."""
    text = rig_file.read_text(encoding="utf-8").replace("Low Fen", "\\u001b[31mLow\\u009b")
    rig_file.write_text(text, encoding="utf-8")
    for kind in SHEET_KINDS:
        for format in ("text", "md", "html"):
            out = run("sheet", kind, rig_file, "--format", format).out
            assert not any((ord(c) < 32 and c != "\n") or 0x7F <= ord(c) < 0xA0 for c in out)


def test_a_pdf_is_not_thrown_at_a_terminal(
    rig_file: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The message says where to send it."""
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    done = run("sheet", "floor", rig_file, "--format", "pdf")
    assert done.status == 2
    assert "PDF can't be shown on a terminal: add -o FILE, or a pipe" in done.err
