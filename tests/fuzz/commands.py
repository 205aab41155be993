"""Every command that reads a rig file or takes songs from one, on odd files: it may only refuse."""

from __future__ import annotations

import json
from pathlib import Path
from random import Random

from fuzz.pipeline import acts, counts, no_hang, ran

from rigtui.cli.plan.arguments import KINDS as PLANS
from rigtui.model import Rig
from rigtui.model.sheet_kinds import SHEET_KINDS
from rigtui.sheets.formats import FORMATS
from rigtui.store.load import load

PLAN_SECONDS = "1"


def command(*words: str, good: tuple[int, ...] = (0,)) -> tuple[int, str]:
    """Run a command; return its status and output.

    Raises:
        AssertionError: it hangs, fails, or says what a terminal would act on; or it refuses
            without a word.
    """
    with no_hang():
        status, out, err = ran(*words)
    assert status in (*good, 2), f"{words}: {err}"
    assert (status != 2) or err.strip(), f"{words} refuses without a word"
    assert not acts(err), words
    counts[f"{words[0]}: {'refused' if status == 2 else 'done'}"] += 1
    return status, out


def plans(path: Path, kinds: tuple[str, ...] = PLANS) -> None:
    """Each planner on a good rig."""
    before = path.read_bytes()
    for kind in kinds:
        seconds = ("--seconds", PLAN_SECONDS)
        status, out = command("plan", kind, str(path), "--json", *seconds, good=(0, 1))
        if status != 2:
            json.loads(out)
    assert path.read_bytes() == before


def written(path: Path, rig: Rig, folder: Path) -> None:
    """All sheets in all formats, MIDI, a table; nothing leaves the folder chosen."""
    folder.mkdir()
    before = sorted(path.parent.iterdir())
    for kind in SHEET_KINDS:
        for format in FORMATS:
            status, _ = command("sheet", kind, str(path), "--format", format, "-o", str(folder))
            assert status == 0 or SHEET_KINDS[kind].of_a_setlist
    command("midi", str(path), "-o", str(folder / "midi"))
    if rig.setlists:
        night = folder / "night.mid"
        command("midi", str(path), "--setlist", rig.setlists[0].id, "-o", str(night))
    table = folder / "songs.csv"
    status, _ = command("export", str(path), "-o", str(table))
    assert status == 0
    command("import", str(path), str(table), "--check", good=(0, 1))
    assert sorted(path.parent.iterdir()) == before


def refused(path: Path) -> None:
    """Commands on a file that is no good rig: each says so, and writes nothing."""
    before = sorted((file, file.read_bytes()) for file in path.parent.iterdir() if file.is_file())
    nowhere = str(path.parent / "nowhere")
    for words in (
        ("plan", "loops", str(path), "--json"),
        ("sheet", "floor", str(path)),
        ("midi", str(path), "--setlist", "x", "-o", nowhere),
        ("export", str(path), "-o", nowhere),
        ("import", str(path), str(path), "--check"),
    ):
        assert command(*words)[0] == 2, words
    command("restore", str(path))
    command("restore", str(path), "--json")
    assert command("restore", str(path), "1")[0] == 2
    after = sorted((file, file.read_bytes()) for file in path.parent.iterdir() if file.is_file())
    assert after == before


def imported(rig: Path, other: Path) -> None:
    """Songs taken from an odd file: checked, then put into a copy of the rig."""
    before = rig.read_bytes()
    command("import", str(rig), str(other), "--check", good=(0, 1))
    new = rig.with_name("with-songs.toml")
    status, _ = command("import", str(rig), str(other), "--write", str(new), good=(0, 1))
    if new.exists():
        load(new)
        new.unlink()
        counts["import: a rig with songs"] += 1
    else:
        assert status != 0
    assert rig.read_bytes() == before


CHORDPRO = b"""{title: Low Fen}
{tempo: 96}
{time: 4/4}
{start_of_verse: label="Verse 1"}
[Am]Low [G]fen by the [F]water
{end_of_verse}
{start_of_chorus}
[C]Tin [G]moth
{end_of_chorus}
{comment: twice}
"""
CSV = b"""song,title,tempo,meter,section,bars,preset
low,Low Fen,96,4/4,Verse,8,clean
low,Low Fen,96,4/4,Chorus,8,
"""


def smf() -> bytes:
    """A small MIDI file with tempo, meter and markers."""
    track = (
        b"\x00\xff\x03\x07Low Fen" b"\x00\xff\x51\x03\x07\xa1\x20"
        b"\x00\xff\x58\x04\x04\x02\x18\x08"
        b"\x00\xff\x06\x05Verse" b"\x83\x00\xff\x06\x06Chorus" b"\x83\x00\xff\x2f\x00"
    )  # fmt: skip
    head = b"MThd\x00\x00\x00\x06\x00\x00\x00\x01\x00\x60"
    return head + b"MTrk" + len(track).to_bytes(4, "big") + track


def odd_songs(rng: Random) -> tuple[str, bytes]:
    """An ending, and bytes that are nearly a file of that kind."""
    ending, whole = rng.choice((("cho", CHORDPRO), ("csv", CSV), ("mid", smf()), ("tsv", CSV)))
    content = bytearray(whole if rng.random() < 0.9 else rng.randbytes(rng.randrange(200)))
    for _ in range(rng.choice((1, 2, 5, 20))):
        at = rng.randrange(len(content) + 1)
        what = rng.randrange(6)
        if what == 0 and content:
            content[at % len(content)] ^= 1 << rng.randrange(8)
        elif what == 1:
            content[at:at] = rng.randbytes(rng.randrange(1, 5))
        elif what == 2:
            content[at:at] = rng.choice(_TOKENS)
        elif what == 3:
            del content[at : at + rng.choice((1, 1, 10, 100))]
        elif what == 4:
            start = rng.randrange(len(content) + 1)
            content[at:at] = content[start : start + rng.randrange(100)] * rng.choice((1, 1, 40))
        else:
            del content[at:]
    return ending, bytes(content)


_TOKENS = (
    b"{", b"}", b"[", b"]", b"{title: x}", b"{tempo: 1e999}", b"{time: 0/0}", b"{soc}", b"{eoc}",
    b"{start_of_verse", b"\x00", b"\x1b[2J", b"\xff", b"\xe2\x80\xae", b",", b'"', b'""', b";",
    b"\t", b"\r", b"\n", b"\r\n", b"nan", b"-1", b"1e400", b"9" * 5000, b"\xff\x2f\x00", b"MTrk",
    b"\xff\xff\xff\x7f", b"\xff\x51\x03\x00\x00\x00", b"\xff\x58\x04\x00\x00\x00\x00", b"\xf0",
    b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff", b"=cmd", b"low", b"Verse", b"4/4",
)  # fmt: skip
