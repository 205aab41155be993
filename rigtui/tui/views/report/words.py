"""The row under the report's cursor, in full."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from textual.content import Content

from rigtui.checks import Finding
from rigtui.checks.registry import RULES_BY_ID
from rigtui.model.lookup import lookup
from rigtui.model.meter import tempo_in_words
from rigtui.model.place_words import place_in_words
from rigtui.model.text import count
from rigtui.moves import Press, count_song
from rigtui.moves.words import presses_in_words
from rigtui.tui.text import plain
from rigtui.tui.views.report.findings import CauseKey
from rigtui.tui.views.report.lists import ChangeKey, SongKey, busiest_changes

if TYPE_CHECKING:
    from rigtui.model.rig import Rig, Section, Song

_BUSIEST = 3


def song_words(rig: Rig, key: SongKey) -> list[Content]:
    """A song: how it goes, what it asks, what comes before it, its busiest changes."""
    song = lookup(rig).songs.get(key.song_id)
    if song is None:
        return []
    counted = count_song(rig, song)
    minutes, seconds = divmod(round(counted.seconds), 60)
    tempo = tempo_in_words(song.tempo, song.meter, song.beat, "bpm")
    lines = [
        _head(song.label, f"  {tempo}, {song.meter}, {minutes}:{seconds:02} long"),
        plain(
            f"{count(counted.moves, 'move')}, least {counted.least_moves};"
            f" at worst {counted.on_the_beat_worst} on the beat;"
            f" {count(counted.hand_moves, 'hand move')}"
        ),
    ]
    if key.set_up is not None and song.sections:
        lines.append(
            plain("Before it: " + _presses(rig, song.sections[0], key.set_up, timed=False))
        )
    for _, change in busiest_changes(rig, [song])[:_BUSIEST]:
        after = song.sections[change.to_section]
        steps = _steps(song, change.from_section, change.to_section)
        lines.append(plain(f"{steps}: " + _presses(rig, after, change.presses)))
    return lines


def change_words(rig: Rig, key: ChangeKey) -> list[Content]:
    """A change: where, which presses, what the hands do."""
    song = lookup(rig).songs.get(key.song_id)
    if song is None or key.to_section >= len(song.sections):
        return []
    change = count_song(rig, song).changes[key.to_section - 1]
    section = song.sections[key.to_section]
    waiting = change.moves - change.on_the_beat
    ahead = f", {waiting} can wait" if waiting else ""
    lines = [
        _head(song.label, f"  {_steps(song, change.from_section, change.to_section)}"),
        plain("Presses: " + _presses(rig, section, change.presses)),
        plain(f"{count(change.moves, 'move')}, {change.on_the_beat} on the beat{ahead}"),
    ]
    if section.cue:
        lines.append(plain(f"Cue: {section.cue}"))
    if section.hands:
        lines.append(plain("Hands: " + section.hands.replace("\n", " ")))
    return lines


def finding_words(rig: Rig, finding: Finding) -> list[Content]:
    """A finding in full: where, what, the fix or the waiver, and why it matters."""
    weight = finding.severity if finding.waived is None else f"waived {finding.severity}"
    lines = [
        _head(f"{weight}: {place_in_words(rig, finding.where)}", f"  {finding.rule}"),
        plain(finding.message),
    ]
    if finding.waived is not None:
        lines.append(_said("Waived: ", f"{finding.waived or 'no reason given'} (w takes it back)"))
    elif finding.choices is not None:
        lines.append(_said("Fix: ", f"f lists {finding.choices.what} to choose from"))
    elif finding.fix is not None:
        lines.append(_said("Fix: ", f"{finding.fix.label} (f does it)"))
    lines.append(_said("Why: ", finding.why))
    return lines


def cause_words(key: CauseKey, opened: bool) -> list[Content]:
    """A line that stands for several findings: what they are about, and how they are shown."""
    doing = "closes it again" if opened else "shows them one by one"
    rule = RULES_BY_ID.get(key.rule)
    if rule is None:
        return [plain(f"Enter {doing}")]
    return [
        _head(f"{key.severity}: {rule.summary}", f"  {key.rule}"),
        plain(f"Enter {doing}; w waives all of them"),
        _said("Why: ", rule.why),
    ]


def _head(name: str, rest: str) -> Content:
    return Content.styled(plain(name.replace("\n", " ")).plain, "bold") + plain(rest)


def _said(label: str, text: str) -> Content:
    return Content.styled(label, "bold") + plain(text)


def _presses(rig: Rig, section: Section, presses: Iterable[Press], *, timed: bool = True) -> str:
    words = presses_in_words(rig, section, presses, timed=timed)
    return ", ".join(words) or "nothing to press"


def _steps(song: Song, before: int, after: int) -> str:
    names = [section.name for section in song.sections]
    return f"{before + 1} {names[before]} > {after + 1} {names[after]}"
