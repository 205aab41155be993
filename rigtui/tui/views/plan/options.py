"""What the player asks of a plan: what may change, for which evening, and what must not be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

from rigtui.model.text import count

if TYPE_CHECKING:
    from rigtui.model.rig import Rig, Switcher
    from rigtui.plan.ask.question import Question

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
_LOOPING = ("loops", "all", "curve")
_T = TypeVar("_T")
_PLACES = {None: "free", "in": "in a loop", "out": "outside"}


class Wish(NamedTuple):
    """One row of the list of wishes: what it is about, or a heading."""

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
        return self.key in ("pedal", "preset") or self.name in ("sharing", "order")


@dataclass(frozen=True)
class Wishes:
    """All that can be asked of a plan; what has no meaning for its kind is left out of it."""

    kind: str = "all"
    setlist: str | None = None
    """One setlist; None for all."""
    seconds: float | None = 60.0
    pins: dict[str, str] = field(default_factory=dict)
    keep: frozenset[str] = frozenset()
    apart: tuple[tuple[str, str], ...] = ()
    sharing: bool = True
    keep_order: bool = False
    loops: tuple[int, int] | None = None
    """Front and fx, where not as the rig has them."""
    memories: int | None = None
    pin_switch: dict[str, int] = field(default_factory=dict)
    copies: int = 0

    # What is asked

    def question(self, rig: Rig) -> Question:
        """The question to the planner; wishes about what the rig no longer has are dropped."""
        from rigtui.plan.ask.question import Question

        pedals = {pedal.id for pedal in rig.pedals}
        presets = {preset.id for preset in rig.presets}
        looping = self.kind in _LOOPING
        placing = self.kind in ("switches", "all")
        setlists = {setlist.id for setlist in rig.setlists}
        sized = self.kind in ("loops", "all")
        stored = sized or placing
        return Question(
            kind=self.kind,
            setlists=(self.setlist,) if self.setlist in setlists else (),
            seconds=self.seconds,
            pins={p: where for p, where in self.pins.items() if p in pedals} if looping else {},
            keep=tuple(p.id for p in rig.presets if p.id in self.keep) if looping else (),
            apart=tuple(pair for pair in self.apart if pedals.issuperset(pair)) if looping else (),
            sharing=self.sharing or not looping,
            keep_order=self.keep_order if looping else False,
            loops=dict(zip(("front", "fx"), self.loops)) if sized and self.loops else None,
            memories=self.memories if stored else None,
            pin_switch={p: m for p, m in self.pin_switch.items() if p in presets}
            if placing
            else {},
            copies=self.copies if placing else 0,
        )

    def rows(self, rig: Rig) -> list[Wish]:
        """What can be asked of this kind of plan, row by row."""
        rows = [*self._settings(rig)]
        if self.kind in _LOOPING:
            rows += self._pedals(rig)
            rows += self._presets(rig)
        if self.kind in ("switches", "all"):
            rows += self._memories(rig)
        return rows

    def _settings(self, rig: Rig) -> Iterator[Wish]:
        labels = evenings(rig)
        evening = labels.get(self.setlist or "", labels[""])
        yield Wish("setting", "kind", "May change", KINDS[self.kind])
        yield Wish("setting", "setlist", "For", evening, len(labels) > 1 and self.setlist in labels)
        yield Wish("setting", "seconds", "Stops after", LIMITS[self.seconds])
        if self.kind in _LOOPING:
            sharing = "may be shared" if self.sharing else "one pedal each"
            yield Wish("setting", "sharing", "Loops", sharing, not self.sharing)
            order = "stays" if self.keep_order else "pedals may move"
            yield Wish("setting", "order", "Signal order", order, self.keep_order)
        if self.kind in ("loops", "all", "switches"):
            yield Wish("setting", "size", "Switcher", *self._size(rig))
        if self.kind in ("switches", "all"):
            copies = f"up to {count(self.copies, 'copy', 'copies')}" if self.copies else "none"
            yield Wish("setting", "copies", "Copies", copies, bool(self.copies))

    def _size(self, rig: Rig) -> tuple[str, bool]:
        now = loops_of(rig)
        front, fx = self.loops or now
        memories = self.memories or (rig.switcher.memories if rig.switcher else 0)
        held = count(memories, "memory", "memories")
        if self.kind == "switches":
            return held, self.memories is not None
        is_set = self.loops is not None or self.memories is not None
        return f"{front}+{fx} loops, {held}", is_set

    def _pedals(self, rig: Rig) -> Iterator[Wish]:
        labels = {pedal.id: pedal.label for pedal in rig.pedals}
        yield Wish("", "", "Pedals", "")
        for pedal in rig.pedals:
            where = self.pins.get(pedal.id)
            yield Wish("pedal", pedal.id, pedal.label, _PLACES[where], where is not None)
        for at, (one, other) in enumerate(self.apart):
            if one in labels and other in labels:
                pair = f"{labels[one]} and {labels[other]}"
                yield Wish("apart", str(at), pair, "never in one loop", True)

    def _presets(self, rig: Rig) -> Iterator[Wish]:
        yield Wish("", "", "Presets", "")
        for preset in rig.presets:
            kept = preset.id in self.keep
            yield Wish(
                "preset", preset.id, preset.label, "stays as it is" if kept else "free", kept
            )

    def _memories(self, rig: Rig) -> Iterator[Wish]:
        yield Wish("", "", "Memories", "")
        for preset in rig.presets:
            memory = self.pin_switch.get(preset.id)
            value = "any memory" if memory is None else memory_words(memory, rig.switcher)
            yield Wish("memory", preset.id, preset.label, value, memory is not None)

    # What changes it

    def stepped(self, wish: Wish) -> Wishes:
        """The wishes with the next value in a row that has only a few."""
        if wish.key == "pedal":
            pins = dict(self.pins)
            where = _next(list(_PLACES), pins.pop(wish.name, None))
            return replace(self, pins=pins if where is None else {**pins, wish.name: where})
        if wish.key == "preset":
            return replace(self, keep=self.keep ^ {wish.name})
        if wish.key == "apart":
            return self.cleared(wish)
        if wish.name == "sharing":
            return replace(self, sharing=not self.sharing)
        return replace(self, keep_order=not self.keep_order)

    def cleared(self, wish: Wish) -> Wishes:
        """The wishes without what a row asks for."""
        if wish.key == "pedal":
            return replace(self, pins={k: v for k, v in self.pins.items() if k != wish.name})
        if wish.key == "preset":
            return replace(self, keep=self.keep - {wish.name})
        if wish.key == "memory":
            kept = {k: v for k, v in self.pin_switch.items() if k != wish.name}
            return replace(self, pin_switch=kept)
        if wish.key == "apart":
            at = int(wish.name)
            return replace(self, apart=self.apart[:at] + self.apart[at + 1 :])
        usual = Wishes()
        names = {
            "setlist": ("setlist",),
            "sharing": ("sharing",),
            "order": ("keep_order",),
            "size": ("loops", "memories"),
            "copies": ("copies",),
        }.get(wish.name, ())
        return replace(self, **{name: getattr(usual, name) for name in names})

    def relaxed(self, changes: Mapping[str, Any]) -> Wishes:
        """The wishes with the changes of a relaxation, which it says as fields of a question."""
        new: dict[str, Any] = dict(changes)
        if new.get("loops") is not None:
            new["loops"] = (new["loops"]["front"], new["loops"]["fx"])
        if "keep" in new:
            new["keep"] = frozenset(new["keep"])
        if "apart" in new:
            new["apart"] = tuple((one, other) for one, other in new["apart"])
        return replace(self, **new)

    def kept_apart(self, one: str, other: str) -> Wishes:
        """The wishes with two pedals that may not share a loop."""
        pair = (one, other)
        known = {frozenset(two) for two in self.apart}
        return self if frozenset(pair) in known else replace(self, apart=(*self.apart, pair))


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
    "copies": "copies",
}
"""What each part of a question is about."""


def other_wishes(asked: Question, wanted: Question) -> list[str]:
    """What differs between two requests, in words; time limits apart."""
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


def loops_of(rig: Rig) -> tuple[int, int]:
    """How many loops the rig has in front of the amp and in its effects loop."""
    sides = [loop.side for loop in rig.loops]
    return sides.count("front"), sides.count("fx")


def memory_words(memory: int, switcher: Switcher | None) -> str:
    """Say which memory, and where it is found."""
    if switcher is None:
        return f"memory {memory}"
    bank, switch = divmod(memory - 1, switcher.bank_size)
    return f"memory {memory} ({bank + 1}/{switch + 1})"


def _next(values: Sequence[_T], value: _T) -> _T:
    at = values.index(value) if value in values else -1
    return values[(at + 1) % len(values)]
