"""Pedals that would cost fewer presets outside the loops, and what that does to the feet."""

from __future__ import annotations

from collections.abc import Generator, Iterator
from functools import partial

from rigtui.checks.all_moves import all_moves_in_pieces
from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.words import named
from rigtui.model import Pedal, Preset, Rig, Song
from rigtui.model.edits.folding import switched
from rigtui.model.edits.outside import TakenOut, take_outside
from rigtui.model.places import place_at
from rigtui.model.remembered import Remembered
from rigtui.model.text import count, listed, number_text
from rigtui.moves import AskedOfFeet


def _move_outside(view: RigView) -> Iterator[Hit | None]:
    needed = _needed(view)
    for pedal in view.rig.pedals:
        number = _own_loop(view, pedal)
        if number is None:
            continue
        now = {switched(preset) for preset in needed}
        then = {(loops - {number}, channel, midi) for loops, channel, midi in now}
        if len(then) < len(now):
            yield (yield from _hit(view, pedal, number, len(now), len(then)))


def _needed(view: RigView) -> list[Preset]:
    """Presets that some section uses; all of them while no section uses any."""
    used = {section.preset for song in view.rig.songs for section in song.sections}
    return [preset for preset in view.rig.presets if preset.id in used] or [*view.rig.presets]


def _own_loop(view: RigView, pedal: Pedal) -> int | None:
    """The loop that a pedal has to itself. Out of a shared one, it would make no presets alike."""
    number = view.known.loop_of.get(pedal.id)
    if number is None or pedal.kind == "tuner":  # a tuner has its own rule
        return None
    homes = [loop for loop in view.rig.loops if pedal.id in loop.pedals]
    return number if len(homes) == 1 and set(homes[0].pedals) == {pedal.id} else None


def _hit(
    view: RigView, pedal: Pedal, number: int, now: int, then: int
) -> Generator[None, None, Hit | None]:
    """What it would do; None where it frees no memory, whatever else it does."""
    trial = _trial(view.rig, pedal.id)
    after = yield from trial.rig(view.rig)
    # While nothing is stored yet, each preset that is not needed is a memory less to find.
    freed = len(_memories(view.rig)) - len(_memories(after)) if _memories(view.rig) else now - then
    if freed <= 0:
        return None
    message = (
        f"Taking {named(pedal)} out of loop {number} cuts {now} distinct presets to "
        f"{then}: {_together(view, trial.taken)}"
    )
    message += f"; that frees {count(freed, 'memory', 'memories')}"
    old = yield from all_moves_in_pieces(view.rig)
    new = yield from all_moves_in_pieces(after)
    if view.rig.songs:
        message += f"; {_cost(view.rig, old, new)}"
    short = _short_of_memories(view, now)
    if not short and new.moves > old.moves:
        message += "; you have memories enough, so it helps only if you want one for another sound"
    return Hit(
        place_at("pedals", pedal.id),
        message,
        Fix(f"take {named(pedal)} out of loop {number}", partial(take_outside, pedal_id=pedal.id)),
        severity="warning" if short else None,
        rank=(-freed, new.moves + new.set_up_moves - old.moves - old.set_up_moves),
    )


def _short_of_memories(view: RigView, distinct: int) -> bool:
    """Whether the presets that are needed are more than the memories there are."""
    return view.rig.switcher is not None and distinct > view.rig.switcher.memories


def _memories(rig: Rig) -> set[int]:
    return {memory for preset in rig.presets for memory in preset.memories}


def _together(view: RigView, taken: TakenOut) -> str:
    """Say which presets become one, and where guitar volumes part them."""
    presets = view.known.presets
    groups = []
    for group in taken.fold.groups:
        text = listed(named(presets[preset_id]) for preset_id in group)
        volumes = dict.fromkeys(presets[preset_id].guitar_volume for preset_id in group)
        if len(volumes) > 1:
            heights = (number_text(v) if v is not None else "none" for v in volumes)
            text += f" (guitar volume {listed(heights)}: their sections keep it)"
        groups.append(text)
    return f"{'; '.join(groups)} become one" + (" each" if len(groups) > 1 else "")


def _cost(rig: Rig, old: AskedOfFeet, new: AskedOfFeet) -> str:
    over = "over every setlist" if rig.setlists else "over every song"
    said = [
        _difference(old.extra_presses, new.extra_presses, "extra press", "extra presses"),
        _difference(old.moves, new.moves, "move", "moves"),
    ]
    if rig.setlists:
        said.append(_difference(old.set_up_moves, new.set_up_moves, "set-up move", "set-up moves"))
    return f"{over} {listed(said)}"


def _difference(old: int, new: int, noun: str, nouns: str) -> str:
    """Say "4 moves fewer (118 instead of 122)"."""
    if old == new:
        return f"{count(new, noun, nouns)} as today"
    direction = "more" if new > old else "fewer"
    return f"{count(abs(new - old), noun, nouns)} {direction} ({new} instead of {old})"


class _Trial:
    """A pedal taken out on trial; songs that have not changed since are not worked out again."""

    def __init__(self, rig: Rig, pedal_id: str) -> None:
        self.taken = TakenOut(rig, pedal_id)
        self._songs: dict[int, tuple[Song, Song]] = {}
        self._made: tuple[tuple[Song, ...], tuple[Song, ...]] = ((), ())
        """The songs of the rig last asked about, and what becomes of them."""

    def rig(self, rig: Rig) -> Generator[None, None, Rig]:
        """The rig as it would be, made step by step."""
        before, after = self._made
        if before is rig.songs:
            return self.taken.apply(rig, after)
        songs = []
        for song in rig.songs:
            known = self._songs.get(id(song))
            if known is None:
                known = self._songs[id(song)] = (song, self.taken.song(song))
                yield
            songs.append(known[1])
        self._made = rig.songs, tuple(songs)
        return self.taken.apply(rig, self._made[1])


_trials: Remembered[dict[str, _Trial]] = Remembered(4)


def _trial(rig: Rig, pedal_id: str) -> _Trial:
    parts = (rig.switcher, rig.pedals, rig.loops, rig.presets)
    trials = _trials.get(parts, dict)
    if pedal_id not in trials:
        trials[pedal_id] = _Trial(rig, pedal_id)
    return trials[pedal_id]


RULES = (
    Rule(
        id="move-outside",
        severity="advice",
        scope="rig",
        summary="Taking one pedal out of the loops would free memories. It is a warning where "
        "memories are short.",
        why="A pedal you want on top of any sound doubles the presets while it sits in a "
        "loop. Outside the loops it takes no memory, but a press each time it goes on "
        "or off.",
        source="Common practice: k independent toggles inside presets need base x 2^k presets "
        "(arithmetic).",
        check=_move_outside,
    ),
)
