"""Where a tempo is to be tapped in: what pedals that follow one were told, song by song."""

from __future__ import annotations

from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig, Song
from rigtui.moves.clock import quarter_tempo

HEARD = 0.025
"""Error in proportion above which a time is heard as off, against a click. Source: Friberg and
Sundberg, time discrimination: 2.5 %."""


class Taps:
    """The pedals of an evening that follow a tapped tempo, and what they were told last."""

    def __init__(self, rig: Rig) -> None:
        self._known = lookup(rig)
        self._told: dict[str, float] = {}
        """Quarters a minute, by pedal."""

    def due(self, song: Song) -> list[int]:
        """Play a song; return the sections, from 0, whose tempo is to be tapped in.

        0 is before the song: a pedal that is heard later in the song's first tempo is told then.
        """
        if not any(pedal.tap for pedal in self._known.pedals.values()):
            return []
        due: set[int] = set()
        told_here: set[str] = set()
        sound: tuple[str, ...] = ()
        at_start = quarter_tempo(song, song.sections[0]) if song.sections else 0.0
        for at, section in enumerate(song.sections):
            if section.preset in self._known.presets:
                sound = self._known.sound(section)
            tempo = quarter_tempo(song, section)
            for pedal in (name for name in sound if self._known.pedals[name].tap):
                told = self._told.get(pedal)
                if told is None or abs(tempo / told - 1) > HEARD:
                    before = pedal not in told_here and tempo == at_start
                    due.add(0 if before else at)
                    self._told[pedal] = tempo
                    told_here.add(pedal)
        return sorted(due)
