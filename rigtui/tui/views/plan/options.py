"""The options of a plan as the screen lists them: a row for each, and what a key makes of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple, TypeVar

from rigtui.model.text import count
from rigtui.plan.ask.goal import FIRST, OF_GOAL
from rigtui.plan.ask.question import MEANT_FOR, Question

if TYPE_CHECKING:
    from rigtui.model.rig import Rig, Switcher

KINDS = {
    "all": "all (loops, memories, route)",
    "loops": "loops",
    "switches": "switches (memories)",
    "route": "route (sections)",
    "curve": "curve (it only compares)",
}
LIMITS = {
    5.0: "5 seconds",
    15.0: "15 seconds",
    60.0: "a minute",
    300.0: "5 minutes",
    None: "never",
}
_T = TypeVar("_T")
_PLACES = {None: "free", "in": "in a loop", "out": "outside"}


class OptionRow(NamedTuple):
    """One row of the list of options: what it is about, or a heading."""

    key: str
    """setting, pedal, preset, memory or apart; "" for a heading."""
    name: str
    """Which setting, pedal or preset."""
    label: str
    value: str
    is_set: bool = False
    """Whether the player has asked for something here."""

    @property
    def steps(self) -> bool:
        """Whether enter goes to the next value at once; every other row asks for one."""
        return self.key in ("pedal", "preset") or self.name in ("sharing", "order", "first")


def option_rows(question: Question, rig: Rig) -> list[OptionRow]:
    """What can be asked of this kind of plan, row by row."""
    rows = [*_settings(question, rig)]
    if question.kind in MEANT_FOR["pins"]:
        rows += _pedals(question, rig)
        rows += _presets(question, rig)
    if question.kind in MEANT_FOR["pin_switch"]:
        rows += _memories(question, rig)
    return rows


def _settings(question: Question, rig: Rig) -> Iterator[OptionRow]:
    labels = evenings(rig)
    chosen = [setlist for setlist in question.setlists if setlist in labels]
    evening = ", ".join(labels[setlist] for setlist in chosen) or labels[""]
    kind = question.kind
    yield OptionRow("setting", "kind", "May change", KINDS[kind])
    yield OptionRow("setting", "setlist", "For", evening, len(labels) > 1 and bool(chosen))
    yield OptionRow("setting", "seconds", "Stops after", LIMITS[question.seconds])
    if kind in MEANT_FOR["sharing"]:
        sharing = "may be shared" if question.sharing else "one pedal each"
        yield OptionRow("setting", "sharing", "Loops", sharing, not question.sharing)
        order = "stays" if question.keep_order else "pedals may move"
        yield OptionRow("setting", "order", "Signal order", order, question.keep_order)
    if kind in MEANT_FOR["first"]:
        is_set = question.first != FIRST[0]
        yield OptionRow("setting", "first", "Comes first", OF_GOAL[question.first], is_set)
    if kind in MEANT_FOR["memories"]:
        yield OptionRow("setting", "size", "Switcher", *_size(question, rig))
    if kind in MEANT_FOR["copies"]:
        most = question.copies
        copies = f"up to {count(most, 'copy', 'copies')}" if most else "none"
        copies = "as many as help" if most is None else copies
        yield OptionRow("setting", "copies", "Copies", copies, most is not None)


def _size(question: Question, rig: Rig) -> tuple[str, bool]:
    loops = question.loops or loops_of(rig)
    memories = question.memories or (rig.switcher.memories if rig.switcher else 0)
    stored = count(memories, "memory", "memories")
    if question.kind not in MEANT_FOR["loops"]:
        return stored, question.memories is not None
    is_set = question.loops is not None or question.memories is not None
    return f"{loops['front']}+{loops['fx']} loops, {stored}", is_set


def _pedals(question: Question, rig: Rig) -> Iterator[OptionRow]:
    labels = {pedal.id: pedal.label for pedal in rig.pedals}
    yield OptionRow("", "", "Pedals", "")
    for pedal in rig.pedals:
        where = question.pins.get(pedal.id)
        yield OptionRow("pedal", pedal.id, pedal.label, _PLACES[where], where is not None)
    for at, (pedal_id, other) in enumerate(question.apart):
        if pedal_id in labels and other in labels:
            pair = f"{labels[pedal_id]} and {labels[other]}"
            yield OptionRow("apart", str(at), pair, "never in one loop", True)


def _presets(question: Question, rig: Rig) -> Iterator[OptionRow]:
    yield OptionRow("", "", "Presets", "")
    for preset in rig.presets:
        kept = preset.id in question.keep
        value = "stays as it is" if kept else "free"
        yield OptionRow("preset", preset.id, preset.label, value, kept)


def _memories(question: Question, rig: Rig) -> Iterator[OptionRow]:
    yield OptionRow("", "", "Memories", "")
    for preset in rig.presets:
        memory = question.pin_switch.get(preset.id)
        value = "any memory" if memory is None else memory_words(memory, rig.switcher)
        yield OptionRow("memory", preset.id, preset.label, value, memory is not None)


def stepped(question: Question, row: OptionRow) -> Question:
    """The question with the next value in a row that has only a few."""
    if row.key == "pedal":
        return question.pinned(row.name, _next(list(_PLACES), question.pins.get(row.name)))
    if row.key == "preset" and row.name not in question.keep:
        return replace(question, keep=(*question.keep, row.name))
    if row.key in ("preset", "apart"):
        return cleared(question, row)
    if row.name == "sharing":
        return replace(question, sharing=not question.sharing)
    if row.name == "first":
        return replace(question, first=_next(FIRST, question.first))
    return replace(question, keep_order=not question.keep_order)


_OF_SETTING = {
    "setlist": ("setlists",),
    "sharing": ("sharing",),
    "order": ("keep_order",),
    "first": ("first",),
    "size": ("loops", "memories"),
    "copies": ("copies",),
}


def cleared(question: Question, row: OptionRow) -> Question:
    """The question without what a row asks for."""
    if row.key == "pedal":
        return question.pinned(row.name, None)
    if row.key == "preset":
        rest = tuple(preset for preset in question.keep if preset != row.name)
        return replace(question, keep=rest)
    if row.key == "memory":
        return in_memory(question, row.name, None)
    if row.key == "apart":
        at = int(row.name)
        return replace(question, apart=question.apart[:at] + question.apart[at + 1 :])
    return question.unset(*_OF_SETTING.get(row.name, ()))


def in_memory(question: Question, preset: str, memory: int | None) -> Question:
    """The question with a preset that must be in a memory, or may be in any (None)."""
    rest = {other: its for other, its in question.pin_switch.items() if other != preset}
    return replace(question, pin_switch=rest if memory is None else {**rest, preset: memory})


def kept_apart(question: Question, pedal: str, other: str) -> Question:
    """The question with two pedals that may not share a loop."""
    if any({pedal, other} == set(pair) for pair in question.apart):
        return question
    return replace(question, apart=(*question.apart, (pedal, other)))


_ASKED = {
    "kind": "what may change",
    "setlists": "which setlists",
    "pins": "pedals in or out",
    "keep": "presets that stay",
    "apart": "pedals kept apart",
    "sharing": "sharing of loops",
    "keep_order": "signal order",
    "loops": "switcher",
    "total_loops": "switcher",
    "memories": "switcher",
    "pin_switch": "memories",
    "first": "what comes first",
    "copies": "copies",
}
"""What each part of a question is about."""


def changed_since(asked: Question, wanted: Question) -> list[str]:
    """What differs between two questions, in words; time limits apart."""
    if asked.kind != wanted.kind:
        return [_ASKED["kind"]]
    names = (word for key, word in _ASKED.items() if getattr(asked, key) != getattr(wanted, key))
    return list(dict.fromkeys(names))


def evenings(rig: Rig) -> dict[str, str]:
    """What a plan can be for: all there is (""), or where there are several, one setlist."""
    labels = {setlist.id: setlist.label for setlist in rig.setlists}
    if len(labels) == 1:
        return {"": next(iter(labels.values()))}
    return {"": f"all {len(labels)} setlists" if labels else "all songs", **labels}


def loops_of(rig: Rig) -> dict[str, int]:
    """How many loops the rig has in front of the amp and in its effects loop."""
    sides = [loop.side for loop in rig.loops]
    return {"front": sides.count("front"), "fx": sides.count("fx")}


def memory_words(memory: int, switcher: Switcher | None) -> str:
    """Say which memory, and where it is found."""
    if switcher is None:
        return f"memory {memory}"
    return f"memory {memory} ({switcher.spot(memory)})"


def _next(values: Sequence[_T], value: _T) -> _T:
    at = values.index(value) if value in values else -1
    return values[(at + 1) % len(values)]
