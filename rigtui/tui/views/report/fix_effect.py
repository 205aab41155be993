"""What a fix does besides removing its finding: to moves and memories, and what it deletes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from rigtui.model.text import count, listed, visible
from rigtui.moves import asked_as_written

if TYPE_CHECKING:
    from rigtui.model.rig import Rig, Setlist

_TABLES = {"pedals": "pedal", "presets": "preset", "songs": "song", "setlists": "setlist",
           "midi": "MIDI device"}  # fmt: skip


class MoveSums(NamedTuple):
    """Moves in songs, and between them."""

    moves: int
    set_up: int


@dataclass(frozen=True, slots=True)
class Effect:
    """A rig before and after a fix."""

    here: tuple[MoveSums, MoveSums]
    """Of the setlist at hand, or of all songs where there is none."""
    everywhere: tuple[MoveSums, MoveSums]
    """Of every setlist together."""
    freed: int
    """Memories that are free after it and were not before."""
    gone: tuple[str, ...]
    """What is deleted, by name, a part for each kind."""

    @property
    def asks(self) -> bool:
        """Whether it costs something, so that it is done only after a yes."""
        pairs = [pair for both in (self.here, self.everywhere) for pair in zip(*both, strict=True)]
        return bool(self.gone) or any(after > before for before, after in pairs)

    def question(self, label: str) -> str:
        """Ask whether to apply the fix, with its cost and its gain."""
        parts = [_become(*self.here), f"{count(self.freed, 'memory', 'memories')} freed"]
        if self.gone:
            parts.append(f"deleted: {', '.join(self.gone)}")
        return f"{label[:1].upper()}{label[1:]}? {'; '.join(parts)}"

    def details(self) -> list[str]:
        """What it does to the other setlists, where that is not the same."""
        if self.everywhere == self.here or self.everywhere[0] == self.everywhere[1]:
            return []
        return [f"Over every setlist: {_become(*self.everywhere)}"]

    def done(self, label: str) -> str:
        """Say that it is done, and what became of the totals."""
        before, after = self.here
        parts = []
        if before.moves != after.moves:
            parts.append(f"{before.moves} -> {after.moves} moves")
        if before.set_up != after.set_up:
            parts.append(f"{before.set_up} -> {after.set_up} set-up moves")
        return f"Done: {label}; {', '.join(parts) if parts else 'as many moves as before'}"


def effect_of(before: Rig, after: Rig, setlist_id: str | None) -> Effect:
    """Compare a rig before and after a fix."""
    return Effect(
        (_here(before, setlist_id), _here(after, setlist_id)),
        (_total(before, before.setlists), _total(after, after.setlists)),
        len(_memories(before)) - len(_memories(after)),
        tuple(_gone(before, after)),
    )


def _become(before: MoveSums, after: MoveSums) -> str:
    words = [
        f"{old} {noun} become {new}" if old != new else f"as many {noun} as before ({old})"
        for old, new, noun in (
            (before.moves, after.moves, "moves"),
            (before.set_up, after.set_up, "set-up moves"),
        )
        if old != new or noun == "moves"
    ]
    return ", ".join(words)


def _total(rig: Rig, setlists: Sequence[Setlist]) -> MoveSums:
    asked = asked_as_written(rig, setlists)
    return MoveSums(asked.moves, asked.set_up_moves)


def _here(rig: Rig, setlist_id: str | None) -> MoveSums:
    return _total(rig, [setlist for setlist in rig.setlists if setlist.id == setlist_id])


def _memories(rig: Rig) -> set[int]:
    return {memory for preset in rig.presets for memory in preset.memories}


def _gone(before: Rig, after: Rig) -> list[str]:
    gone = []
    for table, noun in _TABLES.items():
        kept = {row.id for row in getattr(after, table)}
        names = [visible(row.label) for row in getattr(before, table) if row.id not in kept]
        if names:
            gone.append(f"{noun}{'s' if len(names) > 1 else ''} {listed(names)}")
    kept_loops = {loop.number for loop in after.loops}
    gone += [f"loop {loop.number}" for loop in before.loops if loop.number not in kept_loops]
    for table, noun in (("waivers", "waiver"), ("printed", "record of a sheet")):
        fewer = len(getattr(before, table)) - len(getattr(after, table))
        gone += [count(fewer, noun)] if fewer > 0 else []
    return gone
