"""Phrases that several sheets share."""

from __future__ import annotations

from rigtui.model import Preset, Rig, Section, Song
from rigtui.model.base import number_text
from rigtui.model.lookup import lookup
from rigtui.moves import Change
from rigtui.moves.clock import default_beat
from rigtui.moves.notes import note_of
from rigtui.moves.words import presses_in_words


def place_of(rig: Rig, preset: Preset) -> str:
    """Where a preset is found: "2/1" is bank 2, switch 1; "-" while no memory holds it."""
    if preset.memory is None or rig.switcher is None or preset.memory > rig.switcher.memories:
        return "-"
    bank, switch = divmod(preset.memory - 1, rig.switcher.bank_size)
    return f"{bank + 1}/{switch + 1}"


def tempo_words(song: Song) -> str:
    """Tempo and meter: "118", "96, 3/4", "80 (dotted quarter), 6/8"."""
    from fractions import Fraction

    beat = Fraction(song.beat) if song.beat else default_beat(song.meter)
    said = number_text(song.tempo)
    if beat != Fraction(1, 4):
        said += f" ({note_of(beat).name})"
    return said if song.meter == "4/4" else f"{said}, {song.meter}"


def song_facts(song: Song) -> str:
    """What to look at before the song starts: tempo, guitar, tuning, capo."""
    facts = [f"tempo {tempo_words(song)}"]
    facts += [song.guitar] if song.guitar else []
    facts += [f"tuning {song.tuning}"] if song.tuning else []
    if song.capo is not None:
        facts.append(f"capo {song.capo}" if song.capo else "no capo")
    return ", ".join(facts)


def feet(rig: Rig, section: Section, change: Change | None) -> str:
    """The presses that lead into a section, in words."""
    if change is None or not change.presses:
        return ""
    return ", ".join(presses_in_words(rig, section, change.presses))


def hands_of(rig: Rig, section: Section, before: Section | None) -> str:
    """What the hands do when a section comes: volume, pickup and notes that are new in it."""
    found = lookup(rig)
    now, was = (_hand_state(found.presets, one) for one in (section, before))
    volume, pickup, note = now
    said = []
    if volume is not None and volume != was[0]:
        said.append(f"volume {number_text(volume)}")
    if pickup and pickup != was[1]:
        said.append(f"{pickup} pickup")
    if note and note != was[2]:
        said.append(note.replace("\n", " "))
    return ", ".join(said)


def _hand_state(
    presets: dict[str, Preset], section: Section | None
) -> tuple[float | None, str | None, str]:
    if section is None:
        return None, None, ""
    preset = presets.get(section.preset or "")
    volume = section.guitar_volume
    if volume is None and preset is not None:
        volume = preset.guitar_volume
    pickup = section.pickup or (preset.pickup if preset else None)
    return volume, pickup, section.hands or (preset.hands if preset else "")


def sound_of(rig: Rig, section: Section) -> str:
    """A section's preset and what is stepped on besides: "Rock + Rocker wah"."""
    found = lookup(rig)
    preset = found.presets.get(section.preset or "")
    name = preset.label if preset else (section.preset and f"{section.preset}?") or "no preset"
    for sign, pedals in (("+", section.plus), ("without", section.minus)):
        for pedal in pedals:
            name += f" {sign} {found.label(pedal)}"
    return name
