"""Phrases that several sheets share."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from rigtui.model import Preset, Rig, Section, Song
from rigtui.model.banks import Spot
from rigtui.model.hands import Hands, hands_in
from rigtui.model.lookup import lookup
from rigtui.model.playable import in_range
from rigtui.model.text import number_text
from rigtui.moves import Press, Presses
from rigtui.moves.boards import board_of
from rigtui.moves.clock import beat_of, default_beat, meter_of, tempo_of
from rigtui.moves.notes import note_of
from rigtui.moves.words import presses_in_words
from rigtui.paper.content import TIED

QUARTER = Fraction(1, 4)
UNSTORED = "-"
"""Where a preset is found that no memory holds."""


def memories_held(rig: Rig, preset: Preset) -> tuple[int, ...]:
    """The memories that a preset is in and the switcher has, its own first."""
    return tuple(in_range(preset, rig.switcher.memories if rig.switcher else 0))


def spot_of_preset(rig: Rig, preset: Preset, bank: int | None = None) -> Spot | None:
    """Where a preset is recalled; None where no memory holds it.

    Args:
        rig: The rig.
        preset: The preset.
        bank: The bank shown, from 0: of several memories the one with the fewest bank steps counts,
            of equals the lowest. None: the one in which it is stored first.
    """
    switcher, held = rig.switcher, memories_held(rig, preset)
    if switcher is None or not held:
        return None
    if bank is None:
        return switcher.spot(held[0])
    steps = board_of(rig).steps[bank]
    return min(map(switcher.spot, held), key=lambda spot: (steps[spot.bank], spot))


def banks_shown(rig: Rig, song: Song, bank: int) -> list[int]:
    """The bank shown before each section of a song, and after the last; from 0, as `bank`."""
    presets, banks = lookup(rig).presets, [bank]
    for section in song.sections:
        preset = presets.get(section.preset or "")
        spot = spot_of_preset(rig, preset, banks[-1]) if preset else None
        banks.append(spot.bank if spot else banks[-1])
    return banks


def place_of(rig: Rig, preset: Preset, bank: int | None = None) -> str:
    """Where a preset is found: "2/1" is bank 2, switch 1; with one bank, "1" is switch 1.

    It is recalled from the memory that `spot_of_preset` says.
    """
    switcher, spot = rig.switcher, spot_of_preset(rig, preset, bank)
    if switcher is None or spot is None:
        return UNSTORED
    return str(spot) if switcher.banks > 1 else str(spot.switch + 1)


def tempo_words(tempo: float, beat: Fraction) -> str:
    """A tempo, with the note that it counts unless that is a quarter: "80 dotted quarters"."""
    said = number_text(tempo)
    return said if beat == QUARTER else f"{said} {note_of(beat).name}s"


def song_tempo(song: Song) -> str:
    """Tempo and meter of a song: "118", "96, 3/4"."""
    beat = Fraction(song.beat) if song.beat else default_beat(song.meter)
    said = tempo_words(song.tempo, beat)
    return said if song.meter == "4/4" else f"{said}, {song.meter}"


def song_facts(song: Song) -> str:
    """What to look at before the song starts: tempo, guitar, tuning, capo."""
    facts = [f"tempo {song_tempo(song)}"]
    facts += [f"guitar {song.guitar}"] if song.guitar else []
    facts += [f"tuning {song.tuning}"] if song.tuning else []
    if song.capo is not None:
        facts.append(f"capo {song.capo}" if song.capo else "no capo")
    return "; ".join(facts)


def feet(rig: Rig, section: Section, presses: Iterable[Press], *, timed: bool = True) -> str:
    """The presses that lead into a section, in words."""
    return ", ".join(presses_in_words(rig, section, presses, timed=timed))


def lean_feet(rig: Rig, section: Section, presses: Presses, *, timed: bool = True) -> str:
    """The presses that lead into a section where its switch and its sound stand beside them.

    Nothing is said where the one press is that very switch; between songs (not `timed`) nothing of
    which press can wait.
    """
    preset = lookup(rig).presets.get(section.preset or "")
    if preset is None or place_of(rig, preset) == UNSTORED:
        return feet(rig, section, presses, timed=timed)
    if len(presses) == 1 and presses[0].kind == "switch":
        return ""
    named = presses_in_words(rig, section, presses, timed=timed)
    bare = [str(press) for press in presses if press.kind == "switch"]
    return ", ".join(bare[0] if bare and word.startswith(f"{bare[0]} (") else word
                     for word in named)  # fmt: skip


def tap_words(song: Song, at: int) -> str:
    """What is tapped in for a section: "tap 126"."""
    section = song.sections[at]
    return f"tap{TIED}{tempo_words(tempo_of(song, section), beat_of(song, section))}"


def times_of(song: Song, section: Section, before: Section | None) -> str:
    """What is new in a section's time: tempo, meter, the note that is counted."""
    if before is None:
        return ""
    said = []
    beats = [beat_of(song, there) for there in (before, section)]
    if tempo_of(song, before) != tempo_of(song, section) or beats[0] != beats[1]:
        said.append(f"tempo {tempo_words(tempo_of(song, section), beats[1])}")
    if meter_of(song, before) != meter_of(song, section):
        said.append(meter_of(song, section))
    return ", ".join(said)


def hands_of(rig: Rig, section: Section, before: Section | None) -> str:
    """What the hands do when a section comes: volume, pickup and notes that are new in it."""
    known = lookup(rig)
    now, was = (_hand_state(known.presets, there) for there in (section, before))
    volume, pickup, note = now
    said = []
    if volume is not None and volume != was[0]:
        said.append(f"volume {number_text(volume)}")
    if pickup and pickup != was[1]:
        said.append(f"pickup {pickup}")
    if note and note != was[2]:
        said.append(one_line(note))
    return ", ".join(said)


def _hand_state(presets: dict[str, Preset], section: Section | None) -> Hands:
    if section is None:
        return Hands()
    return hands_in(section, presets.get(section.preset or ""))


def preset_hands(preset: Preset) -> str:
    """All that the hands do for a preset."""
    said = []
    if preset.guitar_volume is not None:
        said.append(f"volume {number_text(preset.guitar_volume)}")
    if preset.pickup:
        said.append(f"pickup {preset.pickup}")
    if preset.hands:
        said.append(one_line(preset.hands))
    return ", ".join(said)


def sound_of(rig: Rig, section: Section) -> str:
    """A section's preset and what is stepped on besides: "Rock + Rocker wah"."""
    known = lookup(rig)
    preset = known.presets.get(section.preset or "")
    name = preset.label if preset else (section.preset and f"{section.preset}?") or "no preset"
    for sign, pedals in (("+", section.plus), ("without", section.minus)):
        for pedal in pedals:
            name += f" {sign} {known.label(pedal)}"
    return name


def count_of_beats(beats: float) -> str:
    """A number of beats: "1 beat", "2.5 beats"."""
    return f"{number_text(beats)} beat{'' if beats == 1 else 's'}"


def one_line(text: str) -> str:
    """A note of several lines as one."""
    return " ".join(text.split("\n"))
