"""The report as text that reads well in 80 columns."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigtui.cli.findings_text import causes_text, findings_text
from rigtui.cli.song_table import SongTable, clock
from rigtui.cli.song_text import song_view
from rigtui.model.cells import cells, wrap
from rigtui.model.place_words import set_title
from rigtui.model.text import count
from rigtui.moves import SetlistCount, count_setlist, count_song
from rigtui.moves.words import burden_in_words

if TYPE_CHECKING:
    from rigtui.cli.reported import Report
    from rigtui.cli.terminal import Terminal
    from rigtui.model.rig import Rig, Setlist, Song, Switcher

_BUTTONS = {"up-down": "bank up and down", "up": "bank up only", "none": "no bank buttons"}


def report_text(report: Report, terminal: Terminal) -> str:
    """Write a report for people."""
    lines = [*_head(report, terminal), ""]
    rig, findings = report.rig, report.findings
    if report.only_song is not None:
        lines += song_view(rig, report.only_song, terminal)
        lines += findings_text(rig, findings, terminal, report.locator)
    else:
        first, in_full = report.first, report.in_full
        lines += causes_text(rig, findings, terminal, report.locator, first, in_full=in_full)
        lines += ["", *_setlists(report, terminal)]
    return "\n".join(lines).rstrip() + "\n"


def _head(report: Report, terminal: Terminal) -> Iterator[str]:
    rig = report.rig
    name, file = terminal.show(rig.name), terminal.show(report.file)
    gap = terminal.width - cells(name) - cells(file)
    if gap >= 2:
        yield terminal.paint(name, "bold") + " " * gap + terminal.paint(file, "faint")
    else:
        yield from (terminal.paint(line, "bold") for line in wrap(name, terminal.width))
        yield from (terminal.paint(line, "faint") for line in wrap(file, terminal.width, "  "))
    yield from wrap(terminal.show(_switcher(rig, rig.switcher)), terminal.width, hang="  ")
    unstored = sum(not preset.memories for preset in rig.presets)
    stored = f" ({unstored} not stored yet)" if unstored else ""
    sizes = (
        count(len(rig.pedals), "pedal"),
        count(len(rig.presets), "preset") + stored,
        count(len(rig.songs), "song"),
        count(len(rig.setlists), "setlist"),
    )
    yield from wrap(", ".join(sizes), terminal.width, hang="  ")


def _switcher(rig: Rig, switcher: Switcher | None) -> str:
    if switcher is None:
        return "The file has no switcher"
    banks = f"{count(switcher.banks, 'bank')} of {switcher.bank_size}"
    ends = "" if switcher.bank_wrap or switcher.banks == 1 else " that stop at both ends"
    toggling = ", a switch for each loop" if switcher.loop_switches else ""
    return (
        f"Switcher{f' ({switcher.name})' if switcher.name else ''}: "
        f"{count(len(rig.loops), 'loop')}, "
        f"{count(switcher.memories, 'memory', 'memories')} in {banks}, "
        f"{_BUTTONS[switcher.bank_buttons]}{ends}{toggling}"
    )


def _setlists(report: Report, terminal: Terminal) -> Iterator[str]:
    rig = report.rig
    songs = {song.id: song for song in report.songs}
    played = {song for setlist in report.setlists for song in setlist.song_ids}
    table = SongTable(rig, report.songs, terminal)
    for setlist in report.setlists:
        counted = count_setlist(rig, setlist)
        yield from _setlist_head(rig, setlist, counted, songs, terminal)
        yield ""
        yield from _setlist_rows(setlist, counted, songs, table)
        yield ""
    rest = [song for song in report.songs if song.id not in played]
    if rest:
        yield terminal.paint("Songs in no setlist" if report.setlists else "Songs", "bold")
        yield table.head()
        yield from (table.row(at, song) for at, song in enumerate(rest, 1))
        yield ""
    if report.songs:
        yield from (terminal.paint(line, "faint") for line in table.legend())
        yield ""


def _setlist_head(
    rig: Rig,
    setlist: Setlist,
    counted: SetlistCount,
    songs: dict[str, Song],
    terminal: Terminal,
) -> Iterator[str]:
    day = f", {setlist.date.day} {setlist.date:%B %Y}" if setlist.date else ""
    for line in wrap(terminal.show(f"{setlist.label} ({setlist.id}){day}"), terminal.width):
        yield terminal.paint(line, "bold")
    seconds = sum(count_song(rig, songs[song]).seconds for song in counted.song_ids)
    burden = burden_in_words(counted.unplayable, counted.extra_presses)
    for line in (
        f"{count(counted.moves, 'move')} as written, {counted.least_moves} at the least; "
        f"{count(counted.set_up_moves, 'set-up move')} between songs",
        *["; ".join(burden)] * bool(burden),
        f"{count(counted.guitar_changes, 'change')} of guitar or tuning; "
        f"{clock(seconds)} of playing",
    ):
        yield from wrap(line, terminal.width, "  ", "    ")


def _setlist_rows(
    setlist: Setlist, counted: SetlistCount, songs: dict[str, Song], table: SongTable
) -> Iterator[str]:
    set_ups = iter(counted.set_ups)
    number = 0
    yield table.head()
    for at, part in enumerate(setlist.sets):
        yield table.title(set_title(part, at))
        for song_id in part.songs:
            number += 1
            song = songs.get(song_id)
            if song is None:
                yield table.missing(number, song_id)
            else:
                yield table.row(number, song, len(next(set_ups).presses))
    if counted.song_ids:
        yield table.total([songs[song] for song in counted.song_ids], counted.set_up_moves)
