"""What a change of the board does to feet, sounds and findings, before you make it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from rigtui.checks.all_moves import all_moves
from rigtui.checks.difference import Difference, difference
from rigtui.checks.engine import check
from rigtui.checks.sounds_changed import loops_emptied, sounds_changed
from rigtui.model import Rig
from rigtui.model.presets_used import distinct_presets
from rigtui.model.text import count


class Burden(NamedTuple):
    """What a rig asks of its player, over every setlist; over all songs where there is none."""

    unplayable: int
    extra_presses: int
    moves: int
    presets: int
    """Distinct presets that the songs use."""


def burden_of(rig: Rig) -> Burden:
    """Count what a rig asks of its player."""
    asked = all_moves(rig)
    known = {preset.id for preset in rig.presets}
    used = {section.preset for song in rig.songs for section in song.sections if section.preset}
    return Burden(
        asked.unplayable,
        asked.extra_presses,
        asked.moves,
        len(distinct_presets(rig, sorted(used & known))),
    )


@dataclass(frozen=True, slots=True)
class Consequences:
    """A rig before and after a change."""

    rig: Rig
    """As it would be."""
    before: Burden
    after: Burden
    findings: Difference
    bench_rows: tuple[tuple[str, int], ...] = ()
    """What the bench loses: tables by name, and how many rows go."""
    sounds: tuple[str, ...] = ()
    """Which pedals sections lose or get, in words."""
    emptied: tuple[str, ...] = ()
    """Which loops are left empty and switched off by presets, in words."""

    @property
    def any(self) -> bool:
        """Whether the change does anything that a player would want to know first."""
        return self.before != self.after or bool(
            self.findings.rules or self.bench_rows or self.sounds or self.emptied
        )

    def lines(self) -> list[str]:
        """Return what changes, one line each, what sections lose first.

        What stays the same is left out, and so is what gets less where errors get more: it is no
        saving if something can't be played for it.
        """
        words = ("sections that can't be played", "extra presses", "moves", "presets needed")
        told = [
            f"{noun}: {old} → {new}"
            for noun, old, new in zip(words, self.before, self.after)
            if new > old or (new < old and not self.findings.more_errors)
        ]
        if told and len(self.rig.setlists) > 1:
            told = ["counted over every setlist:", *told]
        told = [*self.sounds, *self.emptied, *told]
        told += [
            "its place on the board goes with it"
            if noun == "place"
            else f"length and test of {count(rows, noun)} go with it"
            for noun, rows in self.bench_rows
        ]
        if self.findings.rules:
            told += [self.findings.headline(), *self.findings.lines()]
        return told or ["moves, sounds and findings stay as they are"]


def consequences(rig: Rig, edit: Callable[[Rig], Rig]) -> Consequences:
    """Try a change and count what it brings.

    Raises:
        RigError: the change cannot be made.
    """
    changed = edit(rig)
    gone = {
        "place": len(rig.places) - len(changed.places),
        "patch lead": len(rig.patch_leads) - len(changed.patch_leads),
    }
    rows = tuple((noun, number) for noun, number in gone.items() if number > 0)
    return Consequences(
        changed,
        burden_of(rig),
        burden_of(changed),
        difference(check(rig), check(changed)),
        rows,
        tuple(sounds_changed(rig, changed)),
        tuple(loops_emptied(rig, changed)),
    )
