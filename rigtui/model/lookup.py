"""Finding things in a rig by name, remembered for as long as the rig's tables stand."""

from __future__ import annotations

from rigtui.model.base import BY_FOOT
from rigtui.model.remembered import Remembered
from rigtui.model.rig import Loop, Pedal, Preset, Rig, Section, Setlist, Song


def alone(preset: Preset) -> Section:
    """A section on a preset and nothing else."""
    return Section(name=preset.label, bars=1, preset=preset.id)


class Lookup:
    """Tables of one rig by id, and what the pedals add up to."""

    def __init__(self, rig: Rig) -> None:
        self.pedals: dict[str, Pedal] = {pedal.id: pedal for pedal in rig.pedals}
        self.loops: dict[int, Loop] = {loop.number: loop for loop in rig.loops}
        self.presets: dict[str, Preset] = {preset.id: preset for preset in rig.presets}
        self.songs: dict[str, Song] = {song.id: song for song in rig.songs}
        self.setlists: dict[str, Setlist] = {setlist.id: setlist for setlist in rig.setlists}
        self.loop_of: dict[str, int] = {}
        for loop in reversed(rig.loops):
            self.loop_of.update(dict.fromkeys(loop.pedals, loop.number))
        self.order = self._signal_order(rig)
        self.toggling = bool(rig.switcher and rig.switcher.loop_switches)
        self._chained = frozenset((*rig.chain.front, *rig.chain.fx))
        self._tuner_out = bool(rig.switcher and rig.switcher.tuner_out)

    def _signal_order(self, rig: Rig) -> tuple[str, ...]:
        """Pedal ids from the guitar on; those that the chain leaves out come last."""
        ids: dict[str, None] = {}
        for item in (*rig.chain.front, *rig.chain.fx):
            if isinstance(item, str):
                ids.setdefault(item)
            elif item in self.loops:
                ids.update(dict.fromkeys(p for p in self.loops[item].pedals if p not in ids))
        for loop in rig.loops:
            ids.update(dict.fromkeys(p for p in loop.pedals if p not in ids))
        ids.update(dict.fromkeys(p.id for p in rig.pedals if p.id not in ids))
        return tuple(pedal for pedal in ids if pedal in self.pedals)

    def outside(self) -> tuple[Pedal, ...]:
        """Pedals in no loop, in the file's order."""
        return tuple(p for p in self.pedals.values() if p.id not in self.loop_of)

    def needs_no_chain(self, pedal: Pedal) -> bool:
        """Whether an outside pedal may be in no chain: at home, or a tuner fed by its own jack."""
        if pedal.id in self._chained:
            return False
        return pedal.used == "home" or (pedal.kind == "tuner" and self._tuner_out)

    def label(self, pedal: str) -> str:
        """A pedal's name, or the id itself where no such pedal exists."""
        return self.pedals[pedal].label if pedal in self.pedals else pedal

    def preset_pedals(self, preset: Preset) -> tuple[str, ...]:
        """Ids of the pedals that a preset switches on, in signal order."""
        on = {
            pedal
            for number in preset.loops
            if number in self.loops
            for pedal in self.loops[number].pedals
        }
        return tuple(pedal for pedal in self.order if pedal in on)

    def preset_sound(self, preset: Preset) -> tuple[str, ...]:
        """Ids of the pedals heard on with a preset alone, in signal order; those left on too."""
        return self.sound(alone(preset))

    def sound(self, section: Section) -> tuple[str, ...]:
        """Ids of the pedals heard on in a section, in signal order; those left on included."""
        preset = self.presets.get(section.preset) if section.preset is not None else None
        on = set(self.preset_pedals(preset)) if preset else set()
        for pedal in section.plus:
            number = self.loop_of.get(pedal)
            if number is None:
                if pedal in self.pedals and self.pedals[pedal].used in BY_FOOT:
                    on.add(pedal)
            elif self.toggling:
                on.update(self.loops[number].pedals)
        if self.toggling:
            for pedal in section.minus:
                if pedal in self.loop_of:
                    on.difference_update(self.loops[self.loop_of[pedal]].pedals)
        on.update(p.id for p in self.outside() if p.used == "always")
        return tuple(pedal for pedal in self.order if pedal in on)


_lookups: Remembered[Lookup] = Remembered()


def lookup(rig: Rig) -> Lookup:
    """Return the rig's look-up, the very same one while its tables are the very same objects."""
    parts = (rig.switcher, rig.pedals, rig.loops, rig.chain, rig.presets, rig.songs, rig.setlists)
    return _lookups.get(parts, lambda: Lookup(rig))
