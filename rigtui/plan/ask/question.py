"""What is asked of the planners: one value, from command line, screen and API to all of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rigtui.model.rig import Rig

KINDS = ("loops", "switches", "route", "all", "curve", "explain")
SECONDS = 60.0
_OF_LOOPS, _OF_MEMORIES = ("loops", "all", "curve"), ("switches", "all")
MEANT_FOR: Mapping[str, tuple[str, ...]] = {
    "pins": _OF_LOOPS,
    "keep": _OF_LOOPS,
    "apart": _OF_LOOPS,
    "sharing": _OF_LOOPS,
    "keep_order": _OF_LOOPS,
    "loops": ("loops", "all"),
    "total_loops": ("loops", "all"),
    "memories": ("loops", "switches", "all"),
    "pin_switch": _OF_MEMORIES,
    "first": ("loops", "route", "all"),
    "copies": _OF_MEMORIES,
}
"""The options, each with the kinds of plan that a player can set it for."""


@dataclass(frozen=True, slots=True)
class Question:
    """What may change, for which setlists, and the player's options: what must stay, and limits."""

    kind: str = "all"
    """One of `KINDS`."""
    setlists: tuple[str, ...] = ()
    """Ids; all setlists where none is named."""
    seconds: float | None = SECONDS
    """Time limit; None for none."""
    pins: Mapping[str, str] = field(default_factory=dict)
    """For a pedal, "in" (it must be in a loop) or "out" (it must be outside)."""
    keep: tuple[str, ...] = ()
    """Presets whose sound, and whose sections, stay as they are."""
    apart: tuple[tuple[str, str], ...] = ()
    """Pairs of pedals that may not share a loop."""
    sharing: bool = True
    """Whether neighbours in the chain may share a loop."""
    keep_order: bool = False
    """Whether the signal order must stay: then an outside pedal cannot leave its place, and a
    switcher without jacks between its loops holds every pedal from the first to the last of a
    side that is in a loop."""
    loops: Mapping[str, int] | None = None
    """Loops of each side ("front", "fx"), where they are not as the rig has them."""
    total_loops: int | None = None
    """Loops in all, either side at will; in place of `loops`."""
    memories: int | None = None
    """Presets that can be stored, where not as the switcher has it."""
    pin_switch: Mapping[str, int] = field(default_factory=dict)
    """Memory, from 1, that a preset must have."""
    first: str = "effort"
    """What comes first: see `FIRST` in `rigtui.plan.ask.goal`."""
    copies: int | None = None
    """How many copies of presets may be put in spare memories; None for as many as help."""

    @property
    def pin_in(self) -> tuple[str, ...]:
        """Pedals that must be in a loop."""
        return tuple(pedal for pedal, where in self.pins.items() if where == "in")

    @property
    def pin_out(self) -> tuple[str, ...]:
        """Pedals that must be outside."""
        return tuple(pedal for pedal, where in self.pins.items() if where == "out")

    def pinned(self, pedal: str, where: str | None) -> Question:
        """The question with a pedal "in" a loop, "out"side, or free to be either (None)."""
        rest = {other: its for other, its in self.pins.items() if other != pedal}
        return replace(self, pins=rest if where is None else {**rest, pedal: where})

    def unset(self, *options: str) -> Question:
        """Return the question with these options back at their defaults."""
        usual = Question()
        return replace(self, **{name: getattr(usual, name) for name in options})

    def changed(self, values: Mapping[str, Any]) -> Question:
        """The question with new values of some options, given as plain data.

        Raises:
            TypeError: there are no such options.
        """
        return replace(self, **_values(values))

    def fitting(self, rig: Rig) -> Question:
        """The question without options that its kind has no use for, or about what is not there."""
        pedals = {pedal.id for pedal in rig.pedals}
        presets = {preset.id for preset in rig.presets}
        setlists = {setlist.id for setlist in rig.setlists}
        meant = self.unset(*(name for name, kinds in MEANT_FOR.items() if self.kind not in kinds))
        return replace(
            meant,
            setlists=tuple(setlist for setlist in meant.setlists if setlist in setlists),
            pins={pedal: where for pedal, where in meant.pins.items() if pedal in pedals},
            keep=tuple(preset.id for preset in rig.presets if preset.id in meant.keep),
            apart=tuple(pair for pair in meant.apart if pedals.issuperset(pair)),
            pin_switch={
                preset: memory for preset, memory in meant.pin_switch.items() if preset in presets
            },
        )


def question_to_data(question: Question) -> dict[str, Any]:
    """Make plain data of a question, fit for JSON."""
    return asdict(question)


def question_from_data(data: Mapping[str, Any]) -> Question:
    """Make a question of plain data.

    Raises:
        TypeError: it is of another version of the program.
    """
    return Question(**_values(data))


def _values(data: Mapping[str, Any]) -> dict[str, Any]:
    """Values of fields, with tuples for the lists of plain data."""
    known = dict(data)
    for key in {"setlists", "keep"} & known.keys():
        known[key] = tuple(known[key])
    if "apart" in known:
        known["apart"] = tuple((pedal, other) for pedal, other in known["apart"])
    return known
