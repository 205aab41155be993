"""Ask for everything a source leaves open in one pass: answers in, a fuller draft and questions
out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Literal

from rigtui.model.meter import default_beat
from rigtui.model.rig import Rig, Song
from rigtui.model.song_line import LineFault, LinePart, Names, line_parts, names_of
from rigtui.model.text import did_you_mean, first_few, number_text, visible
from rigtui.store.importing.draft import Draft, DraftSection, DraftSong, ImportFault, SongLine
from rigtui.store.importing.questions import (
    Answer,
    AnswerBook,
    OpenQuestion,
    What,
    base_name,
    checked,
)


@dataclass(frozen=True)
class FilledDraft:
    """A draft with all answers put to use."""

    draft: Draft
    questions: tuple[OpenQuestion, ...]
    same: str | None
    """What is to be done with songs that are there already."""


def fill(
    draft: Draft, answers: Sequence[Answer], rig: Rig, same: str | None = None, strict: bool = True
) -> FilledDraft:
    """Put answers to use, and find what is still open.

    Args:
        draft: What the source says.
        answers: What the player says.
        rig: The rig that the songs go into.
        same: What to do with songs that it has already: replace, add or skip.
        strict: Whether an answer that fits nothing is a fault.

    Raises:
        ImportFault: a value that cannot be, or an answer that fits nothing; all are listed.
    """
    filler = _Filler(draft, answers, rig, same)
    filler.clashes(draft.songs)  # first: what is skipped raises no other question
    songs = tuple(filler.song(song) for song in draft.songs)
    if strict:
        filler.misses(replace(draft, songs=songs))
    if filler.faults:
        raise ImportFault("\n".join(dict.fromkeys(filler.faults)))
    return FilledDraft(replace(draft, songs=songs), tuple(filler.questions.values()), same)


class _Filler:
    """One pass over a draft."""

    def __init__(self, draft: Draft, answers: Sequence[Answer], rig: Rig, same: str | None) -> None:
        self._draft, self._rig, self._same = draft, rig, same
        self._book = AnswerBook(answers)
        self._presets = [preset.id for preset in rig.presets]
        self.questions: dict[tuple[str, str | None, str], OpenQuestion] = {}
        self.faults: list[str] = []

    def _ask(self, what: What, song: DraftSong | None, name: str, words: str, hint: str) -> None:
        owner = (song.id or song.title) if song else None
        key = (what, owner, name.casefold())
        known = self.questions.get(key)
        if known is None:
            said = f"{visible(song.name)}, {words}" if song else words
            self.questions[key] = OpenQuestion(what, owner, name, said, 1, hint)
        else:
            self.questions[key] = replace(known, times=known.times + 1)

    def song(self, song: DraftSong) -> DraftSong:
        """Fill one song."""
        if self._same == "skip" and existing(self._rig, song) is not None:
            return song
        if song.line is not None:
            song = self._with_line(song, song.line)
        song = self._whole(song, "tempo")
        song = self._whole(song, "meter")
        sections: list[DraftSection] = []
        for section in song.sections:
            first = sections[section.recalls] if section.recalls is not None else None
            section = self._bars(song, section, first)
            sections.append(self._preset(song, section, first))
        song = replace(song, sections=tuple(sections))
        return self._beats(song) if self._draft.tempo_names_no_beat else song

    def _with_line(self, song: DraftSong, line: SongLine) -> DraftSong:
        """Read the song's line, with the presets and pedals of the rig."""
        try:
            parts = line_parts(line.text, self._names)
        except LineFault as fault:
            where = line.place(fault.column)
            self.faults.append(f"{where} ({visible(song.name)}): {fault.words}")
            return replace(song, line=None)
        return replace(song, line=None, sections=tuple(_line_section(part) for part in parts))

    @cached_property
    def _names(self) -> Names:
        return names_of(self._rig)

    def _whole(self, song: DraftSong, what: Literal["tempo", "meter"]) -> DraftSong:
        """Fill a song's tempo or meter, where the source has none."""
        if getattr(song, what) is not None or (what == "meter" and self._draft.plain_meter):
            return song
        value = self._book.find(what, song, "*")
        if value is None:
            words = {"tempo": "tempo in beats per minute", "meter": "meter, such as 4/4"}[what]
            self._ask(what, song, "*", words, "")
            return song
        return replace(song, **{what: self._checked(what, value)})

    def _bars(
        self, song: DraftSong, section: DraftSection, first: DraftSection | None
    ) -> DraftSection:
        if section.bars is not None:
            return section
        value = self._book.find("bars", song, section.name, first.name if first else "")
        if value is not None:
            return replace(section, bars=self._checked("bars", value))
        if first is None:
            self._ask("bars", song, section.name, f"{visible(section.name)}: bars", "")
        return replace(section, bars=first.bars) if first else section

    def _preset(
        self, song: DraftSong, section: DraftSection, first: DraftSection | None
    ) -> DraftSection:
        if section.bars == 0:
            return replace(section, mapped=True)
        name = section.was if section.was is not None else section.name
        exact = section.was is not None
        value = self._book.find("map", song, name, first.name if first else "", exact)
        if section.was is not None:
            if value is None and self._draft.kind == "csv" and section.was in self._presets:
                return replace(section, preset=section.was, mapped=True)
            if value is None:
                hint = section.was if section.was in self._presets else ""
                words = f"preset for its {visible(section.was)}"
                self._ask("map", None, section.was, words, hint)
                return section
        elif section.mapped and value is None:
            return section
        elif value is None:
            if first is not None:
                return replace(section, preset=first.preset, mapped=True)
            self._ask("map", song, section.name, f"{visible(section.name)}: preset", "")
            return section
        preset = self._checked("map", value)
        return replace(section, preset=preset, mapped=True)

    def _beats(self, song: DraftSong) -> DraftSong:
        """Settle which note each tempo counts, where that is not plainly the quarter note."""
        more = self._with_beat(song, song.meter, song.more)
        sections = []
        for section in song.sections:
            meter = section.more.get("meter")
            own = self._with_beat(song, meter, section.more) if meter else section.more
            if meter and "beat" in more and "beat" not in own:
                # The song's beat would hold here too, where only the meter is another.
                own = {**own, "beat": _fraction(default_beat(meter))}
            sections.append(replace(section, more=own))
        return replace(song, more=more, sections=tuple(sections))

    def _with_beat(
        self, song: DraftSong, meter: str | None, more: Mapping[str, Any]
    ) -> Mapping[str, Any]:
        if meter is None or meter.endswith("/4") or "beat" in more:
            return more
        value = self._book.find("beat", song, "*")
        if value is None:
            at = f" at {number_text(song.tempo)}" if song.tempo is not None else ""
            self._ask("beat", song, "*", f"which note gets the beat{at} in {meter}", "")
            return more
        return {**more, "beat": self._checked("beat", value)}

    def _checked(self, what: What, value: str) -> Any:
        try:
            return checked(what, value, self._rig)
        except ImportFault as fault:
            self.faults.append(str(fault))
            return 1 if what in ("bars", "tempo") else None

    def clashes(self, songs: Sequence[DraftSong]) -> None:
        """Ask what becomes of songs that are there already."""
        there = [song.name for song in songs if existing(self._rig, song) is not None]
        if there and self._same is None:
            names = first_few([visible(name) for name in there], 5)
            words = f"already there: replace, add or skip {names}"
            self._ask("same", None, "*", words, "")

    def misses(self, draft: Draft) -> None:
        """Find answers that fit nothing: a slip of the fingers must not pass in silence."""
        names = {section.name for song in draft.songs for section in song.sections}
        was = {section.was for song in draft.songs for section in song.sections if section.was}
        titles = {title for song in draft.songs for title in (song.id, song.title) if title}
        folded = {title.casefold() for title in titles}
        for answer in self._book.unused():
            if answer.name == "*" and answer.song is None:
                continue  # "all that are left" may be none
            if answer.song is not None and answer.song.casefold() not in folded:
                self.faults.append(_no_such(answer, "song", answer.song, titles))
                continue
            known = (was or names) if answer.what == "map" else names
            bases = set() if answer.what == "map" and was else {base_name(name) for name in known}
            if answer.name.casefold() in {name.casefold() for name in known | bases}:
                continue  # it fits, and the source or a closer answer says it already
            if answer.name == "*":
                continue
            noun = "preset" if answer.what == "map" and was else "section"
            self.faults.append(_no_such(answer, noun, answer.name, known | bases))


def _line_section(part: LinePart) -> DraftSection:
    pedals = {key: value for key, value in (("plus", part.plus), ("minus", part.minus)) if value}
    return DraftSection(part.name, part.bars, part.preset, mapped=True, more=pedals)


def _no_such(answer: Answer, noun: str, name: str, known: set[str]) -> str:
    ordered = sorted(known)
    there = ", ".join(visible(name) for name in ordered[:8]) or "none"
    guess = did_you_mean(name, ordered, f"there are {there}")
    return f'--{answer.what}: there is no {noun} "{visible(name[:60])}"; {guess}'


def _fraction(note: Any) -> str:
    return f"{note.numerator}/{note.denominator}"


def existing(rig: Rig, song: DraftSong) -> Song | None:
    """Return the rig's song of the same id, or else of the same title; capitals do not matter."""
    if song.id is not None:
        for known in rig.songs:
            if known.id == song.id:
                return known
    title = song.title.casefold()
    return next((known for known in rig.songs if title and known.label.casefold() == title), None)
