"""`rigtui midi`: songs and evenings as MIDI files."""

from __future__ import annotations

import sys
from argparse import Namespace
from contextlib import nullcontext
from pathlib import Path
from typing import TYPE_CHECKING

from rigtui.cli.chosen import NotThereError, named_row, opened
from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.terminal import complain, put, put_file, terminal_of
from rigtui.model.text import count
from rigtui.sheets.timeline import (
    MidiError,
    Timeline,
    setlist_timeline,
    song_timeline,
    without_device,
)
from rigtui.store.atomic import SaveError
from rigtui.store.outputs import file_names, made_folder, write_output

if TYPE_CHECKING:
    from rigtui.model.rig import Rig

MOST_LEAD_MS = 10_000


def run(arguments: Namespace) -> int:
    """Write MIDI files, list the ports or send, and return the exit status."""
    first, *more = arguments.words
    if first in ("ports", "send"):
        from rigtui.cli.midi_live import run_live

        return run_live(first, more, arguments)
    if more or arguments.port is not None:
        what = f"one file at a time: {first} without {' '.join(more)}" if more else _PORT
        complain(f"rigtui midi: {what}")
        return BAD_USAGE
    lead = 0.0 if arguments.lead is None else arguments.lead
    if not 0 <= lead <= MOST_LEAD_MS:
        complain(f"rigtui midi: --lead must be 0 to {MOST_LEAD_MS} milliseconds, not {lead:g}")
        return BAD_USAGE
    read = opened(first)
    if read is None:
        return BAD_USAGE
    rig = read[1]
    try:
        lines = _lines(rig, arguments, lead)
        many = arguments.setlist is None and arguments.song is None
        _write(rig, lines, _targets(first, list(lines), arguments), many)
    except (NotThereError, MidiError, SaveError) as error:
        complain(f"{first}: {error}")
        return BAD_USAGE
    return 0


_PORT = "--port needs send: `rigtui midi send FILE PRESET --port NAME`"


def _lines(rig: Rig, arguments: Namespace, lead: float) -> dict[str, Timeline]:
    """Time lines by the name that their file gets."""
    if arguments.setlist is not None:
        setlist = named_row("setlist", arguments.setlist, rig.setlists)
        return {setlist.id: setlist_timeline(rig, setlist, lead)}
    songs = rig.songs
    if arguments.song is not None:
        songs = (named_row("song", arguments.song, rig.songs),)
    if not songs:
        raise NotThereError("this rig has no songs yet")
    return {song.id: song_timeline(rig, song, lead) for song in songs}


def _targets(file: str, names: list[str], arguments: Namespace) -> list[Path | None]:
    """Where each file goes; None is standard output."""
    output = arguments.output
    if arguments.setlist is not None or arguments.song is not None:
        return [None if output == "-" else Path(output or file_names(names, ".mid")[0])]
    if output == "-":
        raise SaveError("a pipe takes one file: choose it with --song or --setlist")
    folder = Path(output or f"{Path(file).stem}-midi")
    return [folder / name for name in file_names(names, ".mid")]


def _write(rig: Rig, lines: dict[str, Timeline], targets: list[Path | None], many: bool) -> None:
    from rigtui.sheets.midi import midi_bytes

    contents = [midi_bytes(rig, line) for line in lines.values()]
    first = targets[0]
    with made_folder(first.parent) if many and first is not None else nullcontext():
        for line, target, content in zip(lines.values(), targets, contents):
            if target is None:
                put_file(content, "a MIDI file")
            else:
                _write_one(rig, line, target, content)
    if rig.midi and any(line.marks for line in lines.values()) and None not in targets:
        put("Programs in the files are 0 to 127, as on the wire.\n")
    if without_device(rig) and None not in targets:
        put(f"{without_device(rig)}.\n")
    _warn(rig)


def _write_one(rig: Rig, line: Timeline, target: Path, content: bytes) -> None:
    note = write_output(target, content, "a MIDI file", _is_midi)
    if note is not None:
        complain(f"{target}: written, but {note}")
    sections = count(len(line.marks), "section")
    cues = f", {count(len(line.cues), 'preset')} sent" if rig.midi else ""
    put(terminal_of(sys.stdout).show(f"Wrote {target}: {sections}{cues}") + "\n")


def _is_midi(head: bytes) -> bool:
    return head.startswith(b"MThd")


def _warn(rig: Rig) -> None:
    """Say it if the rules find that what was written cannot be right."""
    if not any(preset.midi for preset in rig.presets):
        return
    from rigtui.checks import check

    wrong = [
        finding for finding in check(rig) if finding.rule == "midi-clash" and finding.waived is None
    ]
    if wrong:
        complain(f"{count(len(wrong), 'finding')} of midi-clash: {wrong[0].message}")
