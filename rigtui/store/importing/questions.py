"""Questions that a source leaves open, and the answers to them.

An answer is NAME=VALUE. One about a section holds for the section of that name; failing that, for
all sections whose name is that with a number behind it ("Chorus" for Chorus 1); failing that, "*".
"SONG/NAME" is for one song and goes before the others.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from rigtui.model.edits.tables import made
from rigtui.model.errors import EditError
from rigtui.model.meter import note_value
from rigtui.model.rig import Rig, Section, Song
from rigtui.model.text import did_you_mean, visible
from rigtui.store.importing.draft import DraftSong, ImportFault

What = Literal["bars", "map", "tempo", "meter", "beat", "same"]
ANSWERED: tuple[What, ...] = ("bars", "map", "tempo", "meter", "beat")
SAME = ("replace", "add", "skip")
_SOME_NOTES = "say 1/4 (quarter), 1/8 (eighth) or 3/8 (dotted quarter)"
NONE = "-"
"""As a preset: leave it unmapped."""
_NUMBERED = re.compile(r"(?<=[^\W0-9_])[ .#:_-]*[0-9]{1,4}[a-zA-Z]?$")
_MOST_ANSWERS = 5000


@dataclass(frozen=True)
class Answer:
    """One answer."""

    what: What
    song: str | None
    """Id or title of the song that it is for; None for all."""
    name: str
    """Name of the section, or of the source's preset; "*" for all."""
    value: str


@dataclass(frozen=True)
class OpenQuestion:
    """Something that the source does not say."""

    what: What
    song: str | None
    """Id or title of the song; None where it is about all of them."""
    name: str
    """The section, or the source's preset; "*" for a whole song."""
    words: str
    """What is asked, as a noun: "Low Fen, Verse: bars"."""
    times: int = 1
    hint: str = ""
    """An answer that may fit, to be accepted or not."""

    def answer(self, value: str) -> Answer:
        """The answer that a value makes."""
        return Answer(self.what, self.song, self.name, value)


def answers_of(what: What, texts: Iterable[str]) -> list[Answer]:
    """Read the answers of one option.

    A bare value, as in `--tempo 120`, is an answer for everything. A comma inside a name stays,
    since what has no "=" goes on in the next part.

    Raises:
        ImportFault: an answer without a value.
    """
    answers: list[Answer] = []
    for text in texts:
        parts = text.split(",")
        if what in ("tempo", "meter", "beat") and "=" not in text:
            parts, text = [], f"*={text}"
            answers.append(Answer(what, None, "*", text[2:].strip()))
        waiting = ""
        for part in parts:
            waiting = f"{waiting},{part}" if waiting else part
            if "=" in part:
                answers.append(_answer(what, waiting))
                waiting = ""
        if waiting.strip():
            raise ImportFault(f'--{what}: "{visible(waiting.strip()[:60])}" needs NAME=VALUE')
        if len(answers) > _MOST_ANSWERS:
            raise ImportFault(f"--{what}: more than {_MOST_ANSWERS} answers")
    return answers


def _answer(what: What, text: str) -> Answer:
    name, _, value = text.rpartition("=")
    song, slash, section = name.strip().partition("/")
    if what in ("tempo", "meter", "beat"):
        song, slash, section = name.strip(), "/", "*"
    if not slash:
        song, section = "", song
    if not section.strip() or not value.strip():
        raise ImportFault(f'--{what}: "{visible(text.strip()[:60])}" needs NAME=VALUE')
    whole = song.strip() if song.strip() != "*" else ""
    return Answer(what, whole or None, section.strip(), value.strip())


def base_name(name: str) -> str:
    """A section's name without the number behind it: Chorus for Chorus 2."""
    return _NUMBERED.sub("", name).strip() or name


class AnswerBook:
    """Answers looked up by the most particular name; it knows which were used."""

    def __init__(self, answers: Sequence[Answer]) -> None:
        self._answers: dict[tuple[str, str | None, str], Answer] = {}
        for answer in answers:
            song = answer.song.casefold() if answer.song else None
            self._answers[answer.what, song, answer.name.casefold()] = answer
        self.used: set[tuple[str, str | None, str]] = set()

    def find(
        self, what: What, song: DraftSong, name: str, recalled: str = "", exact: bool = False
    ) -> str | None:
        """Return the value of the most particular answer for a name; None if there is none.

        Args:
            what: The kind of answer.
            song: The song that it is about.
            name: Name of the section, or of the source's preset.
            recalled: Name of the section that it is a repeat of, if it is one.
            exact: Whether the name stands for itself alone, not also for its base.
        """
        songs = [name.casefold() for name in (song.id, song.title) if name]
        base = () if exact else (base_name(name),)
        names = dict.fromkeys((name, *base, *((recalled,) if recalled else ())))
        for owner in (*songs, None):
            for key in (*(known.casefold() for known in names), "*"):
                if (what, owner, key) in self._answers:
                    self.used.add((what, owner, key))
                    return self._answers[what, owner, key].value
        return None

    def unused(self) -> Iterator[Answer]:
        """Give the answers that were never the most particular one."""
        for key, answer in self._answers.items():
            if key not in self.used:
                yield answer


def checked(what: What, value: str, rig: Rig) -> Any:
    """Turn an answer into what a draft holds.

    Raises:
        ImportFault: it is no such thing, with what would be right.
    """
    if what == "same":
        if value not in SAME:
            raise ImportFault(f'"{visible(value[:40])}" is not an answer: say replace, add or skip')
        return value
    if what == "map":
        if value == NONE:
            return None
        ids = [preset.id for preset in rig.presets]
        if value not in ids:
            labels = {preset.label.casefold(): preset.id for preset in rig.presets}
            if value.casefold() in labels:
                return labels[value.casefold()]
            some = ", ".join(ids[:8]) + (" and more" if len(ids) > 8 else "") or "none yet"
            guess = did_you_mean(value, ids, f"the rig has {some}")
            raise ImportFault(
                f'there is no preset "{visible(value[:60])}"; {guess}; "{NONE}" leaves it unmapped'
            )
        return value
    if what in ("bars", "tempo"):
        return _number(what, value)
    value = note_value(value) if what == "beat" else value
    try:
        made(Song, id="x", tempo=1, **{what: value})
    except EditError as error:
        said = f'"{visible(value[:40])}" is no note: {_SOME_NOTES}'
        raise ImportFault(said if what == "beat" else str(error)) from None
    return value


def _number(what: str, value: str) -> float:
    plain = value.strip()
    if not re.fullmatch(r"[0-9]{1,7}(\.[0-9]{1,6})?", plain):
        raise ImportFault(f'{what}: must be a number, not "{visible(value[:40])}"')
    number = float(plain)
    if what == "bars" and number == 0:
        return 0  # leaves the section out
    try:
        if what == "bars":
            made(Section, name="x", bars=number)
        else:
            made(Song, id="x", tempo=number)
    except EditError as error:
        raise ImportFault(str(error)) from None
    return int(number) if number.is_integer() else number
