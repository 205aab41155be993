"""A rig before and after a plan, row by row, for whoever writes the two side by side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from rigtui.model.lookup import lookup
from rigtui.model.rig import Loop, Preset, Rig
from rigtui.moves import asked_of_a_song
from rigtui.moves.figures import AskedOfFeet, effort_of
from rigtui.plan.ask.evening import Evening


@dataclass(frozen=True, slots=True)
class LoopRow:
    """One loop; None where there is no such loop."""

    number: int
    now: Loop | None
    then: Loop | None

    @property
    def side(self) -> str:
        """front or fx, as it will be."""
        loop = self.then or self.now
        assert loop is not None
        return loop.side


@dataclass(frozen=True, slots=True)
class PresetRow:
    """One preset; None where there is no such preset."""

    now: Preset | None
    then: Preset | None

    @property
    def label(self) -> str:
        """Its name, as it will be."""
        preset = self.then or self.now
        assert preset is not None
        return preset.label


@dataclass(frozen=True, slots=True)
class SongRow:
    """One song of the evening."""

    song: str
    title: str
    times: int
    """How often it is played."""
    before: AskedOfFeet
    """What it asks of the feet each time it is played."""
    after: AskedOfFeet
    weight: float
    """What the player counts for an extra press."""

    @property
    def now(self) -> int:
        """Moves each time it is played."""
        return self.before.moves

    @property
    def then(self) -> int:
        """Moves each time it is played, with the plan."""
        return self.after.moves

    @property
    def effort_saved(self) -> float:
        """How much less effort it takes with the plan."""
        was, will = (
            effort_of(asked.moves, asked.extra_presses, self.weight)
            for asked in (self.before, self.after)
        )
        return was - will


def loop_rows(now: Rig, then: Rig) -> list[LoopRow]:
    """All loops, by number."""
    before = {loop.number: loop for loop in now.loops}
    after = {loop.number: loop for loop in then.loops}
    return [LoopRow(n, before.get(n), after.get(n)) for n in sorted({*before, *after})]


def preset_rows(now: Rig, then: Rig) -> list[PresetRow]:
    """All presets, in the new order; those that go come last."""
    before = {preset.id: preset for preset in now.presets}
    kept = {preset.id for preset in then.presets}
    rows = [PresetRow(before.get(preset.id), preset) for preset in then.presets]
    return rows + [PresetRow(preset, None) for preset in now.presets if preset.id not in kept]


def song_rows(now: Rig, then: Rig, evening: Evening) -> list[SongRow]:
    """The songs of an evening with their moves, in the rig's order."""
    after = {song.id: song for song in then.songs}
    return [
        SongRow(
            song.id,
            song.label,
            evening.times[song.id],
            asked_of_a_song(now, song),
            asked_of_a_song(then, after[song.id]),
            now.player.extra_press_weight,
        )
        for song in evening.songs
    ]


def loops_on(preset: Preset | None, numbers: Sequence[int]) -> list[bool]:
    """Which of some loops a preset switches in; none where there is no preset."""
    on = set(preset.loops) if preset is not None else set()
    return [number in on for number in numbers]


def outside_of(rig: Rig) -> tuple[list[str], list[str]]:
    """Ids of the pedals in no loop: those that are stepped on, and those that are left on."""
    rest = [pedal for pedal in lookup(rig).outside() if pedal.used != "home"]
    left_on = [pedal.id for pedal in rest if pedal.used == "always"]
    return [pedal.id for pedal in rest if pedal.id not in left_on], left_on


def board_differs(now: Rig, then: Rig) -> bool:
    """Whether a pedal or a loop is anywhere else, or a pedal used otherwise."""
    return (
        outside_of(now) != outside_of(then)
        or signal_order(now) != signal_order(then)
        or any(
            row.now is None
            or row.then is None
            or (row.now.side, row.now.pedals) != (row.then.side, row.then.pedals)
            for row in loop_rows(now, then)
        )
    )


def signal_order(rig: Rig) -> dict[str, list[str]]:
    """Ids of the pedals of each side, in signal order."""
    known = lookup(rig)
    return {
        side: [pedal for pedal in known.order if known.pedals[pedal].side == side]
        for side in ("front", "fx")
    }


@dataclass(frozen=True, slots=True)
class CurveFigures:
    """What the feet have to do on one switcher."""

    moves: int
    extra_presses: int
    effort: float


@dataclass(frozen=True, slots=True)
class CurveRow:
    """One switcher on a curve, or a row of them at its end that all do as well."""

    first: int
    last: int
    single: CurveFigures | None
    """Without copies of presets; None where nothing fits."""
    copied: CurveFigures | None
    """With copies; None where that was not looked at."""
    bound: float
    proved: bool
    now: bool
    calm: bool
    """Whether it is the smallest on which nothing is crowded."""

    @property
    def size(self) -> str:
        """How many: "6", "now 8", "16 to 128"."""
        values = str(self.first) if self.first == self.last else f"{self.first} to {self.last}"
        return f"now {values}" if self.now else values


CURVE_WORDS = {"loops": "loops", "memories": "memories", "bank_size": "switches of a bank"}


def curve_rows(curve: Mapping[str, Any]) -> list[CurveRow]:
    """Return the points of a curve; points at its end that change nothing more become one row."""
    rows = [
        CurveRow(
            point["value"], point["value"], _curve_figures(point),
            _curve_figures(point["with_copies"]),
            point["bound"], point["proved"], point["now"], point["calm"],
        )
        for point in curve["points"]
    ]  # fmt: skip
    last = rows[-1] if rows else None
    same = 0
    for row in reversed(rows):
        alike = last is not None and _figures(row) == _figures(last)
        if not alike or row.now or (row.calm and same):
            break
        same += 1
    if last is not None and same > 1:
        rows = [*rows[:-same], replace(rows[-same], last=last.last)]
    return rows


def _curve_figures(point: Mapping[str, Any] | None) -> CurveFigures | None:
    if point is None or point["moves"] is None:
        return None
    return CurveFigures(point["moves"], point["extra_presses"], point["effort"])


def _figures(row: CurveRow) -> tuple[CurveFigures | float | None, ...]:
    return row.single, row.copied, row.bound
