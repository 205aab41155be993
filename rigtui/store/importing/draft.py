"""Songs as another file gives them: what it says, with room for what it doesn't."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from rigtui.model.errors import RigError

Kind = Literal["chordpro", "midi", "csv", "rig", "list"]


class ImportFault(RigError, ValueError):
    """A source that cannot be read, or an answer that does not fit, with what would be right."""


@dataclass(frozen=True)
class DraftSection:
    """A section; what is None is not known yet."""

    name: str
    bars: float | None = None
    preset: str | None = None
    """Id of a preset of the rig that it goes into; None is unmapped."""
    was: str | None = None
    """What the source calls its preset, where it names one."""
    mapped: bool = False
    """Whether it is settled which preset it has, if any."""
    recalls: int | None = None
    """Place of the section that it is a repeat of; it is as long and on the same preset."""
    more: Mapping[str, Any] = field(default_factory=dict)
    """Other keys of a section, as in a rig file."""


@dataclass(frozen=True)
class SongLine:
    """A song's sections in one line, as the source has it."""

    parts: tuple[tuple[int, int, str], ...]
    """Each part's line in the source, the columns before it, and its text."""

    @property
    def text(self) -> str:
        """The whole line."""
        return "\n".join(text for _, _, text in self.parts)

    def place(self, column: int) -> str:
        """Where in the source a column of the text (from 1) is."""
        for number, before, text in self.parts:
            if column <= len(text) + 1:
                return f"line {number}, column {before + column}"
            column -= len(text) + 1
        return f"line {self.parts[-1][0]}"


@dataclass(frozen=True)
class DraftSong:
    """A song; what is None is not known yet."""

    title: str
    id: str | None = None
    """Its id, where the source has one."""
    tempo: float | None = None
    meter: str | None = None
    sections: tuple[DraftSection, ...] = ()
    more: Mapping[str, Any] = field(default_factory=dict)
    """Other keys of a song, as in a rig file; "beat" among them."""
    line: SongLine | None = None
    """Its sections in one line, to be read when the rig and so its presets are known."""
    length_seconds: int | None = None
    """How long the source says that it lasts."""
    part: str = ""
    """The set that it stands in, where the source names one."""

    @property
    def name(self) -> str:
        """What messages call it."""
        return self.title or self.id or "a song"


@dataclass(frozen=True)
class Draft:
    """All that a source holds."""

    kind: Kind
    songs: tuple[DraftSong, ...]
    notes: tuple[str, ...] = ()
    """What was read in a way that the player should know of."""

    @property
    def says_all(self) -> bool:
        """Whether a key that the source leaves out is meant to be left out."""
        return self.kind in ("csv", "rig")

    @property
    def plain_meter(self) -> bool:
        """Whether a meter that the source leaves out is 4/4."""
        return self.says_all or self.kind == "list"

    @property
    def tempo_names_no_beat(self) -> bool:
        """Whether the source's tempo may count another note than the rig file's default."""
        return self.kind in ("chordpro", "list")
